"""What is drawn in the busiest hour: who showers where, in what order, from the household's own answers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

BATH_FIRST, SHOWERS_FIRST, NO_ORDER = "bath first", "showers first", "no order to choose"


@dataclass(frozen=True, slots=True)
class Draw:
    """One use of one outlet: a flow of mixed water for some minutes, or until some litres have run."""

    outlet: str
    l_min: float
    minutes: float = 0.0
    litres: float = 0.0  # where above 0 the draw ends with them, not with the minutes


@dataclass(frozen=True, slots=True)
class Tap:
    """An outlet as the survey names it."""

    name: str
    kind: str
    l_min: float
    at_once: bool


@dataclass(frozen=True, slots=True)
class Plan:
    """Phases one after another; in a phase its lanes run side by side, in a lane one draw follows the other."""

    phases: tuple[tuple[tuple[Draw, ...], ...], ...]
    order: str

    @property
    def draws(self) -> tuple[Draw, ...]:
        return tuple(d for phase in self.phases for lane in phase for d in lane)


def plans(taps: Sequence[Tap], showers: int, shower_min: float, baths: int, bath_l: float) -> tuple[Plan, ...]:
    """The busiest hour as draw-offs; two plans where a bath may come before or after the showers.

    Showers are dealt out in turn to the showers wanted at once, which run side by side; where none or one is so
    marked they follow each other in the strongest shower. Nobody waits between two draws. A bath wanted at once is
    filled beside the showers, any other before or after them. Taps wanted at once run through the first shower.

    Parameters
    ----------
    taps : the outlets
    showers : showers taken in that hour [-]
    shower_min : length of one shower [min]
    baths : baths filled in that hour [-]
    bath_l : mixed water of one bath [l]

    Returns
    -------
    one plan, or two whose order differs

    Raises
    ------
    ValueError
        If showers or baths are to be taken and no such outlet is listed.

    Limits
    ------
    No pause between draws, so the store has no time to recover: the demanding end of what people do.

    Source
    ------
    The survey's own questions; the dealing out is common practice for "who showers where".
    """
    lanes = _shower_lanes(taps, showers, shower_min)
    filled = _baths(taps, baths, bath_l)
    beside = [(Draw(t.name, t.l_min, shower_min),) for t in taps if t.at_once and t.kind not in ("shower", "bath")]
    both = any(t.at_once for t in taps if t.kind == "bath")
    if both or not filled or not lanes:
        phase = (*lanes, *((filled,) if filled else ()), *beside)
        return (Plan((phase,) if phase else (), NO_ORDER),)
    showering, bathing = (*lanes, *beside), (filled,)
    return (Plan((bathing, showering), BATH_FIRST), Plan((showering, bathing), SHOWERS_FIRST))


def _shower_lanes(taps: Sequence[Tap], showers: int, minutes: float) -> tuple[tuple[Draw, ...], ...]:
    if not showers:
        return ()
    heads = sorted((t for t in taps if t.kind == "shower"), key=lambda t: (-t.l_min, t.name))
    if not heads:
        raise ValueError("showers are taken, but no shower is among the outlets. List it under [outlets].")
    used = [t for t in heads if t.at_once] or heads[:1]
    lanes: list[list[Draw]] = [[] for _ in used]
    for i in range(showers):
        tap = used[i % len(used)]
        lanes[i % len(used)].append(Draw(tap.name, tap.l_min, minutes))
    return tuple(tuple(lane) for lane in lanes if lane)


def _baths(taps: Sequence[Tap], baths: int, litres: float) -> tuple[Draw, ...]:
    if not baths:
        return ()
    tubs = sorted((t for t in taps if t.kind == "bath"), key=lambda t: (not t.at_once, -t.l_min, t.name))
    if not tubs:
        raise ValueError("baths are filled, but no bath is among the outlets. List it under [outlets].")
    return tuple(Draw(tubs[0].name, tubs[0].l_min, litres=litres) for _ in range(baths))
