"""Natural gas in copper pipe: the pressure lost, by the discharge table of BS 6891.

Small sizes are looked up and never fitted: their rows jump where the flow turns from laminar to turbulent.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from advisor import tables
from advisor.calc.constants import NO_LIMIT
from advisor.calc.formula import Arg, OutOfRange, formula

COPPER = tables.load("gas_copper")
ROWS = {row["size_mm"]: row for row in COPPER.rows}
SIZES = tuple(sorted(ROWS))
ELBOW_M = {row["size_mm"]: row["elbow_m"]
           for name in ("gas_fittings", "gas_fittings_assumed") for row in tables.load(name).rows}
STEPPED_TO_MM = 15  # up to this size a row is stepped, above it interpolated
ABOVE_TABLE = 1.75  # smooth turbulent flow: loss grows as flow to this power


def table_size(size_mm: float) -> int:
    """The tabulated size whose row answers for a pipe: itself, or the next smaller one.

    Parameters
    ----------
    size_mm : outside size of the pipe [mm]

    Returns
    -------
    a size of the table [mm]

    Raises
    ------
    OutOfRange
        Below the first or above the last size of the table.

    Limits
    ------
    Copper sizes of the table, 10 to 28 mm.

    Source
    ------
    BS 6891 discharge table; the smaller row is the cautious one.

    Examples
    --------
    >>> table_size(22), table_size(20)
    (22, 15)
    """
    if not SIZES[0] <= size_mm <= SIZES[-1]:
        raise OutOfRange(f"the pipe is {size_mm:g} mm; the table has {', '.join(map(str, SIZES))} mm copper")
    return max(s for s in SIZES if s <= size_mm)


def gradient(size_mm: int, flow_m3_h: float) -> float:
    """Pressure lost a metre, from the length that loses 1 mbar at this flow.

    Between tabulated lengths: interpolated on logarithms from 22 mm up, the shorter length up to 15 mm. Below the
    last column the loss falls with the flow; above the first it grows as flow to the power 1.75.

    Parameters
    ----------
    size_mm : a size of the table [mm]
    flow_m3_h : gas flow [m3/h], >= 0

    Returns
    -------
    loss [mbar/m]

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Natural gas at 21 mbar, relative density 0.6. Above the first column it is an extrapolation.

    Source
    ------
    BS 6891 discharge table, proportional method.

    Examples
    --------
    >>> round(12 * gradient(22, 2.3), 3)
    0.4
    """
    lengths, flows = ROWS[size_mm]["length_m"], ROWS[size_mm]["flow_m3_h"]
    if flow_m3_h <= flows[-1]:
        return flow_m3_h / (flows[-1] * lengths[-1])
    if flow_m3_h > flows[0]:
        return (flow_m3_h / flows[0]) ** ABOVE_TABLE / lengths[0]
    shorter = max(i for i, flow in enumerate(flows) if flow >= flow_m3_h)
    if size_mm <= STEPPED_TO_MM:
        return 1 / lengths[shorter]
    return (flow_m3_h / flows[shorter]) ** _power(lengths, flows, shorter) / lengths[shorter]


def _power(lengths: Sequence[float], flows: Sequence[float], i: int) -> float:
    """Slope of loss against flow, on logarithms, from column i to the next longer one."""
    return math.log(lengths[i] / lengths[i + 1]) / math.log(flows[i + 1] / flows[i])


def _gradient_text(row: Mapping[str, Any]) -> str:
    """`gradient` for one row as a closed expression; the longest length is asked first, so it is written last."""
    lengths, flows = row["length_m"], row["flow_m3_h"]
    text = f"(flow_m3_h / {flows[0]}) ** {ABOVE_TABLE} / {lengths[0]}"
    for i in range(len(flows) - 1):
        loss = f"1 / {lengths[i]}" if row["size_mm"] <= STEPPED_TO_MM else \
            f"(flow_m3_h / {flows[i]}) ** {_power(lengths, flows, i)!r} / {lengths[i]}"
        text = f"{loss} if flow_m3_h <= {flows[i]} else ({text})"
    return f"flow_m3_h / {flows[-1] * lengths[-1]!r} if flow_m3_h <= {flows[-1]} else ({text})"


def _leg_text() -> str:
    """`gas_leg_drop` as a closed expression: one branch a size."""
    branches = [f"(length_m + elbows * {ELBOW_M[s]}) * ({_gradient_text(ROWS[s])})" for s in SIZES]
    text = branches[-1]
    for size, branch in zip(reversed(SIZES[1:]), reversed(branches[:-1]), strict=True):
        text = f"{branch} if size_mm < {size} else ({text})"
    return text


@formula(text=_leg_text(), unit="mbar", source=COPPER.source,
         args=(Arg("size_mm", "mm", SIZES[0], SIZES[-1]), Arg("length_m", "m", 0, NO_LIMIT),
               Arg("elbows", "", 0, NO_LIMIT), Arg("flow_m3_h", "m3/h", 0, NO_LIMIT)))
def gas_leg_drop(size_mm: float, length_m: float, elbows: float, flow_m3_h: float) -> float:
    """Pressure a leg of copper gas pipe loses.

    drop = (length + elbows x allowance) / (length that loses 1 mbar at this flow)

    Parameters
    ----------
    size_mm : outside size; between tabulated sizes the next smaller one answers [mm]
    length_m : length of the leg [m]
    elbows : elbows in it [-]
    flow_m3_h : gas it carries with everything beyond it on [m3/h]

    Returns
    -------
    drop [mbar]

    Raises
    ------
    OutOfRange
        Below 10 mm or above 28 mm, where there is no row.

    Limits
    ------
    A screen on a printing before 2015, which differs from others by up to 7 %: the gas engineer sizes. Natural gas
    only. Elbow allowances: 15 and 22 mm of the 2015 edition; 10 and 12 mm as 15 mm, 28 mm 0.8 m assumed.

    Source
    ------
    BS 6891, discharge in copper tube, and its fitting allowances.

    Examples
    --------
    >>> round(gas_leg_drop(22, 12.0, 0, 2.3), 2)
    0.4
    """
    size = table_size(size_mm)
    return (length_m + elbows * ELBOW_M[size]) * gradient(size, flow_m3_h)


def smallest_size(length_m: float, flow_m3_h: float, limit_mbar: float) -> tuple[int, float]:
    """Smallest copper pipe whose drop stays within a limit.

    Parameters
    ----------
    length_m : length with fittings counted in [m], >= 0
    flow_m3_h : gas carried [m3/h], >= 0
    limit_mbar : drop allowed [mbar]

    Returns
    -------
    size [mm] and its drop [mbar]

    Raises
    ------
    OutOfRange
        If the largest size of the table is not enough.

    Limits
    ------
    As `gas_leg_drop`; a flow above the 3 m column of a size is not offered that size, for no printed cell carries it.

    Source
    ------
    BS 6891, discharge in copper tube.

    Examples
    --------
    >>> smallest_size(12.0, 3.9, 1.0)
    (22, 1.0)
    """
    for size in SIZES:
        drop = gas_leg_drop(size_mm=size, length_m=length_m, elbows=0, flow_m3_h=flow_m3_h)
        if flow_m3_h <= ROWS[size]["flow_m3_h"][0] and drop <= limit_mbar * (1 + 1e-9):
            return size, drop
    raise OutOfRange(f"no size of the table (up to {SIZES[-1]} mm copper) carries {flow_m3_h:g} m3/h over "
                     f"{length_m:g} m within {limit_mbar:g} mbar")
