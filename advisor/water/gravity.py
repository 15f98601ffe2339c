"""Several outlets on one cistern together: they share the pipe below it, so each gets less than alone."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import lru_cache

from advisor.calc.pipes import bore
from advisor.water.network import House, Outlet, Section, solve
from advisor.water.parts import Cistern, Pipe

# The pipe behind the closed formula for gravity showers: 8 m of 22 mm for all, 4 m of 15 mm to each; its rose.
SHARED_M, SHARED_MM, SHARED_K, OWN_M, OWN_MM, OWN_K, MIXED_C = 8.0, 22.0, 4.0, 4.0, 15.0, 8.0, 40.0
ROSE_L_MIN, ROSE_BAR = 9.0, 0.1
AS_GOOD_AS_L_MIN = 1e-4  # a solver's last digit must not make a household fall short


def by_gravity(head_m: float, wanted: Mapping[str, float], shared_mm: float = SHARED_MM) -> Mapping[str, float]:
    """What each open outlet gets from a cistern.

    Parameters
    ----------
    head_m : base of the cistern above the outlets; below 0 it is under them [m]
    wanted : mixed flow wanted at each open outlet, above 0 [l/min]
    shared_mm : size of the pipe they share [mm]

    Returns
    -------
    flow of each, never more than wanted [l/min]

    Raises
    ------
    OutOfRange
        If the size is not tabulated.

    Limits
    ------
    Outlets made for low pressure, 9 l/min at 0.1 bar or what is wanted, if more; the pipes named above.

    Source
    ------
    The network of this package, held against EPANET; the pipes are common practice.

    Examples
    --------
    >>> alone, both = by_gravity(1.5, {"a": 9.0}), by_gravity(1.5, {"a": 9.0, "b": 9.0})
    >>> round(alone["a"], 1), round(both["a"], 1)
    (7.7, 7.0)
    """
    shared = Section("shared", "cistern", (Pipe("shared pipe", bore(shared_mm)[0], SHARED_M, SHARED_K),), 0.0, MIXED_C)
    own = tuple(Section(n, "shared", (Pipe("own pipe", bore(OWN_MM)[0], OWN_M, OWN_K),), 0.0, MIXED_C) for n in wanted)
    roses = tuple(Outlet(n, max(q, ROSE_L_MIN) / math.sqrt(ROSE_BAR), n, at_most=q) for n, q in wanted.items())
    return solve(House((Cistern("cistern", head_m),), (shared, *own), roses), wanted).flows


@lru_cache(maxsize=4096)
def together(head_m: float, wanted: tuple[float, ...]) -> float:
    """Flow of all outlets together from a cistern; grows with its head and with each flow wanted [l/min]."""
    asked = {str(i): q for i, q in enumerate(wanted) if q > 0}
    if not asked or head_m <= 0:
        return 0.0
    found = by_gravity(head_m, asked)
    return sum(q if found[n] > q - AS_GOOD_AS_L_MIN else found[n] for n, q in asked.items())
