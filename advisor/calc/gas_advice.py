"""What a gas pipe tree still carries, and which leg to enlarge first: a screen, a registered engineer sizes it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from advisor.calc.formula import OutOfRange
from advisor.calc.gas import Leg, path_drop, tree
from advisor.calc.gas_pipe import SIZES

STEP_M3_H = 0.01


def drops(legs: Sequence[Leg], loads: Mapping[str, float]) -> dict[str, float]:
    """Drop from the meter to every appliance, all at full rate.

    Parameters
    ----------
    legs : the pipe legs
    loads : gas of every appliance [m3/h]

    Returns
    -------
    appliance -> drop [mbar]

    Raises
    ------
    OutOfRange
        If the way to an appliance cannot be followed or a size lies outside the table.

    Limits
    ------
    As `gas.tree`.

    Source
    ------
    BS 6891: the drop of each leg, added from meter to appliance.

    Examples
    --------
    >>> {k: round(v, 2) for k, v in drops([Leg("main", "meter", "boiler", 22, 12.0, 0)], {"boiler": 2.3}).items()}
    {'boiler': 0.4}
    """
    return {name: sum(part.drop_mbar for part in tree(legs, loads, name)) for name in loads}


@dataclass(frozen=True, slots=True)
class Enlargement:
    """A leg to renew in a larger size, and the drop that is left then."""

    leg: str
    from_mm: float
    to_mm: int
    drop_mbar: float


def largest_flow(legs: Sequence[Leg], others: Mapping[str, float], outlet: str, limit_mbar: float) -> float:
    """The most gas an appliance can take with the drop to every appliance within what is allowed, all at full rate.

    Parameters
    ----------
    legs : the pipe legs
    others : gas of every other appliance [m3/h]
    outlet : the appliance in question
    limit_mbar : drop allowed from meter to appliance [mbar], > 0

    Returns
    -------
    flow [m3/h], to 0.01; 0 where even that is too much, for it or for another on the same pipe

    Raises
    ------
    OutOfRange
        If the way to the appliance cannot be followed or a size lies outside the table.

    Limits
    ------
    Natural gas in copper, 10 to 28 mm, by the older printing of the table.

    Source
    ------
    BS 6891: the drop of each leg, added from meter to appliance.

    Examples
    --------
    >>> largest_flow([Leg("main", "meter", "boiler", 22, 12.0, 0)], {}, "boiler", 1.0)
    3.9
    """
    if path_drop(legs, {**others, outlet: STEP_M3_H}, outlet) is None:
        raise OutOfRange(f"the way to {outlet} cannot be followed, or a size lies outside the table")
    low, high = 0, 4000  # hundredths of a m3/h: 40 m3/h is more than any domestic meter passes
    while low < high:
        middle = (low + high + 1) // 2
        worst = max(drops(legs, {**others, outlet: middle * STEP_M3_H}).values())
        low, high = (middle, high) if worst <= limit_mbar + 1e-9 else (low, middle - 1)
    return round(low * STEP_M3_H, 2)


def enlarge_first(legs: Sequence[Leg], loads: Mapping[str, float], outlet: str,
                  limit_mbar: float) -> tuple[Enlargement, ...]:
    """The legs to renew, one size at a time where it helps most, until the drop to an appliance is allowed.

    Parameters
    ----------
    legs : the pipe legs
    loads : gas of every appliance, the one in question included [m3/h]
    outlet : the appliance in question
    limit_mbar : drop allowed from meter to appliance [mbar], > 0

    Returns
    -------
    the steps in order; none where the tree does; the last step's drop is above the limit where even the largest
    size of the table does not do

    Raises
    ------
    OutOfRange
        If the way to the appliance cannot be followed or a size lies outside the table.

    Limits
    ------
    Goes by the drop saved at each step, which need not be the least metres of pipe.

    Source
    ------
    BS 6891: the drop of each leg, added from meter to appliance.

    Examples
    --------
    >>> legs = [Leg("main", "meter", "boiler", 15, 6.0, 0)]
    >>> [(e.leg, e.to_mm, round(e.drop_mbar, 2)) for e in enlarge_first(legs, {"boiler": 2.9}, "boiler", 1.0)]
    [('main', 22, 0.31)]
    """
    now = list(legs)
    steps: list[Enlargement] = []
    drop = sum(part.drop_mbar for part in tree(now, loads, outlet))
    while drop > limit_mbar:
        tried = [(_with(now, i, size), i, size) for i, size in _larger(now, loads, outlet)]
        found = [(path_drop(changed, loads, outlet), i, size, changed) for changed, i, size in tried]
        known = [f for f in found if f[0] is not None]
        if not known:
            break
        best = min(known, key=lambda f: (f[0], now[f[1]].name))
        steps.append(Enlargement(now[best[1]].name, now[best[1]].size_mm, best[2], float(best[0] or 0.0)))
        now, drop = best[3], float(best[0] or 0.0)
    return tuple(steps)


def enlarge_for_all(legs: Sequence[Leg], loads: Mapping[str, float], limit_mbar: float,
                    ) -> tuple[tuple[str, Enlargement], ...]:
    """The legs to renew until the drop to every appliance is allowed, the worst appliance first.

    Parameters
    ----------
    legs : the pipe legs
    loads : gas of every appliance [m3/h]
    limit_mbar : drop allowed from meter to appliance [mbar], > 0

    Returns
    -------
    (appliance it is done for, step) in order; none where the tree does

    Raises
    ------
    OutOfRange
        If a way cannot be followed or a size lies outside the table.

    Limits
    ------
    As `enlarge_first`; an appliance that even the largest size does not serve ends the list.

    Source
    ------
    BS 6891: the drop of each leg, added from meter to appliance.

    Examples
    --------
    >>> legs = [Leg("main", "meter", "", 15, 6.0, 0), Leg("a", "main", "boiler", 22, 1.0, 0),
    ...         Leg("b", "main", "hob", 15, 1.0, 0)]
    >>> [(name, e.leg, e.to_mm) for name, e in enlarge_for_all(legs, {"boiler": 2.0, "hob": 0.9}, 1.0)]
    [('hob', 'main', 22)]
    """
    now, made = list(legs), []
    for _ in loads:
        found = drops(now, loads)
        worst = max(sorted(found), key=lambda name: found[name])
        steps = enlarge_first(now, loads, worst, limit_mbar)
        if not steps:
            break
        made += [(worst, step) for step in steps]
        for step in steps:
            now = _with(now, next(i for i, leg in enumerate(now) if leg.name == step.leg), step.to_mm)
    return tuple(made)


def _larger(legs: Sequence[Leg], loads: Mapping[str, float], outlet: str) -> list[tuple[int, int]]:
    """(position, next size) of every leg on the way that the table has a larger size for."""
    on_way = {part.leg for part in tree(legs, loads, outlet)}
    return [(i, min(s for s in SIZES if s > leg.size_mm)) for i, leg in enumerate(legs)
            if leg.name in on_way and leg.size_mm < SIZES[-1]]


def _with(legs: Sequence[Leg], position: int, size: int) -> list[Leg]:
    return [replace(leg, size_mm=size) if i == position else leg for i, leg in enumerate(legs)]
