"""What the less usual layouts give at once: accumulator, electric second shower, hot heating store."""

from __future__ import annotations

from advisor.calc.formula import Arg, formula
from advisor.facts import Source

BALANCE = Source("Balance of flows", "", "DERIVED")
HEAT = Source("Heat balance of stored water", "", "DERIVED")


@formula(text="mains_l_min + usable_l / drawn_min", unit="l/min", source=BALANCE,
         args=(Arg("mains_l_min", "l/min", 0, 1000), Arg("usable_l", "l", 0, 2000), Arg("drawn_min", "min", 0, 600)),
         limits=[("drawn_min > 0", "nothing is drawn, so no flow can be told")])
def accumulator_flow(mains_l_min: float, usable_l: float, drawn_min: float) -> float:
    """Flow a mains accumulator keeps up through the busiest hour's drawing.

    q = q_mains + V_usable / t

    Parameters
    ----------
    mains_l_min : flow of the mains at the useful pressure [l/min], >= 0
    usable_l : litres the vessel gives between its pressures [l], >= 0
    drawn_min : minutes of drawing [min], > 0

    Returns
    -------
    flow [l/min]

    Raises
    ------
    OutOfRange
        If nothing is drawn or a figure is negative.

    Limits
    ------
    The vessel is full when the drawing begins; between two rushes it needs time to fill.

    Source
    ------
    Balance of flows.

    Examples
    --------
    >>> accumulator_flow(12.0, 101.0, 10.1)
    22.0
    """
    return mains_l_min + usable_l / drawn_min


@formula(text="boiler_l_min - (wanted_l_min - shower_l_min)", unit="l/min", source=BALANCE,
         args=(Arg("boiler_l_min", "l/min", 0, 200), Arg("wanted_l_min", "l/min", 0, 300),
               Arg("shower_l_min", "l/min", 0, 60)))
def others_margin(boiler_l_min: float, wanted_l_min: float, shower_l_min: float) -> float:
    """What boiler and mains have to spare for the other outlets when one shower heats its own water.

    margin = q_boiler - (wanted - shower)

    Parameters
    ----------
    boiler_l_min : what boiler and mains give [l/min], >= 0
    wanted_l_min : flow of all outlets wanted together [l/min], >= 0
    shower_l_min : flow of the shower that heats its own water [l/min], >= 0

    Returns
    -------
    flow to spare [l/min]; negative: the others fall short

    Raises
    ------
    OutOfRange
        If a figure is negative or beyond its range.

    Limits
    ------
    One electric shower; the strongest shower is the one it replaces.

    Source
    ------
    Balance of flows.

    Examples
    --------
    >>> round(others_margin(12.3, 18.0, 9.0), 1)
    3.3
    """
    return boiler_l_min - (wanted_l_min - shower_l_min)


@formula(text="volume_l * (store_c - lowest_c) / (mixed_c - cold_c)", unit="l", source=HEAT,
         args=(Arg("volume_l", "l", 0, 2000), Arg("store_c", "C", 30, 95), Arg("lowest_c", "C", 30, 95),
               Arg("mixed_c", "C", 20, 60), Arg("cold_c", "C", 0, 30)),
         limits=[("lowest_c <= store_c", "the store must start above the lowest useful temperature"),
                 ("cold_c < mixed_c", "the cold must be below the mixed temperature")])
def heating_store_mixed(volume_l: float, store_c: float, lowest_c: float, mixed_c: float, cold_c: float) -> float:
    """Mixed water a store of heating water warms before it is too cool to go on.

    Vm = V (Ts - Tl) / (Tm - Tc)

    Parameters
    ----------
    volume_l : litres of the store [l], >= 0
    store_c : temperature it is kept at [C], 30 to 95
    lowest_c : lowest temperature at which the exchanger still gives the mixed temperature [C], 30 to 95
    mixed_c : mixed temperature [C], 20 to 60
    cold_c : cold temperature [C], 0 to 30

    Returns
    -------
    litres at the mixed temperature [l]

    Raises
    ------
    OutOfRange
        If a temperature lies outside its range or in the wrong order.

    Limits
    ------
    A well-mixed store; the maker's curve decides how fast it can be drawn.

    Source
    ------
    Heat balance of stored water.

    Examples
    --------
    >>> heating_store_mixed(210.0, 75.0, 50.0, 40.0, 5.0)
    150.0
    """
    return volume_l * (store_c - lowest_c) / (mixed_c - cold_c)


@formula(text="emitters_kw * factor - loss_kw", unit="kW", source=HEAT,
         args=(Arg("emitters_kw", "kW", 0, 200), Arg("factor", "", 0, 2), Arg("loss_kw", "kW", 0, 200)))
def emitter_margin(emitters_kw: float, factor: float, loss_kw: float) -> float:
    """What the radiators give at a lower water temperature, less the heat loss.

    margin = P50 x factor - loss

    Parameters
    ----------
    emitters_kw : output of all radiators at 50 K [kW], >= 0
    factor : share of it they give at the lower temperature [-], 0 to 2
    loss_kw : heat loss of the home [kW], >= 0

    Returns
    -------
    heat to spare [kW]; negative: the home stays cool

    Raises
    ------
    OutOfRange
        If a figure is negative or beyond its range.

    Limits
    ------
    Whole house; single rooms may still fall short.

    Source
    ------
    EN 442: output follows the temperature difference to the power 1.3.

    Examples
    --------
    >>> round(emitter_margin(13.0, 0.406, 5.0), 2)
    0.28
    """
    return emitters_kw * factor - loss_kw
