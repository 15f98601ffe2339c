"""A year of hot water: heat drawn and lost, fuel and a band of cost, where source and store allow a sum."""

from __future__ import annotations

from advisor.checks.measure import Measure, Ref
from advisor.facts import only

BOILERS = ("combination boiler", "system boiler", "heat-only boiler")
RATIO = {"immersion heater": "threshold.electric_heat_ratio", "electric boiler": "threshold.electric_heat_ratio",
         "heat pump": "threshold.heat_pump_hot_ratio"}
STORES = ("unvented", "cistern-fed", "own-cistern")
# helpers that heat nothing
WHOLE = ("none", "shower pump", "mains accumulator", "booster set", "back boiler taken out")


def site(m: Measure) -> None:
    """The heat drawn, and what a boiler makes of its gas while it makes hot water."""
    m.fact("year.daily_l", "site", "daily_hot_water", people="household.people")
    m.fact("year.drawn_kwh", "site", "yearly_hot_water", daily_l="year.daily_l", rise_k="threshold.year_rise_k")
    m.fact("year.waiting_kwh", "site", "combination_loss", daily_l="year.daily_l", days="threshold.year_days")
    m.fact("year.pipes_kwh", "site", "primary_loss", days="threshold.year_days",
           insulated="threshold.primary_insulated", hours="threshold.primary_hours")
    m.fact("year.boiler_efficiency", "site", "condensing_efficiency", return_c="threshold.hot_water_return_c",
           approach_k="threshold.flue_approach_k", excess_air="threshold.flue_excess_air",
           casing="threshold.boiler_casing")
    m.fact("year.gas_price_p", "site", "gas_price", supply="gas.supply", natural_p="threshold.gas_price_p",
           lpg_p="threshold.lpg_price_p")
    m.fact("solar.gain_margin_p", "site", "diverted_gain", gas_p="year.gas_price_p",
           efficiency="year.boiler_efficiency", export_p="electric.export_price_p")


def arrangement(m: Measure, a: str, has_coil: bool) -> None:
    """Store, fuel and cost of one arrangement; none where part of the heat comes from elsewhere or is not known."""
    kind, store, helper = (str(only(m.value(f"arrangement.{n}", a))) for n in ("source_kind", "store", "helper"))
    if helper not in WHOLE or kind not in (*BOILERS, *RATIO) or store not in ("none", *STORES):
        return
    burns = kind in BOILERS
    lost: Ref | str = "threshold.nothing_kwh"
    if store in STORES:
        lost = ("year.store_kwh", a)
        m.fact("year.store_kwh", a, "store_year", volume_l=("store.litres_l", a), share="threshold.either_share")
    waits = "year.pipes_kwh" if has_coil else "year.waiting_kwh" if burns else "threshold.nothing_kwh"
    m.fact("year.fuel_kwh", a, "year_fuel", drawn_kwh="year.drawn_kwh", store_kwh=lost, pipes_kwh=waits,
           efficiency="year.boiler_efficiency" if burns else RATIO[kind])
    m.fact("year.cost_pounds", a, "year_cost", fuel_kwh=("year.fuel_kwh", a),
           price_p="year.gas_price_p" if burns else "threshold.electricity_price_p",
           spread="threshold.cost_spread", share="threshold.either_share")
