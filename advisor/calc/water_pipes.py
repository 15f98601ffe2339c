"""What one length of cold pipe costs of the main's flow: closed sums, so that the verifier works them again."""

from __future__ import annotations

import itertools
import math

from advisor.calc.constants import NO_LIMIT
from advisor.calc.formula import Arg, formula
from advisor.facts import Source

EXPONENT = 1.85  # as in water_supply: loss of the rest of the supply grows as flow to this power
DENSITY, VISCOSITY = 999.7, 0.001307  # water of 10 C [kg/m3], [Pa s]
ROUGHNESS_MM = 0.0015  # drawn copper and plastic
TURBULENT_FROM = 0.25  # l/min for each mm of bore: Reynolds number 4,000 at 10 C
MOST_OF_ALL = 0.9  # beyond this share of the loss the rest of the supply is not known well enough

BORES = Source("Copper tube of the usual wall", "bores of 8.8, 13.6, 20.2, 26.2, 32.6 and 39.6 mm", "FROM MEMORY")
FRICTION = Source("Darcy-Weisbach with Haaland's friction factor, water of 10 C", "textbooks of fluid mechanics",
                  "DERIVED")
TAKEN_OUT = Source("Loss of a supply grows as flow to the power 1.85; one pipe's part of it taken out", "", "DERIVED")


@formula(text="8.8 + (min(size_mm, 15) - 10) * 0.96 + (min(max(size_mm, 15), 22) - 15) * 6.6 / 7 "
              "+ (min(max(size_mm, 22), 28) - 22) + (min(max(size_mm, 28), 35) - 28) * 6.4 / 7 "
              "+ (max(size_mm, 35) - 35)",
         unit="mm", source=BORES, args=(Arg("size_mm", "mm", 10, 54),))
def copper_bore(size_mm: float) -> float:
    """Bore of copper tube of a nominal size, by straight lines between the usual sizes.

    Parameters
    ----------
    size_mm : outside size, 10 to 54 [mm]

    Returns
    -------
    bore [mm]

    Raises
    ------
    OutOfRange
        Outside 10 to 54 mm.

    Limits
    ------
    The usual wall; iron pipe of the same outside size is narrower, and narrower still where it is furred.

    Source
    ------
    15, 22 and 28 mm from published contents a metre; the others from memory of BS EN 1057.

    Examples
    --------
    >>> [round(copper_bore(size), 1) for size in (10, 15, 22, 28, 35, 42)]
    [8.8, 13.6, 20.2, 26.2, 32.6, 39.6]
    """
    points = ((10, 8.8), (15, 13.6), (22, 20.2), (28, 26.2), (35, 32.6), (54, 51.6))
    for (x1, y1), (x2, y2) in itertools.pairwise(points):
        if size_mm <= x2:
            return y1 + (y2 - y1) * (size_mm - x1) / (x2 - x1)
    return points[-1][1]


_SPEED = "(flow_l_min / 60000 / (3.141592653589793 * (bore_mm / 1000) ** 2 / 4))"


@formula(text=f"(-1.8 * log10(({ROUGHNESS_MM} / (3.7 * bore_mm)) ** 1.11 + 6.9 / ({DENSITY} * {_SPEED} * bore_mm "
              f"/ 1000 / {VISCOSITY}))) ** -2 * length_m * fittings / (bore_mm / 1000) * {DENSITY} * {_SPEED} ** 2 "
              "/ 2 / 100000",
         unit="bar", source=FRICTION,
         args=(Arg("bore_mm", "mm", 6, 100), Arg("length_m", "m", 0, 200), Arg("fittings", "", 1, 3),
               Arg("flow_l_min", "l/min", 0, 200)),
         limits=[(f"flow_l_min >= {TURBULENT_FROM} * bore_mm",
                  "the flow must be turbulent: 0.25 l/min for each mm of bore")])
def cold_pipe_loss(bore_mm: float, length_m: float, fittings: float, flow_l_min: float) -> float:
    """Pressure that cold water loses in a length of smooth pipe with its fittings.

    dp = f (F L / d) rho v^2 / 2, with f by Haaland

    Parameters
    ----------
    bore_mm : bore, 6 to 100 [mm]
    length_m : length [m]
    fittings : length with fittings over length without [-]
    flow_l_min : flow [l/min]

    Returns
    -------
    loss [bar]

    Raises
    ------
    OutOfRange
        Outside these ranges, or where the flow may not be turbulent.

    Limits
    ------
    Clean smooth pipe, water of 10 C. Old iron and furred pipe lose more.

    Source
    ------
    Darcy-Weisbach and Haaland, textbooks of fluid mechanics.

    Examples
    --------
    >>> round(cold_pipe_loss(13.6, 4.0, 1.5, 39.0), 2)
    0.94
    """
    v, d = flow_l_min / 60000 / (math.pi * (bore_mm / 1000) ** 2 / 4), bore_mm / 1000
    f = (-1.8 * math.log10((ROUGHNESS_MM / (3.7 * bore_mm)) ** 1.11 + 6.9 / (DENSITY * v * d / VISCOSITY))) ** -2
    return f * length_m * fittings / d * DENSITY * v**2 / 2 / 100_000


@formula(text=f"flow_l_min * (1 / (1 - loss_bar / (static_bar - at_bar))) ** (1 / {EXPONENT})", unit="l/min",
         source=TAKEN_OUT,
         args=(Arg("flow_l_min", "l/min", 0, NO_LIMIT), Arg("static_bar", "bar", 0, 20), Arg("at_bar", "bar", 0, 20),
               Arg("loss_bar", "bar", 0, 20)),
         limits=[("at_bar < static_bar", "there must be pressure to spend"),
                 (f"loss_bar <= {MOST_OF_ALL} * (static_bar - at_bar)",
                  "the pipe would lose nearly all there is, or more: check its size and length, or measure again")])
def flow_without(flow_l_min: float, static_bar: float, at_bar: float, loss_bar: float) -> float:
    """Flow of a supply at a pressure if one of its pipes lost nothing.

    q' = q (1 - dp / (ps - p))^(-1/1.85)

    Parameters
    ----------
    flow_l_min : flow the supply gives at that pressure as it is [l/min]
    static_bar : pressure with nothing running [bar]
    at_bar : the pressure [bar]
    loss_bar : what the pipe loses at that flow [bar]

    Returns
    -------
    flow [l/min]

    Raises
    ------
    OutOfRange
        If no pressure is there to spend, or the pipe would lose more than nine tenths of it.

    Limits
    ------
    A ceiling: behind each bottleneck stands the next (stop tap, meter, street). Re-measure after the work.

    Source
    ------
    Derived from the power law of turbulent loss.

    Examples
    --------
    >>> round(flow_without(39.0, 3.0, 1.5, 0.95))
    67
    """
    return flow_l_min * (1 / (1 - loss_bar / (static_bar - at_bar))) ** (1 / EXPONENT)
