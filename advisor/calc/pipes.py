"""Water in copper pipe: bore, speed, friction, and what stands in a dead leg."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

from advisor import tables
from advisor.calc.formula import OutOfRange
from advisor.facts import Source

SEEN, REMEMBERED = tables.load("copper_bores"), tables.load("copper_bores_other")
DENSITY = [(r["water_c"], r["density_kg_m3"]) for r in tables.load("water_density").rows]
VISCOSITY = [(r["water_c"], r["viscosity_cp"]) for r in tables.load("water_viscosity").rows]
ROUGHNESS_MM = 0.0015  # drawn copper, textbook value
LAMINAR_BELOW, TURBULENT_ABOVE = 2000, 4000  # Reynolds number; between them neither law holds
LITRES_A_MINUTE_IN_M3_S = 60_000
DARCY = Source("Darcy-Weisbach with Haaland's friction factor, copper 0.0015 mm rough", "", "DERIVED")


def bore(size_mm: float) -> tuple[float, Source]:
    """Inside diameter of copper tube of an outside size.

    Parameters
    ----------
    size_mm : outside size [mm]

    Returns
    -------
    bore [mm], and where it comes from

    Raises
    ------
    OutOfRange
        If the size is not tabulated.

    Limits
    ------
    Half-hard copper tube of the usual wall.

    Source
    ------
    15, 22 and 28 mm: published contents a metre. Other sizes from memory of BS EN 1057.

    Examples
    --------
    >>> bore(15)[0]
    13.6
    """
    for table in (SEEN, REMEMBERED):
        for row in table.rows:
            if row["size_mm"] == size_mm:
                return row["bore_mm"], table.source
    known = sorted(row["size_mm"] for table in (SEEN, REMEMBERED) for row in table.rows)
    raise OutOfRange(f"the pipe is {size_mm:g} mm; the table has {', '.join(map(str, known))} mm copper")


def between(points: Sequence[tuple[float, float]], x: float) -> float:
    """A tabulated value between its rows, by a straight line.

    Parameters
    ----------
    points : rows (x, y) with rising x
    x : where the value is wanted, between the first and the last row

    Returns
    -------
    y

    Raises
    ------
    OutOfRange
        Outside the rows.

    Limits
    ------
    A straight line between neighbours.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> between([(0.0, 1.0), (10.0, 2.0)], 5.0)
    1.5
    """
    if not points[0][0] <= x <= points[-1][0]:
        raise OutOfRange(f"{x:g} lies outside the table, {points[0][0]:g} to {points[-1][0]:g}")
    for (x1, y1), (x2, y2) in itertools.pairwise(points):
        if x <= x2:
            return y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    return points[-1][1]


def water_at(water_c: float) -> tuple[float, float]:
    """Density and viscosity of water.

    Parameters
    ----------
    water_c : temperature, 0 to 80 [C]

    Returns
    -------
    density [kg/m3] and dynamic viscosity [Pa s]

    Raises
    ------
    OutOfRange
        Outside 0 to 80 C.

    Limits
    ------
    Straight lines between the rows, of viscosity on its logarithm (within 2 %); below 10 C the density of 10 C.

    Source
    ------
    Published water tables.

    Examples
    --------
    >>> water_at(60.0)[0]
    983.2
    """
    viscosity_cp = math.exp(between([(c, math.log(v)) for c, v in VISCOSITY], water_c))
    return between(DENSITY, max(water_c, DENSITY[0][0])), viscosity_cp / 1000


def speed(bore_mm: float, flow_l_min: float) -> float:
    """Mean speed of water in a pipe.

    v = q / (pi d^2 / 4)

    Parameters
    ----------
    bore_mm : bore [mm], > 0
    flow_l_min : flow [l/min]

    Returns
    -------
    speed [m/s]

    Raises
    ------
    Raises nothing.

    Limits
    ------
    A full pipe.

    Source
    ------
    Geometry.

    Examples
    --------
    >>> round(speed(13.6, 12.0), 2)
    1.38
    """
    return flow_l_min / LITRES_A_MINUTE_IN_M3_S / (math.pi * (bore_mm / 1000) ** 2 / 4)


def friction_factor(reynolds: float, bore_mm: float, roughness_mm: float = ROUGHNESS_MM) -> float:
    """Darcy's friction factor: 64/Re in laminar flow, Haaland's formula in turbulent flow.

    1/sqrt(f) = -1.8 log10((e / 3.7 d)^1.11 + 6.9 / Re)

    Parameters
    ----------
    reynolds : Reynolds number, > 0 [-]
    bore_mm : bore [mm]
    roughness_mm : height of the roughness; 0.0015 for drawn copper and plastic [mm]

    Returns
    -------
    friction factor [-]

    Raises
    ------
    OutOfRange
        Between Re 2000 and 4000, where the flow is neither.

    Limits
    ------
    Within 2 % of Colebrook's formula.

    Source
    ------
    Haaland's formula, textbooks of fluid mechanics.

    Examples
    --------
    >>> friction_factor(1000.0, 13.6)
    0.064
    """
    if reynolds <= LAMINAR_BELOW:
        return 64 / reynolds
    if reynolds < TURBULENT_ABOVE:
        raise OutOfRange(f"the flow is neither laminar nor turbulent (Reynolds number {reynolds:.0f}, between "
                         f"{LAMINAR_BELOW} and {TURBULENT_ABOVE}): its loss cannot be told")
    return (-1.8 * math.log10((roughness_mm / (3.7 * bore_mm)) ** 1.11 + 6.9 / reynolds)) ** -2


def water_drop(size_mm: float, flow_l_min: float, length_m: float, water_c: float) -> float:
    """Pressure that water loses in straight copper pipe.

    dp = f L/d rho v^2 / 2

    Parameters
    ----------
    size_mm : outside size [mm]
    flow_l_min : flow [l/min], >= 0
    length_m : length with fittings counted in [m], >= 0
    water_c : temperature [C]

    Returns
    -------
    loss [kPa]

    Raises
    ------
    OutOfRange
        If the size or temperature is not tabulated, a quantity is negative, or the flow is in transition.

    Limits
    ------
    Clean smooth pipe: the charts of BS 6700 read up to a fifth more.

    Source
    ------
    Darcy-Weisbach; within 4 % of the CIBSE table for 15, 28 and 35 mm and 11 % for 22 mm.

    Examples
    --------
    >>> round(water_drop(15, 12.0, 10.0, 10.0))
    20
    """
    if flow_l_min < 0 or length_m < 0:
        raise OutOfRange(f"flow {flow_l_min:g} l/min and length {length_m:g} m cannot be negative")
    inside_mm, (density, viscosity) = bore(size_mm)[0], water_at(water_c)
    v, d = speed(inside_mm, flow_l_min), inside_mm / 1000
    if v == 0:
        return 0.0
    return friction_factor(density * v * d / viscosity, inside_mm) * length_m / d * density * v**2 / 2 / 1000


def content(size_mm: float, length_m: float) -> float:
    """Water standing in a length of copper pipe.

    V = pi d^2 / 4 L

    Parameters
    ----------
    size_mm : outside size [mm]
    length_m : length [m], >= 0

    Returns
    -------
    content [l]

    Raises
    ------
    OutOfRange
        If the size is not tabulated or the length is negative.

    Limits
    ------
    Cold geometric content; the mass of hot water in it is 2 to 3 % less.

    Source
    ------
    Geometry; published contents 0.145, 0.320 and 0.539 l/m.

    Examples
    --------
    >>> round(content(15, 10.0), 2)
    1.45
    """
    if length_m < 0:
        raise OutOfRange(f"the length is {length_m:g} m; it cannot be negative")
    return math.pi * (bore(size_mm)[0] / 100) ** 2 / 4 * length_m * 10


def wait_seconds(content_l: float, flow_l_min: float) -> float:
    """Time until what stands in a pipe has run out of it.

    t = 60 V / q

    Parameters
    ----------
    content_l : water in the pipe [l], >= 0
    flow_l_min : flow of the tap [l/min], > 0

    Returns
    -------
    time [s]

    Raises
    ------
    OutOfRange
        If there is no flow or the content is negative.

    Limits
    ------
    The least there can be: the pipe must warm too, a third to twice as long again.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> wait_seconds(1.5, 6.0)
    15.0
    """
    if flow_l_min <= 0 or content_l < 0:
        raise OutOfRange(f"flow {flow_l_min:g} l/min must be above 0 and content {content_l:g} l not below it")
    return 60 * content_l / flow_l_min
