"""The rule base examined: which rules speak, and what an edit would change."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

from advisor import paths, rulebase
from advisor.upkeep.coverage import cover, impact, since
from tests import homes

TERRACE = [paths.SURVEYS / "terrace_two_showers.toml"]


def edited(folder: Path, file: str, old: str, new: str) -> Path:
    shutil.copytree(paths.RULES, folder / "rules")
    path = folder / "rules" / file
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), encoding="utf-8")
    return folder / "rules"


def test_every_rule_is_counted_and_certain_never_exceeds_possible() -> None:
    base = homes.base()
    found = cover(base, 6)
    written = {r.id for r in base.rules.values() if not r.twin_of}
    assert len(list(found.lines(base))) == len(written)
    assert all(found.certain[r] <= found.possible[r] <= found.homes for r in written)
    # a home with no gas answers one thing for certain of a gas boiler; every home has some store that may scald
    assert found.certain["stored-water-scalds"] == found.homes


def test_the_same_rules_change_nothing() -> None:
    assert not list(impact(paths.RULES, paths.RULES, TERRACE))


def test_a_changed_wish_rule_shows_what_it_changes_and_is_blamed(tmp_path: Path) -> None:
    """The terrace says no pumps: without the rule that obeys, pumped layouts are no longer ruled out by it."""
    new = edited(tmp_path, "household.toml", 'id = "must-have-no-pumps"', 'id = "must-have-no-pumps-renamed"')
    changes = list(impact(paths.RULES, new, TERRACE))
    assert not changes  # another name for the same rule changes no fate
    shutil.rmtree(tmp_path / "rules")
    new = edited(tmp_path, "household.toml", '  { fact = "wishes.no_pumps", is = "must" },', '  { fact = "wishes.no_pumps", is = "none" },')
    changes = list(impact(paths.RULES, new, TERRACE))
    assert changes and all("must-have-no-pumps" in c.blame or c.layout == "recommended" for c in changes)
    assert {c.before for c in changes if c.layout != "recommended"} == {"ruled_out"}


def test_what_is_new_since_a_day(tmp_path: Path) -> None:
    new = edited(tmp_path, "household.toml", 'id = "must-have-no-pumps"\n', 'id = "must-have-no-pumps"\nchanged = 2027-03-01\n')
    base = rulebase.load_from(new, paths.SHARED / "remedies.toml")
    lines = [line for line in since(base, date(2027, 1, 1)) if "in force" not in line]
    assert lines == ["2027-03-01 changed: must-have-no-pumps: The household will have no pump on taps or showers"]
    assert len(list(since(base, date(2020, 1, 1)))) > len([r for r in base.rules.values() if not r.twin_of]) - 1
