"""What a layout itself puts in the water's way: an inlet set, a heat exchanger, and the flow the main drives past them.

Their loss grows as the square of the flow, the main's as its power 1.85: the flow at which both together use up the
pressure there is has no closed form. With r = q / q1 it is dp r^1.85 + L r^2 = H; so r = (H / (dp + L r^0.15))^(1/1.85)
may be put in its own place, and an error of r shrinks to less than a twelfth (0.15 / 1.85) and changes sides each time.
"""

from __future__ import annotations

import math

from advisor.calc.formula import Arg, formula
from advisor.calc.water_supply import EXPONENT, FURTHEST_UP
from advisor.facts import Source

EXPONENT_LEFT = 0.15  # 2 less 1.85
AT_L_MIN = 10.0  # the flow at which losses are stated here
ROUNDS = 8  # from r = 1 even a thousandth of the flow measured is met to one part in ten million
NO_FALL_BAR = 1e-9  # stands for a valve that holds its set point at every flow: some 400,000 l/min

SQUARE = Source("Loss of a fitting grows as the square of the flow", "textbooks of fluid mechanics", "DERIVED")
PAST = Source("The main's curve (loss as flow to the power 1.85) less fittings (loss as flow squared), solved for the "
              "flow", "held against EPANET 2.2", "DERIVED")



@formula(text=f"bar * ({AT_L_MIN:g} / at_l_min) ** 2", unit="bar", source=SQUARE,
         args=(Arg("bar", "bar", 0, 20), Arg("at_l_min", "l/min", 1, 1000)))
def loss_at_ten(bar: float, at_l_min: float) -> float:
    """Pressure a fitting takes at 10 l/min, from what it takes at another flow.

    p10 = p (10 / q)^2

    Parameters
    ----------
    bar : loss at one flow, 0 to 20 [bar]
    at_l_min : that flow, 1 to 1000 [l/min]

    Returns
    -------
    loss at 10 l/min [bar]

    Raises
    ------
    OutOfRange
        Outside these ranges.

    Limits
    ------
    Turbulent flow through a clean fitting.

    Source
    ------
    Textbooks of fluid mechanics.

    Examples
    --------
    >>> loss_at_ten(0.5, 20.0)
    0.125
    """
    return bar * (AT_L_MIN / at_l_min) ** 2


@formula(text=f"bar * (hot_share * {AT_L_MIN:g} / at_l_min) ** 2", unit="bar", source=SQUARE,
         args=(Arg("bar", "bar", 0, 20), Arg("at_l_min", "l/min", 1, 1000), Arg("hot_share", "", 0, 1)))
def hot_loss_at_ten(bar: float, at_l_min: float, hot_share: float) -> float:
    """Pressure a heat exchanger takes while 10 l/min of mixed water run, of which it passes the hot share.

    p10 = p (10 f / q)^2

    Parameters
    ----------
    bar : loss at one flow through it, 0 to 20 [bar]
    at_l_min : that flow, 1 to 1000 [l/min]
    hot_share : share of the mixed water that comes by the hot side, 0 to 1 [-]

    Returns
    -------
    loss at 10 l/min of mixed water [bar]

    Raises
    ------
    OutOfRange
        Outside these ranges.

    Limits
    ------
    Turbulent flow through a clean exchanger; the cold side of the mixer is never the weaker one.

    Source
    ------
    Textbooks of fluid mechanics.

    Examples
    --------
    >>> hot_loss_at_ten(0.5, 10.0, 0.6)
    0.18
    """
    return bar * (hot_share * AT_L_MIN / at_l_min) ** 2


def _rounds() -> str:
    """The flow over the flow measured, put in its own place so many times, as a closed expression."""
    lost, text = f"loss_bar * (flow_l_min / {AT_L_MIN:g}) ** 2", ""
    for _ in range(ROUNDS):
        grown = f" * ({text}) ** {EXPONENT_LEFT}" if text else ""
        text = f"((static_bar - at_bar) / (static_bar - residual_bar + {lost}{grown})) ** (1 / {EXPONENT})"
    return text


def _driven(static_bar: float, flow_l_min: float, residual_bar: float, at_bar: float, loss_bar: float) -> float:
    """The same in numbers."""
    r, lost = 1.0, loss_bar * (flow_l_min / AT_L_MIN) ** 2
    for _ in range(ROUNDS):
        r = ((static_bar - at_bar) / (static_bar - residual_bar + lost * r**EXPONENT_LEFT)) ** (1 / EXPONENT)
    return flow_l_min * r


DRIVEN = f"flow_l_min * {_rounds()}"
MAIN = (Arg("static_bar", "bar", 0, 20), Arg("flow_l_min", "l/min", 0, 1000), Arg("residual_bar", "bar", 0, 20),
        Arg("at_bar", "bar", 0, 20))
LOSS = Arg("loss_bar", "bar", 0, 100)
PRESSURES = ("residual_bar < static_bar or residual_bar <= static_bar <= at_bar",
             "the pressure left while water ran must be below the static pressure")
FOLLOWED = f"{FURTHEST_UP} * flow_l_min"  # the curve is followed no further: there is at least so much


@formula(text=f"min({FOLLOWED}, {DRIVEN}) if at_bar < static_bar else 0", unit="l/min", source=PAST,
         args=(*MAIN, LOSS), limits=[PRESSURES])
def flow_past(static_bar: float, flow_l_min: float, residual_bar: float, at_bar: float, loss_bar: float) -> float:
    """Flow a supply leaves at a running pressure behind fittings that all its water passes.

    ps - (ps - p1) (q / q1)^1.85 - p10 (q / 10)^2 = p, solved for q

    Parameters
    ----------
    static_bar : pressure with nothing running [bar]
    flow_l_min : flow measured, at the busy time [l/min]
    residual_bar : pressure while that flow ran, at the same point [bar]
    at_bar : pressure wanted behind the fittings [bar]
    loss_bar : what the fittings take at 10 l/min [bar]

    Returns
    -------
    flow [l/min], at most 1.5 times the flow measured, beyond which nothing is promised; 0 at and above the static
    pressure, where nothing moves

    Raises
    ------
    OutOfRange
        If the residual is above static, or as high where a flow below static is wanted.

    Limits
    ------
    As `supply_flow_at`, whose flow it gives where nothing is lost. Pipes behind the fittings lose nothing here.

    Source
    ------
    Derived: pipe and fitting losses of textbooks; held against EPANET 2.2 in the tests.

    Examples
    --------
    >>> round(flow_past(3.0, 18.0, 1.0, 1.5, 0.0), 1), round(flow_past(3.0, 18.0, 1.0, 1.5, 0.125), 1)
    (15.4, 14.0)
    """
    if at_bar >= static_bar:
        return 0.0
    return min(FURTHEST_UP * flow_l_min, _driven(static_bar, flow_l_min, residual_bar, at_bar, loss_bar))


@formula(text=f"min({FOLLOWED}, {DRIVEN}, {AT_L_MIN:g} * sqrt((set_bar - at_bar) / max(falls_bar, {NO_FALL_BAR}))) "
              "if at_bar < min(static_bar, set_bar) else 0",
         unit="l/min", source=PAST, args=(*MAIN, LOSS, Arg("set_bar", "bar", 0, 20), Arg("falls_bar", "bar", 0, 100)),
         limits=[PRESSURES])
def flow_past_valve(static_bar: float, flow_l_min: float, residual_bar: float, at_bar: float, loss_bar: float,
                    set_bar: float, falls_bar: float) -> float:
    """Flow left at a running pressure behind a reducing valve and other fittings that all the water passes.

    the lesser of q in ps - (ps - p1) (q / q1)^1.85 - p10 (q / 10)^2 = p, and of 10 ((pset - p) / pf)^(1/2)

    Parameters
    ----------
    static_bar : pressure with nothing running [bar]
    flow_l_min : flow measured, at the busy time [l/min]
    residual_bar : pressure while that flow ran, at the same point [bar]
    at_bar : pressure wanted behind valve and fittings [bar]
    loss_bar : what the open valve and the fittings take at 10 l/min [bar]
    set_bar : pressure the valve holds with nothing running [bar]
    falls_bar : how far that falls off at 10 l/min, with the loss of what stands behind the valve [bar]

    Returns
    -------
    flow [l/min], at most 1.5 times the flow measured; 0 where the main or the valve leaves no more than that pressure
    with nothing running

    Raises
    ------
    OutOfRange
        As `flow_past`.

    Limits
    ------
    As `flow_past`; the pressure held falls off as the square of the flow.

    Source
    ------
    Derived: pipe and fitting losses of textbooks; held against EPANET 2.2 in the tests.

    Examples
    --------
    >>> round(flow_past_valve(3.0, 18.0, 1.0, 1.5, 0.125, 3.0, 0.125), 1)
    14.0
    >>> round(flow_past_valve(6.0, 40.0, 5.0, 1.5, 0.125, 3.0, 0.125), 1)
    34.6
    """
    if at_bar >= min(static_bar, set_bar):
        return 0.0
    driven = min(FURTHEST_UP * flow_l_min, _driven(static_bar, flow_l_min, residual_bar, at_bar, loss_bar))
    return min(driven, AT_L_MIN * math.sqrt((set_bar - at_bar) / max(falls_bar, NO_FALL_BAR)))
