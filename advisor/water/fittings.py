"""What all the hot water passes before a tap: the inlet set of a mains-fed cylinder, a heat exchanger, the mixers.

No document we have seen prints what these lose in a home, so each is a range and both its ends are tried. The figures
stand in `rules/thresholds.toml`, with what they rest on; the facts that the rules read are made from the same.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from advisor import paths
from advisor.facts import Span
from advisor.water.parts import ReducingValve, Resistance

# UK trade custom asks 1.0 to 1.5 bar, running, at the inlet; filter, check valve, exchanger and shower take 0.5 to 0.8
# bar of it. So a mixer wants 1.0 bar, and one made for little pressure is content with half of it. COMMON PRACTICE
MAINS_MIXER_CONTENT_BAR = 0.5


@dataclass(frozen=True, slots=True)
class Ends:
    """A loss by one point at each end: what it takes at the worst, and at the best [bar at l/min]."""

    worst: tuple[float, float]
    best: tuple[float, float]

    def at(self, least: bool) -> tuple[float, float]:
        return self.worst if least else self.best


@dataclass(frozen=True, slots=True)
class Figures:
    """What inlet set and exchangers take: the figures of `rules/thresholds.toml`, each with its two ends."""

    set_bar: tuple[float, float]
    inlet: Ends
    falls: Ends  # how far the pressure falls off that the reducing valve holds
    boiler: Ends
    built_in: Ends
    store: Ends


def figures(span: Callable[[str], Span]) -> Figures:
    """The figures from wherever thresholds are read, by their name."""
    def ends(name: str, at: str) -> Ends:
        bar, l_min = span(name), span(at)
        return Ends((bar.hi, l_min.lo), (bar.lo, l_min.hi))

    held = span("inlet_set_bar")
    return Figures((held.lo, held.hi), ends("inlet_loss_bar", "inlet_loss_l_min"),
                   ends("inlet_falls_bar", "inlet_loss_l_min"),
                   *(ends(f"{name}_exchanger_bar", f"{name}_exchanger_l_min") for name in (
                       "boiler", "built_in", "store")))


@lru_cache(maxsize=1)
def usual() -> Figures:
    """The figures in the shipped file, for whoever asks without a home: those of the last date."""
    written = tomllib.loads((paths.RULES / "thresholds.toml").read_text(encoding="utf-8"))

    def span(name: str) -> Span:
        value = written[name]["value"][-1]["value"]
        return Span(*map(float, value["between"] if isinstance(value, dict) else (value, value)))

    return figures(span)


INLET_SET = "the inlet control set"
BOILER_EXCHANGER = "the boiler's heat exchanger"
STORE_EXCHANGER = "the store's heat exchanger"
MIXER = "the mixer"


def inlet_set(least: bool, known: Figures | None = None) -> ReducingValve:
    """Strainer, reducing valve and check valve of a mains-fed cylinder, at one end of what they may be.

    At the worst the pressure it holds falls off with the flow; at the best it holds its set point while it can.

    Parameters
    ----------
    least : True for the end that leaves least
    known : what it holds and takes; the shipped figures by default

    Returns
    -------
    the element

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Loss as the square of the flow; a valve that is clean.

    Source
    ------
    Common practice and memory; see the thresholds.

    Examples
    --------
    >>> inlet_set(True).holds_bar(20.0), inlet_set(False).holds_bar(20.0)
    (2.5, 3.5)
    """
    known = known or usual()
    bar, at = known.inlet.at(least)
    return ReducingValve(INLET_SET, known.set_bar[0 if least else 1], bar, at, known.falls.at(least)[0])


def exchanger(name: str, loss: Ends, least: bool) -> Resistance:
    """The water side of a heat exchanger at one end of what it may lose."""
    return Resistance(name, *loss.at(least))


def hot_share(mixed_c: float, hot_c: float, cold_c: float) -> float:
    """Share of a mixer's flow that comes by its hot side.

    f = (Tm - Tc) / (Th - Tc), from 0 to 1

    Parameters
    ----------
    mixed_c : temperature it is set to [C]
    hot_c : hot water at its hot side [C]
    cold_c : cold water [C]

    Returns
    -------
    share [-]; 1 where the hot water is no hotter than what is wanted

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Hot water above cold; no heat lost in the pipes.

    Source
    ------
    Heat balance of mixing; 60 l at 60 C and 40 l at 10 C make 100 l at 40 C (BS 6700, Annex C).

    Examples
    --------
    >>> hot_share(40.0, 60.0, 10.0), round(hot_share(40.0, 60.0, 5.0), 3), hot_share(40.0, 38.0, 5.0)
    (0.6, 0.636, 1.0)
    """
    if hot_c <= mixed_c:
        return 1.0
    return max(0.0, (mixed_c - cold_c) / (hot_c - cold_c))
