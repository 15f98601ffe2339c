"""`advisor calc water-network`: the trade's own example, a house in a line, and what it refuses."""

from __future__ import annotations

import json

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app


def run(*words: str):
    return CliRunner().invoke(app, ["calc", "water-network", *words])


STUB = ("static=3 bar", "shared=service pipe 22.5 m 20.4 mm bore; 6 m of 15 mm copper",
        "outlets=test point: leaving 1.5 bar")


def test_the_stub_after_the_stop_tap() -> None:
    """70 l/min without and 39 with a 4 m stub of 15 mm (fittings x 1.5 = 6 m; service 15 x 1.5): trade figures, DERIVED."""
    found = json.loads(run(*STUB, "--json").stdout)
    assert found["valid"] and found["result"]["throttle"]["value"] == "the 6 m of 15 mm copper"
    assert found["result"]["flow"]["value"] == pytest.approx(39, rel=0.04)
    assert found["result"]["costs"]["value"] == pytest.approx(31, rel=0.08)


def test_text_says_what_it_costs() -> None:
    said = run(*STUB).stdout
    assert "the 6 m of 15 mm copper costs you" in said and "costs = " in said and "list every pipe from the street" in said


def test_two_showers_on_a_measured_main() -> None:
    """More than one alone, less than twice; the second shower's own thinner pipe is named."""
    one = "a: 4 m of 22 mm copper, 9 l/min at 1 bar"
    two = f"{one}; b: 9 m of 15 mm copper K8 rise 4.8 m, 9 l/min at 1 bar"
    flow = {}
    for outlets in (one, two):
        found = json.loads(run("static=3 bar", "readings=20 l/min 1 bar", f"outlets={outlets}", "--json").stdout)
        flow[outlets] = found["result"]["flow"]["value"]
    assert flow[one] < flow[two] < 2 * flow[one]


def test_gravity_shower_of_the_published_runs() -> None:
    """1.5 m head, 8 m of 22 mm K4, 4 m of 15 mm K8, rose 9 l/min at 0.1 bar, 40 C: 7.69 l/min (EPANET run, +/-3 %)."""
    found = json.loads(run("head=1.5 m", "shared=8 m of 22 mm copper K4", "temperature=40 C",
                           "outlets=rose: 4 m of 15 mm copper K8, 9 l/min at 0.1 bar", "--json").stdout)
    assert found["result"]["flow"]["value"] == pytest.approx(7.69, rel=0.03)


@pytest.mark.parametrize("words, said", [
    (("static=3 bar", "outlets=shower: 9 l/min"), "is no outlet"),
    (("static=3 bar", "shared=a long pipe", "outlets=x: leaving 1 bar"), "is no pipe"),
    (("static=3 bar", "shared=4 m of 17 mm copper", "outlets=x: leaving 1 bar"), "the pipe is 17 mm"),
    (("static=3 bar", "readings=strong", "outlets=x: leaving 1 bar"), "is no reading"),
    (("outlets=x: leaving 1 bar",), "give exactly one of static, head"),
])
def test_what_cannot_be_read_is_refused_with_how_to_write_it(words: tuple[str, ...], said: str) -> None:
    done = run(*words)
    assert done.exit_code == 2 and said in done.stderr


def test_beyond_the_main_s_reading_there_is_no_number() -> None:
    found = json.loads(run("static=3 bar", "readings=5 l/min 2.8 bar", "outlets=bath: 30 l/min at 0.5 bar", "--json").stdout)
    assert found["valid"] is False and "measure at a lower pressure" in found["reason"] and "result" not in found
