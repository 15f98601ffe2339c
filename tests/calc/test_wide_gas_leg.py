"""A leg wider than the table's widest pipe: it loses no more than that pipe, and no less than nothing."""

from __future__ import annotations

import pytest

from tests import homes

LAYOUT = "combination-boiler:30kw"
LEG = "gas.legs.meter_to_hall.size"


def drop(size: str) -> tuple[float, float]:
    advice = homes.quick(homes.survey(homes.DEMO).with_changes({LEG: size, "gas.legs.under_floor.size": "28 mm"}))
    (fact,) = (f for f in advice.book if f.name == "gas.drop_mbar" and f.entity == advice[LAYOUT].arrangement.source)
    return fact.value.lo, fact.value.hi


def test_thirty_five_millimetres_is_bounded_by_the_widest_row() -> None:
    """BS 6891 copper table: a 28 mm leg loses what it says, a 35 mm one something between nothing and that.

    The rest of the way (28 mm under the floor, 22 mm to the boiler) is the same in both.
    """
    narrow, wide = drop("28 mm"), drop("35 mm")
    assert narrow[0] == narrow[1]
    assert wide[1] == pytest.approx(narrow[1]) and 0 < wide[0] < wide[1]


def test_the_bound_is_the_leg_itself() -> None:
    """28 mm, 3 m and two elbows at 3.05 m3/h of 30 kW and 0.73 of the hob: within 15 m at 7.2 m3/h for 1 mbar."""
    narrow, wide = drop("28 mm"), drop("42 mm")
    leg = narrow[1] - wide[0]
    assert 0 < leg < (3 + 2 * 1.0) / 15


def test_a_wide_leg_decides_where_even_the_bound_is_enough() -> None:
    advice = homes.quick(homes.survey(homes.DEMO).with_changes({LEG: "35 mm", "gas.legs.under_floor.size": "28 mm"}))
    source = advice[advice.recommended].arrangement.source
    (margin,) = (f for f in advice.book if f.name == "gas.drop_margin_mbar" and f.entity == source)
    assert margin.value.lo >= 0
