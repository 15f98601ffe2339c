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


MIXED = ("inlet=3 bar Kv 2.4", "hot=check valve Kv 3", "hot-temperature=60 C", "outlets=shower: mixer Kv 0.9, 9 l/min at 0.3 bar")


@pytest.mark.parametrize("static, cold, l_min", [("6 bar", "behind the set", 23.47), ("2.5 bar", "behind the set", 20.29),
                                                 ("2.5 bar", "before the set", 20.99)])
def test_a_mixer_behind_an_inlet_set(static: str, cold: str, l_min: float) -> None:
    """60 % hot (40 C of 60 and 10). Kv 0.9, 2.4, 3 are 15, 40, 50 l/min at 1 bar; the outlet 9 / sqrt 0.3 = 16.43.

    6 bar, the set holds 3: 3 = q2 (0.36/2500 + 0.36/225 + 1/270) = 0.0054477 q2, q = 23.47. 2.5 bar, it is open: with the
    cold behind it 2.5 = q2 (1/1600 + 0.0054477), q = 20.29; else only the hot passes it, 0.36/1600: 20.99.
    """
    found = json.loads(run(f"static={static}", f"cold={cold}", *MIXED, "--json").stdout)
    assert found["result"]["flow"]["value"] == found["result"]["best"]["value"] == pytest.approx(l_min, abs=0.01)
    assert any("takes 60 % hot" in line for line in found["working"]) and any("on its hot side" in line for line in found["working"])


def test_usual_figures_are_a_range_and_say_what_they_rest_on() -> None:
    """75 % hot (40 C of 50 and 10): 2.4 - c q^1.85 - x (0.75 q/10)2 = 1.5 (q/12)2, c = 1.1 / 16^1.85 = 0.006513; x is 0.5 to 0.2.

    At 11.63 l/min 2.4 - 0.610 - 0.380 = 1.410 against 1.409; at 12.24 2.4 - 0.670 - 0.169 = 1.561 against 1.561.
    """
    found = json.loads(run("static=2.4 bar", "readings=16 l/min 1.3 bar", "hot=usual boiler exchanger", "hot-temperature=50 C",
                           "outlets=shower: 12 l/min at 1.5 bar", "--json").stdout)
    assert [found["result"][k]["value"] for k in ("flow", "best")] == pytest.approx([11.63, 12.24], abs=0.01)
    said = " ".join(found["working"])
    assert "from memory" in said and "the boiler's heat exchanger costs you 1.1" in said


def test_an_inlet_set_without_mixers_caps_what_all_outlets_get() -> None:
    """6 bar, the set holds 3 bar: an outlet of 10 l/min at 1 bar passes 10 sqrt 3 = 17.32; with the usual ends, 3.5: 18.71 at best.

    At the worst the set falls off by 0.5 bar at 20 l/min: 3 = q2 (1/100 + 0.5/400), q = 16.33.
    """
    for inlet, ends in (("3 bar, 0.4 bar at 20 l/min", (17.32, 17.32)), ("usual", (16.33, 18.71))):
        found = json.loads(run("static=6 bar", f"inlet={inlet}", "outlets=bath: 10 l/min at 1 bar", "--json").stdout)
        assert [found["result"][k]["value"] for k in ("flow", "best")] == pytest.approx(ends, abs=0.01)


@pytest.mark.parametrize("words, why", [
    (("hot=check valve Kv 3", "outlets=x: 9 l/min at 1 bar"), "need hot-temperature"),
    (("outlets=x: mixer Kv 1, 9 l/min at 1 bar",), "need hot-temperature"),
    (("hot-temperature=38 C", "outlets=x: 9 l/min at 1 bar"), "no hotter than the hot")])
def test_mixers_that_cannot_mix_have_no_number(words: tuple[str, ...], why: str) -> None:
    found = json.loads(run("static=3 bar", *words, "--json").stdout)
    assert found["valid"] is False and why in found["reason"]


@pytest.mark.parametrize("words, said", [
    (("static=3 bar", "inlet=strong", "outlets=x: leaving 1 bar"), "is no inlet set"),
    (("static=3 bar", "shared=meter Kv 0", "outlets=x: leaving 1 bar"), "must be above 0"),
    (("static=3 bar", "cold=somewhere", "outlets=x: leaving 1 bar"), "behind the set, before the set"),
    (("static=3 bar", "outlets=x: mixer Kv 0, 9 l/min at 1 bar"), "Kv of a mixer"),
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
