"""Loading units: two scales that do not mix, and the flow a sum of units stands for."""

from __future__ import annotations

from collections.abc import Mapping

from advisor import tables
from advisor.calc.formula import OutOfRange
from advisor.calc.pipes import between

SCALES = {"en806": tables.load("loading_units_en806"), "bs6700": tables.load("loading_units_bs6700")}
FLOWS = tables.load("loading_flow_bs6700")


def units(scale: str, fittings: Mapping[str, float]) -> float:
    """Loading units of a group of fittings.

    Parameters
    ----------
    scale : "en806" or "bs6700"; the two do not mix
    fittings : number of each kind, by the name in the table

    Returns
    -------
    units [-]

    Raises
    ------
    OutOfRange
        If the scale or a fitting is not tabulated.

    Limits
    ------
    For a few outlets add their real flows: units overrate small homes.

    Source
    ------
    EN 806-3:2006 Table 2; BS 6700 Table D.1 in reprint.

    Examples
    --------
    >>> units("en806", {"bath": 1, "washbasin": 2, "shower": 1, "sink": 1})
    10.0
    """
    if scale not in SCALES:
        raise OutOfRange(f"the scale is {scale}; there are {', '.join(SCALES)}")
    known = {row["fitting"]: row["units"] for row in SCALES[scale].rows}
    unknown = sorted(set(fittings) - set(known))
    if unknown:
        raise OutOfRange(f"{', '.join(unknown)}: not in the table, which has {', '.join(known)}")
    return float(sum(known[name] * count for name, count in fittings.items()))


def design_flow(sum_units: float) -> float:
    """Design flow of a sum of BS 6700 units.

    Parameters
    ----------
    sum_units : loading units of that scale, 10 to 45 [-]

    Returns
    -------
    flow [l/s]

    Raises
    ------
    OutOfRange
        Outside the points seen.

    Limits
    ------
    Four points of the curve were seen; straight lines between them.

    Source
    ------
    BS 6700:2006 Table D.4; copper trade association's pipe-sizing paper.

    Examples
    --------
    >>> design_flow(45.0)
    0.72
    """
    return between([(row["units"], row["flow_l_s"]) for row in FLOWS.rows], sum_units)
