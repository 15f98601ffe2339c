"""Choices by a surveyed word: which limit, which way of making hot water, which outlet counts.

They hold no physics; they are formulas so that the certificate can recompute them.
"""

from __future__ import annotations

from advisor.calc.formula import Arg, formula
from advisor.facts import Source

LOGIC = Source("Arithmetic of the surveyed words", "", "DERIVED")
YES_NO = ("yes", "no")
KINDS = ("combination boiler", "boiler with cistern-fed cylinder", "boiler with unvented cylinder",
         "back boiler with cistern-fed cylinder", "electric cylinder", "none")
STORED = Arg("stored", "", meaning="the figure where a cylinder makes the hot water")
INSTANT = Arg("instant", "", meaning="the figure where the water is heated as it flows")


@formula(text="1 if at_once == 'yes' else 0", args=[Arg("at_once", "", words=YES_NO)], unit="", source=LOGIC)
def counted(at_once: str) -> float:
    """One for an outlet wanted together with others, else nothing.

    Parameters
    ----------
    at_once : "yes" or "no"

    Returns
    -------
    1 or 0 [-]

    Raises
    ------
    Raises nothing.

    Limits
    ------
    None.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> counted("yes")
    1.0
    """
    return 1.0 if at_once == "yes" else 0.0


@formula(text="flow_l_min if kind == 'shower' else 0",
         args=[Arg("flow_l_min", "l/min", 0, 60), Arg("kind", "", words=("shower", "bath", "basin", "kitchen tap"))],
         unit="l/min", source=LOGIC)
def shower_flow(flow_l_min: float, kind: str) -> float:
    """The flow of an outlet where it is a shower, else nothing (to find the strongest shower).

    Parameters
    ----------
    flow_l_min : mixed flow of the outlet [l/min], >= 0
    kind : the kind of outlet

    Returns
    -------
    flow [l/min]

    Raises
    ------
    Raises nothing.

    Limits
    ------
    None.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> shower_flow(9.0, "shower"), shower_flow(9.0, "bath")
    (9.0, 0.0)
    """
    return flow_l_min if kind == "shower" else 0.0


@formula(text="lpg if supply == 'lpg' else natural",
         args=[Arg("supply", "", words=("mains gas", "lpg", "none")), Arg("natural", "mbar"), Arg("lpg", "mbar")],
         unit="mbar", source=LOGIC)
def drop_limit(supply: str, natural: float, lpg: float) -> float:
    """The pressure drop allowed from meter to appliance for the gas there is.

    Parameters
    ----------
    supply : "mains gas", "lpg" or "none"
    natural : limit for natural gas [mbar]
    lpg : limit for liquefied petroleum gas [mbar]

    Returns
    -------
    limit [mbar]

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Where there is no gas the figure means nothing; a rule says so first.

    Source
    ------
    The limits carry their own source.

    Examples
    --------
    >>> drop_limit("lpg", 1.0, 2.0)
    2.0
    """
    return lpg if supply == "lpg" else natural


@formula(text="joists_kn if floor == 'timber joists' else concrete_kn",
         args=[Arg("floor", "", words=("timber joists", "concrete")), Arg("joists_kn", "kN"), Arg("concrete_kn", "kN")],
         unit="kN", source=LOGIC)
def floor_limit(floor: str, joists_kn: float, concrete_kn: float) -> float:
    """The concentrated load taken for a floor of this kind.

    Parameters
    ----------
    floor : "timber joists" or "concrete"
    joists_kn : figure for timber joists [kN]
    concrete_kn : figure for concrete [kN]

    Returns
    -------
    load [kN]

    Raises
    ------
    Raises nothing.

    Limits
    ------
    A screen: span, bearing and notches decide on joists.

    Source
    ------
    The two figures carry their own source.

    Examples
    --------
    >>> floor_limit("timber joists", 2.0, 10.0)
    2.0
    """
    return joists_kn if floor == "timber joists" else concrete_kn


@formula(text="door_mm - diameter_mm - play_mm",
         args=[Arg("door_mm", "mm", 0, 5000), Arg("diameter_mm", "mm", 0, 2000), Arg("play_mm", "mm", 0, 500)],
         unit="mm", source=LOGIC)
def door_margin(door_mm: float, diameter_mm: float, play_mm: float) -> float:
    """Clear width left when a cylinder goes through a door.

    Parameters
    ----------
    door_mm : clear width between the linings [mm]
    diameter_mm : outside diameter of the cylinder [mm]
    play_mm : width needed for hands and fittings [mm]

    Returns
    -------
    width to spare [mm]; negative: it does not pass

    Raises
    ------
    Raises nothing.

    Limits
    ------
    A straight way through the door; stair turns are looked at on site.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> door_margin(690, 550, 30)
    110
    """
    return door_mm - diameter_mm - play_mm


@formula(text="instant if kind == 'combination boiler' else (0 if kind == 'none' else "
              "(gravity if kind == 'boiler with cistern-fed cylinder' or "
              "kind == 'back boiler with cistern-fed cylinder' else "
              "(unvented if kind == 'boiler with unvented cylinder' else mains)))",
         args=[Arg("kind", "", words=KINDS), INSTANT, Arg("mains", "l/min"), Arg("unvented", "l/min"),
               Arg("gravity", "l/min")],
         unit="l/min", source=LOGIC)
def flow_as_found(kind: str, instant: float, mains: float, unvented: float, gravity: float) -> float:
    """The flow the present arrangement can give, by what it is.

    Parameters
    ----------
    kind : what makes hot water now
    instant : what a combination boiler of that power gives [l/min]
    mains : what the mains gives [l/min]
    unvented : what it gives behind an inlet control set [l/min]
    gravity : what the cistern gives [l/min]

    Returns
    -------
    flow [l/min]

    Raises
    ------
    Raises nothing.

    Limits
    ------
    The present parts in good order. Whether an electric cylinder hangs on the mains is not surveyed: it is taken to,
    with nothing in the way.

    Source
    ------
    Arithmetic of the surveyed kind.

    Examples
    --------
    >>> flow_as_found("boiler with cistern-fed cylinder", 9.8, 15.0, 14.0, 5.0)
    5.0
    """
    if kind == "combination boiler":
        return instant
    if kind == "none":
        return 0.0
    if "cistern-fed" in kind:
        return gravity
    return unvented if kind == "boiler with unvented cylinder" else mains


@formula(text="instant if kind == 'combination boiler' else (0 if kind == 'none' else stored)",
         args=[Arg("kind", "", words=KINDS), INSTANT, STORED], unit="min", source=LOGIC)
def short_as_found(kind: str, instant: float, stored: float) -> float:
    """Minutes until somebody falls short with the present arrangement, by what it is.

    Parameters
    ----------
    kind : what makes hot water now
    instant : the minutes where water is heated as it flows [min]
    stored : the minutes where it is stored [min]

    Returns
    -------
    minutes [min]

    Raises
    ------
    Raises nothing.

    Limits
    ------
    As the two figures it chooses from.

    Source
    ------
    Arithmetic of the surveyed kind.

    Examples
    --------
    >>> short_as_found("none", 60.0, 20.0)
    0.0
    """
    if kind == "combination boiler":
        return instant
    return 0.0 if kind == "none" else stored


@formula(text="lpg if supply == 'lpg' else natural", unit="MJ/m3", source=LOGIC,
         args=[Arg("supply", "", words=("mains gas", "lpg", "none")), Arg("natural", "MJ/m3"), Arg("lpg", "MJ/m3")])
def calorific_value(supply: str, natural: float, lpg: float) -> float:
    """The calorific value of the gas there is.

    Parameters
    ----------
    supply : the gas: mains gas, lpg or none
    natural : value of natural gas, gross [MJ/m3]
    lpg : value of LPG, gross [MJ/m3]

    Returns
    -------
    gross calorific value [MJ/m3]

    Raises
    ------
    OutOfRange
        If the word is none of the three.

    Limits
    ------
    Where there is no gas the value of natural gas stands, and nothing burns.

    Source
    ------
    A choice between two values.

    Examples
    --------
    >>> calorific_value("lpg", 39.5, 93.2), calorific_value("mains gas", 39.5, 93.2)
    (93.2, 39.5)
    """
    return lpg if supply == "lpg" else natural


@formula(text="least_bar if low_pressure_ok == 'yes' else usual_bar", unit="bar", source=LOGIC,
         args=[Arg("low_pressure_ok", "", words=YES_NO), Arg("least_bar", "bar"), Arg("usual_bar", "bar")])
def useful_pressure(low_pressure_ok: str, least_bar: float, usual_bar: float) -> float:
    """The running pressure at which what is meant here is of use.

    Parameters
    ----------
    low_pressure_ok : whether its makers say it works at the lesser pressure: yes or no
    least_bar : the lesser pressure [bar]
    usual_bar : the pressure that does for any usual mixer [bar]

    Returns
    -------
    pressure [bar]

    Raises
    ------
    OutOfRange
        If the word is neither yes nor no.

    Limits
    ------
    Where nobody has looked, both: a custom of the trade decides nothing by itself.

    Source
    ------
    A choice between two ends of a custom.

    Examples
    --------
    >>> useful_pressure("yes", 1.0, 1.5), useful_pressure("no", 1.0, 1.5)
    (1.0, 1.5)
    """
    return least_bar if low_pressure_ok == "yes" else usual_bar
