"""Condensing boiler and heating season: a reference library for water and flue gases, figures of the trade, hand sums."""

from __future__ import annotations

import CoolProp.CoolProp as cool
import pytest

from advisor.calc import condensing
from advisor.calc.constants import NET_TO_GROSS
from advisor.calc.formula import OutOfRange
from advisor.calc.public import answer
from advisor.calc.season import BASE_C, OUTSIDE, Boiler, House, months

BOILER = Boiler(5.0, 0.25, 0.01)


def saturated_kpa(celsius: float) -> float:
    return cool.PropsSI("P", "T", celsius + 273.15, "Q", 0, "Water") / 1000


@pytest.mark.parametrize("excess", [0.0, 0.1, 0.25, 0.5, 1.0])
def test_the_dew_point_is_where_steam_of_the_library_is_saturated(excess: float) -> None:
    """CH4 + 2 (1 + e)(O2 + 3.76 N2): of 2 + 1 + 7.52 (1 + e) + 2 e moles two are water. CoolProp: saturation."""
    share = 2 / (2 + 1 + 7.52 * (1 + excess) + 2 * excess)
    assert saturated_kpa(condensing.flue_dew_point(excess)) == pytest.approx(share * 101.325, rel=0.006)


def test_the_dew_point_the_trade_knows() -> None:
    """Common practice: return below some 54 C condenses; with the 20 to 30 % excess air of a boiler that is 54 to 56."""
    assert 54 < condensing.flue_dew_point(0.30) < condensing.flue_dew_point(0.20) < 56


@pytest.mark.parametrize("gas_c", [30.0, 35.0, 45.0, 52.0])
def test_what_stays_vapour_is_what_saturated_flue_gas_carries(gas_c: float) -> None:
    """Moles of water beside 10.9 moles of dry gas (8.52 + 9.52 x 0.25): partial pressures as the library has them."""
    p = saturated_kpa(gas_c)
    carried = 10.9 * p / (101.325 - p)
    assert condensing.condensed_share(gas_c - 5, 5, 0.25) == pytest.approx(1 - carried / 2, abs=0.005)


def test_the_heats_are_the_librarys() -> None:
    """Molar heats at 45 C and the heat of a mole of vapour at 25 C, within 1 %."""
    for name, taken in (("CO2", condensing.CO2_J), ("N2", condensing.N2_J), ("O2", condensing.O2_J)):
        assert taken == pytest.approx(cool.PropsSI("CPMOLAR", "T", 318.15, "P", 101325, name), rel=0.01)
    vapour, water = (cool.PropsSI("HMOLAR", "T", 298.15, "Q", q, "Water") for q in (1, 0))
    assert (vapour - water) / 1000 == pytest.approx(condensing.VAPOUR_KJ, rel=0.005)


def test_gross_over_net_is_the_figure_of_gas_training() -> None:
    """890.6 / (890.6 - 2 x 44.0) = 1.1097; three gas-training sources say 1.11."""
    ratio = condensing.GROSS_KJ / (condensing.GROSS_KJ - 2 * condensing.VAPOUR_KJ)
    assert ratio == pytest.approx(NET_TO_GROSS, abs=0.002)


def test_a_boiler_that_does_not_condense() -> None:
    """60 + 5 C. Hand sum at 40 K over 25 C: (38 + 29.1 x 9.4 + 29.5 x 0.5 + 33.8 x 2) J = 393.9 J/K -> 15.8 kJ; vapour 88 kJ;
    1 - 0.01 - 103.8 / 890.6 = 0.8735."""
    assert condensing.condensing_efficiency(60, 5, 0.25, 0.01) == pytest.approx(0.8735, abs=0.0005)


def test_seventy_fifty_against_fifty_thirty() -> None:
    """Common practice: a condensing boiler gains 5 to 8 % between 70/50 and 50/30."""
    hot, cool_ = (condensing.condensing_efficiency(t, 5, 0.25, 0.01) for t in (50, 30))
    assert 0.05 <= cool_ / hot - 1 <= 0.09


def test_condensate_of_a_boiler() -> None:
    """All of it: 2 x 18.02 g / 890.6 kJ = 0.1457 l/kWh. The trade says some 0.1 l/kWh, at most 2 l/h from 24 kW."""
    assert condensing.condensate(1.0) == pytest.approx(0.1457, abs=0.0001)
    usual = condensing.condensate(condensing.condensed_share(30, 5, 0.25))
    assert usual == pytest.approx(0.1, abs=0.01) and 1.5 < usual * 24 / 0.95 < 2.6


def test_a_season_adds_up_to_its_degree_days() -> None:
    """8 kW over 23 K is 347.8 W/K; x 2,062 degree days x 24 h = 17,214 kWh (degree days: hand sum of the table's means)."""
    by_hand = 31 * 11.2 + 28 * 10.6 + 31 * 9.0 + 30 * 6.6 + 31 * 3.8 + 30 * 0.9 + 30 * 1.4 + 31 * 4.9 + 30 * 8.4 + 31 * 11.3
    found = months(House(8, 12, -3), BOILER)
    assert by_hand == pytest.approx(2062, abs=0.5) and len(found) == 10
    assert sum(m.heat_kwh for m in found) == pytest.approx(8 / 23 * by_hand * 24)
    assert sum(max(0, BASE_C - r["mean_c"]) * r["days"] for r in OUTSIDE.rows) == pytest.approx(by_hand)


def test_january_by_hand() -> None:
    """Load 8 x 11.2 / 23 = 3.896 kW; mean water 20 + 50 (3.896 / 12)^(1/1.3) = 41.04; return 41.04 - 20 x 0.487 / 2 = 36.17."""
    january = months(House(8, 12, -3), BOILER)[0]
    assert january.return_c == pytest.approx(36.17, abs=0.01)
    assert january.heat_kwh == pytest.approx(3.896 * 24 * 31, rel=0.001)


def test_a_flow_that_follows_the_weather_beats_one_held_hot() -> None:
    follows, held = (months(House(8, 12, -3), BOILER, flow) for flow in (None, 75))
    assert sum(m.fuel_kwh for m in follows) < 0.95 * sum(m.fuel_kwh for m in held)
    assert all(m.condensed == 0 for m in held) and all(m.condensed > 0 for m in follows)


def test_what_the_season_cannot_say_is_not_computed() -> None:
    """8 kW from radiators of 12: 20 + 50 (8/12)^(1/1.3) + 10 = 66.6 C of flow on the coldest day."""
    with pytest.raises(OutOfRange, match=r"66\.6 C"):
        months(House(8, 12, -3), BOILER, 60)
    with pytest.raises(OutOfRange, match="coldest"):
        months(House(8, 12, 16), BOILER)
    with pytest.raises(OutOfRange, match="at least 25"):
        condensing.condensing_efficiency(16, 5, 0.25, 0.01)
    found = answer("heating-year", {"loss": "8 kW", "emitters": "12 kW", "flow": "60 C"})
    assert found.result is None and "66.6 C" in found.reason


def test_the_band_of_a_year_by_hand() -> None:
    """Flow held at 75, return 55: 0.8757; 17,214 / 0.8757 = 19,658 kWh x 7.33 p = 1,441 pounds, a fifth either way."""
    found = answer("heating-year", {"loss": "8 kW", "emitters": "12 kW", "flow": "75 C"}).result
    assert found["efficiency"] == pytest.approx(0.8757, abs=0.001)
    assert found["cost_low"] == pytest.approx(0.8 * 1441, rel=0.003)
    assert found["cost_high"] == pytest.approx(1.2 * 1441, rel=0.003)
