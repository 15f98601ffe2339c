"""Rules of thumb: for each saying, the range in which it is within a tenth of the sum behind it, computed."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass

from advisor import paths
from advisor.calc.circuits import flow_at_loss
from advisor.calc.expansion import heating_factor
from advisor.calc.formula import FUNCTIONS
from advisor.calc.gas_pipe import gradient

# sums that are no closed expression: a pipe law solved for the flow, two published tables
TABLES = {"flow_at_loss": flow_at_loss, "vessel_share": heating_factor, "gas_loss": gradient}
CLOSE = 0.10
POINTS = 2000


@dataclass(frozen=True, slots=True)
class Thumb:
    """A saying, its sum as an expression of `x` ("" for none), the range tried, and where it misleads."""

    saying: str
    x: str
    unit: str
    tried: tuple[float, float]
    says: str
    exact: str
    misleads: str

    def error(self, x: float) -> float:
        """The saying less the sum, as a share of the sum, at one `x`."""
        names = {"x": x}
        exact = eval(self.exact, {**FUNCTIONS, **TABLES}, names)  # the texts are ours, never a user's
        return (eval(self.says, FUNCTIONS, names) - exact) / exact


def load() -> tuple[Thumb, ...]:
    """All sayings, in the order they stand.

    Parameters
    ----------
    none

    Returns
    -------
    the sayings of shared/thumbs.toml

    Raises
    ------
    OSError
        If the file is missing.

    Limits
    ------
    None.

    Source
    ------
    Common practice.

    Examples
    --------
    >>> load()[0].saying
    'A combination boiler gives 0.4 l/min for each kW in winter'
    """
    raw = tomllib.loads((paths.SHARED / "thumbs.toml").read_text(encoding="utf-8"))
    return tuple(Thumb(t["saying"], t.get("x", ""), t.get("unit", ""), tuple(map(float, t.get("tried", (0, 0)))),
                       t.get("says", ""), t.get("exact", ""), t["misleads"]) for t in raw["thumb"])


def within(thumb: Thumb, close: float = CLOSE) -> tuple[tuple[float, float], ...]:
    """The stretches of the range tried in which a saying is within `close` of its sum.

    Parameters
    ----------
    thumb : the saying
    close : share of the sum that counts as close [-], 0.10 by default

    Returns
    -------
    (from, to) of each stretch, ends found to a millionth of the range; none where it is never close or has no sum

    Raises
    ------
    Raises nothing.

    Limits
    ------
    A stretch narrower than a two-thousandth of the range tried would be missed.

    Source
    ------
    Computed.

    Examples
    --------
    >>> [(round(a, 1), round(b, 1)) for a, b in within(load()[0])]
    [(32.2, 39.4)]
    """
    if not thumb.exact:
        return ()
    low, high = thumb.tried
    points = [low + (high - low) * i / POINTS for i in range(POINTS + 1)]
    good = [abs(thumb.error(x)) <= close for x in points]
    stretches: list[tuple[float, float]] = []
    start: float | None = None
    for i, ok in enumerate(good):
        if ok and start is None:
            start = points[i] if i == 0 else _edge(thumb, points[i - 1], points[i], close)
        if not ok and start is not None:
            stretches.append((start, _edge(thumb, points[i], points[i - 1], close)))
            start = None
    return (*stretches, (start, high)) if start is not None else tuple(stretches)


def _edge(thumb: Thumb, outside: float, inside: float, close: float) -> float:
    """Where the saying becomes close, between a point that is not and one that is."""
    for _ in range(40):
        middle = (outside + inside) / 2
        if abs(thumb.error(middle)) <= close:
            inside = middle
        else:
            outside = middle
    return inside
