"""Calculators of cold and hot water."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from advisor.calc import demand, discharge, instantaneous, pipes, storage, water_supply
from advisor.calc.constants import HEAT_BALANCE, WATER_KJ_KG_K
from advisor.calc.formula import OutOfRange
from advisor.calc.public import Calculator, Key, Worked, n
from advisor.facts import Source

MATERIAL = Key("material", meaning="pipe material", default="copper", reader=lambda text: text.strip().lower())
POWER = Key("power", "kW", "power that reaches the water")
RISE = Key("rise", "K", "rise of temperature")
FLOW = Key("flow", "l/min", "flow")
STORE = Key("store", "C", "temperature of the store")
COLD = Key("cold", "C", "cold water temperature")
MIXED = Key("mixed", "C", "temperature wanted at the outlet")
VOLUME = Key("volume", "l", "volume")
CURVE_UP_TO = 0.9  # of static: common practice


def copper_only(material: str) -> None:
    """Refuse a pipe the tables do not speak of.

    Parameters
    ----------
    material : the pipe's material, in small letters

    Returns
    -------
    nothing

    Raises
    ------
    OutOfRange
        If it is not copper.

    Limits
    ------
    None.

    Source
    ------
    The tables are headed copper.

    Examples
    --------
    >>> copper_only("copper")
    """
    if material != "copper":
        raise OutOfRange(f"the material is {material}; the table is for copper")


def _reheat(v: Mapping[str, Any]) -> Worked:
    time = storage.reheat_minutes(volume_l=v["volume"], power_kw=v["power"], rise_k=v["rise"])
    return Worked({"time": time}, (
        f"t = V x {WATER_KJ_KG_K} x dT / (60 x P)",
        f"t = {n(v['volume'])} l x {WATER_KJ_KG_K} x {n(v['rise'])} K / (60 x {n(v['power'])} kW) = {n(time)} min"))


def _instant_flow(v: Mapping[str, Any]) -> Worked:
    flow = instantaneous.instant_flow(power_kw=v["power"], rise_k=v["rise"])
    return Worked({"flow": flow}, (
        f"q = 60 x P / ({WATER_KJ_KG_K} x dT)",
        f"q = 60 x {n(v['power'])} kW / ({WATER_KJ_KG_K} x {n(v['rise'])} K) = {n(flow)} l/min"))


def _instant_power(v: Mapping[str, Any]) -> Worked:
    power = instantaneous.instant_power(flow_l_min=v["flow"], rise_k=v["rise"])
    return Worked({"power": power}, (
        f"P = q x {WATER_KJ_KG_K} x dT / 60",
        f"P = {n(v['flow'])} l/min x {WATER_KJ_KG_K} x {n(v['rise'])} K / 60 = {n(power)} kW"))


def _hot_share(v: Mapping[str, Any]) -> Worked:
    share = storage.hot_share(store_c=v["store"], cold_c=v["cold"], mixed_c=v["mixed"])
    return Worked({"hot_share": share}, (
        "f = (Tm - Tc) / (Ts - Tc)",
        f"f = ({n(v['mixed'])} - {n(v['cold'])}) / ({n(v['store'])} - {n(v['cold'])}) = {n(share)}"))


def _mixed(v: Mapping[str, Any]) -> Worked:
    litres = storage.mixed_volume(volume_l=v["volume"], store_c=v["store"], cold_c=v["cold"], mixed_c=v["mixed"],
                                  usable=v["usable"])
    return Worked({"volume": litres}, (
        "Vm = u x V x (Ts - Tc) / (Tm - Tc)",
        f"Vm = {n(v['usable'])} x {n(v['volume'])} l x ({n(v['store'])} - {n(v['cold'])}) / "
        f"({n(v['mixed'])} - {n(v['cold'])}) = {n(litres)} l"))


def _storage(v: Mapping[str, Any]) -> Worked:
    kept = v["stratified"] == "yes"
    litres = storage.storage_volume(v["draw"], v["then"], v["after"], v["store"], v["cold"], v["power"], kept)
    put_back = storage.LITRES_PER_KW_MIN * v["power"] * v["after"]
    lift, bath = v["store"] - v["cold"], storage.BATH_C - v["cold"]
    lines = [f"put back between the draws: H = 14.3 x {n(v['power'])} kW x {n(v['after'])} min = {n(put_back)} l K",
             f"first draw: {n(v['draw'])} l",
             f"both draws: ({n(lift)} x {n(v['draw'])} + {n(bath)} x {n(v['then'])} - {n(put_back)}) / {n(lift)} = "
             f"{n((lift * v['draw'] + bath * v['then'] - put_back) / lift)} l"]
    if not kept:
        warm = v["store"] - storage.BATH_C
        lines.append(f"still 40 C when stirred: ({n(lift)} x {n(v['draw'])} - {n(put_back)}) / {n(warm)} = "
                     f"{n((lift * v['draw'] - put_back) / warm)} l")
    return Worked({"volume": litres}, (*lines, f"the largest of these: {n(litres)} l"))


def _discharge(v: Mapping[str, Any]) -> Worked:
    trials = discharge.d2_trials(v["valve"], v["length"], v["bends"])
    lines = tuple(f"{t.d2_mm} mm: {n(v['length'])} m and {n(v['bends'])} bends make {n(t.equivalent_m)} m, "
                  f"{'within' if t.fits else 'over'} {n(t.limit_m)} m" for t in trials)
    last = trials[-1]
    if not last.fits:
        raise OutOfRange("; ".join(lines) + ": the table ends here; have it worked out")
    return Worked({"d1": float(last.d1_mm), "d2": float(last.d2_mm), "equivalent_length": last.equivalent_m,
                   "limit": last.limit_m}, lines)


def valve_outlet(text: str) -> str:
    """A relief valve outlet as the table spells it.

    Parameters
    ----------
    text : as it is written: G1/2, 1/2 in, 3/4" BSP

    Returns
    -------
    G and the size; a size the table lacks is passed on as it is

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Spelling only.

    Source
    ------
    Approved Document G (England), Table 3.1.

    Examples
    --------
    >>> valve_outlet('3/4" BSP'), valve_outlet("g1")
    ('G3/4', 'G1')
    """
    bare = re.sub(r"(?i)^g|bsp[pt]?|inches|inch|in|\"|″|”", "", text.strip().replace("½", "1/2").replace("¾", "3/4"))
    return f"G{' '.join(bare.split())}"


def _water_drop(v: Mapping[str, Any]) -> Worked:
    copper_only(v["material"])
    inside, source = pipes.bore(v["size"])
    drop = pipes.water_drop(v["size"], v["flow"], v["length"], v["temperature"])
    density, viscosity = pipes.water_at(v["temperature"])
    velocity = pipes.speed(inside, v["flow"])
    return Worked({"drop": drop, "velocity": velocity}, (
        f"bore of {n(v['size'])} mm copper: {n(inside)} mm ({source.cite()})",
        f"v = {n(v['flow'])} l/min / bore area = {n(velocity)} m/s",
        f"Re = {n(density)} x {n(velocity)} x {n(inside)} mm / {n(viscosity * 1000)} cP = "
        f"{density * velocity * inside / 1000 / viscosity:.0f}",
        f"dp = f L/d rho v2/2 over {n(v['length'])} m = {n(drop)} kPa"))


def _supply(v: Mapping[str, Any]) -> Worked:
    if v["at"] > v["static"]:
        raise OutOfRange(f"at {n(v['at'])} bar, above the static {n(v['static'])} bar, nothing flows")
    if v["at"] > CURVE_UP_TO * v["static"]:
        raise OutOfRange(f"{n(v['at'])} bar is above {CURVE_UP_TO} of the static {n(v['static'])} bar: limiters and "
                         "meters flatten the curve there, so measure at that pressure")
    flow = water_supply.supply_flow_at(static_bar=v["static"], flow_l_min=v["flow"], residual_bar=v["residual"],
                                       at_bar=v["at"])
    return Worked({"flow": flow}, (
        "q = q1 x ((ps - p) / (ps - p1))^(1/1.85)",
        f"q = {n(v['flow'])} l/min x (({n(v['static'])} - {n(v['at'])}) / ({n(v['static'])} - {n(v['residual'])}))"
        f"^(1/1.85) = {n(flow)} l/min"))


def _dead_leg(v: Mapping[str, Any]) -> Worked:
    inside, source = pipes.bore(v["size"])
    litres = pipes.content(v["size"], v["length"])
    time = pipes.wait_seconds(litres, v["flow"])
    return Worked({"volume": litres, "time": time}, (
        f"bore of {n(v['size'])} mm copper: {n(inside)} mm",
        f"V = pi/4 x bore^2 x {n(v['length'])} m = {n(litres)} l",
        f"t = 60 x {n(litres)} l / {n(v['flow'])} l/min = {n(time)} s, before the pipe itself has warmed"), source)


def _head(v: Mapping[str, Any]) -> Worked:
    pressure = water_supply.head_pressure(height_m=v["height"])
    return Worked({"pressure": pressure}, (f"p = 0.0981 x {n(v['height'])} m = {n(pressure)} bar",))


def _accumulator(v: Mapping[str, Any]) -> Worked:
    if v["low"] > v["high"]:  # in a survey nothing is usable then; asked for by itself it is a slip of the keys
        raise OutOfRange("the low pressure must not be above the high pressure")
    litres = water_supply.accumulator_usable(volume_l=v["volume"], charge_bar=v["charge"], low_bar=v["low"],
                                             high_bar=v["high"])
    return Worked({"usable": litres}, (
        "dV = V (p0 + 1.013) (1/(p low + 1.013) - 1/(p high + 1.013))",
        f"dV = {n(v['volume'])} l x {n(v['charge'] + 1.013)} x (1/{n(v['low'] + 1.013)} - 1/{n(v['high'] + 1.013)}) = "
        f"{n(litres)} l"))


def _occupancy(v: Mapping[str, Any]) -> Worked:
    people = demand.occupancy(floor_area_m2=v["floor_area"])
    over = v["floor_area"] - demand.SMALLEST_M2
    return Worked({"people": people}, (
        "N = 1 + 1.76 (1 - exp(-0.000349 (A - 13.9)^2)) + 0.0013 (A - 13.9)",
        f"N = 1 + 1.76 (1 - exp(-0.000349 x {n(over)}^2)) + 0.0013 x {n(over)} = {n(people)}"))


def _daily(v: Mapping[str, Any]) -> Worked:
    litres = demand.daily_hot_water(people=v["people"])
    return Worked({"volume": litres}, (f"V = 25 x {n(v['people'])} + 36 = {n(litres)} l a day",))


CALCULATORS = (
    Calculator("reheat-time", "Time to warm a whole store", (VOLUME, POWER, RISE), {"time": "min"}, HEAT_BALANCE,
               _reheat),
    Calculator("instant-flow", "Hot flow from a power", (POWER, RISE), {"flow": "l/min"}, HEAT_BALANCE, _instant_flow),
    Calculator("instant-power", "Power for a hot flow", (FLOW, RISE), {"power": "kW"}, HEAT_BALANCE, _instant_power),
    Calculator("hot-share", "Share of hot water in a mixture", (STORE, COLD, MIXED), {"hot_share": "-"},
               storage.MIXING, _hot_share),
    Calculator("mixed-volume", "Mixed water in a full store",
               (VOLUME, STORE, COLD, MIXED, Key("usable", "-", "share that can be drawn hot")), {"volume": "l"},
               storage.MIXING, _mixed),
    Calculator("storage-volume", "Store for a draw and a second one later",
               (Key("draw", "l", "first draw, at store temperature"), Key("then", "l", "second draw, at 40 C"),
                Key("after", "min", "minutes between the draws"), STORE, COLD, POWER,
                Key("stratified", meaning="hot and cold keep apart in the store", words=("yes", "no"))),
               {"volume": "l"}, storage.ANNEX_C, _storage),
    Calculator("discharge-pipe", "Safety discharge pipe of an unvented store, copper",
               (Key("valve", meaning="relief valve outlet, such as G1/2", reader=valve_outlet),
                Key("length", "m", "straight run from the tundish to the open end"), Key("bends", "", "elbows in it")),
               {"d1": "mm", "d2": "mm", "equivalent_length": "m", "limit": "m"}, discharge.D2.source, _discharge),
    Calculator("water-drop", "Pressure water loses in copper pipe",
               (Key("size", "mm", "outside size"), FLOW, Key("length", "m", "length, fittings counted in"),
                Key("temperature", "C", "water temperature"), MATERIAL),
               {"drop": "kPa", "velocity": "m/s"}, pipes.DARCY, _water_drop),
    Calculator("supply-curve", "Flow of a supply at another pressure",
               (Key("static", "bar", "pressure with nothing running"), Key("flow", "l/min", "flow measured"),
                Key("residual", "bar", "pressure while it ran"), Key("at", "bar", "pressure wanted")),
               {"flow": "l/min"}, water_supply.PIPE_LAW, _supply),
    Calculator("dead-leg", "Water in a dead leg and the wait for it",
               (Key("size", "mm", "outside size"), Key("length", "m", "length"), FLOW), {"volume": "l", "time": "s"},
               Source("Content of copper tube, volume over flow", "", "DERIVED"), _dead_leg),
    Calculator("head", "Pressure of standing water", (Key("height", "m", "height of the water", signed=True),),
               {"pressure": "bar"}, water_supply.HYDROSTATICS, _head),
    Calculator("accumulator", "Water a charged vessel gives",
               (VOLUME, Key("charge", "bar", "gas charge"), Key("low", "bar", "lowest pressure of use"),
                Key("high", "bar", "pressure it is filled to")), {"usable": "l"}, water_supply.BOYLE, _accumulator),
    Calculator("occupancy", "People assumed in a dwelling", (Key("floor_area", "m2", "total floor area"),),
               {"people": "-"}, demand.SAP_PEOPLE, _occupancy),
    Calculator("daily-hot-water", "Average hot water a day", (Key("people", "", "people in the dwelling"),),
               {"volume": "l"}, demand.SAP_LITRES, _daily),
)
