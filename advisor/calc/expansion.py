"""Expansion of water and the vessels that take it; three conventions are in use and are never mixed."""

from __future__ import annotations

from advisor import tables
from advisor.calc.formula import OutOfRange
from advisor.calc.pipes import between
from advisor.facts import Source
from advisor.tables import Table

HEATING = tables.load("expansion_heating")
WATER = tables.load("water_expansion")
PERCENT = [(r["hot_c"], r["percent"]) for r in WATER.rows]
ATMOSPHERE_BAR = 1.0  # as the vessel makers and BS 7074 round it
COOL_BELOW_C, COOL_FACTOR = 88.0, 0.8  # note under the heating table
POTABLE_MARGIN_BAR = 0.5  # final pressure kept below the valve of an unvented store: common practice
ACCEPTANCE = Source("V = e C / (1 - P1/P2) in absolute bar, as makers' instructions print it", "", "PUBLISHED",
                    "reprint")
POTABLE = Source("V = e C / (1 - P1/P2) in absolute bar, final pressure 0.5 bar below the valve", "", "COMMON PRACTICE")


def expansion_share(cold_c: float, hot_c: float) -> float:
    """How much water grows when it is warmed.

    e = rho(cold) / rho(hot) - 1

    Parameters
    ----------
    cold_c : where it starts; below 10 C it counts as 10 C [C]
    hot_c : where it ends, up to 90 [C]

    Returns
    -------
    growth as a share of the cold volume [-]

    Raises
    ------
    OutOfRange
        If it is not warmed, or beyond 90 C, or the cold is below 0 C.

    Limits
    ------
    Water without antifreeze. Straight lines between the rows.

    Source
    ------
    Ratio of published densities.

    Examples
    --------
    >>> round(expansion_share(10.0, 65.0), 4)
    0.0195
    """
    if not 0 <= cold_c < hot_c:
        raise OutOfRange(f"water at {cold_c:g} C is not warmed to {hot_c:g} C; it starts at 0 C or more, and colder")
    start, end = (1 + between(PERCENT, max(c, PERCENT[0][0])) / 100 for c in (cold_c, hot_c))
    return end / start - 1


def vessel(expansion_l: float, first_bar: float, final_bar: float) -> float:
    """Vessel that takes an expansion between two gauge pressures.

    V = e C / (1 - (p1 + 1)/(p2 + 1))

    Parameters
    ----------
    expansion_l : water to be taken up [l], >= 0
    first_bar : gauge pressure cold, the charge [bar]
    final_bar : gauge pressure hot [bar]

    Returns
    -------
    volume of the vessel [l]

    Raises
    ------
    OutOfRange
        If the final pressure is not above the first, or something is negative.

    Limits
    ------
    Filled cold at the charge: a fill above it needs a larger vessel.

    Source
    ------
    Boyle's law, as printed in makers' instructions.

    Examples
    --------
    >>> round(vessel(600 * 0.035, 1.3, 3.0), 1)
    49.4
    """
    if expansion_l < 0 or not 0 <= first_bar < final_bar:
        raise OutOfRange(f"charge {first_bar:g} bar must lie between 0 and the final pressure {final_bar:g} bar")
    return expansion_l / (1 - (first_bar + ATMOSPHERE_BAR) / (final_bar + ATMOSPHERE_BAR))


def heating_factor(relief_bar: float, charge_bar: float, table: Table = HEATING) -> float:
    """Litres of vessel a litre of sealed heating system, by the published table.

    Parameters
    ----------
    relief_bar : setting of the safety valve, one of the table's [bar]
    charge_bar : gas charge, between the table's first and last for that valve [bar]
    table : the table

    Returns
    -------
    factor [-]

    Raises
    ------
    OutOfRange
        If the valve is not in the table or the charge lies outside its rows.

    Limits
    ------
    Charges between rows by a straight line. For flow at 88 C; times 0.8 below.

    Source
    ------
    BS 7074-1 and BS 5449, as reprinted.

    Examples
    --------
    >>> heating_factor(3.0, 1.0)
    0.109
    """
    points = [(r["charge_bar"], r["factor"]) for r in table.rows if r["relief_bar"] == relief_bar]
    if not points:
        known = ", ".join(f"{v:g}" for v in sorted({r["relief_bar"] for r in table.rows}))
        raise OutOfRange(f"the safety valve is set to {relief_bar:g} bar; the table has {known} bar")
    if not points[0][0] <= charge_bar <= points[-1][0]:
        raise OutOfRange(f"the charge is {charge_bar:g} bar; the table has {points[0][0]:g} to {points[-1][0]:g} bar "
                         f"for a {relief_bar:g} bar valve")
    return between(points, charge_bar)
