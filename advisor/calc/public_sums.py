"""Calculators of pipes and of the stop-watch: what a size carries, what is left at an outlet, gas and water timed."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from advisor.calc import circuits, instantaneous, loading, metering, pipes, water_supply
from advisor.calc.constants import HEAT_BALANCE
from advisor.calc.public import Calculator, Key, Worked, n

FITTING = re.compile(r"\s*(.+?)\s+(\d+(?:\.\d+)?)\s*")
SIZE = Key("size", "mm", "outside size of the copper pipe")
PIPE_C = "60 C"
KPA_PER_BAR, PA_PER_KPA = 100, 1000


def fittings(text: str) -> dict[str, float]:
    """Fittings as they are written, divided by semicolons.

    Parameters
    ----------
    text : "bath 1; washbasin 2; shower 1"

    Returns
    -------
    kind -> number

    Raises
    ------
    ValueError
        With the one that cannot be read, or is given twice.

    Limits
    ------
    Names as the table of the scale has them.

    Source
    ------
    None: a spelling.

    Examples
    --------
    >>> fittings("bath 1; washbasin 2")
    {'bath': 1.0, 'washbasin': 2.0}
    """
    found: dict[str, float] = {}
    for piece in filter(str.strip, text.split(";")):
        match = FITTING.fullmatch(piece)
        if match is None or match[1] in found:
            raise ValueError(f'"{piece.strip()}" is no fitting, or given twice. Write: bath 1; washbasin 2.')
        found[match[1]] = float(match[2])
    if not found:
        raise ValueError("no fitting given. Write: bath 1; washbasin 2.")
    return found


def _by_speed(v: Mapping[str, Any]) -> Worked:
    inside, source = pipes.bore(v["size"])
    flow = circuits.flow_at_speed(speed_m_s=v["speed"], bore_mm=inside)
    heat = instantaneous.instant_power(flow_l_min=flow, rise_k=v["drop"])
    if v["speed"] > circuits.QUIET_M_S:
        word = f"above {n(circuits.QUIET_M_S)} m/s, where pipes are heard"
    elif v["speed"] < circuits.SETTLES_M_S:
        word = f"below {n(circuits.SETTLES_M_S)} m/s, where dirt settles"
    else:
        word = f"within {n(circuits.SETTLES_M_S)} to {n(circuits.QUIET_M_S)} m/s"
    return Worked({"flow": flow, "heat": heat}, (
        f"bore of {n(v['size'])} mm copper: {n(inside)} mm ({source.cite()})",
        f"q = {n(v['speed'])} m/s x pi/4 x bore^2 = {n(flow)} l/min; {word} ({circuits.LIMITS.source.cite()})",
        f"P = {n(flow)} l/min x 4.187 x {n(v['drop'])} K / 60 = {n(heat)} kW"))


def _by_head(v: Mapping[str, Any]) -> Worked:
    effective = circuits.effective_length(length_m=v["length"], fittings=v["fittings"])
    per_m = v["head"] * KPA_PER_BAR / effective
    flow = circuits.flow_at_loss(v["size"], per_m, v["temperature"])
    inside, source = pipes.bore(v["size"])
    speed = pipes.speed(inside, flow)
    heat = instantaneous.instant_power(flow_l_min=flow, rise_k=v["drop"])
    heard = f": above {n(circuits.QUIET_M_S)} m/s it is heard, so speed is the limit" if speed > circuits.QUIET_M_S \
        else ""
    return Worked({"effective": effective, "gradient": per_m * PA_PER_KPA, "flow": flow, "velocity": speed,
                   "heat": heat}, (
        f"effective length = {n(v['length'])} m x (1 + {n(v['fittings'])}) = {n(effective)} m, flow and return",
        f"{n(v['head'] * KPA_PER_BAR)} kPa / {n(effective)} m = {n(per_m * PA_PER_KPA)} Pa/m",
        f"bore of {n(v['size'])} mm copper: {n(inside)} mm ({source.cite()})",
        f"at that loss it carries {n(flow)} l/min, {n(speed)} m/s{heard}",
        f"P = {n(flow)} l/min x 4.187 x {n(v['drop'])} K / 60 = {n(heat)} kW"))


def _gradient(v: Mapping[str, Any]) -> Worked:
    effective = circuits.effective_length(length_m=v["length"], fittings=v["fittings"])
    gradient = v["head"] * KPA_PER_BAR * PA_PER_KPA / effective
    return Worked({"effective": effective, "gradient": gradient}, (
        f"effective length = {n(v['length'])} m x (1 + {n(v['fittings'])}) = {n(effective)} m",
        f"{n(v['head'] * KPA_PER_BAR)} kPa x 1000 / {n(effective)} m = {n(gradient)} Pa/m"))


def _outlet(v: Mapping[str, Any]) -> Worked:
    left = circuits.outlet_pressure(supply_bar=v["supply"], rise_m=v["rise"], losses_bar=v["losses"])
    return Worked({"pressure": left}, (
        f"p = {n(v['supply'])} - 0.0981 x {n(v['rise'])} m - {n(v['losses'])} = {n(left)} bar"
        + ("" if left > 0 else ": nothing comes"),))


def _pump(v: Mapping[str, Any]) -> Worked:
    friction = v["length"] * v["loss"]
    total = v["rise"] + friction + v["pressure"] / water_supply.BAR_PER_M
    return Worked({"friction": friction, "head": total}, (
        f"friction = {n(v['length'])} m x {n(v['loss'])} m/m = {n(friction)} m",
        f"outlet pressure = {n(v['pressure'])} bar / 0.0981 = {n(v['pressure'] / water_supply.BAR_PER_M)} m",
        f"head = {n(v['rise'])} + {n(friction)} + {n(v['pressure'] / water_supply.BAR_PER_M)} = {n(total)} m"))


def _pipe_loss(v: Mapping[str, Any]) -> Worked:
    watts = circuits.pipe_heat_loss(outside_mm=v["size"], insulation_mm=v["insulation"], k_w_mk=v["conductivity"],
                                    difference_k=v["difference"], film_w_m2k=v["film"])
    over = v["size"] + 2 * v["insulation"]
    return Worked({"loss": watts}, (
        f"D = {n(v['size'])} + 2 x {n(v['insulation'])} = {n(over)} mm",
        f"q = 2 pi x {n(v['difference'])} K / (ln({n(over)}/{n(v['size'])})/{n(v['conductivity'])} + "
        f"2000/({n(v['film'])} x {n(over)})) = {n(watts)} W/m"))


def _loading(v: Mapping[str, Any]) -> Worked:
    scale = loading.SCALES[v["scale"]]
    total = loading.units(v["scale"], v["fittings"])
    each = {row["fitting"]: row["units"] for row in scale.rows}
    lines = [" + ".join(f"{n(c)} x {n(each[f])} ({f})" for f, c in v["fittings"].items())
             + f" = {n(total)} units of the {v['scale']} scale"]
    points = [row["units"] for row in loading.FLOWS.rows]
    if v["scale"] == "bs6700" and points[0] <= total <= points[-1]:
        lines.append(f"design flow {n(loading.design_flow(total))} l/s ({loading.FLOWS.source.cite()})")
    else:
        lines.append(f"no design flow: the curve was seen for BS 6700 units from {points[0]} to {points[-1]} only")
    return Worked({"units": total}, (*lines, "for a few outlets add their real flows"), scale.source)


def _timed(v: Mapping[str, Any]) -> Worked:
    flow = metering.timed_flow(volume_l=v["volume"], time_s=v["time"])
    return Worked({"flow": flow}, (f"60 x {n(v['volume'])} l / {n(v['time'])} s = {n(flow)} l/min",
                                   "a flow; it says nothing of the pressure"))


def _fill(v: Mapping[str, Any]) -> Worked:
    seconds = pipes.wait_seconds(v["volume"], v["flow"])
    return Worked({"time": seconds / 60}, (f"{n(v['volume'])} l / {n(v['flow'])} l/min = {n(seconds / 60)} min",))


def _meter(v: Mapping[str, Any]) -> Worked:
    rate = metering.metered_rate(volume_m3=v["volume"] / 1000, time_s=v["time"])
    gross = metering.gross_power(flow_m3_h=rate, calorific_mj_m3=v["calorific_value"])
    net = metering.net_power(gross_kw=gross)
    return Worked({"flow": rate, "gross": gross, "net": net}, (
        f"Q = {n(v['volume'] / 1000)} m3 / {n(v['time'])} s x 3600 = {n(rate)} m3/h",
        f"gross = {n(rate)} x {n(v['calorific_value'])} / 3.6 = {n(gross)} kW",
        f"net = {n(gross)} / 1.11 = {n(net)} kW"))


def _capacity(v: Mapping[str, Any]) -> Worked:
    gross = metering.gross_power(flow_m3_h=v["flow"], calorific_mj_m3=v["calorific_value"])
    return Worked({"gross": gross}, (f"{n(v['flow'])} m3/h x {n(v['calorific_value'])} / 3.6 = {n(gross)} kW gross",
                                     "the pipe behind the meter has its own limit"))


def _content(v: Mapping[str, Any]) -> Worked:
    heat = metering.heat_content(volume_l=v["volume"], rise_k=v["rise"])
    return Worked({"heat": heat}, (f"{n(v['volume'])} l x 4.187 x {n(v['rise'])} K / 3600 = {n(heat)} kWh",))


def _power(v: Mapping[str, Any]) -> Worked:
    power = metering.heating_power(volume_l=v["volume"], rise_k=v["rise"], time_min=v["time"])
    return Worked({"power": power}, (
        f"{n(v['volume'])} l x 4.187 x {n(v['rise'])} K / (60 x {n(v['time'])} min) = {n(power)} kW",))


CV = Key("calorific_value", "MJ/m^3", "gross calorific value", default="39.5 MJ/m3")
LENGTH = Key("length", "m", "length, flow and return together")
SHARE = Key("fittings", "-", "share added for fittings", default="0.3")
DROP = Key("drop", "K", "flow to return", default="11 K")
HEAD = Key("head", "bar", "head left for it, such as 1.5 m head")
CALCULATORS = (
    Calculator("pipe-by-speed", "What a copper pipe carries at a speed, microbore included",
               (SIZE, Key("speed", "m/s", "speed", default="1 m/s"), DROP), {"flow": "l/min", "heat": "kW"},
               circuits.GEOMETRY, _by_speed),
    Calculator("pipe-by-head", "What a copper pipe carries with the head there is, microbore included",
               (SIZE, HEAD, LENGTH, SHARE, DROP, Key("temperature", "C", "water", default=PIPE_C)),
               {"effective": "m", "gradient": "Pa/m", "flow": "l/min", "velocity": "m/s", "heat": "kW"}, pipes.DARCY,
               _by_head),
    Calculator("gradient", "Loss a metre that a head allows, fittings counted in",
               (HEAD, Key("length", "m", "length"), Key("fittings", "-", "share added for fittings", default="0")),
               {"effective": "m", "gradient": "Pa/m"}, circuits.FITTINGS, _gradient),
    Calculator("outlet-pressure", "Pressure left at an outlet",
               (Key("supply", "bar", "pressure where the pipe begins"),
                Key("rise", "m", "how much higher the outlet is", signed=True),
                Key("losses", "bar", "lost on the way")),
               {"pressure": "bar"}, circuits.BERNOULLI, _outlet),
    Calculator("pump-head", "Head a booster must give",
               (Key("rise", "m", "height", signed=True), Key("length", "m", "effective length"),
                Key("loss", "", "metres of head lost for each metre of pipe"),
                Key("pressure", "bar", "pressure wanted at the outlet")),
               {"friction": "m", "head": "m"}, circuits.BERNOULLI, _pump),
    Calculator("pipe-heat-loss", "Heat a metre of pipe gives off",
               (SIZE, Key("insulation", "mm", "thickness", default="0 mm"),
                Key("conductivity", "", "W/(m K)", default="0.04"), Key("difference", "K", "water less room"),
                Key("film", "", "surface film, W/(m2 K)", default="10")),
               {"loss": "W/m"}, circuits.CONDUCTION, _pipe_loss),
    Calculator("loading-units", "Loading units of a group of fittings",
               (Key("scale", meaning="the two never mix", words=tuple(loading.SCALES)),
                Key("fittings", meaning="bath 1; washbasin 2", reader=fittings)), {"units": "-"},
               loading.SCALES["en806"].source, _loading),
    Calculator("timed-flow", "Flow from a vessel filled by the watch",
               (Key("volume", "l", "what ran in"), Key("time", "s", "in what time")), {"flow": "l/min"},
               metering.WATCH, _timed),
    Calculator("fill-time", "Time to fill a bath or a cistern",
               (Key("volume", "l", "volume"), Key("flow", "l/min", "flow")), {"time": "min"}, metering.WATCH, _fill),
    Calculator("gas-meter-test", "Gas rate and power from the meter and a watch",
               (Key("volume", "l", "gas that passed"), Key("time", "s", "in what time"), CV),
               {"flow": "m^3/h", "gross": "kW", "net": "kW"}, metering.RATE, _meter),
    Calculator("meter-capacity", "Gross power a gas meter can pass",
               (Key("flow", "m^3/h", "what the meter is for"), CV), {"gross": "kW"}, metering.RATE, _capacity),
    Calculator("heat-content", "Heat that lifts a volume of water",
               (Key("volume", "l", "water"), Key("rise", "K", "rise")), {"heat": "kWh"}, HEAT_BALANCE, _content),
    Calculator("heating-power", "Power that lifts a volume of water in a time",
               (Key("volume", "l", "water"), Key("rise", "K", "rise"), Key("time", "min", "time")), {"power": "kW"},
               HEAT_BALANCE, _power),
)
