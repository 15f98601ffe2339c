"""The busy hour of one arrangement in one home, as a band: both ends of what is known, few and many layers."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from advisor.facts import ANYTHING, Span
from advisor.water.box import NotComputed, Reader
from advisor.water.busy_hour import FLOW_SHORT, STEP_S, Flows, Run
from advisor.water.demand import Plan, plans
from advisor.water.home import Home, home
from advisor.water.memo import RUNS, Remembered
from advisor.water.store import FEW, MANY

if TYPE_CHECKING:
    from advisor.facts import FactBook
    from advisor.records import Arrangement

NEVER = math.inf
MOST_COUNTS = 20
JUST_ENOUGH = FLOW_SHORT + 1e-9  # share of the flow wanted that does not yet count as short


@dataclass(frozen=True)
class Case:
    """One run: which end, which plan, how many layers, which pipes (0 all at their least), and what came of it."""

    kind: bool
    showers: int
    baths: int
    plan: Plan
    layers: int
    run: Run
    corner: int = 0

    @property
    def minute(self) -> float:
        """First minute somebody falls short; infinite for never [min]."""
        return NEVER if self.run.first_short_min is None else self.run.first_short_min


@dataclass(frozen=True)
class Outcome:
    """What the simulation says of an arrangement; without cases it was not computed, and `reasons` say why."""

    arrangement: str
    title: str
    cases: tuple[Case, ...] = ()
    homes: tuple[Home, ...] = ()
    reasons: tuple[str, ...] = ()
    fields: tuple[str, ...] = ()
    rests_on: frozenset[str] = field(default_factory=frozenset)

    @property
    def computed(self) -> bool:
        return bool(self.cases)

    @property
    def first_short(self) -> Span:
        """Every first minute possible, infinite for never; "anything" where nothing was computed [min]."""
        if not self.cases:
            return ANYTHING
        minutes = [c.minute for c in self.cases]
        return Span(min(minutes), max(minutes))

    @property
    def worst(self) -> Case:
        return min(self.cases, key=lambda c: (c.minute, c.kind, c.corner, c.run.left_l or 0.0, c.plan.order,
                                               c.layers))

    @property
    def best(self) -> Case:
        return max(self.cases, key=lambda c: (c.minute, c.kind, c.corner, c.run.left_l or 0.0))

    @property
    def mixing_min(self) -> float:
        """How far the number of layers alone moves the worst case's minute; infinite where only one end is "never"."""
        w = self.worst
        same = [c.minute for c in self.cases if (c.kind, c.showers, c.baths, c.plan, c.corner) == (
            w.kind, w.showers, w.baths, w.plan, w.corner)]
        return 0.0 if min(same) == max(same) else max(same) - min(same)


def busy_hour(book: FactBook, arrangement: Arrangement, outlets: Sequence[str], step_s: float = STEP_S) -> Outcome:
    """Simulate the busiest hour of one arrangement.

    Parameters
    ----------
    book : the facts of a run of the advisor
    arrangement : the layout
    outlets : entities of the outlets
    step_s : step [s]

    Returns
    -------
    the outcome; not computed, with every reason, where an answer it needs is missing or ranges the wrong way

    Raises
    ------
    Raises nothing of its own.

    Limits
    ------
    See `busy_hour.simulate` and `home.home`.

    Source
    ------
    The survey and the models of this package.
    """
    reader = Reader(book, arrangement)
    try:
        counts = list(reader.counts())  # notes what is not answered; `home` refuses with all of it
        homes = [home(reader, outlets, kind) for kind in (False, True)]
        reader.no_bath_trouble(any(t.kind == "bath" and t.at_once for t in homes[0].taps))
        if len(counts) > MOST_COUNTS:
            reader.against("showers and baths range too widely to try each number", "household.busy_showers")
        reader.refuse()
        cases = _cases(homes, counts, step_s)
    except NotComputed as refused:
        return Outcome(arrangement.id, arrangement.title, reasons=tuple(refused.reasons),
                       fields=tuple(refused.fields), rests_on=frozenset(reader.rests_on))
    except ValueError as refused:
        return Outcome(arrangement.id, arrangement.title, reasons=(str(refused),), rests_on=frozenset(reader.rests_on))
    return Outcome(arrangement.id, arrangement.title, tuple(cases), tuple(homes), rests_on=frozenset(reader.rests_on))


def _cases(homes: Sequence[Home], counts: Sequence[tuple[int, int]], step_s: float) -> list[Case]:
    made = []
    for h, kind in zip(homes, (False, True), strict=True):
        least, most = Remembered(h.flows), Remembered(h.most)
        for showers, baths in counts:
            for plan in plans(h.taps, showers, h.shower_min, baths, h.bath_l):
                for layers in (FEW, MANY) if h.layered else (FEW,):
                    made += [Case(kind, showers, baths, plan, layers, run, corner)
                             for corner, run in _runs(h, plan, layers, least, most, step_s)]
    return made


def _runs(h: Home, plan: Plan, layers: int, least: Remembered, most: Remembered,
          step_s: float) -> Iterator[tuple[int, Run]]:
    """The run at every end of what the pipes give, with its number; one where they give the same at all of them."""
    for corner, flows in enumerate(_corners(plan, least, most)):
        yield corner, RUNS.run(plan, h.plant(layers), flows, h.cold_c, h.mixed_c, h.electric_kw, h.reserve(), step_s)
        if least.alike(most):
            return


def _corners(plan: Plan, least: Flows, most: Flows) -> tuple[Flows, ...]:
    """Every end of what the pipes give that may come first or last: all at their least first, all at their most last.

    Less flow spares the store, until it is so little that it counts as short; and a bath that fills slowly puts off all
    that follows it. So baths are tried at both their ends, all else at both and where it is just not short.
    """
    baths = frozenset(d.outlet for d in plan.draws if d.litres)

    def just(wanted: Mapping[str, float]) -> Mapping[str, float]:
        low, high = least(wanted), most(wanted)
        return {n: min(high[n], max(low[n], JUST_ENOUGH * q)) for n, q in wanted.items()}

    def picked(of_baths: Flows, of_others: Flows) -> Flows:
        def flows(wanted: Mapping[str, float]) -> Mapping[str, float]:
            one, other = of_baths(wanted), of_others(wanted)
            return {n: (one if n in baths else other)[n] for n in wanted}

        return flows

    ends = (least, most) if baths else (least,)
    return tuple(picked(b, o) for o in (least, just, most) for b in ends)
