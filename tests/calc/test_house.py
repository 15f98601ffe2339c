"""House, season and pause: hand sums beside each check; the published ones stand in test_worked_examples.py."""

from __future__ import annotations

import pytest

from advisor.calc.public import CalcError, answer

ROOMS = "lounge 21 C 40 m3 1.0 ach 12 m2 0.6; 4.5 m2 1.4 | bed 18 C 30 m3 0.5 ach 9 m2 0.6"
HAND = [
    # (12 x 0.6 + 4.5 x 1.4 + 0.33 x 40) x 24 = 26.7 x 24 = 640.8; (5.4 + 0.33 x 0.5 x 30) x 21 = 10.35 x 21 = 217.35
    ("rooms", {"rooms": ROOMS, "outside": "-3 C"}, {"total": 858.15, "boiler": 1}, 0.01),
    ("area-loss", {"floor_area": "90 m2"}, {"loss": 4.5}, 1e-9),  # 90 x 50 W
    # 20 - 23 x 4 / 6.5 = 5.85; 4 / 6.5 = 0.615
    ("turn-down", {"least": "4 kW", "loss": "6.5 kW"}, {"cycles_above": 5.846, "share": 0.615}, 0.001),
    # 210 x 4.187 x 55 / (60 x 18) = 44.78 min; 20 x (1 - e^(-44.78/1800)) = 0.491 K
    ("priority-pause", {"volume": "210 l", "power": "18 kW", "rise": "55 K", "constant": "30 h"},
     {"pause": 44.78, "fall": 0.491}, 0.005),
    # (1200 + 1500) x 0.515 = 1390 W at 55/45
    ("emitters", {"radiators": "1200 W; 1.5 kW", "flow": "55 C"}, {"output": 1390, "factor": 0.515}, 1),
    # 365 x 100 x 4.187 x 40 / 3600 = 1698.1; 86 x 8.76 = 753.4; + 274 = 2725.5; / 0.9 = 3028; x 7.33 p = 222; 0.8 and 1.2 of it
    ("yearly-cost", {"volume": "100 l", "rise": "40 K", "standing": "86 W", "primary": "274 kWh", "efficiency": "0.9",
                     "price": "7.33 p/kWh"}, {"heat": 2725.5, "fuel": 3028.3, "cost_low": 177.6, "cost_high": 266.4}, 0.5),
]


@pytest.mark.parametrize("name, keys, wanted, tolerance", HAND, ids=lambda x: x if isinstance(x, str) else "")
def test_hand_sum(name: str, keys: dict[str, str], wanted: dict[str, float], tolerance: float) -> None:
    found = answer(name, keys).result
    for key, value in wanted.items():
        assert found[key] == pytest.approx(value, abs=tolerance), key


def test_the_flow_temperature_a_set_of_radiators_needs_is_told() -> None:
    """20 + 50 x (1500/2700)^(1/1.3) + 5: ln 0.5556 = -0.5878, / 1.3 = -0.4521, e^ = 0.6363; 20 + 31.8 + 5 = 56.8 C."""
    lines = answer("emitters", {"radiators": "1200 W; 1.5 kW", "flow": "55 C", "loss": "1500 W"}).working
    assert any("= 56.81 C flow" in line for line in lines)


def test_the_season_is_walked_through() -> None:
    """At 6 C outside the load is 6.5 x 14/23 = 3.96 kW, under 4; at 3 C it is 4.80."""
    lines = "\n".join(answer("turn-down", {"least": "4 kW", "loss": "6.5 kW"}).working)
    assert "outside 3 C: load 4.804 kW, the boiler burns steadily" in lines
    assert "outside 6 C: load 3.957 kW, the boiler goes on and off" in lines


@pytest.mark.parametrize("name, keys, words", [
    ("rooms", {"rooms": "bed 5 C 30 m3 0.5 ach 9 m2 0.6", "outside": "9 C"}, "colder than outside"),
    ("whole-house", {"house": "flat", "plan": "90 m2", "storeys": "1", "height": "2.4 m", "perimeter": "5 m",
                     "window": "double metal", "wall": "solid 220", "roof": "flat 50", "u_floor": "0.7 W/m2K",
                     "region": "scotland"}, "larger than the outside walls"),
    ("turn-down", {"least": "4 kW", "loss": "6.5 kW", "coldest": "20 C"}, "colder than inside"),
    ("loading-units", {"scale": "en806", "fittings": "fountain 1"}, "not in the table"),
    ("pipe-heat-loss", {"size": "8 mm", "insulation": "5 mm", "conductivity": "0.1", "difference": "40 K"}, "before it saves"),
])
def test_outside_its_range_a_reason(name: str, keys: dict[str, str], words: str) -> None:
    found = answer(name, keys)
    assert found.result is None and words in found.reason


@pytest.mark.parametrize("name, keys, words", [
    ("rooms", {"rooms": "a room", "outside": "0 C"}, "is no room"),
    ("emitters", {"radiators": "", "flow": "55 C"}, "radiators"),
    ("loading-units", {"scale": "en806", "fittings": "bath"}, "is no fitting"),
])
def test_a_text_that_cannot_be_read_shows_the_form(name: str, keys: dict[str, str], words: str) -> None:
    with pytest.raises(CalcError, match=words):
        answer(name, keys)
