"""Water heated as it flows: flow from power, power from flow."""

from __future__ import annotations

from advisor.calc.constants import ARITHMETIC, HEAT_BALANCE, WATER_KJ_KG_K
from advisor.calc.demand import HOUR_MIN
from advisor.calc.formula import Arg, formula

SECONDS = 60.0
RISE = Arg("rise_k", "K", 0.1, 100)


@formula(text=f"60 * power_kw / ({WATER_KJ_KG_K} * rise_k)", unit="l/min", source=HEAT_BALANCE,
         args=(Arg("power_kw", "kW", 0), RISE))
def instant_flow(power_kw: float, rise_k: float) -> float:
    """Hot flow that a power warms through a rise.

    q = 60 P / (4.187 dT)

    Parameters
    ----------
    power_kw : power that reaches the water [kW], >= 0
    rise_k : rise from cold to delivered [K]

    Returns
    -------
    flow [l/min]

    Raises
    ------
    OutOfRange
        If the power is negative or the rise lies outside 0.1 to 100 K.

    Limits
    ------
    Steady flow; scale and a cold start give less. 35 K from 5 C is 40 C at the outlet, with no margin for mixing.

    Source
    ------
    Heat balance; the relation of BS 6700 Annex C.

    Examples
    --------
    >>> round(instant_flow(30.0, 35.0), 1)
    12.3
    """
    return SECONDS * power_kw / (WATER_KJ_KG_K * rise_k)


@formula(text=f"flow_l_min * {WATER_KJ_KG_K} * rise_k / 60", unit="kW", source=HEAT_BALANCE,
         args=(Arg("flow_l_min", "l/min", 0), RISE))
def instant_power(flow_l_min: float, rise_k: float) -> float:
    """Power that a hot flow needs.

    P = q 4.187 dT / 60

    Parameters
    ----------
    flow_l_min : flow [l/min], >= 0
    rise_k : rise from cold to delivered [K]

    Returns
    -------
    power at the water [kW]

    Raises
    ------
    OutOfRange
        If the flow is negative or the rise lies outside 0.1 to 100 K.

    Limits
    ------
    Steady flow.

    Source
    ------
    Heat balance.

    Examples
    --------
    >>> round(instant_power(18.0, 35.0))
    44
    """
    return flow_l_min * WATER_KJ_KG_K * rise_k / SECONDS


@formula(text="60 if flow_l_min >= draw_l_min else 0", unit="min", source=ARITHMETIC,
         args=(Arg("flow_l_min", "l/min"), Arg("draw_l_min", "l/min")))
def instant_short_after(flow_l_min: float, draw_l_min: float) -> float:
    """Minutes into the busiest hour until somebody falls short, where water is heated as it flows.

    Parameters
    ----------
    flow_l_min : flow that can be given [l/min]
    draw_l_min : flow drawn at once [l/min]

    Returns
    -------
    60 (nobody falls short) or 0 (somebody does from the start) [min]

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Nothing is stored: what falls short does so at once.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> instant_short_after(12.3, 12.0), instant_short_after(12.3, 18.0)
    (60.0, 0.0)
    """
    return HOUR_MIN if flow_l_min >= draw_l_min else 0.0


@formula(text="store_min if shower_min >= 60 else min(store_min, shower_min)", unit="min", source=ARITHMETIC,
         args=(Arg("store_min", "min", 0), Arg("shower_min", "min", 0, HOUR_MIN)))
def first_to_fall_short(store_min: float, shower_min: float) -> float:
    """Minutes into the busiest hour until somebody falls short, of heat or of flow.

    Parameters
    ----------
    store_min : until the heat gives out; where it never does 60, or 180 if the draws take longer than the hour [min]
    shower_min : until one shower alone falls short of flow; 60 where it never does [min]

    Returns
    -------
    the earlier of the two; the first where the flow never falls short [min]

    Raises
    ------
    Raises nothing.

    Limits
    ------
    A flow of 60 minutes and more counts as never, however long the draws take.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> first_to_fall_short(180.0, 60.0), first_to_fall_short(180.0, 0.0), first_to_fall_short(20.0, 60.0)
    (180.0, 0.0, 20.0)
    """
    return store_min if shower_min >= HOUR_MIN else min(store_min, shower_min)
