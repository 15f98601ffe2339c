"""Space and floor, flue terminal and condensate: published distances and sums by hand."""

from __future__ import annotations

import pytest

from advisor import tables
from advisor.calc import OutOfRange
from advisor.calc.flue import TERMINAL, condensate_faults, flue_margin
from advisor.calc.space import floor_load, floor_pressure, full_mass, space_margin

# distances of BS 5440-1 as four reprints give them [mm]
DISTANCES = {
    "opening into the building, below, above or beside": 300, "gutter or pipe above": 75, "eaves above": 200,
    "balcony or car-port roof above": 200, "vertical pipe": 150, "corner": 300, "ground, roof or balcony below": 300,
    "surface or boundary facing": 600, "terminal facing": 1200, "opening from a car port into the building": 1200,
    "terminal above or below on the same wall": 1500, "terminal beside on the same wall": 300, "boundary alongside": 300,
}


def test_terminal_distances_of_bs_5440_1():
    assert {r["to"]: r["min_mm"] for r in TERMINAL.rows} == DISTANCES


@pytest.mark.parametrize("opening, boundary, margin", [(300, 600, 0), (450, 650, 50), (250, 2000, -50)])
def test_flue_margin_is_the_worse_of_the_two(opening, boundary, margin):
    assert flue_margin(opening, 300, boundary, 600) == margin


CONDENSATE = [
    pytest.param("inside", 20, 19, 0, id="BS 6798:2014 6.3.7.1.3: 19 mm inside"),
    pytest.param("inside", 2, 18, 1, id="BS 6798:2014 6.3.7.1.3: under 19 mm inside"),
    pytest.param("outside", 3, 30, 0, id="BS 6798:2014 6.3.7.1.4: 30 mm and 3 m outside"),
    pytest.param("outside", 3.1, 22, 2, id="BS 6798:2014 6.3.7.1.4: too narrow and too long"),
    pytest.param("garage", 2, 22, 1, id="industry guide: a garage counts as outside"),
]


@pytest.mark.parametrize("place, length, bore, faults", CONDENSATE)
def test_condensate(place, length, bore, faults):
    assert len(condensate_faults(place, length, bore)) == faults


def test_common_practice_weight_of_a_210_litre_store():
    """210 + 50 = 260 kg; x 9.81 = 2.55 kN; over 0.24 m2 10.6 kN/m2."""
    mass = full_mass(210, 50)
    assert mass == 260
    assert floor_load(mass) == pytest.approx(2.55, abs=0.005)
    assert floor_pressure(mass, 0.24) == pytest.approx(10.6, abs=0.05)


@pytest.mark.parametrize("size, margin", [((700, 800, 2200), 0), ((800, 690, 2200), -10), ((800, 800, 1700), -100)])
def test_space_margin_is_the_worst_of_three(size, margin):
    """A 550 x 1500 mm store with 150 mm around and 300 mm above needs 700 x 700 x 1800 mm."""
    assert space_margin(*size, 550, 1500, 150, 300) == margin


# common practice, 50 mm foam: litres -> height [mm] at 550 mm and at 475 mm
HEIGHTS = {"unvented": {150: 1100, 210: 1500, 250: 1750, 300: 2050}, "unvented slim": {150: 1500, 180: 1800}}


@pytest.mark.parametrize("kind", HEIGHTS)
def test_common_practice_store_sizes(kind):
    rows = {r["litres"]: r for r in tables.load("store_sizes").rows if r["store"] == kind}
    assert {litres: rows[litres]["height_mm"] for litres in HEIGHTS[kind]} == HEIGHTS[kind]


@pytest.mark.parametrize("row", tables.load("store_sizes").rows, ids=lambda r: f"{r['store']} {r['litres']}")
def test_a_store_holds_its_litres(row):
    """Geometry: the body inside 50 mm of foam holds the nominal litres, and not half as much again."""
    inside_dm, tall_dm = (row["diameter_mm"] - 100) / 100, (row["height_mm"] - 100) / 100
    assert 1.0 <= 0.7854 * inside_dm**2 * tall_dm / row["litres"] <= 1.1


@pytest.mark.parametrize("call", [lambda: floor_pressure(260, 0), lambda: condensate_faults("attic", 1, 30),
                                  lambda: condensate_faults("inside", -1, 30), lambda: full_mass(-1, 50)])
def test_refused(call):
    with pytest.raises(OutOfRange):
        call()
