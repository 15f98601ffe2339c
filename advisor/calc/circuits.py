"""Heating and water pipes: what a size carries by speed and by the head there is, fittings, heat lost on the way."""

from __future__ import annotations

import math

from advisor import tables
from advisor.calc import pipes
from advisor.calc.constants import BAR_PER_M, NO_LIMIT, WATER_KJ_KG_K
from advisor.calc.formula import Arg, OutOfRange, formula
from advisor.facts import Source

LIMITS = tables.load("water_speed")
QUIET_M_S = LIMITS.row(limit="quiet")["speed_m_s"]
SETTLES_M_S = LIMITS.row(limit="dirt settles below")["speed_m_s"]
GEOMETRY = Source("Geometry: flow = speed x area of the bore", "", "DERIVED")
FITTINGS = Source("BS 6700:2006, Table D.4: effective length = actual x 1.4 in its example", "", "PUBLISHED", "reprint")
BERNOULLI = Source("Hydrostatics and Bernoulli: pressure less 0.0981 bar a metre of rise, less losses", "", "DERIVED")
CONDUCTION = Source("Radial conduction and a surface film, textbooks of heat transfer", "", "DERIVED")
KPA_PER_BAR = 100
STEPS = 60
JUST_IN = 1 + 1e-9  # keeps rounding from falling between laminar and turbulent


THIN_BORE = ("(size_mm - 1.2 - 0.2 * min(max((size_mm - 12) / 3, 0), 1) "
             "- 0.4 * min(max((size_mm - 15) / 7, 0), 1))")


@formula(text=f"speed_m_s * 3.141592653589793 * ({THIN_BORE} / 1000) ** 2 / 4 * 60000 * {WATER_KJ_KG_K} * drop_k / 60",
         unit="kW", source=GEOMETRY,
         args=(Arg("size_mm", "mm", 6, 22), Arg("speed_m_s", "m/s", 0, 10), Arg("drop_k", "K", 0, 40)))
def radiator_pipe(size_mm: float, speed_m_s: float, drop_k: float) -> float:
    """Heat a thin copper pipe to a radiator carries at a speed.

    P = v pi d^2 / 4 x 60000 x 4.187 x dT / 60; the bore d from walls of 0.6, 0.7 and 0.9 mm up to 12, 15 and 22 mm

    Parameters
    ----------
    size_mm : outside size of the pipe [mm], 6 to 22
    speed_m_s : speed of the water [m/s]
    drop_k : fall from flow to return [K]

    Returns
    -------
    heat [kW]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    Speed only: a long run may want more head than the pump has. Plastic of the same outside size carries about half.

    Source
    ------
    Geometry, walls of copper tube from memory (BS EN 1057).

    Examples
    --------
    >>> [round(radiator_pipe(size, 1.0, 11.0), 1) for size in (8.0, 10.0, 15.0)]
    [1.7, 2.8, 6.7]
    """
    bore = size_mm - 1.2 - 0.2 * min(max((size_mm - 12) / 3, 0), 1) - 0.4 * min(max((size_mm - 15) / 7, 0), 1)
    return flow_at_speed(speed_m_s=speed_m_s, bore_mm=bore) * WATER_KJ_KG_K * drop_k / 60


@formula(text="speed_m_s * 3.141592653589793 * (bore_mm / 1000) ** 2 / 4 * 60000", unit="l/min", source=GEOMETRY,
         args=(Arg("speed_m_s", "m/s", 0, 10), Arg("bore_mm", "mm", 1, 500)))
def flow_at_speed(speed_m_s: float, bore_mm: float) -> float:
    """Flow of a full pipe at a speed.

    q = v pi d^2 / 4

    Parameters
    ----------
    speed_m_s : speed [m/s]
    bore_mm : bore [mm]

    Returns
    -------
    flow [l/min]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    A full pipe.

    Source
    ------
    Geometry.

    Examples
    --------
    >>> round(flow_at_speed(1.0, 6.8), 2)
    2.18
    """
    return speed_m_s * math.pi * (bore_mm / 1000) ** 2 / 4 * 60000


@formula(text="length_m * (1 + fittings)", unit="m", source=FITTINGS,
         args=(Arg("length_m", "m", 0, NO_LIMIT), Arg("fittings", "", 0, 3)))
def effective_length(length_m: float, fittings: float) -> float:
    """Length of a run with its fittings counted as a share of it.

    Le = L (1 + s)

    Parameters
    ----------
    length_m : measured length [m]
    fittings : share added for fittings, 0.2 to 0.4 by custom [-]

    Returns
    -------
    effective length [m]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    A share is for planning; with the fittings known, add their own lengths.

    Source
    ------
    BS 6700:2006, Table D.4 (25 m counted as 35 m).

    Examples
    --------
    >>> effective_length(25.0, 0.4)
    35.0
    """
    return length_m * (1 + fittings)


@formula(text=f"supply_bar - {BAR_PER_M} * rise_m - losses_bar", unit="bar", source=BERNOULLI,
         args=(Arg("supply_bar", "bar", 0, 20), Arg("rise_m", "m", -200, 200), Arg("losses_bar", "bar", 0, 20)))
def outlet_pressure(supply_bar: float, rise_m: float, losses_bar: float) -> float:
    """Pressure left at an outlet above the supply.

    p = p0 - 0.0981 h - losses

    Parameters
    ----------
    supply_bar : pressure where the pipe begins [bar]
    rise_m : how much higher the outlet is [m]
    losses_bar : lost in pipe and fittings at the flow wanted [bar]

    Returns
    -------
    pressure [bar]; below 0 nothing comes

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    Losses belong to one flow.

    Source
    ------
    Hydrostatics; the worked sheet of BS 6700:2006, Table D.4, counts 10 kPa a metre.

    Examples
    --------
    >>> round(outlet_pressure(3.0, 5.0, 0.7), 2)
    1.81
    """
    return supply_bar - BAR_PER_M * rise_m - losses_bar


@formula(text="6.283185307179586 * difference_k / (log((outside_mm + 2 * insulation_mm) / outside_mm) / k_w_mk "
              "+ 2000 / (film_w_m2k * (outside_mm + 2 * insulation_mm)))", unit="W/m", source=CONDUCTION,
         args=(Arg("outside_mm", "mm", 5, 200), Arg("insulation_mm", "mm", 0, 100, turns=()),
               Arg("k_w_mk", "W/mK", 0.01, 1), Arg("difference_k", "K", 0, 100), Arg("film_w_m2k", "W/m2K", 1, 50)),
         limits=[("k_w_mk <= film_w_m2k * outside_mm / 2000",
                  "on so thin a pipe this insulation adds heat loss before it saves any: not computed")])
def pipe_heat_loss(outside_mm: float, insulation_mm: float, k_w_mk: float, difference_k: float,
                   film_w_m2k: float) -> float:
    """Heat a metre of pipe gives off.

    q = 2 pi dT / (ln(D/d)/k + 2/(h D)), D = d + 2 t

    Parameters
    ----------
    outside_mm : outside size of the pipe, d [mm]
    insulation_mm : thickness of the insulation, t [mm]
    k_w_mk : its conductivity, k [W/(m K)]
    difference_k : water less room [K]
    film_w_m2k : surface film, h: about 10 [W/(m2 K)]

    Returns
    -------
    heat [W/m]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range, or the pipe is below the critical radius of its insulation.

    Limits
    ------
    Still air; metal wall ignored; water at one temperature.

    Source
    ------
    Textbooks of heat transfer.

    Examples
    --------
    >>> round(pipe_heat_loss(22.0, 25.0, 0.04, 40.0, 10.0), 1)
    7.8
    """
    over = outside_mm + 2 * insulation_mm
    return 2 * math.pi * difference_k / (math.log(over / outside_mm) / k_w_mk + 2000 / (film_w_m2k * over))


def flow_at_loss(size_mm: float, kpa_m: float, water_c: float) -> float:
    """The most a copper pipe carries at a loss a metre.

    Parameters
    ----------
    size_mm : outside size [mm]
    kpa_m : loss allowed a metre [kPa/m], > 0
    water_c : temperature [C]

    Returns
    -------
    flow [l/min]: of turbulent flow, or the end of laminar flow where turbulent flow would lose more

    Raises
    ------
    OutOfRange
        If size or temperature is not tabulated or the loss is not above 0.

    Limits
    ------
    As `pipes.water_drop`. Between laminar and turbulent flow the laminar end is taken, the cautious one.

    Source
    ------
    Darcy-Weisbach with Haaland's factor, solved by halving.

    Examples
    --------
    >>> round(flow_at_loss(22, 0.3, 75.0), 1)
    14.4
    """
    if kpa_m <= 0:
        raise OutOfRange(f"the loss is {kpa_m:g} kPa/m; it must be above 0")
    inside = pipes.bore(size_mm)[0]
    density, viscosity = pipes.water_at(water_c)
    per_l_min = density * pipes.speed(inside, 1.0) * inside / 1000 / viscosity  # Reynolds number of 1 l/min
    low, high = pipes.TURBULENT_ABOVE / per_l_min * JUST_IN, flow_at_speed(10.0, inside)
    if pipes.water_drop(size_mm, low, 1.0, water_c) > kpa_m:
        low, high = 0.0, pipes.LAMINAR_BELOW / per_l_min / JUST_IN
        if pipes.water_drop(size_mm, high, 1.0, water_c) <= kpa_m:
            return high
    for _ in range(STEPS):
        middle = (low + high) / 2
        low, high = (middle, high) if pipes.water_drop(size_mm, middle, 1.0, water_c) <= kpa_m else (low, middle)
    return low
