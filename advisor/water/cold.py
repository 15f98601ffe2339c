"""The first minute in which a store gives water too cold, and nothing else: the inner loop of `lasts`.

The same steps and the same sums as `busy_hour.simulate` with pipes that give all that is wanted (a test holds them
equal, figure for figure), without the curves a report needs. A question asked of hundreds of surveys comes back to the
same few plants and plans, so every run is remembered by the values it rests on, whatever layout or survey asked for it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Hashable, Mapping
from functools import lru_cache
from typing import NamedTuple

from advisor.water.busy_hour import SHORT_K, STEP_S, asked_of_plant, crossing
from advisor.water.demand import Plan
from advisor.water.memo import by_value
from advisor.water.plants import Plant
from advisor.water.store import SECONDS_A_MINUTE

MOST_KEPT = 5_000  # plants remembered, each with its runs: a few numbers a run
FOREVER = math.inf
MINUTES = STEP_S / SECONDS_A_MINUTE  # one step

Electric = tuple[tuple[str, float], ...]
Stretch = tuple[float, bool, int]  # asked of the plant [l/min], whether any of it is to be hot, steps in a row


class Past(NamedTuple):
    """One run: what was asked up to its end, and the minute it came too cold; None where it did not."""

    asked: tuple[Stretch, ...]
    steps: int
    minute: float | None


_known: dict[Hashable, list[Past]] = {}


class Drawn:
    """A plant that plans are drawn from: `make(layers)` makes a fresh one, alike but for the number of layers."""

    def __init__(self, make: Callable[[int], Plant], cold_c: float, mixed_c: float, electric_kw: Mapping[str, float]):
        self.make, self.cold_c, self.mixed_c = make, cold_c, mixed_c
        self.electric: Electric = tuple(sorted(electric_kw.items()))
        self.about = by_value(make(1)), cold_c, mixed_c, self.electric

    def first_cold(self, plan: Plan, layers: int, within: float = FOREVER) -> float | None:
        """The first minute in which somebody's hot water comes too cold; None where none comes before `within` [min].

        Whoever looks for the earliest of several gives the earliest so far: a run that gets there is done. A run
        serves for every plan that begins like it: what is drawn later cannot cool what was drawn before.
        """
        asked = _asked(plan, self.cold_c, self.mixed_c, self.electric)
        if within < FOREVER:  # a store is timed to within the step before
            asked = begun(asked, math.ceil(within / MINUTES) + 1)
        if len(_known) >= MOST_KEPT:
            _known.clear()
        runs = _known.setdefault((self.about, layers), [])
        for past in runs:
            if alike(past, asked):
                return past.minute
        runs.append(self._run(asked, layers))
        return runs[-1].minute

    def _run(self, asked: tuple[Stretch, ...], layers: int) -> Past:
        plant, cold_c, mixed_c = self.make(layers), self.cold_c, self.mixed_c
        limit, minute, last, steps = mixed_c - SHORT_K, 0.0, None, 0
        for l_min, hot, times in asked:
            for _ in range(times):
                top, steps = plant.hot_c(), steps + 1
                if plant.serve(STEP_S, l_min, cold_c, mixed_c).mixed_c < limit and hot:
                    return Past(begun(asked, steps), steps, crossing(minute, STEP_S, mixed_c, top, last))
                minute, last = minute + MINUTES, top
        return Past(asked, steps, None)


def begun(asked: tuple[Stretch, ...], steps: int) -> tuple[Stretch, ...]:
    """The first so many steps of what is asked."""
    found = []
    for l_min, hot, times in asked:
        if steps <= 0:
            break
        found.append((l_min, hot, min(times, steps)))
        steps -= times
    return tuple(found)


def alike(past: Past, asked: tuple[Stretch, ...]) -> bool:
    """Whether a run answers for this one: it came too cold in steps both begin with, or not even in a longer one."""
    if past.minute is not None:
        return begun(asked, past.steps) == past.asked
    return begun(past.asked, sum(times for _, _, times in asked)) == asked


@lru_cache(maxsize=1000)
def _asked(plan: Plan, cold_c: float, mixed_c: float, electric: Electric) -> tuple[Stretch, ...]:
    steps = asked_of_plant(plan, cold_c, mixed_c, dict(electric))
    return tuple((*step, sum(1 for _ in same)) for step, same in itertools.groupby(steps))


def forget() -> None:
    """Start afresh (for tests and measurements)."""
    _known.clear()
