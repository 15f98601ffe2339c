"""Calculators of heating: expansion, standing loss, heat loss, radiators."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from advisor.calc import expansion, heating, standing
from advisor.calc.formula import OutOfRange
from advisor.calc.public import Calculator, Key, Worked, n
from advisor.units import parse

PART = re.compile(r"\s*([0-9.]+)\s*([a-zA-Z][a-zA-Z ]*\^?[2²]?)\s+([0-9.]+)\s*([wW].*)?")
RELIEF = Key("relief", "bar", "setting of the safety valve")
CHARGE = Key("charge", "bar", "gas charge of the vessel")
HOTTEST_C, COLD_FILL_C = 85.0, 10.0  # of the makers' data behind the formula method


def parts(text: str) -> tuple[tuple[float, float], ...]:
    """The parts of a building's skin as they are written.

    Parameters
    ----------
    text : "12 m^2 0.6; 4.5 m^2 1.4": area, then U in W/(m2 K), parts divided by semicolons

    Returns
    -------
    (area [m2], U [W/(m2 K)]) of each part

    Raises
    ------
    ValueError
        With the part that cannot be read.

    Limits
    ------
    None.

    Source
    ------
    None: a spelling.

    Examples
    --------
    >>> parts("12 m^2 0.6; 4.5 m2 1.4")
    ((12.0, 0.6), (4.5, 1.4))
    """
    found = []
    for piece in filter(str.strip, text.split(";")):
        match = PART.fullmatch(piece)
        if match is None:
            raise ValueError(f'"{piece.strip()}" is no part. Write area and U, for example "12 m^2 0.6; 4.5 m^2 1.4".')
        u = parse(f"{match[3]} {match[4]}", "W/m2K") if match[4] else parse(match[3], "")
        found.append((parse(f"{match[1]} {match[2]}", "m2"), u))
    if not found:
        raise ValueError('no part given. Write area and U, for example "12 m^2 0.6; 4.5 m^2 1.4".')
    return tuple(found)


def _heating_vessel(v: Mapping[str, Any]) -> Worked:
    if v["method"] == "formula":
        e = expansion.expansion_share(COLD_FILL_C, v["hot"] or HOTTEST_C)
        litres = expansion.vessel(v["volume"] * e, v["charge"], v["relief"])
        return Worked({"vessel": litres}, (
            "convention: makers' formula, final pressure = valve setting, 1 bar of atmosphere",
            f"e from {n(COLD_FILL_C)} to {n(v['hot'] or HOTTEST_C)} C = {n(e)}",
            f"V = {n(e)} x {n(v['volume'])} l / (1 - {n(v['charge'] + 1)}/{n(v['relief'] + 1)}) = {n(litres)} l"),
            expansion.ACCEPTANCE)
    factor = expansion.heating_factor(v["relief"], v["charge"])
    litres = factor * v["volume"]
    lines = ["convention: table of BS 7074-1 and BS 5449, flow at 88 C",
             f"V = {n(factor)} l/l x {n(v['volume'])} l = {n(litres)} l"]
    if v["hot"] is None or v["hot"] >= expansion.COOL_BELOW_C:
        lines.append(f"a flow below 88 C would allow x 0.8 = {n(0.8 * litres)} l (say so with hot=...)")
    else:
        litres *= expansion.COOL_FACTOR
        lines.append(f"flow {n(v['hot'])} C, below 88 C: x 0.8 = {n(litres)} l")
    return Worked({"vessel": litres}, tuple(lines))


def _potable_vessel(v: Mapping[str, Any]) -> Worked:
    e = expansion.expansion_share(v["cold"], v["store"])
    final = v["relief"] - v["margin"]
    litres = expansion.vessel(v["volume"] * e, v["charge"], final)
    return Worked({"vessel": litres}, (
        f"e from {n(v['cold'])} to {n(v['store'])} C = {n(e)}: {n(e * v['volume'])} l of expansion",
        f"final pressure = valve {n(v['relief'])} bar less {n(v['margin'])} bar = {n(final)} bar",
        f"V = {n(e * v['volume'])} l / (1 - {n(v['charge'] + 1)}/{n(final + 1)}) = {n(litres)} l",
        "compute to 70 C at least, add a quarter and take the next size; the maker's kit decides"))


def _loss_classes(v: Mapping[str, Any]) -> Worked:
    found, lines = {}, []
    for row in standing.CLASSES.rows:
        watts = standing.loss_limit(volume_l=v["volume"], a_w=row["a_w"], b_w=row["b_w"])
        found[f"class_{row['class'].lower().replace('+', '_plus')}"] = watts
        lines.append(f"{row['class']}: {row['a_w']} + {row['b_w']} x {n(v['volume'])}^0.4 = {n(watts)} W")
    return Worked(found, tuple(lines))


def _heat_loss(v: Mapping[str, Any]) -> Worked:
    difference = v["inside"] - v["outside"]
    if difference < 0:
        raise OutOfRange(f"inside {n(v['inside'])} C is colder than outside {n(v['outside'])} C: there is no heat loss")
    fabric = heating.fabric_loss(v["parts"])
    air = heating.ventilation_loss(air_changes=v["air_changes"], volume_m3=v["volume"])
    sums = " + ".join(f"{n(a)} x {n(u)}" for a, u in v["parts"])
    return Worked({"fabric": fabric * difference, "ventilation": air * difference, "total": (fabric + air) * difference,
                   "per_kelvin": fabric + air}, (
        f"fabric: {sums} = {n(fabric)} W/K",
        f"ventilation: 0.33 x {n(v['air_changes'])} x {n(v['volume'])} m^3 = {n(air)} W/K",
        f"({n(fabric)} + {n(air)}) W/K x ({n(v['inside'])} - {n(v['outside'])}) K = "
        f"{n((fabric + air) * difference)} W"))


def _radiator(v: Mapping[str, Any]) -> Worked:
    difference = heating.mean_difference(flow_c=v["flow"], return_c=v["return"], room_c=v["room"])
    factor = heating.radiator_factor(difference_k=difference)
    output = v["output"] * factor
    return Worked({"mean_difference": difference, "factor": factor, "output": output}, (
        f"dT = ({n(v['flow'])} + {n(v['return'])})/2 - {n(v['room'])} = {n(difference)} K",
        f"factor = ({n(difference)}/50)^1.3 = {n(factor)}",
        f"output = {n(v['output'])} W x {n(factor)} = {n(output)} W"))


CALCULATORS = (
    Calculator("expansion-heating", "Expansion vessel of a sealed heating system",
               (Key("volume", "l", "water in the system"), RELIEF, CHARGE,
                Key("method", meaning="convention", default="table", words=("table", "formula")),
                Key("hot", "C", "hottest flow", optional=True)), {"vessel": "l"}, expansion.HEATING.source,
               _heating_vessel),
    Calculator("expansion-hot-water", "Expansion vessel of an unvented store",
               (Key("volume", "l", "volume of the store"), Key("cold", "C", "cold water"),
                Key("store", "C", "hottest store"), CHARGE, RELIEF,
                Key("margin", "bar", "final pressure below the valve", default=f"{expansion.POTABLE_MARGIN_BAR} bar")),
               {"vessel": "l"}, expansion.POTABLE, _potable_vessel),
    Calculator("cylinder-loss-class", "Largest standing loss of each label class", (Key("volume", "l", "volume"),),
               {f"class_{c}": "W" for c in ("a_plus", "a", "b", "c", "d", "e", "f")}, standing.CLASSES.source,
               _loss_classes),
    Calculator("heat-loss", "Heat loss of a room or house",
               (Key("parts", meaning="areas and U-values", reader=parts), Key("volume", "m^3", "volume of air"),
                Key("air_changes", "-", "air changes an hour"), Key("inside", "C", "inside"),
                Key("outside", "C", "outside")),
               {"fabric": "W", "ventilation": "W", "total": "W", "per_kelvin": "W/K"}, heating.LOSS, _heat_loss),
    Calculator("radiator", "Output of a radiator at other temperatures",
               (Key("output", "W", "output at 50 K"), Key("flow", "C", "flow"), Key("return", "C", "return"),
                Key("room", "C", "room")), {"mean_difference": "K", "factor": "-", "output": "W"}, heating.EN_442,
               _radiator),
)
