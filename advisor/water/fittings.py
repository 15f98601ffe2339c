"""What all the hot water passes before a tap: the inlet set of a mains-fed cylinder, a heat exchanger, the mixers.

No document we have seen prints what these lose in a home, so each is a range and both its ends are tried. What the
figures rest on stands beside them.
"""

from __future__ import annotations

from dataclasses import dataclass

from advisor.water.parts import ReducingValve, Resistance

MAINS_MIXER_CONTENT_BAR = 1.0  # UK trade custom asks 1.0 to 1.5 bar, running, at a mains-fed mixer: COMMON PRACTICE


@dataclass(frozen=True, slots=True)
class Ends:
    """A loss by one point at each end: what it takes at the worst, and at the best [bar at l/min]."""

    worst: tuple[float, float]
    best: tuple[float, float]

    def at(self, least: bool) -> tuple[float, float]:
        return self.worst if least else self.best


# Set points in use are 3.0 and 3.5 bar, COMMON PRACTICE; reducing and check valve together take 0.2 to 0.5 bar,
# COMMON PRACTICE (an assumption of the trade); it does not say at which flow: 25 and 20 l/min FROM MEMORY.
SET_BAR = (3.0, 3.5)
INLET_LOSS = Ends((0.5, 20.0), (0.2, 25.0))
# A combination boiler wants 1.0 to 1.5 bar running for its full flow, COMMON PRACTICE, flow sensor, filter and outlets
# with it. Its exchanger alone: 0.2 to 0.5 bar at 10 l/min, FROM MEMORY; 0.5 bar there is 1.0 bar at 14 l/min.
BOILER_LOSS = Ends((0.5, 10.0), (0.2, 10.0))
# A boiler with a store built in is made for larger draws, about 18 l/min: FROM MEMORY.
BUILT_IN_LOSS = Ends((0.5, 18.0), (0.2, 18.0))
# The large coil or plate of a heating store with its blending valve: FROM MEMORY.
STORE_LOSS = Ends((1.0, 18.0), (0.2, 18.0))

INLET_SET = "the inlet control set"
BOILER_EXCHANGER = "the boiler's heat exchanger"
STORE_EXCHANGER = "the store's heat exchanger"
MIXER = "the mixer"


def inlet_set(least: bool) -> ReducingValve:
    """Strainer, reducing valve and check valve of a mains-fed cylinder, at one end of what they may be.

    At the worst the pressure it holds falls off by its whole loss; at the best it holds its set point while it can.

    Parameters
    ----------
    least : True for the end that leaves least

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
    Common practice and memory; see above.

    Examples
    --------
    >>> inlet_set(True).holds_bar(20.0), inlet_set(False).holds_bar(20.0)
    (2.5, 3.5)
    """
    bar, at = INLET_LOSS.at(least)
    return ReducingValve(INLET_SET, SET_BAR[0] if least else SET_BAR[1], bar, at, bar if least else 0.0)


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
