"""The network with ranged pipes: the least and the most one outlet can get, from two houses that hold all between.

Inputs that only push one way, for the outlet asked about: what stands on its own way from the source (wider, shorter,
fewer bends, a stronger source, its own larger opening) gives it more; what hangs on other ways gives it less, because
the others then draw more. So two solutions are exact at the ends. A mixer takes the weaker of two ways, and which that
is may change inside the range: for an outlet with two ways, or beside one, the result is "anything".
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from advisor.facts import ANYTHING, Span
from advisor.water.network import House, NetworkError, solve


def flow_range(worst: House, best: House, open_outlets: Iterable[str], asked: str) -> Span:
    """The least and the most flow at one outlet.

    Parameters
    ----------
    worst : every pipe, source and outlet at its poorer end
    best : the same house with each at its better end
    open_outlets : names of the outlets that are open
    asked : the outlet asked about, one of them

    Returns
    -------
    flow [l/min]; "anything" where a mixer is open

    Raises
    ------
    NetworkError
        If the two houses differ in more than figures, or the outlet is not open.

    Limits
    ------
    One-sided outlets; heights are the same at both ends.

    Source
    ------
    Losses grow with flow: were an outlet to lose by a better pipe on its own way, all others on that way would have to
    gain from a lower pressure.
    """
    opened = tuple(open_outlets)
    _same_shape(worst, best, opened, asked)
    if any(len(o.ways()) > 1 for o in worst.outlets if o.name in opened):
        return ANYTHING
    (way,) = (o.ways()[0][0] for o in worst.outlets if o.name == asked)
    own = {s.name for s in worst.way(way)[1]}
    return Span(solve(_mixture(worst, best, own, asked), opened).flows[asked],
                solve(_mixture(best, worst, own, asked), opened).flows[asked])


def _mixture(here: House, elsewhere: House, own: set[str], asked: str) -> House:
    """The outlet's own way and source from one house, all else from the other."""
    return replace(
        here,
        sections=tuple(a if a.name in own else b for a, b in zip(here.sections, elsewhere.sections, strict=True)),
        outlets=tuple(a if a.name == asked else b for a, b in zip(here.outlets, elsewhere.outlets, strict=True)))


def _same_shape(worst: House, best: House, opened: tuple[str, ...], asked: str) -> None:
    def shape(house: House) -> tuple:
        return (tuple(s.name for s in house.sources), tuple((s.name, s.after, s.rise_m, len(s.elements))
                                                            for s in house.sections),
                tuple((o.name, o.ways()) for o in house.outlets))

    if shape(worst) != shape(best):
        raise NetworkError(["the two ends of the house differ in more than figures. Give the same pipes in both."])
    if asked not in opened:
        raise NetworkError([f"{asked}: is not among the open outlets. Open: {', '.join(opened)}."])
