"""A year of hot water: hand sums from the published figures, measured homes beside them, and what is left out."""

from __future__ import annotations

import pytest

from advisor.calc import year
from advisor.calc.demand import daily_hot_water
from advisor.calc.energy import yearly_hot_water
from advisor.certificate import certificate
from advisor.facts import ANYTHING, Span
from advisor.report.lint import lint
from advisor.report.plain import printed
from advisor.report.technical import technical
from advisor.verifier import verify
from tests import homes

CYLINDER, COMBI = "boiler-unvented-cylinder:scullery-180l-18kw", "combination-boiler:24kw"


def span(advice, name: str, entity: str = "site") -> Span:
    return advice.fact(name, entity).value


def test_a_store_of_210_l_beside_the_trade_rule() -> None:
    """Regulation 812/2013, class C: 16.66 + 8.33 x 210^0.4 = 87.38 W, x 8.76 = 765 kWh. A rule of the trade, 1.15 (0.2 + 0.051
    V^(2/3)) kWh a day, gives 2.30 x 365 = 840: an older limit, a tenth above."""
    assert year.store_year(210.0, 1.0) == pytest.approx(765.4, abs=0.5)
    assert 0.85 < year.store_year(210.0, 1.0) / (365 * 1.15 * (0.2 + 0.051 * 210 ** (2 / 3))) < 1.0


def test_the_heat_drawn_beside_measured_homes() -> None:
    """A household of 2.4: 96 l a day by 37 K is 4.13 kWh; half of measured homes lie below some 4 kWh a day (DESNZ 2024)."""
    daily = daily_hot_water(2.4)
    assert daily == pytest.approx(96)
    assert yearly_hot_water(daily, 37.0) / 365 == pytest.approx(4.13, abs=0.01)


def test_the_terrace_by_hand() -> None:
    """Four people: 136 l; x 365 x 4.187 x 37 / 3600 = 2,136 kWh. 180 l: 180^0.4 = 7.983; B 59.34 W, C 83.16 W: 520 and 728.
    Pipes 365 x 14 x (0.0091 x 3 + 0.0263) = 274. Flue gas at 55 to 75 C: 0.8779 and 0.8691 of the gas."""
    advice = homes.advice(homes.DEMO)
    assert span(advice, "year.drawn_kwh").lo == pytest.approx(2136, abs=1)
    assert span(advice, "year.pipes_kwh").lo == pytest.approx(273.9, abs=0.1)
    efficiency = span(advice, "year.boiler_efficiency")
    assert (efficiency.lo, efficiency.hi) == (pytest.approx(0.869, abs=0.001), pytest.approx(0.878, abs=0.001))
    store, fuel, cost = (span(advice, f"year.{n}", CYLINDER) for n in ("store_kwh", "fuel_kwh", "cost_pounds"))
    assert (store.lo, store.hi) == (pytest.approx(520, abs=1), pytest.approx(728, abs=1))
    assert fuel.lo == pytest.approx((2136 + 520 + 274) / 0.878, rel=0.002)
    assert fuel.hi == pytest.approx((2136 + 728 + 274) / 0.869, rel=0.002)
    assert (cost.lo, cost.hi) == (pytest.approx(fuel.lo * 0.0733 * 0.8), pytest.approx(fuel.hi * 0.0733 * 1.2))


def test_a_combination_boiler_stores_nothing_and_wastes_the_wait() -> None:
    """600 kWh a year where more than 100 l a day are drawn (SAP 10.2, Table 3a)."""
    advice = homes.advice(homes.DEMO)
    assert span(advice, "year.waiting_kwh") == Span(600, 600)
    assert advice.book.about("year.store_kwh", COMBI) is None
    assert span(advice, "year.fuel_kwh", COMBI).lo == pytest.approx((2136 + 600) / 0.878, rel=0.002)


def test_electricity_and_heat_pump_have_their_own_price_and_ratio() -> None:
    advice = homes.advice("cottage_no_gas")
    found = {j.arrangement.family: j.id for j in advice.families()}
    direct, pump = found["direct-electric-cylinder"], found["heat-pump-unvented-cylinder"]
    heat = span(advice, "year.drawn_kwh").lo + span(advice, "year.store_kwh", direct).lo
    assert span(advice, "year.fuel_kwh", direct).lo == pytest.approx(heat)
    assert span(advice, "year.cost_pounds", direct).lo == pytest.approx(heat * 0.2611 * 0.8)
    assert span(advice, "year.cost_pounds", pump).hi < span(advice, "year.cost_pounds", direct).lo


def test_where_there_is_no_gas_a_boiler_has_no_cost() -> None:
    advice = homes.advice("cottage_no_gas")
    boilers = [f for f in advice.book.of("year.cost_pounds") if "combination" in f]
    assert boilers and all(advice.fact("year.cost_pounds", b).value == ANYTHING for b in boilers)


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_the_section_is_traced_and_the_facts_verified(name: str) -> None:
    advice = homes.advice(name)
    document = technical(advice)
    assert lint(document, advice) == []
    text = printed(document, advice)
    if any(f.value != ANYTHING for j in advice.families()[:1] if (f := advice.book.about("year.cost_pounds", j.id))):
        assert "A YEAR OF HOT WATER" in text.upper() and "pounds" in text
    assert verify(certificate(advice)).passed
