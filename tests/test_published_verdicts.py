"""Published statements of the form "suitable if" and "unsuitable if": the tool must lean the same way.

Each survey states only what the statement says; everything else is unknown. "Unsuitable": every arrangement of the
family is ruled out, or the finding named fires certainly. "Suitable": what would forbid it is not even possible.
Statements of makers, retailers and consumer guides may only warn. Names of makers are withheld.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.records import Advice
from tests import homes

TWO = """
[outlets.a]
kind = "shower"
flow = "9 l/min"
at_once = "yes"
[outlets.b]
kind = "shower"
flow = "9 l/min"
at_once = "yes"
"""
MUST = '[wishes]\noutlets_at_once = "must"\n'
GOOD = '[water]\nstatic_pressure = "4 bar"\nflow = "40 l/min"\nflow_pressure = "2 bar"\ntested_at = "busy time"\nshared = "no"\n'
POOR = '[water]\nstatic_pressure = "1.2 bar"\nflow = "6 l/min"\nflow_pressure = "0.5 bar"\ntested_at = "busy time"\nshared = "no"\n'
NO_DESIGN = 'worked_design = "none"\n'  # an accepted pumped design would be the exception
PLACE = '[places.cupboard]\nkind = "cupboard"\n{}'
COMBI = ("combination-boiler",)
UNVENTED = ("boiler-unvented-cylinder", "boiler-unvented-priority", "direct-electric-cylinder")
CISTERN = ("boiler-cistern-fed-cylinder", "boiler-cistern-fed-pumped")

# statement, survey, families, what must hold: "ruled out" or "not forbidden by <rule>" or "finding <rule>", source
STATEMENTS = [
    ("several hot outlets at once defeat an instantaneous heater", MUST + TWO, COMBI, "ruled out", "plumbing textbook"),
    ("several outlets at once on good mains do not forbid a mains-fed store", MUST + GOOD + TWO, UNVENTED,
     "not forbidden by must-serve-outlets-at-once", "plumbing textbook"),
    ("a second way to heat water is met by a store with immersion heater", '[wishes]\nbackup_heat = "must"\n',
     ("boiler-unvented-cylinder", "boiler-cistern-fed-cylinder"), "not forbidden by must-have-backup-heat", "plumbing textbook"),
    ("an instantaneous gas heater has no second way to heat water", '[wishes]\nbackup_heat = "must"\n', COMBI, "ruled out",
     "plumbing textbook"),
    ("poor mains: a mains-fed store does not serve two showers", MUST + POOR + TWO, UNVENTED, "ruled out", "plumbing textbook"),
    ("poor mains feed cold taps and an instantaneous heater badly too", MUST + POOR + TWO, COMBI, "ruled out",
     "plumbing textbook"),
    ("no route for the discharge pipe excludes unvented", PLACE.format('discharge_end = "none found"\n' + NO_DESIGN), UNVENTED, "ruled out",
     "plumbing textbook, after Approved Document G"),
    ("a discharge pipe that cannot fall excludes unvented",
     PLACE.format('discharge_end = "gully"\ndischarge_falls = "no"\n' + NO_DESIGN), UNVENTED, "ruled out", "Approved Document G"),
    ("no room for a cistern excludes vented", '[cistern]\nloft = "no"\n', CISTERN, "ruled out", "plumbing textbook"),
    ("no room for a cistern leaves unvented", '[cistern]\nloft = "no"\n', UNVENTED, "not forbidden by no-room-for-a-cistern",
     "plumbing textbook"),
    ("a pump or booster above 12 l/min needs the undertaker's consent first", "", ("boiler-unvented-boosted",),
     "finding booster-needs-the-water-supplier", "Water Supply (Water Fittings) Regulations 1999, regulation 5"),
    ("a cistern less than 1 m above the rose makes a weak shower", '[cistern]\nhead = "0.6 m"\n' + MUST + TWO,
     ("boiler-cistern-fed-cylinder",), "finding low-cistern-is-the-limit", "two householder plumbing guides (may only warn)"),
    ("a cistern 3 m above the rose serves a low-pressure shower of 9 l/min",
     '[cistern]\nhead = "3 m"\n[wishes]\noutlets_at_once = "must"\n[outlets.a]\nkind = "shower"\nflow = "9 l/min"\nat_once = "yes"\n',
     ("boiler-cistern-fed-cylinder",), "not forbidden by must-serve-outlets-at-once", "householder plumbing guide, 22 mm pipe"),
    ("an electric shower gives less with a colder inlet", "", ("combination-boiler-electric-shower",),
     "finding electric-shower-is-gentle-in-winter", "maker's guide, brand withheld (may only warn)"),
    ("a heat pump without room for a cylinder cannot heat the water", "[places]\ncomplete = true\n",
     ("heat-pump-unvented-cylinder",), "ruled out", "trade body"),
    ("a heat pump pauses the heating while it reheats", '[wishes]\nno_heating_pause = "must"\n[household]\nheating_pause_ok = "0 min"\n',
     ("heat-pump-unvented-cylinder",), "ruled out", "trade press"),
    ("no gas, no gas boiler", '[gas]\nsupply = "none"\n', (*COMBI, "boiler-unvented-cylinder"), "ruled out", "common practice"),
    ("a boiler below the heat loss does not heat the home", '[heating]\nheat_loss = "40 kW"\n', COMBI, "ruled out",
     "BS EN 12831 as used by installers"),
]


def forbidden_by(advice: Advice, family: str) -> list[set[str]]:
    """For each arrangement of a family, the rules that may forbid it."""
    return [{f.rule for f in j.findings if f.effect == "rules_out"} for j in advice.judged if j.arrangement.family == family]


@pytest.mark.parametrize("survey, families, wanted", [
    pytest.param(s, f, w, id=f"{name} ({source})") for name, s, f, w, source in STATEMENTS])
def test_published_verdict(survey: str, families: tuple[str, ...], wanted: str, tmp_path: Path) -> None:
    advice = homes.quick(homes.written(tmp_path, f'survey_format = 1\nnation = "england"\n{survey}'))
    kind, _, rule = wanted.rpartition(" ")
    for family in families:
        judged = [j for j in advice.judged if j.arrangement.family == family]
        assert judged
        if wanted == "ruled out":
            assert {j.verdict for j in judged} == {"ruled_out"}, family
        elif kind == "not forbidden by":
            assert not any(rule in rules for rules in forbidden_by(advice, family)), family
        else:
            assert all(any(f.rule == rule and f.certain for f in j.findings) for j in judged), family
