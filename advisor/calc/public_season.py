"""Calculators of a condensing boiler: by the return that cools it, and over a heating season with a band of cost."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from advisor.calc import condensing
from advisor.calc.condensing import GROSS_KJ, VAPOUR_KJ
from advisor.calc.public import Calculator, Key, Worked, n
from advisor.calc.season import BASE_C, OUTSIDE, Boiler, House, Month, months
from advisor.facts import Source

SEASON = Source("Month by month: degree days to 15.5 C, radiators by EN 442, combustion of methane",
                f"{OUTSIDE.source.document}, from memory", "DERIVED")
BURNER = (Key("approach", "K", "flue gas over the return: 5 K at part load, 10 K at full load", default="5 K"),
          Key("excess", "-", "excess air as a share", default="0.25"),
          Key("casing", "-", "share lost through the casing", default="0.01"))


def _condensing(v: Mapping[str, Any]) -> Worked:
    burn = {"return_c": v["return"], "approach_k": v["approach"], "excess_air": v["excess"]}
    dew = condensing.flue_dew_point(v["excess"])
    share = condensing.condensed_share(**burn)
    gross = condensing.condensing_efficiency(**burn, casing=v["casing"])
    net = gross * GROSS_KJ / (GROSS_KJ - 2 * VAPOUR_KJ)
    water = condensing.condensate(share)
    gas = v["return"] + v["approach"]
    word = "below" if gas < dew else "not below"
    return Worked({"dew_point": dew, "condensed": share, "gross": gross, "net": net, "condensate": water}, (
        f"dew point of the flue gas with {n(v['excess'])} excess air: {n(dew)} C",
        f"flue gas leaves at {n(v['return'])} + {n(v['approach'])} = {n(gas)} C, {word} it: {n(share)} of its water "
        "condenses",
        f"of {n(GROSS_KJ)} kJ a mole of gas, {n(2 * VAPOUR_KJ * (1 - share))} kJ leave as vapour, some "
        f"{n(_warm(v, gross, share))} kJ as warmth and {n(GROSS_KJ * v['casing'])} kJ through the casing",
        f"gross {n(gross)}; on net value x {n(GROSS_KJ)} / {n(GROSS_KJ - 2 * VAPOUR_KJ)} = {n(net)}",
        f"condensate 2 x {n(share)} x {condensing.WATER_G_MOL} g for {n(GROSS_KJ)} kJ = {n(water)} l for each kWh of "
        "gas"))


def _warm(v: Mapping[str, Any], gross: float, share: float) -> float:
    return GROSS_KJ * (1 - gross - v["casing"]) - 2 * VAPOUR_KJ * (1 - share)


def _year(v: Mapping[str, Any]) -> Worked:
    house = House(v["loss"], v["emitters"], v["coldest"], v["inside"], v["drop"])
    found = months(house, Boiler(v["approach"], v["excess"], v["casing"]), v["flow"])
    heat, fuel = sum(m.heat_kwh for m in found), sum(m.fuel_kwh for m in found)
    condensed = sum(m.heat_kwh for m in found if m.condensed > 0) / heat
    low, high = (fuel * v["price"] / 100 * (1 + sign * v["spread"]) for sign in (-1, 1))
    return Worked({"heat": heat, "efficiency": heat / fuel, "condensing": condensed, "fuel": fuel, "cost_low": low,
                   "cost_high": high}, (
        f"load = {n(v['loss'])} kW x ({BASE_C} - outside) / {n(v['inside'] - v['coldest'])} K",
        "flow follows the weather: return = room + 50 (load / radiators)^(1/1.3) less half the fall at that load"
        if v["flow"] is None else f"flow held at {n(v['flow'])} C: return = flow - {n(v['drop'])} K",
        *map(_line, found),
        f"season: {n(heat)} kWh, {n(heat / v['loss'])} hours at full load; {n(heat)} / {n(fuel)} = {n(heat / fuel)}; "
        f"{n(condensed)} of it while condensing",
        f"band: {n(fuel)} kWh x {n(v['price'])} p, a share of {n(v['spread'])} either way = {n(low)} to {n(high)} "
        "pounds a year",
        "burning steadily: a boiler that goes on and off, unbalanced radiators and a bypass lose more"))


def _line(m: Month) -> str:
    return (f"{m.name}: {n(m.outside_c)} C outside, {m.days} days, {n(m.heat_kwh)} kWh, return {n(m.return_c)} C, "
            f"efficiency {n(m.efficiency)}, gas {n(m.fuel_kwh)} kWh")


CALCULATORS = (
    Calculator("condensing", "What a condensing boiler makes of its gas, by the return temperature",
               (Key("return", "C", "water coming back to the boiler"), *BURNER),
               {"dew_point": "C", "condensed": "-", "gross": "-", "net": "-", "condensate": "l/kWh"},
               condensing.COMBUSTION, _condensing),
    Calculator("heating-year", "Heat, seasonal efficiency by return temperature, gas and cost band of a heating season",
               (Key("loss", "kW", "heat loss on the coldest day"),
                Key("emitters", "kW", "output of the radiators at 50 K"),
                Key("coldest", "C", "the coldest day", default="-3 C", signed=True),
                Key("inside", "C", "rooms", default="20 C"),
                Key("drop", "K", "fall from flow to return at full load", default="20 K"),
                Key("flow", "C", "flow held all season; left out: it follows the weather", optional=True), *BURNER,
                Key("price", "p/kWh", "price of gas (cap of July to September 2026 as quoted)", default="7.33 p/kWh"),
                Key("spread", "-", "spread of real homes either way (ours)", default="0.2")),
               {"heat": "kWh", "efficiency": "-", "condensing": "-", "fuel": "kWh", "cost_low": "pounds",
                "cost_high": "pounds"}, SEASON, _year),
)
