"""What a stop-watch tells: gas through the meter, water into a bucket; heat held in water and the power to make it."""

from __future__ import annotations

from advisor.calc.constants import HEAT_BALANCE, MJ_PER_KWH, NET_TO_GROSS, NO_LIMIT, WATER_KJ_KG_K
from advisor.calc.formula import Arg, formula
from advisor.calc.gas import CALORIFIC, RATE
from advisor.facts import Source

WATCH = Source("Volume over time", "", "DERIVED")
NET = Source("Natural gas: net = gross / 1.11, three gas-training sources", "", "PUBLISHED", "reprint")


@formula(text="60 * volume_l / time_s", unit="l/min", source=WATCH,
         args=(Arg("volume_l", "l", 0, NO_LIMIT), Arg("time_s", "s", 0, NO_LIMIT)),
         limits=[("time_s > 0", "the time must be above 0 s")])
def timed_flow(volume_l: float, time_s: float) -> float:
    """Flow from a vessel filled by the watch.

    q = 60 V / t

    Parameters
    ----------
    volume_l : what ran in [l]
    time_s : in what time [s], > 0

    Returns
    -------
    flow [l/min]

    Raises
    ------
    OutOfRange
        If the time is not above 0.

    Limits
    ------
    A flow, never a pressure.

    Source
    ------
    Arithmetic; a water company's advice gives 2 l in 13 s.

    Examples
    --------
    >>> round(timed_flow(2.0, 13.0), 1)
    9.2
    """
    return 60 * volume_l / time_s


@formula(text="volume_m3 / time_s * 3600", unit="m3/h", source=RATE,
         args=(Arg("volume_m3", "m3", 0, NO_LIMIT), Arg("time_s", "s", 0, NO_LIMIT)),
         limits=[("time_s > 0", "the time must be above 0 s")])
def metered_rate(volume_m3: float, time_s: float) -> float:
    """Gas rate from a meter read by the watch.

    Q = 3600 V / t

    Parameters
    ----------
    volume_m3 : gas that passed [m3]
    time_s : in what time [s], > 0

    Returns
    -------
    rate [m3/h]

    Raises
    ------
    OutOfRange
        If the time is not above 0.

    Limits
    ------
    Meter conditions; nothing else running.

    Source
    ------
    Gas revision note, worked example.

    Examples
    --------
    >>> round(metered_rate(0.04, 120.0), 3)
    1.2
    """
    return volume_m3 / time_s * 3600


@formula(text=f"flow_m3_h * calorific_mj_m3 / {MJ_PER_KWH}", unit="kW", source=RATE,
         args=(Arg("flow_m3_h", "m3/h", 0, NO_LIMIT), CALORIFIC))
def gross_power(flow_m3_h: float, calorific_mj_m3: float) -> float:
    """Gross power in a flow of gas; also what a meter can pass.

    P = Q CV / 3.6

    Parameters
    ----------
    flow_m3_h : gas [m3/h]
    calorific_mj_m3 : gross calorific value [MJ/m3]

    Returns
    -------
    gross power [kW]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    Gross: divide by 1.11 for net.

    Source
    ------
    Gas-training sources, Q = kW x 3.6 / CV.

    Examples
    --------
    >>> round(gross_power(6.0, 39.5), 1)
    65.8
    """
    return flow_m3_h * calorific_mj_m3 / MJ_PER_KWH


@formula(text=f"gross_kw / {NET_TO_GROSS}", unit="kW", source=NET, args=(Arg("gross_kw", "kW", 0, NO_LIMIT),))
def net_power(gross_kw: float) -> float:
    """Net power for a gross one.

    Pn = Pg / 1.11

    Parameters
    ----------
    gross_kw : gross power [kW]

    Returns
    -------
    net power [kW]

    Raises
    ------
    OutOfRange
        If it is negative.

    Limits
    ------
    Natural gas.

    Source
    ------
    Three gas-training sources.

    Examples
    --------
    >>> round(net_power(27.94), 2)
    25.17
    """
    return gross_kw / NET_TO_GROSS


@formula(text=f"volume_l * {WATER_KJ_KG_K} * rise_k / 3600", unit="kWh", source=HEAT_BALANCE,
         args=(Arg("volume_l", "l", 0, NO_LIMIT), Arg("rise_k", "K", 0, 100)))
def heat_content(volume_l: float, rise_k: float) -> float:
    """Heat that lifts a volume of water.

    E = V c dT / 3600

    Parameters
    ----------
    volume_l : water [l]
    rise_k : rise [K]

    Returns
    -------
    heat [kWh]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    No losses.

    Source
    ------
    Heat balance.

    Examples
    --------
    >>> round(heat_content(150.0, 50.0), 2)
    8.72
    """
    return volume_l * WATER_KJ_KG_K * rise_k / 3600


@formula(text=f"volume_l * {WATER_KJ_KG_K} * rise_k / (60 * time_min)", unit="kW", source=HEAT_BALANCE,
         args=(Arg("volume_l", "l", 0, NO_LIMIT), Arg("rise_k", "K", 0, 100), Arg("time_min", "min", 0, NO_LIMIT)),
         limits=[("time_min > 0", "the time must be above 0 min")])
def heating_power(volume_l: float, rise_k: float, time_min: float) -> float:
    """Power that lifts a volume of water in a time.

    P = V c dT / (60 t)

    Parameters
    ----------
    volume_l : water [l]
    rise_k : rise [K]
    time_min : time [min], > 0

    Returns
    -------
    power that reaches the water [kW]

    Raises
    ------
    OutOfRange
        If the time is not above 0.

    Limits
    ------
    Constant power, no losses.

    Source
    ------
    Heat balance.

    Examples
    --------
    >>> round(heating_power(1000.0, 55.0, 45.0), 1)
    85.3
    """
    return volume_l * WATER_KJ_KG_K * rise_k / (60 * time_min)
