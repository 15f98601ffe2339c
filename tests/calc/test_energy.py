"""Energy over a year, pause of the heating, flow temperature: published figures and hand sums."""

from __future__ import annotations

import pytest

from advisor.calc import energy


def test_break_even_at_the_capped_prices_of_july_2026() -> None:
    # regulator's cap July to September 2026 as quoted in a price guide: 26.11 p electricity, 7.33 p gas
    assert energy.break_even_ratio(26.11, 7.33, 0.90) == pytest.approx(3.2, abs=0.05)  # 26.11 x 0.90 / 7.33 = 3.206
    assert energy.break_even_ratio(26.11, 7.33, 0.85) == pytest.approx(3.0, abs=0.05)  # 26.11 x 0.85 / 7.33 = 3.028


@pytest.mark.parametrize("tau, fall", [(30, 0.44), (10, 1.29)])
def test_forty_minutes_without_heat_at_20_k(tau: float, fall: float) -> None:
    # 20 x (1 - e^(-0.6667/30)) = 20 x 0.02198 = 0.44; 20 x (1 - e^(-0.0667)) = 20 x 0.0645 = 1.29
    assert energy.room_fall(40, tau, 20, 0) == pytest.approx(fall, abs=0.01)


def test_two_hundred_litre_class_c_store() -> None:
    # label limit class C at 200 l: 86 W (regulation 812/2013): 86 x 8.76 h/1000 = 753 kWh a year, 2.06 a day
    assert energy.yearly_loss(86.0) / 365 == pytest.approx(2.06, abs=0.01)


def test_hundred_litres_a_day_by_forty_kelvin() -> None:
    # 100 x 4.187 x 40 / 3600 = 4.652 kWh a day, near the measured median of about 4; x 365 = 1698
    assert energy.yearly_hot_water(100, 40) == pytest.approx(1698, abs=1)


def test_flow_temperature_undoes_the_radiator_factor() -> None:
    # EN 442: 55/45 in a room at 20 is a mean difference of 30 K: (30/50)^1.3 = 0.515; a loss of 0.515 P50 needs 55
    assert energy.flow_temperature(5.15, 10.0, 20, 10) == pytest.approx(55.0, abs=0.05)
    assert energy.flow_temperature(4.06, 10.0, 20, 10) == pytest.approx(50.0, abs=0.05)  # (25/50)^1.3 = 0.406
