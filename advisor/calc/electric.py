"""Electricity: current of a load."""

from __future__ import annotations

from advisor.calc.formula import Arg, formula
from advisor.facts import Source

POWER_LAW = Source("I = P / V", "", "DERIVED")


@formula(text="1000 * power_kw / voltage_v", unit="A", source=POWER_LAW,
         args=(Arg("power_kw", "kW", 0), Arg("voltage_v", "V", 1, 1000)))
def current(power_kw: float, voltage_v: float) -> float:
    """Current a resistive load draws.

    I = 1000 P / V

    Parameters
    ----------
    power_kw : power at that voltage [kW], >= 0
    voltage_v : voltage [V]

    Returns
    -------
    current [A]

    Raises
    ------
    OutOfRange
        If the power is negative or the voltage lies outside 1 to 1000 V.

    Limits
    ------
    One phase, no motor. A heater rated at 240 V draws less at 230 V: read the voltage on its plate.

    Source
    ------
    Ohm and Joule.

    Examples
    --------
    >>> round(current(3.0, 230.0), 2)
    13.04
    """
    return 1000 * power_kw / voltage_v
