"""Every published limit that a rule holds: just below, at, and just above, typed from its source."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from advisor.calc import REGISTRY
from advisor.upkeep import examples
from tests import homes
from tests.rules import rulegraph

RULES = rulegraph.written()
BOILER = {"arrangement.source_kind": "combination boiler"}
GAS = {"arrangement.burns": "gas"}


def outcome(rule: str, **facts: Any) -> str:
    return examples.run(RULES[rule], {k.replace("__", "."): v for k, v in facts.items()}, homes.base())


def formula(name: str, **values: float) -> float:
    return REGISTRY[name](**values)


def in_force(threshold: str, day: date) -> float:
    return homes.base().thresholds[threshold].on(day)[1].lo


# BS 6798:2014, 6.3.7.1.4 (reprint): a condensate pipe outside is at least 30 mm inside diameter.
@pytest.mark.parametrize(("bore_mm", "wanted"), [(29.9, "fires"), (30.0, "silent"), (30.1, "silent")])
def test_condensate_bore(bore_mm: float, wanted: str) -> None:
    facts = {"boiler.drain_state": "in the cold", "boiler.condensate_bore_mm": bore_mm, **BOILER}
    assert outcome("condensate-bore-too-small", **facts) == wanted


# Industry guidance on condensate pipes, October 2018 (reprint): under 3 m outside.
@pytest.mark.parametrize(("length_m", "wanted"), [(2.9, "silent"), (3.0, "silent"), (3.1, "fires")])
def test_condensate_length(length_m: float, wanted: str) -> None:
    facts = {"boiler.drain_state": "in the cold", "boiler.condensate_outside_m": length_m, **BOILER}
    assert outcome("condensate-long-outside", **facts) == wanted


# IGEM/G/13 as quoted by the gas register, August 2023 (reprint): 18.5 to 23 mbar at the meter outlet under load.
@pytest.mark.parametrize(("mbar", "low", "high"), [
    (18.4, "fires", "silent"), (18.5, "silent", "silent"), (18.6, "silent", "silent"),
    (22.9, "silent", "silent"), (23.0, "silent", "silent"), (23.1, "silent", "fires")])
def test_working_pressure_band(mbar: float, low: str, high: str) -> None:
    facts = {"gas.supply": "mains gas", "gas.working_pressure_mbar": mbar, **GAS}
    assert outcome("gas-pressure-low-at-the-meter", **facts) == low
    assert outcome("gas-pressure-high-at-the-meter", **facts) == high


# BS 7593:2019 and Approved Document L 2021 (reprints): hard water is above 200 mg/l.
@pytest.mark.parametrize(("hardness", "wanted"), [(199, "silent"), (200, "silent"), (201, "fires")])
def test_hard_water(hardness: float, wanted: str) -> None:
    assert outcome("hard-water-scale-reducer", **{"water.hardness_mg_l": hardness, **BOILER}) == wanted


# BS 6891:2015+A1:2019 (reprint): 1.0 mbar natural gas, 2.0 mbar LPG; the 2005 edition allowed 2.5 mbar for LPG.
@pytest.mark.parametrize(("drop_mbar", "wanted"), [(0.99, "silent"), (1.0, "silent"), (1.01, "fires")])
def test_gas_drop_natural(drop_mbar: float, wanted: str) -> None:
    limit = in_force("gas_drop_natural_mbar", date(2026, 11, 25))
    assert limit == 1.0
    margin = formula("difference", value=limit, limit=drop_mbar)
    in_28 = {"gas.supply": "mains gas", "gas.drop_at_28_margin_mbar": 0.5}  # a wider pipe would do
    assert outcome("gas-pipe-too-thin", **{**GAS, **in_28, "gas.drop_margin_mbar": margin}) == wanted


def test_gas_drop_lpg_by_date() -> None:
    assert in_force("gas_drop_lpg_mbar", date(2010, 6, 1)) == 2.5
    assert in_force("gas_drop_lpg_mbar", date(2014, 12, 31)) == 2.5
    assert in_force("gas_drop_lpg_mbar", date(2026, 11, 25)) == 2.0


# BS 5440-1 and Approved Document J, fanned room-sealed terminals (reprints): 300 mm to an opening, 600 mm facing.
@pytest.mark.parametrize(("opening_mm", "facing_mm", "wanted"), [
    (299, 2000, "fires"), (300, 2000, "silent"), (301, 2000, "silent"),
    (2000, 599, "fires"), (2000, 600, "silent"), (2000, 601, "silent")])
def test_flue_terminal(opening_mm: float, facing_mm: float, wanted: str) -> None:
    limits = (in_force("flue_opening_mm", date(2026, 11, 25)), in_force("flue_boundary_mm", date(2026, 11, 25)))
    assert limits == (300, 600)
    margin = formula("flue_margin", opening_mm=opening_mm, opening_limit_mm=300, boundary_mm=facing_mm,
                     boundary_limit_mm=600)
    facts = {"boiler.flue_route": "outside wall", "flue.clearance_margin_mm": margin, **GAS}
    assert outcome("flue-too-near", **facts) == wanted


# Approved Document G, Table 3.1, valve outlet G1/2 (reprint): the last row is 35 mm, 27 m, 1.4 m an elbow.
# By hand: 21.4 m + 4 x 1.4 m = 27.0 m is the end of the table; 21.3 m is inside, 21.5 m beyond.
@pytest.mark.parametrize(("length_m", "inside", "beyond"), [
    (21.3, "fires", "silent"), (21.4, "fires", "silent"), (21.5, "silent", "fires")])
def test_end_of_the_discharge_table(length_m: float, inside: str, beyond: str) -> None:
    over = round(formula("discharge_over_table_m", length_m=length_m, elbows=4), 9)
    facts = {"place.discharge_route": "falls to a safe end", "discharge.over_table_m": over}
    assert outcome("discharge-inside-the-table", **facts) == inside
    assert outcome("discharge-beyond-the-table", **facts) == beyond


# Approved Document G, Table 3.1, worked example (reprint): 7 m and 4 elbows: 10.2 m in 22 mm is too long; 28 mm, 11 m.
def test_discharge_worked_example() -> None:
    assert formula("discharge_d2_mm", length_m=7, elbows=4) == 28
    assert formula("discharge_equivalent_m", length_m=7, elbows=4) == pytest.approx(11.0)


# The end of a table is no prohibition: beyond it a worked design is asked for, and an accepted one settles it.
@pytest.mark.parametrize(("design", "asks", "work", "forbids"), [
    ("none", "fires", "fires", "silent"), ("refused", "silent", "silent", "fires")])
def test_worked_design(design: str, asks: str, work: str, forbids: str) -> None:
    facts = {"arrangement.discharge": "beyond the table", "place.worked_design": design}
    absent = {"exception.unvented-discharge-outside-table": "absent"}
    assert outcome("unvented-discharge-outside-table", **facts, **absent) == asks
    assert outcome("unvented-discharge-design-wanted", **facts) == work
    assert outcome("unvented-discharge-design-refused", **facts) == forbids


def test_accepted_design_is_an_exception() -> None:
    facts = {"arrangement.discharge": "beyond the table", "place.worked_design": "accepted"}
    accepted = {"exception.unvented-discharge-outside-table": "yes"}
    assert outcome("worked-discharge-design-accepted", **{"place.worked_design": "accepted"}) == "fires"
    assert outcome("unvented-discharge-outside-table", **facts, **accepted) == "silent"


# UK trade limits and sums that rules hold; the sum beside each.
@pytest.mark.parametrize(("threshold", "value"), [
    ("instant_ceiling_l_min", 14.33),  # 60 x 35 / (4.187 x 35) = 14.33
    ("heavy_busy_hour_l", 160),  # 0.85 x 120 x 55 / 35 = 160.3
    ("heater_circuit_a", 13),  # 3000 / 230 = 13.04
    ("winter_rise_k", 35),  # 40 - 5
])
def test_sums_behind_thresholds(threshold: str, value: float) -> None:
    assert in_force(threshold, date(2026, 11, 25)) == pytest.approx(value, abs=0.05)


# Carbon monoxide alarm: Approved Document J (England), from 1 October 2022; elsewhere the twin asks.
def test_rules_of_one_nation_stay_silent_elsewhere() -> None:
    for rule in ("carbon-monoxide-alarm", "insulate-accessible-pipes", "radiator-valves-with-the-boiler"):
        assert examples.run(RULES[rule], {"nation": "scotland"}, homes.base()) == "silent"
        assert homes.base().rules[f"{rule}@elsewhere"].effect == "asks"
