"""The table of fates: nothing of the trade forgotten, every name real, the page current."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor import paths
from advisor.upkeep import fates
from tests import homes
from tests.rules import rulegraph

SUBJECTS, FACTS = fates.read()
# what the owner of this rule base asked to find in it, typed from his list
ASKED = """supply; outlets at once; instantaneous heat; storage and reheat; priority; discharge; boiler relief; siting; cisterns
 and head; pumps; gas and meter; flue; condensate; electrics; hardness; Legionella; scald; dead legs; balanced cold; old
 pipes and sealing; microbore; emitters and flow temperature; turn-down; controls; insulation on replacement; permissions;
 tenancies; noise; phasing; future readiness; warranty"""


def test_nothing_is_wrong_with_the_table() -> None:
    assert list(fates.faults(homes.base())) == []


def test_every_subject_asked_for_has_a_fact_that_is_held() -> None:
    wanted = {" ".join(s.split()) for s in ASKED.split(";")}
    assert wanted == set(SUBJECTS)
    assert wanted == {f.subject for f in FACTS if f.held}


def test_the_counts_add_up() -> None:
    told = fates.counts(FACTS)
    assert told["facts"] == len(FACTS) >= 220
    assert told["dropped"] == sum(not f.held for f in FACTS) <= len(FACTS) // 10
    assert told["rules"] >= 120 and told["requirements"] >= 60
    named = {r for f in FACTS for r in f.held.get("rules", ())}
    assert named == set(rulegraph.written())


def test_the_page_is_current() -> None:
    """`advisor rules fates --write` after every change of fates.toml."""
    assert (paths.EXPLANATIONS / fates.PAGE).read_text(encoding="utf-8") == fates.page()


def test_no_fact_stands_twice() -> None:
    assert len({f.says for f in FACTS}) == len(FACTS)


# each survey check the table names, and answers that must trip it
TRIPS = {
    "water.flow": {"water.flow": "14 l/min", "water.flow_pressure": None},
    "existing.boiler_power": {"existing.boiler_power": "30 kW", "gas.legs.under_floor.size": "15 mm",
                              "gas.legs.under_floor.length": "14 m", "gas.legs.to_boiler.size": "15 mm"},
    "electric.demand_now": {"electric.demand_now": "90 A", "electric.main_fuse": "60 A"},
}


@pytest.mark.parametrize("field", sorted(TRIPS))
def test_a_survey_check_that_is_named_speaks(field: str) -> None:
    survey = homes.survey(homes.DEMO).with_changes(TRIPS[field])
    assert any(w.startswith(f"{field}:") for w in survey.warnings), survey.warnings


def test_an_appliance_without_a_pipe_is_looked_at_again(tmp_path: Path) -> None:
    text = 'survey_format = 1\n[gas.legs]\ncomplete = true\n[gas.legs.one]\nfrom = "meter"\nto = "boiler"\n' \
           '[gas.appliances.fire]\ninput = "6 kW"\n'
    assert any(w.startswith("gas.appliances.fire:") for w in homes.written(tmp_path, text).warnings)


def test_every_survey_check_named_is_tried_here() -> None:
    named = {c for f in FACTS for c in f.held.get("checks", ())}
    assert named == {*TRIPS, "gas.appliances.NAME"}


BROKEN = [
    ('subject = "supply"\n', "has no fate. Name what holds it"),
    ('subject = "weather"\ndropped = "x"\n', "subject is 'weather'. Allowed: supply"),
    ('subject = "supply"\nrules = ["no-such-rule"]\n', "rules names 'no-such-rule', which is not there."),
    ('subject = "supply"\nsums = ["no_sum"]\n', "sums names 'no_sum', which is not there."),
]


@pytest.mark.parametrize(("entry", "said"), BROKEN)
def test_a_broken_entry_is_named(entry: str, said: str, tmp_path: Path) -> None:
    path = tmp_path / "fates.toml"
    path.write_text(f'subjects = ["supply"]\n[[fact]]\n{entry}says = "Water is wet"\nsource = "common practice"\n',
                    encoding="utf-8")
    found = list(fates.faults(homes.base(), path))
    assert any(said in f for f in found), found[:5]
    assert any("no fact names the rule 'supply-rich'" in f for f in found)
