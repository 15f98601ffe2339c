"""Calculators of a year: the rating's convention for hot water and losses, and a cost band."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from advisor.calc import energy, sap
from advisor.calc.public import Calculator, Key, Worked, n
from advisor.facts import Source

BAND = Source("Energy over efficiency times price, with a spread either way", "", "DERIVED")
YES_NO = ("yes", "no")


def _hot_water(v: Mapping[str, Any]) -> Worked:
    months = [(m, sap.month_hot_water(volume_l=v["volume"], factor=m["factor"], days=m["days"], rise_k=m["rise_k"]))
              for m in sap.MONTHS]
    total = sum(heat for _, heat in months)
    return Worked({"january": months[0][1], "year": total}, (
        *(f"{m['month']}: {n(v['volume'])} l x {m['factor']} x 4.19 x {m['days']} x {m['rise_k']} K / 3600 = "
          f"{n(heat)} kWh" for m, heat in months), f"year: {n(total)} kWh in the water drawn"))


def _primary(v: Mapping[str, Any]) -> Worked:
    year, lines = 0.0, []
    for name, hours in (("winter", v["winter_hours"] / 60), ("summer", v["summer_hours"] / 60)):
        days = sum(m["days"] for m in sap.MONTHS if (m["month"] in sap.SUMMER) == (name == "summer"))
        heat = sap.primary_loss(days=days, insulated=v["insulated"], hours=hours)
        year += heat
        lines.append(f"{name}: {days} x 14 x ((0.0091 x {n(v['insulated'])} + 0.0245 x {n(1 - v['insulated'])}) x "
                     f"{n(hours)} h + 0.0263) = {n(heat)} kWh")
    return Worked({"year": year}, (*lines, f"year: {n(year)} kWh"))


def _cylinder(v: Mapping[str, Any]) -> Worked:
    factor = 0.6 * (0.9 if v["timed"] == "yes" else 1.0) * (1.0 if v["thermostat"] == "yes" else 1.3)
    day = sap.cylinder_loss(volume_l=v["volume"], foam_mm=v["foam"], temperature_factor=factor)
    return Worked({"day": day, "year": day * energy.DAYS}, (
        f"loss factor = 0.005 + 0.55/({n(v['foam'])} + 4) = {0.005 + 0.55 / (v['foam'] + 4):.5f}",
        f"volume factor = (120/{n(v['volume'])})^(1/3) = {(120 / v['volume']) ** (1 / 3):.4f}",
        f"temperature factor = {n(factor)}",
        f"{n(v['volume'])} l x these = {n(day)} kWh a day, {n(day * energy.DAYS)} kWh a year"))


def _combination(v: Mapping[str, Any]) -> Worked:
    heat = sap.combination_loss(daily_l=v["volume"], days=v["days"])
    return Worked({"heat": heat}, (
        f"600 x min(1, {n(v['volume'])}/100) x {n(v['days'])} / 365 = {n(heat)} kWh",))


def _cost(v: Mapping[str, Any]) -> Worked:
    drawn = energy.yearly_hot_water(v["volume"], v["rise"])
    standing = energy.yearly_loss(v["standing"])
    heat = drawn + standing + v["primary"]
    fuel = heat / v["efficiency"]
    low, high = (fuel * v["price"] / 100 * (1 + sign * v["spread"]) for sign in (-1, 1))
    return Worked({"heat": heat, "fuel": fuel, "cost_low": low, "cost_high": high}, (
        f"drawn: 365 x {n(v['volume'])} l x 4.187 x {n(v['rise'])} K / 3600 = {n(drawn)} kWh",
        f"standing loss: {n(v['standing'])} W x 8.76 = {n(standing)} kWh; primary loss {n(v['primary'])} kWh",
        f"fuel: {n(heat)} kWh / {n(v['efficiency'])} = {n(fuel)} kWh",
        f"band: {n(fuel)} kWh x {n(v['price'])} p, a share of {n(v['spread'])} either way = "
        f"{n(low)} to {n(high)} pounds a year",
        "part of the losses warms the house in the heating season"))


CALCULATORS = (
    Calculator("yearly-hot-water-months", "Heat in a year's hot water, month by month",
               (Key("volume", "l", "litres a day, mean of the year"),), {"january": "kWh", "year": "kWh"},
               sap.HOT_WATER, _hot_water),
    Calculator("primary-loss", "Heat lost between boiler and cylinder in a year",
               (Key("insulated", "-", "share of the pipes insulated"),
                Key("winter_hours", "min", "circulation a day, October to May, such as 3 h"),
                Key("summer_hours", "min", "circulation a day, June to September", default="3 h")),
               {"year": "kWh"}, sap.PRIMARY, _primary),
    Calculator("cylinder-loss-year", "Standing loss of a foamed cylinder by the rating's convention",
               (Key("volume", "l", "volume"), Key("foam", "mm", "foam"),
                Key("thermostat", meaning="cylinder thermostat", words=YES_NO, default="yes"),
                Key("timed", meaning="timed apart from the heating", words=YES_NO, default="no")),
               {"day": "kWh", "year": "kWh"}, sap.CYLINDER, _cylinder),
    Calculator("combination-loss", "Heat a combination boiler without keep-hot wastes",
               (Key("volume", "l", "hot water a day"), Key("days", "", "days", default="365")), {"heat": "kWh"},
               sap.COMBINATION, _combination),
    Calculator("yearly-cost", "Yearly energy and cost band of hot water, losses counted in",
               (Key("volume", "l", "litres a day"), Key("rise", "K", "mean rise"),
                Key("standing", "W", "standing loss of the store", default="0 W"),
                Key("primary", "kWh", "primary loss a year", default="0 kWh"),
                Key("efficiency", "-", "seasonal efficiency, or yearly ratio of a heat pump"),
                Key("price", "p/kWh", "price of the fuel"),
                Key("spread", "-", "spread of real homes either way (ours)", default="0.2")),
               {"heat": "kWh", "fuel": "kWh", "cost_low": "pounds", "cost_high": "pounds"}, BAND, _cost),
)
