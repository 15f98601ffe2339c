"""Radiators, heat loss, standing loss, occupancy against printed tables and worked examples."""

from __future__ import annotations

import pytest

from advisor.calc import OutOfRange
from advisor.calc.demand import busy_litres, daily_hot_water, drawn_minutes, occupancy
from advisor.calc.heating import fabric_loss, mean_difference, radiator_factor, ventilation_loss
from advisor.calc.standing import CLASSES, loss_limit

FACTORS = [pytest.param(k, f, id=f"radiator correction table, EN 442, {k} K") for k, f in (
    (5, 0.05), (10, 0.123), (15, 0.209), (20, 0.304), (25, 0.406), (30, 0.515), (35, 0.629), (40, 0.748), (45, 0.872),
    (50, 1.0), (55, 1.132), (60, 1.267), (65, 1.406), (70, 1.549), (75, 1.694))]


@pytest.mark.parametrize("difference, factor", FACTORS)
def test_radiator_factor(difference, factor):
    assert radiator_factor(difference) == pytest.approx(factor, abs=0.001)


DIFFERENCES = [
    pytest.param(75, 65, 20, 50, id="EN 442 rating point"), pytest.param(55, 45, 20, 30, id="55/45 in a 20 C room"),
    pytest.param(45, 40, 21, 21.5, id="45/40 in a 21 C room"),
]


@pytest.mark.parametrize("flow, back, room, difference", DIFFERENCES)
def test_mean_difference(flow, back, room, difference):
    assert mean_difference(flow, back, room) == difference


@pytest.mark.parametrize("back, factor", [(45, 0.515), (50, 0.571), (48, 0.549), (35, 0.406)])
def test_55_c_flow_depends_on_its_return(back, factor):
    """EN 442 exponent at 30, 32.5, 31.5 and 25 K."""
    assert radiator_factor(mean_difference(55, back, 20)) == pytest.approx(factor, abs=0.001)


def test_building_example():
    """Building Services Engineering (5th ed.), Example 3.6: 76 + 114 + 45.6 + 60 + 120 = 415.6 W/K; 15 340 W in all."""
    walls, windows, doors, roof, floor = (152.0, 0.5), (20.0, 5.7), (8.0, 5.7), (200.0, 0.3), (200.0, 0.6)
    fabric = fabric_loss([walls, windows, doors, roof, floor])
    assert fabric == pytest.approx(415.6, abs=0.1)
    assert (fabric + ventilation_loss(1.0, 600.0)) * 25 == pytest.approx(15_340, abs=1)


def test_semi_by_the_whole_house_method():
    """Whole-house method's factors: windows 57.6, walls 34.56, roof 21.12, floor 33.6; air 0.25 x 230.4 = 57.6 W/K."""
    fabric = fabric_loss([(19.2, 3.0), (76.8, 0.45), (48.0, 0.44), (48.0, 0.7)])
    assert fabric + ventilation_loss(0.25 / 0.33, 230.4) == pytest.approx(204.48, abs=0.01)


LIMITS = {120: (26.9, 37.3, 52.2, 73.2, 91.1, 118.7, 144.1), 180: (30.7, 42.4, 59.3, 83.1, 103.5, 135.0, 164.0),
          210: (32.3, 44.6, 62.3, 87.4, 108.7, 142.0, 172.4), 300: (36.4, 50.1, 70.1, 98.2, 122.1, 159.8, 194.1)}


@pytest.mark.parametrize("volume", LIMITS, ids=lambda v: f"Regulation 812/2013 Annex II Table 2, {v} l, A+ to F")
def test_standing_loss_limits(volume):
    found = [loss_limit(volume, r["a_w"], r["b_w"]) for r in CLASSES.rows]
    assert found == [pytest.approx(w, abs=0.1) for w in LIMITS[volume]]


def test_standing_loss_of_an_open_test_file():
    """A published test file prints 85.6 W for class C at 200 l; the sum is 16.66 + 8.33 x 8.326 = 86.0."""
    row = CLASSES.row(**{"class": "C"})
    assert loss_limit(200, row["a_w"], row["b_w"]) == pytest.approx(86.0, abs=0.5)


PEOPLE = [pytest.param(50, 1.6901, id="SAP 2012 Table 1b, 50 m2"), pytest.param(70, 2.2461, id="SAP 2012 Table 1b, 70 m2"),
          pytest.param(100, 2.7395, id="SAP 2012 Table 1b, 100 m2"), pytest.param(85, 2.55, id="SAP 2012 eq. 42, 85 m2")]


@pytest.mark.parametrize("area, people", PEOPLE)
def test_occupancy_and_litres(area, people):
    assert occupancy(area) == pytest.approx(people, abs=0.005)


@pytest.mark.parametrize("people, litres", [(3, 111), (4, 136), (1.6901, 78.25)])
def test_daily_litres_of_sap_2012(people, litres):
    assert daily_hot_water(people) == pytest.approx(litres, abs=0.01)


def test_busiest_hour():
    """Four 7-minute showers at 9 l/min are 252 l (4 x 63), 14 minutes at 18 l/min."""
    litres = busy_litres(4, 7, 9.0, 0, 100)
    assert litres == 252 and drawn_minutes(litres, 18.0) == 14.0
    assert busy_litres(0, 7, 9.0, 1, 100) == 100
    assert drawn_minutes(0.0, 0.0) == 0.0 and drawn_minutes(1000.0, 9.0) == 60.0


@pytest.mark.parametrize("call", [
    lambda: radiator_factor(4), lambda: radiator_factor(80), lambda: mean_difference(45, 55, 20), lambda: occupancy(10),
    lambda: loss_limit(0, 16.66, 8.33), lambda: fabric_loss([(-1, 0.5)]), lambda: daily_hot_water(-1),
])
def test_refused(call):
    with pytest.raises(OutOfRange):
        call()
