"""The day of the works picks the figure; outside its nations a rule asks and never decides."""

from __future__ import annotations

from datetime import date

import pytest

from advisor.rulebase.model import NATIONS
from advisor.upkeep import examples
from tests import homes
from tests.rules import rulegraph

BASE = homes.base()
RULES = rulegraph.written()
NATIONAL = sorted(r.id for r in RULES.values() if set(r.where) != set(NATIONS) and not r.exception_to)

# Figures with a known day of change, typed from the source beside each: value the day before, value on the day.
CHANGES = [
    # BS 6891:2015 against the 2005 edition (reprints): LPG 2.5 mbar, then 2.0; editions are dated by year
    ("gas_drop_lpg_mbar", date(2015, 1, 1), 2.5, 2.0),
    # Approved Document L 2026: published 24 March 2026, in force 24 March 2027 (trade and certification pages)
    ("part_l_edition", date(2027, 3, 24), 2021, 2026),
    # VAT Notice 708/6: 0 percent until 31 March 2027, then 5
    ("heat_pump_vat_percent", date(2027, 4, 1), 0, 5),
]


@pytest.mark.parametrize(("limit", "day", "before", "after"), CHANGES)
def test_the_day_picks_the_value(limit: str, day: date, before: float, after: float) -> None:
    assert BASE.thresholds[limit].on(date.fromordinal(day.toordinal() - 1))[1].lo == before
    assert BASE.thresholds[limit].on(day)[1].lo == after


def test_every_limit_that_changes_is_tested_here() -> None:
    assert {t.id for t in BASE.thresholds.values() if len(t.values) > 1} == {limit for limit, *_ in CHANGES}


@pytest.mark.parametrize(("day", "speaks"), [("2027-03-23", False), ("2027-03-24", True)])
def test_the_new_edition_is_required_from_its_day_on(day: str, speaks: bool) -> None:
    advice = homes.quick(homes.survey(homes.DEMO).with_changes({"works_date": day}))
    boiler = next(j for j in advice.judged if j.arrangement.family == "combination-boiler")
    assert ("part-l-edition-of-the-works" in {f.rule for f in boiler.findings}) == speaks


@pytest.mark.parametrize("rule", NATIONAL)
def test_outside_its_nations_a_rule_is_silent_and_its_twin_asks(rule: str) -> None:
    twin = BASE.rules[f"{rule}@elsewhere"]
    assert twin.effect == "asks"
    for nation in sorted(set(NATIONS) - set(RULES[rule].where)):
        for example in RULES[rule].fires:
            assert examples.run(RULES[rule], {**example, "nation": nation}, BASE) == "silent"
            asked = {**example, "nation": nation, f"confirmed.{rule}": "no"}
            assert examples.run(twin, asked, BASE) == "fires"
            assert examples.run(twin, {**asked, f"confirmed.{rule}": "yes"}, BASE) == "silent"


@pytest.mark.parametrize("nation", ["scotland", "northern ireland"])
def test_where_only_others_forbid_nothing_is_ruled_out(nation: str) -> None:
    """Approved Document G speaks for England; in Scotland a cylinder without a safe discharge waits for an answer."""
    changes = {f"places.{place}.{what}": word for place in ("landing_cupboard", "scullery")
               for what, word in (("discharge_end", "none found"), ("worked_design", "none"))}
    here = homes.quick(homes.survey(homes.DEMO).with_changes(changes))
    away = homes.quick(homes.survey(homes.DEMO).with_changes({**changes, "nation": nation}))
    forbidden = {j.id for j in here.judged
                 if [f.rule for f in j.findings if f.effect == "rules_out" and f.certain] == ["unvented-no-safe-discharge"]}
    assert forbidden
    assert {away[a].verdict for a in forbidden} == {"open"}
    assert not any(f.effect == "rules_out" and not set(BASE.rules[f.rule].where) >= {nation}
                   for j in away.judged for f in j.findings)
