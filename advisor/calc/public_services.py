"""Calculators of gas, electricity, floors and condensate."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from advisor.calc import electric, flue, gas, gas_pipe, space
from advisor.calc.constants import MJ_PER_KWH, NET_TO_GROSS
from advisor.calc.public import Calculator, Key, Worked, n
from advisor.calc.public_water import MATERIAL, copper_only

GAS_FLOW = Key("flow", "m^3/h", "gas carried")
GAS_LENGTH = Key("length", "m", "length with fittings counted in")
PLACES = {"internal": "inside", "external": "outside"}
PERMITTED_MBAR = 1.0  # natural gas, meter to appliance: BS 6891:2015


def _gas_rate(v: Mapping[str, Any]) -> Worked:
    lines = []
    gross = v["input"]
    if gross is None:
        gross = v["net_input"] * NET_TO_GROSS
        lines.append(f"gross = {n(v['net_input'])} kW net x {NET_TO_GROSS} = {n(gross)} kW")
    flow = gas.input_rate(input_kw=gross, calorific_mj_m3=v["calorific_value"])
    lines.append(f"Q = {n(gross)} kW x {MJ_PER_KWH} / {n(v['calorific_value'])} MJ/m^3 = {n(flow)} m^3/h")
    return Worked({"flow": flow, "gross_input": gross}, tuple(lines))


def _row(size: int) -> str:
    row = gas_pipe.ROWS[size]
    return f"{size} mm row: " + ", ".join(f"{m} m {q}" for m, q in zip(row["length_m"], row["flow_m3_h"], strict=True))


def _gas_pipe(v: Mapping[str, Any]) -> Worked:
    copper_only(v["material"])
    size, drop = gas_pipe.smallest_size(v["length"], v["flow"], PERMITTED_MBAR)
    return Worked({"size": float(size), "drop": drop}, (
        *(f"{s} mm would lose {n(v['length'] * gas_pipe.gradient(s, v['flow']))} mbar"
          for s in gas_pipe.SIZES if s < size),
        f"{_row(size)} m^3/h at 1 mbar",
        f"{size} mm: {n(v['flow'])} m^3/h over {n(v['length'])} m loses {n(drop)} mbar, within 1 mbar",
        "a screen: the gas engineer sizes by the current edition"))


def _gas_drop(v: Mapping[str, Any]) -> Worked:
    copper_only(v["material"])
    size = gas_pipe.table_size(v["size"])
    loss = gas_pipe.gradient(size, v["flow"])
    drop = loss * v["length"]
    lines = [f"{_row(size)} m^3/h at 1 mbar",
             f"{n(v['flow'])} m^3/h loses {n(loss)} mbar a metre; x {n(v['length'])} m = {n(drop)} mbar"]
    if size != v["size"]:
        lines.insert(0, f"{n(v['size'])} mm is not tabulated: the next smaller size, {size} mm, answers")
    return Worked({"drop": drop}, tuple(lines))


def _current(v: Mapping[str, Any]) -> Worked:
    amps = electric.current(power_kw=v["power"], voltage_v=v["voltage"])
    return Worked({"current": amps}, (f"I = 1000 x {n(v['power'])} kW / {n(v['voltage'])} V = {n(amps)} A",))


def _floor(v: Mapping[str, Any]) -> Worked:
    mass = space.full_mass(volume_l=v["volume"], empty_kg=v["empty_mass"])
    pressure = space.floor_pressure(mass_kg=mass, footprint_m2=v["footprint"])
    return Worked({"mass": mass, "pressure": pressure}, (
        f"m = {n(v['volume'])} l x 1 kg/l + {n(v['empty_mass'])} kg = {n(mass)} kg",
        f"p = {n(mass)} kg x 9.81 / 1000 / {n(v['footprint'])} m^2 = {n(pressure)} kN/m^2",
        "the pressure under the store; whether the joists carry it is for a competent person"))


def condensate_place(text: str) -> str:
    """Where a condensate pipe runs, as the table spells it.

    Parameters
    ----------
    text : inside, outside or garage; internal and external are read too

    Returns
    -------
    the word of the table

    Raises
    ------
    ValueError
        If it is another word.

    Limits
    ------
    Spelling only.

    Source
    ------
    BS 6798:2014.

    Examples
    --------
    >>> condensate_place("External")
    'outside'
    """
    word = text.strip().lower()
    word = PLACES.get(word, word)
    allowed = [row["place"] for row in flue.CONDENSATE.rows]
    if word not in allowed:
        raise ValueError(f'"{text}" is not allowed. Allowed: {", ".join([*allowed, *PLACES])}.')
    return word


def _condensate(v: Mapping[str, Any]) -> Worked:
    faults = flue.condensate_faults(v["place"], v["length"], v["bore"])
    row = flue.CONDENSATE.row(place=v["place"])
    longest = f"at most {row['max_m']} m" if row["max_m"] else "no length given"
    verdict = f"not accepted: {'; '.join(faults)}" if faults else "accepted"
    return Worked({"verdict": verdict}, (
        f"{row['say']}: bore at least {row['min_bore_mm']} mm, {longest}",
        "fall, insulation, trap and end are looked at on site"))


CALCULATORS = (
    Calculator("gas-rate", "Gas an appliance takes",
               (Key("input", "kW", "gross input"), Key("net_input", "kW", "net input"),
                Key("calorific_value", "MJ/m^3", "gross calorific value")),
               {"flow": "m^3/h", "gross_input": "kW"}, gas.RATE, _gas_rate, one_of=("input", "net_input")),
    Calculator("gas-pipe", "Smallest copper gas pipe within 1 mbar", (GAS_FLOW, GAS_LENGTH, MATERIAL),
               {"size": "mm", "drop": "mbar"}, gas_pipe.COPPER.source, _gas_pipe),
    Calculator("gas-drop", "Pressure natural gas loses in copper pipe",
               (Key("size", "mm", "outside size"), GAS_FLOW, GAS_LENGTH, MATERIAL), {"drop": "mbar"},
               gas_pipe.COPPER.source, _gas_drop),
    Calculator("current", "Current of a load", (Key("power", "kW", "power"), Key("voltage", "V", "voltage")),
               {"current": "A"}, electric.POWER_LAW, _current),
    Calculator("floor-load", "Mass of a full store and its pressure on the floor",
               (Key("volume", "l", "water in it"), Key("empty_mass", "kg", "mass when empty"),
                Key("footprint", "m^2", "area it stands on")), {"mass": "kg", "pressure": "kN/m^2"}, space.WEIGHT,
               _floor),
    Calculator("condensate-pipe", "Condensate pipe against the guidance",
               (Key("place", meaning="inside, outside or garage", reader=condensate_place),
                Key("length", "m", "length of the run"), Key("bore", "mm", "inside diameter")), {"verdict": "text"},
               flue.CONDENSATE.source, _condensate),
)
