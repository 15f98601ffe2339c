"""Energy over a year, and how far rooms fall while the heating waits."""

from __future__ import annotations

import math

from advisor.calc.constants import NO_LIMIT, WATER_KJ_KG_K
from advisor.calc.formula import Arg, formula
from advisor.facts import Source

HEAT = Source("Heat balance of water, 4.187 kJ/(kg K) and 1 kg/l", "", "DERIVED")
PRICES = Source("Cost of a unit of heat: price over efficiency, and price over the yearly ratio", "", "DERIVED")
COOLING = Source("Newton's law of cooling with one time constant", "", "DERIVED")
EMITTERS = Source("EN 442", "(dT/50)^1.3 solved for the temperature", "DERIVED")
DAYS = 365
KJ_PER_KWH = 3600


@formula(text=f"{DAYS} * daily_l * {WATER_KJ_KG_K} * rise_k / {KJ_PER_KWH}", unit="kWh", source=HEAT,
         args=(Arg("daily_l", "l", 0, 5000), Arg("rise_k", "K", 0, 90)))
def yearly_hot_water(daily_l: float, rise_k: float) -> float:
    """Heat in the hot water a household draws in a year.

    E = 365 V c dT / 3600

    Parameters
    ----------
    daily_l : litres a day [l], >= 0
    rise_k : mean rise [K], 0 to 90

    Returns
    -------
    heat [kWh] a year

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    Heat in the water only: losses of store and pipes come on top.

    Source
    ------
    Heat balance of water.

    Examples
    --------
    >>> round(yearly_hot_water(100.0, 40.0))
    1698
    """
    return DAYS * daily_l * WATER_KJ_KG_K * rise_k / KJ_PER_KWH


@formula(text="loss_w * 24 * 365 / 1000", unit="kWh", source=HEAT, args=(Arg("loss_w", "W", 0, 5000),))
def yearly_loss(loss_w: float) -> float:
    """Heat a store loses in a year when it is kept hot all the time.

    E = 24 x 365 x P / 1000

    Parameters
    ----------
    loss_w : standing loss [W], >= 0

    Returns
    -------
    heat [kWh] a year

    Raises
    ------
    OutOfRange
        If the loss is negative.

    Limits
    ------
    Part of it is useful warmth in the heating season.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> yearly_loss(86.0)
    753.36
    """
    return loss_w * 24 * DAYS / 1000


@formula(text="electricity_p * boiler_efficiency / gas_p", unit="", source=PRICES,
         args=(Arg("electricity_p", "p/kWh", 0, 200), Arg("gas_p", "p/kWh", 0.1, 100),
               Arg("boiler_efficiency", "", 0.3, 1.1)))
def break_even_ratio(electricity_p: float, gas_p: float, boiler_efficiency: float) -> float:
    """The yearly ratio of heat to electricity at which a heat pump costs as much to run as a gas boiler.

    SPF = p_electricity x efficiency / p_gas

    Parameters
    ----------
    electricity_p : price of electricity [p/kWh], >= 0
    gas_p : price of gas [p/kWh], 0.1 to 100
    boiler_efficiency : seasonal efficiency of the boiler on gross value [-], 0.3 to 1.1

    Returns
    -------
    ratio [-]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    Unit prices only; standing charges and feed-in are left out.

    Source
    ------
    Arithmetic of prices.

    Examples
    --------
    >>> round(break_even_ratio(26.11, 7.33, 0.90), 2)
    3.21
    """
    return electricity_p * boiler_efficiency / gas_p


@formula(text="(inside_c - outside_c) * (1 - exp(-minutes / 60 / time_constant_h))", unit="K", source=COOLING,
         args=(Arg("minutes", "min", 0, 1440), Arg("time_constant_h", "h", 0.5, 1000), Arg("inside_c", "C", -10, 40),
               Arg("outside_c", "C", -30, 40)))
def room_fall(minutes: float, time_constant_h: float, inside_c: float, outside_c: float) -> float:
    """How far rooms cool while the heating waits for hot water.

    dT = (Ti - To) (1 - exp(-t / tau))

    Parameters
    ----------
    minutes : length of the pause [min], 0 to 1440
    time_constant_h : time constant of the building [h]: brick 20 to 40, light frames about 10 (common practice)
    inside_c : room temperature at its start [C]
    outside_c : outside temperature [C]

    Returns
    -------
    fall [K]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    One room temperature for the whole building; sun and people left out.

    Source
    ------
    Newton's law of cooling.

    Examples
    --------
    >>> round(room_fall(40.0, 30.0, 20.0, 0.0), 2)
    0.44
    """
    return (inside_c - outside_c) * (1 - math.exp(-minutes / 60 / time_constant_h))


@formula(text="room_c + 50 * (loss_kw / emitters_kw) ** (1 / 1.3) + drop_k / 2", unit="C",
         source=EMITTERS,
         args=(Arg("loss_kw", "kW", 0, NO_LIMIT), Arg("emitters_kw", "kW", 0.01, NO_LIMIT), Arg("room_c", "C", 5, 30),
               Arg("drop_k", "K", 1, 30)))
def flow_temperature(loss_kw: float, emitters_kw: float, room_c: float, drop_k: float) -> float:
    """The flow temperature at which a set of radiators makes good a heat loss.

    T_flow = T_room + 50 (loss / P50)^(1/1.3) + dT / 2

    Parameters
    ----------
    loss_kw : heat loss to be made good [kW], >= 0
    emitters_kw : output of the radiators at 50 K [kW], > 0
    room_c : room temperature [C]
    drop_k : temperature drop from flow to return [K]

    Returns
    -------
    flow temperature [C]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    Mean of flow and return; every room served in proportion.

    Source
    ------
    EN 442.

    Examples
    --------
    >>> round(flow_temperature(6.5, 9.5, 20.0, 10.0), 1)
    62.3
    """
    return room_c + 50 * (loss_kw / emitters_kw) ** (1 / 1.3) + drop_k / 2
