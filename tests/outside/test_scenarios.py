"""Whole scenarios put together from published statements: every option named comes out as the statements say.

Sources: plumbing apprenticeship textbook of 2019 (several outlets, room for a cistern, vented against unvented),
house-builder's warranty standard of 2020 (delivery against demand), householder's plumbing guides (height of a
cistern), heating trade magazine (heat pump without a cylinder); gravity flows from a network solver of the pipe
formulas (Darcy-Weisbach, 22 mm pipe, bend and valve losses).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.calc import REGISTRY
from advisor.facts import Span, exactly
from advisor.survey import read
from tests import homes
from tests.outside.checks import advised, fact, fires, not_forbidden, of, ruled_out

UNVENTED = ["boiler-unvented-cylinder", "boiler-unvented-priority", "direct-electric-cylinder"]

ONE_BED_FLAT = """
[home]
kind = "flat"
[wishes]
outlets_at_once = "must"
[water]
static_pressure = "3 bar"
flow = "20 l/min"
flow_pressure = "1.5 bar"
tested_at = "busy time"
shared = "no"
[gas]
supply = "mains gas"
[cistern]
loft = "no"
[places]
complete = true
[outlets.shower]
kind = "shower"
flow = "9 l/min"
at_once = "yes"
"""

TWO_BATHROOMS = """
[home]
bathrooms = 2
[wishes]
outlets_at_once = "must"
[water]
static_pressure = "2.5 bar"
flow = "30 l/min"
flow_pressure = "1.5 bar"
tested_at = "busy time"
low_pressure_ok = "no"
shared = "no"
[places.landing_cupboard]
kind = "cupboard"
width = "900 mm"
depth = "900 mm"
height = "2400 mm"
discharge_end = "low level outside"
discharge_length = "4 m"
discharge_elbows = 3
discharge_falls = "yes"
[outlets.bath_shower]
kind = "shower"
flow = "10 l/min"
at_once = "yes"
[outlets.guest_shower]
kind = "shower"
flow = "10 l/min"
at_once = "yes"
"""

HOW_LONG = "must-serve-them-for-one-shower"  # neither scenario says how long anybody showers
GRAVITY = """
[wishes]
no_pumps = "must"
outlets_at_once = "must"
[cistern]
loft = "yes"
head = "{head} m"
[outlets.shower]
kind = "shower"
flow = "9 l/min"
at_once = "yes"
"""


def test_one_bed_flat_a_combination_boiler_is_feasible() -> None:
    for rule in ("must-serve-outlets-at-once", "no-gas-for-a-burner"):
        not_forbidden(ONE_BED_FLAT, {"families": ["combination-boiler"], "rule": rule})
    assert all("suitable" in j.possible for j in of(advised(ONE_BED_FLAT), {"families": ["combination-boiler"]}))


def test_one_bed_flat_vented_and_unvented_are_excluded_for_room() -> None:
    ruled_out(ONE_BED_FLAT, {"families": ["boiler-cistern-fed-cylinder"], "rule": "no-room-for-a-cistern"})
    ruled_out(ONE_BED_FLAT, {"families": UNVENTED, "rule": "nowhere-for-a-cylinder"})


def test_two_bathrooms_unvented_is_feasible() -> None:
    not_forbidden(TWO_BATHROOMS, {"families": ["boiler-unvented-cylinder", "boiler-unvented-priority"],
                                  "apart_from": [HOW_LONG]})
    # 30 l/min at 1.5 bar, 10 + 10 wanted: 10 to spare at the main. Past the worst inlet set, to mixers that want 1.0 bar,
    # (q/30)^1.85 + 0.00125 q2 = 1.5: at 25.04 l/min 0.716 + 0.784; the best takes less than custom leaves for it
    fact(TWO_BATHROOMS, {"fact": "supply.flow_at_useful_l_min", "is": 30.0, "within": 0.001})
    fact(TWO_BATHROOMS, {"families": ["boiler-unvented-cylinder"], "fact": "outlet_flow_margin_l_min", "from": 5.04,
                         "to": 10.0, "within": 0.05})


def test_two_bathrooms_a_combination_boiler_of_30_kw_is_inadequate() -> None:
    """Published: 14.3 l/min at a rise of 30 K against 20 wanted. The tool promises for winter, a rise of 35 K."""
    one = {"families": ["combination-boiler"], "power": [30]}
    ruled_out(TWO_BATHROOMS, {**one, "rule": "must-serve-outlets-at-once"})
    fires(TWO_BATHROOMS, {**one, "rule": "boiler-heat-is-the-limit"})
    # 60 x 30 / (4.187 x 35) = 12.28; at 30 K 60 x 30 / (4.187 x 30) = 14.33
    fact(TWO_BATHROOMS, {**one, "fact": "outlet_flow_l_min", "is": 12.28, "within": 0.01})
    assert REGISTRY["instant_flow"](power_kw=30, rise_k=30) == pytest.approx(14.33, abs=0.02)


def test_vented_without_pumps_0_6_m_above_the_rose_is_rejected() -> None:
    low = GRAVITY.format(head="0.6")
    ruled_out(low, {"families": ["boiler-cistern-fed-cylinder"], "rule": "must-serve-outlets-at-once"})
    ruled_out(low, {"families": ["boiler-cistern-fed-pumped"], "rule": "must-have-no-pumps"})
    fact(low, {"fact": "cistern.reach", "is": "low"})


def test_vented_without_pumps_3_m_above_the_rose_is_accepted() -> None:
    not_forbidden(GRAVITY.format(head="3"), {"families": ["boiler-cistern-fed-cylinder"], "apart_from": [HOW_LONG]})


def test_gravity_flow_at_3_m_is_near_the_published_13_litres_and_promises_no_more() -> None:
    """About 13 l/min with a low-pressure rose and 22 mm throughout; the tool knows no pipes and stays below."""
    flow = advised(GRAVITY.format(head="3")).fact("cistern.gravity_flow_l_min").value
    assert isinstance(flow, Span) and 13 * 0.8 <= flow.lo <= flow.hi <= 13


def test_heat_pump_without_a_place_for_a_cylinder_is_infeasible() -> None:
    nowhere = '[home]\noutdoor_space = "yes"\n[places]\ncomplete = true\n'
    ruled_out(nowhere, {"families": ["heat-pump-unvented-cylinder"], "rule": "nowhere-for-a-cylinder"})


def test_a_main_that_gives_nothing_recommends_no_mains_fed_shower() -> None:
    """Textbook: on a poor main unvented will not work satisfactorily, and an instantaneous heater needs both."""
    case = read(Path(__file__).parent / "cases" / "estate_house_small_pipes.toml", homes.base().survey_entries())
    weak = case.with_changes({
        "water.static_pressure": "1.2 bar", "water.flow": "6 l/min", "water.flow_pressure": "0.5 bar",
        "outlets.bath_shower.at_once": "no", "outlets.guest_shower.at_once": "no", "wishes.outlets_at_once": None,
        "wishes.lasts_busy_hour": None, "heating.circuit": "sealed"})
    advice = homes.quick(weak)
    assert advice.recommended is None or advice.fact("arrangement.feed", advice.recommended).value != exactly("mains")
