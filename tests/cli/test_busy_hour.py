"""`advisor busy-hour`: readable at 80 columns, one JSON document, errors in a line."""

from __future__ import annotations

import json

import pytest
from typer.testing import CliRunner, Result

from advisor import paths
from advisor.cli.advice import Refusal
from advisor.cli.app import app
from tests import homes

DEMO = str(paths.SURVEYS / f"{homes.DEMO}.toml")


def run(*arguments: str) -> Result:
    return CliRunner().invoke(app, ["busy-hour", *arguments])


@pytest.mark.parametrize("name", [homes.DEMO, homes.EMPTY, "semi_weak_mains"])
def test_fits_eighty_columns(name: str) -> None:
    done = run(str(paths.SURVEYS / f"{name}.toml"))
    assert done.exit_code == 0 and done.stdout and max(map(len, done.stdout.splitlines())) <= 80


def test_json_is_one_document_with_the_curves() -> None:
    document = json.loads(run(DEMO, "combination-boiler", "--json").stdout, parse_constant=pytest.fail)
    (found,) = document["arrangements"]
    assert found["first_short_min"] == 0.0 and found["at_worst"]["decided_by"] == "heat"
    shower = found["at_worst"]["outlets"]["loft_shower"]
    assert len(shower["minutes"]) == len(shower["l_min"]) == len(shower["c"]) > 10
    assert found["at_worst"]["heating_lost_min"] == pytest.approx(12.0, abs=0.1)


def test_never_is_said_and_not_a_number() -> None:
    found = json.loads(run(DEMO, "--json").stdout, parse_constant=pytest.fail)["arrangements"]
    assert len(found) == 3 and found[0]["first_short_min"] == "never"


def test_what_is_not_computed_says_why() -> None:
    document = json.loads(run(str(paths.SURVEYS / f"{homes.EMPTY}.toml"), "--json").stdout)
    first = document["arrangements"][0]
    assert first["first_short_min"] == "anything" and "household.busy_showers" in first["fields"]


def test_an_unknown_layout_is_one_line() -> None:
    done = run(DEMO, "steam-engine")
    assert isinstance(done.exception, Refusal)  # `guard` makes one line and exit code 1 of it
    assert str(done.exception).startswith("steam-engine: no such arrangement")


def test_an_outlet_wanted_together_but_not_used_is_said(tmp_path) -> None:
    """Four showers become one: the second shower marked at_once stands idle, and the reader is told."""
    text = (paths.SURVEYS / f"{homes.DEMO}.toml").read_text(encoding="utf-8").replace("busy_showers = 4", "busy_showers = 1")
    path = tmp_path / "home.toml"
    path.write_text(text, encoding="utf-8")
    said = " ".join(run(str(path)).stdout.split())
    assert "The main shower is marked to run together with others, but by the answers nobody uses it" in said
