"""Every limit that a rule compares itself to decide a verdict: just below, at and just above, typed from its source.

The limits that sit in a check's margin are in `test_published_limits`; limits of cautions and questions decide nothing.
"""

from __future__ import annotations

from typing import Any

import pytest

from advisor.upkeep import examples
from tests import homes
from tests.rules import rulegraph

DECIDES = ("rules_out", "needs_work", "requires")
BOILER, GAS = {"arrangement.source_kind": "combination boiler"}, {"arrangement.burns": "gas", "gas.supply": "mains gas"}
OVER = {"electric.margin_a": -1}
# (limit, rule) -> fact, other facts, (value, outcome) just below, at and just above; the source of the middle value:
TRIPLES: dict[tuple[str, str], tuple[str, dict[str, Any], tuple[tuple[float, str], ...]]] = {
    # Water Supply (Water Fittings) Regulations 1999, regulation 5: notice of a bath of more than 230 l
    ("bath_notice_l", "bath-above-230-litres"): (
        "household.bath_fill_l", BOILER, ((229, "silent"), (230, "silent"), (231, "fires"))),
    # BS 6798:2014, 6.3.7.1.4 (reprint): outside, at least 30 mm
    ("condensate_bore_mm", "condensate-bore-too-small"): (
        "boiler.condensate_bore_mm", {"boiler.drain_state": "in the cold", **BOILER},
        ((29.9, "fires"), (30, "silent"), (30.1, "silent"))),
    # IGEM/G/13 as the gas register quotes it (reprint): 18.5 to 23 mbar at the meter outlet
    ("gas_pressure_low_mbar", "gas-pressure-low-at-the-meter"): (
        "gas.working_pressure_mbar", GAS, ((18.4, "fires"), (18.5, "silent"), (18.6, "silent"))),
    ("gas_pressure_high_mbar", "gas-pressure-high-at-the-meter"): (
        "gas.working_pressure_mbar", GAS, ((22.9, "silent"), (23.0, "silent"), (23.1, "fires"))),
    # BS 7593:2019 and Approved Document L 2021 (reprints): hard is above 200 mg/l
    ("hardness_mg_l", "hard-water-scale-reducer"): (
        "water.hardness_mg_l", BOILER, ((199, "silent"), (200, "silent"), (201, "fires"))),
    # hand sum: 100 A less 9,000 W / 230 V = 39.1 A leaves 60.9 A, rounded down to 60
    ("load_to_shed_a", "main-fuse-too-small"): (
        "electric.demand_now_a", OVER, ((59, "fires"), (60, "fires"), (61, "silent"))),
    ("load_to_shed_a", "present-load-too-high"): (
        "electric.demand_now_a", OVER, ((59, "silent"), (60, "silent"), (61, "fires"))),
    # common practice for shower pumps: 0.6 m of head to open their flow switch
    ("positive_pump_head_m", "low-head-wants-another-pump"): (
        "cistern.head_m", {"arrangement.helper": "shower pump"}, ((0.5, "fires"), (0.6, "silent"), (0.7, "silent"))),
    # Domestic building services compliance guide and Approved Document L: two zones above 150 m2
    ("zone_floor_m2", "two-heating-zones"): (
        "home.floor_area_m2", BOILER, ((149, "silent"), (150, "silent"), (151, "fires"))),
}


@pytest.mark.parametrize(("limit", "rule"), TRIPLES)
def test_below_at_and_above(limit: str, rule: str) -> None:
    fact, others, triple = TRIPLES[limit, rule]
    written = rulegraph.written()[rule]
    for value, wanted in triple:
        assert examples.run(written, {fact: value, **others}, homes.base()) == wanted, (limit, value)
    assert triple[0][1] != triple[2][1]  # the limit lies between them


def test_no_limit_that_decides_a_verdict_is_left_out() -> None:
    compared = {(str(p.arg).removeprefix("threshold:"), r.id) for r in homes.base().rules.values()
                if r.effect in DECIDES for p in r.when if str(p.arg).startswith("threshold:")}
    assert compared == set(TRIPLES)
