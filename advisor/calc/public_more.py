"""Calculators beyond the single pipe and the single store: the gas tree, a year's energy, temperatures."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from advisor.calc import energy
from advisor.calc.formula import OutOfRange
from advisor.calc.gas import Leg, tree
from advisor.calc.gas_advice import drops, enlarge_for_all, largest_flow
from advisor.calc.gas_pipe import COPPER
from advisor.calc.metering import gross_power
from advisor.calc.public import Calculator, Key, Worked, n

PERMITTED_MBAR = 1.0  # natural gas, meter to appliance: BS 6891:2015
WORD = r"([\w-]+)"
LEG = re.compile(rf"{WORD}\s+from\s+{WORD}(?:\s+to\s+{WORD})?\s+([\d.]+)\s*mm\s+([\d.]+)\s*m(?:\s+(\d+)\s+elbows?)?")
LOAD = re.compile(rf"{WORD}\s+([\d.]+)\s*m(?:\^3|3|³)/h")


def read_legs(text: str) -> tuple[Leg, ...]:
    """Pipe legs from a text such as "main from meter 22 mm 6 m 2 elbows; last from main to boiler 15 mm 3 m".

    Parameters
    ----------
    text : legs, separated by semicolons

    Returns
    -------
    the legs in their order

    Raises
    ------
    ValueError
        With a sentence that shows the form wanted, when a leg cannot be read.

    Limits
    ------
    Names are single words.

    Source
    ------
    None: a spelling.

    Examples
    --------
    >>> read_legs("main from meter to boiler 22 mm 6 m 2 elbows")[0].elbows
    2.0
    """
    legs = []
    for part in filter(None, (p.strip() for p in text.split(";"))):
        found = LEG.fullmatch(part)
        if not found:
            raise ValueError(f'"{part}" is no leg. Write: name from meter to boiler 22 mm 6 m 2 elbows; '
                             '"to" may be left out for a tee.')
        name, start, end, size, length, elbows = found.groups()
        legs.append(Leg(name, start, end or "", float(size), float(length), float(elbows or 0)))
    return tuple(legs)


def read_loads(text: str) -> dict[str, float]:
    """Gas of each appliance from a text such as "boiler 2.4 m3/h; hob 0.8 m3/h".

    Parameters
    ----------
    text : appliances with their gas, separated by semicolons

    Returns
    -------
    appliance -> gas [m3/h]

    Raises
    ------
    ValueError
        With a sentence that shows the form wanted, when one cannot be read.

    Limits
    ------
    Names are single words.

    Source
    ------
    None: a spelling.

    Examples
    --------
    >>> read_loads("boiler 2.4 m3/h; hob 0.8 m3/h")["hob"]
    0.8
    """
    loads = {}
    for part in filter(None, (p.strip() for p in text.split(";"))):
        found = LOAD.fullmatch(part)
        if not found:
            raise ValueError(f'"{part}" is no appliance. Write: boiler 2.4 m3/h; hob 0.8 m3/h.')
        loads[found[1]] = float(found[2])
    return loads


def _gas_tree(v: Mapping[str, Any]) -> Worked:
    legs, loads, outlet = v["legs"], v["loads"], v["outlet"]
    if outlet not in loads:
        raise OutOfRange(f"{outlet} is not among the loads: {', '.join(loads)}")
    lines, ways = [], {name: tree(legs, loads, name) for name in loads}
    shown: set[str] = set()
    for part in (p for way in ways.values() for p in way if p.leg not in shown):
        shown.add(part.leg)
        lines.append(f"{part.leg}: {n(part.flow_m3_h)} m^3/h over {n(part.equivalent_m)} m equivalent loses "
                     f"{n(part.drop_mbar)} mbar")
    found = drops(legs, loads)
    for name, drop in found.items():
        word = "within" if drop <= PERMITTED_MBAR else "over"
        way = " + ".join(p.leg for p in ways[name])
        lines.append(f"{name}: {way} = {n(drop)} mbar, {word} {n(PERMITTED_MBAR)} mbar")
    others = {name: flow for name, flow in loads.items() if name != outlet}
    most = largest_flow(legs, others, outlet, PERMITTED_MBAR)
    power = gross_power(flow_m3_h=most, calorific_mj_m3=v["calorific_value"]) * v["efficiency"]
    lines.append(f"most for {outlet}, every drop within {n(PERMITTED_MBAR)} mbar: {n(most)} m^3/h, "
                 f"x {n(v['calorific_value'])} / 3.6 x {n(v['efficiency'])} = {n(power)} kW of output")
    lines += [f"for the {name}: enlarge {e.leg} from {n(e.from_mm)} to {e.to_mm} mm: {n(e.drop_mbar)} mbar is left"
              for name, e in enlarge_for_all(legs, loads, PERMITTED_MBAR)]
    lines.append("a screen: tees not counted; the gas engineer sizes by the current edition")
    return Worked({"drop": found[outlet], "worst": max(found.values()), "largest": most, "output": power}, tuple(lines))


def _break_even(v: Mapping[str, Any]) -> Worked:
    ratio = energy.break_even_ratio(v["electricity"], v["gas"], v["efficiency"])
    return Worked({"ratio": ratio}, (
        f"{n(v['electricity'])} p x {n(v['efficiency'])} / {n(v['gas'])} p = {n(ratio)}",))


def _room_fall(v: Mapping[str, Any]) -> Worked:
    fall = energy.room_fall(v["pause"], v["constant"] / 60, v["inside"], v["outside"])
    return Worked({"fall": fall}, (
        f"({n(v['inside'])} - {n(v['outside'])}) K x (1 - e^(-{n(v['pause'])} / {n(v['constant'])})) = {n(fall)} K",))


def _flow_temperature(v: Mapping[str, Any]) -> Worked:
    flow = energy.flow_temperature(v["loss"], v["emitters"], v["room"], v["drop"])
    return Worked({"flow": flow}, (
        f"{n(v['room'])} + 50 x ({n(v['loss'])} / {n(v['emitters'])})^(1/1.3) + {n(v['drop'])} / 2 = {n(flow)} C",))


def _yearly(v: Mapping[str, Any]) -> Worked:
    heat = energy.yearly_hot_water(v["volume"], v["rise"])
    return Worked({"energy": heat}, (
        f"365 x {n(v['volume'])} l x 4.187 x {n(v['rise'])} K / 3600 = {n(heat)} kWh a year",))


CALCULATORS = (
    Calculator("gas-tree", "Gas pipe with branches: drop to each appliance, largest boiler, which leg to enlarge first",
               (Key("legs", meaning="name from meter to boiler 22 mm 6 m 2 elbows; ...", reader=read_legs),
                Key("loads", meaning="boiler 2.4 m3/h; hob 0.8 m3/h", reader=read_loads),
                Key("outlet", meaning="the appliance in question", reader=str, default="boiler"),
                Key("calorific_value", "MJ/m^3", "gross calorific value", default="39.5 MJ/m3"),
                Key("efficiency", "-", "output over gross input", default="0.9")),
               {"drop": "mbar", "worst": "mbar", "largest": "m^3/h", "output": "kW"}, COPPER.source, _gas_tree),
    Calculator("break-even", "Ratio at which a heat pump costs as much to run as a gas boiler",
               (Key("electricity", "p/kWh", "price of electricity"), Key("gas", "p/kWh", "price of gas"),
                Key("efficiency", "-", "seasonal efficiency of the boiler", default="0.9")),
               {"ratio": "-"}, energy.PRICES, _break_even),
    Calculator("room-fall", "How far rooms cool in a pause of the heating",
               (Key("pause", "min", "length of the pause"), Key("constant", "min", "time constant of the building"),
                Key("inside", "C", "room temperature"), Key("outside", "C", "outside temperature")),
               {"fall": "K"}, energy.COOLING, _room_fall),
    Calculator("flow-temperature", "Flow temperature a set of radiators needs",
               (Key("loss", "kW", "heat loss"), Key("emitters", "kW", "radiators at 50 K"),
                Key("room", "C", "room temperature", default="20 C"),
                Key("drop", "K", "flow to return", default="10 K")),
               {"flow": "C"}, energy.EMITTERS, _flow_temperature),
    Calculator("yearly-hot-water", "Heat in a year's hot water",
               (Key("volume", "l", "litres a day"), Key("rise", "K", "mean rise")), {"energy": "kWh"}, energy.HEAT,
               _yearly),
)
