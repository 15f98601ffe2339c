"""Calculators of a house: room by room, by factors, radiators together, a season, turn-down, priority pause."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Any

from advisor.calc import energy, heating, house, storage
from advisor.calc.formula import OutOfRange
from advisor.calc.public import Calculator, Key, Worked, n
from advisor.calc.public_heat import parts
from advisor.units import parse

ROOM = re.compile(r"\s*([A-Za-z][\w -]*?)\s+(-?[\d.]+\s*°?C)\s+([\d.]+\s*m(?:\^3|3|³))\s+([\d.]+)\s*ach\s+(.+)")
EXAMPLE = "lounge 21 C 40 m3 1.0 ach 12 m2 0.6; 4.5 m2 1.4 | bedroom 18 C 30 m3 0.5 ach 9 m2 0.6"
OUTSIDES = range(-3, 16, 3)  # C, the rows of the turn-down working
GOOD_SHARE, POOR_SHARE = 0.3, 0.5  # least output as a share of the design loss: common practice
DEW_C = 54.0  # flue gas of natural gas begins to condense below this return: from memory
FACTOR_WORDS = {kind: tuple(r["of"] for r in house.FACTORS.rows if r["factor"] == kind)
                for kind in ("house", "window", "wall", "roof", "region")}


def rooms(text: str) -> tuple[tuple[str, float, float, float, tuple[tuple[float, float], ...]], ...]:
    """Rooms as they are written, divided by upright strokes.

    Parameters
    ----------
    text : "lounge 21 C 40 m3 1.0 ach 12 m2 0.6; 4.5 m2 1.4 | bedroom 18 C 30 m3 0.5 ach 9 m2 0.6"

    Returns
    -------
    (name, inside [C], volume [m3], air changes an hour, parts as (area, U)) of each room

    Raises
    ------
    ValueError
        With the room that cannot be read.

    Limits
    ------
    A wall to a cooler room is written as a part with its U lowered in proportion.

    Source
    ------
    None: a spelling.

    Examples
    --------
    >>> rooms("bed 18 C 30 m3 0.5 ach 9 m2 0.6")
    (('bed', 18.0, 30.0, 0.5, ((9.0, 0.6),)),)
    """
    found = []
    for piece in filter(str.strip, text.split("|")):
        match = ROOM.fullmatch(piece)
        if match is None:
            raise ValueError(f'"{piece.strip()}" is no room. Write for example "{EXAMPLE}".')
        name, inside, volume, air, skin = match.groups()
        found.append((name, parse(inside, "C"), parse(volume, "m3"), parse(air, ""), parts(skin)))
    if not found:
        raise ValueError(f'no room given. Write for example "{EXAMPLE}".')
    return tuple(found)


def outputs(text: str) -> tuple[float, ...]:
    """Radiators as they are written, divided by semicolons.

    Parameters
    ----------
    text : "1200 W; 1.5 kW; 800 W", each the output at 50 K

    Returns
    -------
    outputs [W]

    Raises
    ------
    ValueError
        With the one that cannot be read.

    Limits
    ------
    None.

    Source
    ------
    None: a spelling.

    Examples
    --------
    >>> outputs("1200 W; 1.5 kW")
    (1200.0, 1500.0)
    """
    found = tuple(parse(piece, "W") for piece in text.split(";") if piece.strip())
    if not found:
        raise ValueError('no radiator given. Write for example "1200 W; 1.5 kW".')
    return found


def _rooms(v: Mapping[str, Any]) -> Worked:
    total, lines = 0.0, []
    for name, inside, volume, air, skin in v["rooms"]:
        difference = inside - v["outside"]
        if difference < 0:
            raise OutOfRange(f"{name}: {n(inside)} C is colder than outside, there is no heat loss")
        fabric, vent = heating.fabric_loss(skin), heating.ventilation_loss(air_changes=air, volume_m3=volume)
        watts = (fabric + vent) * difference
        total += watts
        lines.append(f"{name}: ({' + '.join(f'{n(a)} x {n(u)}' for a, u in skin)} + 0.33 x {n(air)} x {n(volume)}) "
                     f"W/K x {n(difference)} K = {n(watts)} W")
    next_kw = math.ceil(round(total / 1000, 9))
    return Worked({"total": total, "boiler": float(next_kw)}, (
        *lines, f"together {n(total)} W; the next whole kW is {next_kw} kW",
        "walls between heated rooms left out; no margin for warming up"))


def _whole_house(v: Mapping[str, Any]) -> Worked:
    value = {kind: house.FACTORS.row(factor=kind, of=v[kind])["value"] for kind in FACTOR_WORDS}
    floor = v["plan"] * v["storeys"]
    height = v["storeys"] * v["height"]
    per_kelvin = house.whole_house_loss(
        plan_m2=v["plan"], floor_m2=floor, perimeter_m=v["perimeter"], height_m=height, window_share=value["house"],
        u_window=value["window"], u_wall=value["wall"], u_roof=value["roof"], u_floor=v["u_floor"])
    loss = per_kelvin * value["region"] / 1000
    windows = floor * value["house"]
    return Worked({"windows": windows, "per_kelvin": per_kelvin, "loss": loss, "boiler": loss + v["hot_water"]}, (
        f"windows = {n(floor)} m2 of floor x {value['house']} = {n(windows)} m2, U {value['window']}",
        f"walls = {n(v['perimeter'])} m x {n(height)} m - {n(windows)} m2 = "
        f"{n(v['perimeter'] * height - windows)} m2, U {value['wall']}",
        f"roof and floor = {n(v['plan'])} m2 x ({value['roof']} + {n(v['u_floor'])}) W/(m2 K)",
        f"air = {house.AIR_W_M3_K} x {n(v['plan'])} m2 x {n(height)} m",
        f"together {n(per_kelvin)} W/K x {n(value['region'])} K = {n(loss)} kW",
        f"with {n(v['hot_water'])} kW for a cylinder: {n(loss + v['hot_water'])} kW",
        "not for a combination boiler: its power follows the hot water"))


def _area_loss(v: Mapping[str, Any]) -> Worked:
    loss = house.loss_per_area(floor_m2=v["floor_area"], w_m2=v["factor"])
    return Worked({"loss": loss}, (
        f"{n(v['floor_area'])} m2 x {n(v['factor'])} W/m2 / 1000 = {n(loss)} kW",
        "new 25 to 35, insulated cavity about 50, solid walls 90 to 120 W/m2: a guess, a fifth out either way"))


def _emitters(v: Mapping[str, Any]) -> Worked:
    difference = heating.mean_difference(flow_c=v["flow"], return_c=v["flow"] - v["drop"], room_c=v["room"])
    factor = heating.radiator_factor(difference_k=difference)
    rated = sum(v["radiators"])
    lines = [f"at 50 K: {' + '.join(n(r) for r in v['radiators'])} = {n(rated)} W",
             f"dT = {n(v['flow'])} - {n(v['drop'])}/2 - {n(v['room'])} = {n(difference)} K; factor ({n(difference)}/50)"
             f"^1.3 = {n(factor)}",
             f"output = {n(rated)} W x {n(factor)} = {n(rated * factor)} W",
             f"return {n(v['flow'] - v['drop'])} C: {'below' if v['flow'] - v['drop'] < DEW_C else 'not below'} "
             f"about {n(DEW_C)} C, where a gas boiler begins to condense (from memory)"]
    if v["loss"] is not None:
        needed = energy.flow_temperature(v["loss"] / 1000, rated / 1000, v["room"], v["drop"])
        lines.append(f"for {n(v['loss'])} W: {n(v['room'])} + 50 x ({n(v['loss'])}/{n(rated)})^(1/1.3) + "
                     f"{n(v['drop'])}/2 = {n(needed)} C flow")
    return Worked({"output": rated * factor, "factor": factor}, tuple(lines))


def _season(v: Mapping[str, Any]) -> Worked:
    heat = house.season_heat(loss_w_k=v["per_kelvin"], degree_days=v["degree_days"])
    fuel = heat / v["efficiency"]
    return Worked({"heat": heat, "fuel": fuel}, (
        f"{n(v['per_kelvin'])} W/K x {n(v['degree_days'])} K days x 24 / 1000 = {n(heat)} kWh",
        f"{n(heat)} kWh / {n(v['efficiency'])} = {n(fuel)} kWh of fuel"))


def _turn_down(v: Mapping[str, Any]) -> Worked:
    above = house.cycles_above(least_kw=v["least"], loss_kw=v["loss"], inside_c=v["inside"], coldest_c=v["coldest"])
    share = v["least"] / v["loss"]
    spread = v["inside"] - v["coldest"]
    lines = [f"T = {n(v['inside'])} - {n(spread)} x {n(v['least'])} / {n(v['loss'])} = {n(above)} C"]
    for outside in OUTSIDES:
        load = v["loss"] * max(0.0, v["inside"] - outside) / spread
        does = "goes on and off" if load < v["least"] else "burns steadily"
        lines.append(f"outside {outside} C: load {n(load)} kW, the boiler {does}")
    word = "good" if share <= GOOD_SHARE else "it cycles most of the season" if share > POOR_SHARE else "middling"
    lines.append(f"least output is {n(share)} of the design loss: {word} (up to {GOOD_SHARE} good, above {POOR_SHARE} "
                 "poor: common practice)")
    return Worked({"cycles_above": above, "share": share}, tuple(lines))


def _pause(v: Mapping[str, Any]) -> Worked:
    minutes = storage.reheat_minutes(volume_l=v["volume"], power_kw=v["power"], rise_k=v["rise"])
    fall = energy.room_fall(minutes=minutes, time_constant_h=v["constant"] / 60, inside_c=v["inside"],
                            outside_c=v["outside"])
    return Worked({"pause": minutes, "fall": fall}, (
        f"t = {n(v['volume'])} l x 4.187 x {n(v['rise'])} K / (60 x {n(v['power'])} kW) = {n(minutes)} min",
        f"({n(v['inside'])} - {n(v['outside'])}) K x (1 - e^(-{n(minutes)} / {n(v['constant'])})) = {n(fall)} K",
        "time constant: brick 20 to 40 h, light frames about 10 h (common practice)"))


def _words(kind: str, meaning: str) -> Key:
    return Key(kind, meaning=meaning, words=FACTOR_WORDS[kind])


CALCULATORS = (
    Calculator("rooms", "Heat loss room by room",
               (Key("rooms", meaning=EXAMPLE, reader=rooms), Key("outside", "C", "outside on the design day")),
               {"total": "W", "boiler": "kW"}, heating.LOSS, _rooms),
    Calculator("whole-house", "Heat loss of a whole house by published factors",
               (_words("house", "kind of house"), Key("plan", "m2", "area of the plan"),
                Key("storeys", "", "storeys"), Key("height", "m", "height of a storey"),
                Key("perimeter", "m", "outside walls along the plan"), _words("window", "windows"),
                _words("wall", "walls"), _words("roof", "roof, by its insulation in mm"),
                Key("u_floor", "W/m2K", "U of the ground floor"), _words("region", "region"),
                Key("hot_water", "kW", "added for a cylinder", default="2 kW")),
               {"windows": "m2", "per_kelvin": "W/K", "loss": "kW", "boiler": "kW"}, house.FACTORS.source,
               _whole_house),
    Calculator("area-loss", "Heat loss guessed from the floor area",
               (Key("floor_area", "m2", "heated floor area"), Key("factor", "", "W for each m2", default="50")),
               {"loss": "kW"}, house.PER_AREA, _area_loss),
    Calculator("emitters", "Output of a set of radiators, and the flow temperature they need",
               (Key("radiators", meaning="outputs at 50 K: 1200 W; 1.5 kW", reader=outputs), Key("flow", "C", "flow"),
                Key("drop", "K", "flow to return", default="10 K"),
                Key("room", "C", "room", default="20 C"), Key("loss", "W", "loss to make good", optional=True)),
               {"output": "W", "factor": "-"}, heating.EN_442, _emitters),
    Calculator("season-heat", "Heat and fuel of a season by degree days",
               (Key("per_kelvin", "W/K", "heat loss a kelvin"), Key("degree_days", "", "kelvin-days, base 15.5 C"),
                Key("efficiency", "-", "seasonal efficiency", default="0.9")),
               {"heat": "kWh", "fuel": "kWh"}, house.DEGREE_DAYS, _season),
    Calculator("turn-down", "Boiler turned down against the load through the season",
               (Key("least", "kW", "least output of the boiler"), Key("loss", "kW", "heat loss on the design day"),
                Key("inside", "C", "inside", default="20 C"), Key("coldest", "C", "design day", default="-3 C")),
               {"cycles_above": "C", "share": "-"}, house.PART_LOAD, _turn_down),
    Calculator("priority-pause", "Pause of the heating while hot water has priority, and how far rooms fall",
               (Key("volume", "l", "store reheated"), Key("power", "kW", "power that reaches it"),
                Key("rise", "K", "rise"), Key("constant", "min", "time constant of the building, such as 30 h"),
                Key("inside", "C", "inside", default="20 C"), Key("outside", "C", "outside", default="0 C")),
               {"pause": "min", "fall": "K"}, energy.COOLING, _pause),
)
