"""How far each survey value is from changing the advice: the nearest values on both sides, in instrument steps.

No sampling. Fields are widened to all they may be, many at once: where the box
still recommends the same, none of them can flip it, and that is proved. What
is left is halved outwards from the surveyed value, box by box, down to one
step of its instrument (design: semantics 7).
"""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from advisor.contrast import quick
from advisor.contrast.frame import anchor
from advisor.contrast.once import once
from advisor.contrast.spread import spread
from advisor.contrast.unknowns import CONFIRMED, between, text
from advisor.facts import Span
from advisor.records import Advice
from advisor.rulebase.model import Entry
from advisor.survey import SurveyError
from advisor.survey.consistency import USUAL_GAS_PIPES_MM

LOOKS = 1000  # boxes judged for one field and side before it is said to be not proved
STEPS_TOGETHER = (1, 2, 4, 8, 16, 32, 64)  # how far all readings are moved at once, in steps of their instruments


@dataclass(frozen=True, slots=True)
class Edge:
    """The nearest value on one side at which the advice differs, and what it is there."""

    at: str
    to: str | None
    steps: int


@dataclass(frozen=True, slots=True)
class Flip:
    """One field: its edges below and above, or the words that change the advice; `proved` where all was covered."""

    field: str
    value: str
    below: Edge | None = None
    above: Edge | None = None
    choices: Mapping[str, str | None] = field(default_factory=dict)
    proved: bool = True

    @property
    def steps(self) -> int | None:
        """The nearer edge's distance in steps of the instrument."""
        return min((e.steps for e in (self.below, self.above) if e is not None), default=None)

    @property
    def turns(self) -> bool:
        return bool(self.below or self.above or self.choices)


@dataclass(frozen=True, slots=True)
class Flips:
    """Every answered field, those that can flip the advice first, the nearest before the farther."""

    recommended: str | None
    fields: tuple[Flip, ...]
    together: int  # with every reading off by so many steps at once the advice is proved to stay; 0: not even one


@once
def flips(advice: Advice) -> Flips:
    """Every answer's distance from another advice."""
    search = Search(advice)
    names = [f for f in advice.survey.answers if not f.startswith(CONFIRMED)]
    wishes = [f for f, e, _ in advice.survey.every_field() if f.startswith("wishes.")]
    movable = [f for f in names if f not in wishes]
    loose, kept = search.loose(movable)

    def asked(name: str) -> Flip:
        return search.wish(name) if name in wishes else search.alone(name, kept)

    found = [Flip(f, advice.survey.answers[f].read) for f in movable if f not in loose]
    found += spread(asked, [*loose, *wishes])
    found.sort(key=lambda f: (not f.turns, f.steps is None, f.steps or 0, f.field))
    return Flips(advice.recommended, tuple(found), search.together(movable))


class Search:
    """Boxes around one survey; every look asks whether the advice as it stands could differ in it."""

    def __init__(self, advice: Advice) -> None:
        self.survey, self.base, self.now = advice.survey, advice.rulebase, advice.recommended
        anchor(self.survey, self.base)

    def entry(self, name: str) -> Entry:
        entry = self.survey.fields.entry(name)
        assert entry is not None
        return entry

    def look(self, changes: Mapping[str, str], only: Collection[str] | None = None) -> quick.Outcome | None:
        """The box with these answers; None where they contradict the rest of the survey."""
        try:
            return quick.outcome(self.survey.with_changes(changes), self.base, only, changes)
        except SurveyError:
            return None

    def stays(self, box: quick.Outcome | None) -> bool:
        return box is None or box.options == {self.now}

    def whole(self, name: str) -> str:
        """A text for everything the field may be."""
        entry = self.entry(name)
        if entry.kind == "number":
            return between(entry, *entry.domain)
        return f"one of {', '.join(entry.domain)}"

    def loose(self, names: Sequence[str]) -> tuple[list[str], Collection[str] | None]:
        """The fields not proved to leave the advice when all are widened at once, and who may come first then.

        What no standing turns on then cannot change the advice, whatever the others are.
        """
        box = self.look({n: self.whole(n) for n in names}) if names else None
        if box is None:  # together they may contradict each other
            return list(names), None
        return [n for n in names if n in box.undecided and box.options != {self.now}], box.kept

    def alone(self, name: str, kept: Collection[str] | None) -> Flip:
        """One field over all it may be; where that is not proved to leave the advice, its edges."""
        box = self.look({name: self.whole(name)}, kept)
        if box is None or self.stays(box):
            return Flip(name, self.survey.answers[name].read)
        return self.flip(name, box.kept)

    def flip(self, name: str, kept: Collection[str] | None) -> Flip:
        """One field that may turn the advice, searched on both sides or word by word."""
        entry, answer = self.entry(name), self.survey.answers[name]
        if not isinstance(answer.value, Span):
            return Flip(name, answer.read, choices=self._words(name, entry.domain, kept))
        low, high = answer.value.lo, answer.value.hi
        sides = [Side(self, name, start, end, kept) for start, end in zip((low, high), entry.domain, strict=True)]
        below, above = (side.nearest() for side in sides)
        return Flip(name, answer.read, below, above, proved=all(s.looks > 0 for s in sides))

    def wish(self, name: str) -> Flip:
        """A wish changes the order of everything, so each of its words is judged over all layouts."""
        entry = self.entry(name)
        answer = self.survey.answers.get(name)
        return Flip(name, answer.read if answer else str(entry.default), choices=self._words(name, entry.domain, None))

    def _words(self, name: str, words: Sequence[str], kept: Collection[str] | None) -> dict[str, str | None]:
        now = self.survey.value(name)
        found: dict[str, str | None] = {}
        for word in words:
            if now.single and word in now.words:
                continue
            try:
                then = quick.recommended(self.survey.with_changes({name: word}), self.base, kept)
            except SurveyError:
                continue
            if then != self.now:
                found[word] = then
        return found

    def together(self, names: Sequence[str]) -> int:
        """The most steps by which every reading may be off at once with the advice proved to stay."""
        readings = [n for n in names if self.entry(n).kind == "number"]
        proved = 0
        for steps in STEPS_TOGETHER:
            if not readings or not self.stays(self.look({n: self.around(n, steps) for n in readings})):
                break
            proved = steps
        return proved

    def around(self, name: str, steps: int) -> str:
        """The reading with so many steps of its instrument on either side."""
        entry, value = self.entry(name), self.survey.value(name)
        assert isinstance(value, Span)
        return between(entry, moved(entry, value.lo, -steps), moved(entry, value.hi, steps))


def step_of(entry: Entry) -> float:
    """One step of the instrument: the field's tolerance, one for a count."""
    return entry.tolerance or 1.0


def moved(entry: Entry, start: float, steps: int) -> float:
    """A reading so many steps above or below another, at most the end of its scale; pipes have their own sizes."""
    low, high = entry.domain
    sizes = _sizes_beyond(entry, start, steps > 0)
    if sizes is not None:
        return sizes[min(abs(steps), len(sizes)) - 1] if steps and sizes else start
    return min(max(round(start + steps * step_of(entry), 6), low), high)


def steps_between(entry: Entry, start: float, end: float) -> int:
    """How many steps lie between two readings, the last one cut short."""
    sizes = _sizes_beyond(entry, start, end > start)
    if sizes is not None:
        return sum(min(start, end) <= s <= max(start, end) for s in sizes)
    return math.ceil(round(abs(end - start) / step_of(entry), 3))  # an edge is written with six figures


def _sizes_beyond(entry: Entry, start: float, above: bool) -> list[float] | None:
    """The trade's pipe sizes on one side of this one, the nearest first; None for what is no gas pipe's size."""
    if entry.sort != "leg" or entry.unit != "mm":
        return None
    low, high = entry.domain
    found = [s for s in USUAL_GAS_PIPES_MM if low <= s <= high and (s > start if above else s < start)]
    return found if above else found[::-1]


class Side:
    """The values of one field outwards from the surveyed one, numbered by steps of its instrument."""

    def __init__(self, search: Search, name: str, start: float, end: float, kept: Collection[str] | None) -> None:
        self.search, self.name, self.start, self.end, self.kept = search, name, start, end, kept
        self.entry = search.entry(name)
        self.sign = 1 if end > start else -1
        self.last = steps_between(self.entry, start, end)
        self.looks = LOOKS
        self.doubted: frozenset[str] = frozenset()  # what stands now and the layout that last kept a box from settling

    def value(self, steps: int) -> float:
        """The value so many steps out, the end of the domain at last."""
        return moved(self.entry, self.start, self.sign * steps)

    def nearest(self, within: int | None = None) -> Edge | None:
        """The nearest step at which the advice differs, `within` so many if given."""
        last = self.last if within is None else min(self.last, within)
        steps = self._between(1, last, self.kept) if last else None
        if steps is None:
            return None
        at = text(self.entry, self.value(steps))
        return Edge(at, self._at(at, self.kept), steps)

    def _at(self, answer: str, kept: Collection[str] | None) -> str | None:
        """What is recommended at one value; the same as now where the rest of the survey contradicts it."""
        try:
            changed = self.search.survey.with_changes({self.name: answer})
        except SurveyError:
            return self.search.now
        return quick.recommended(changed, self.search.base, kept)

    def _between(self, near: int, far: int, kept: Collection[str] | None) -> int | None:
        """The first differing step from `near` to `far`; boxes that leave the advice as it is are passed whole."""
        if self.looks <= 0:
            return None
        self.looks -= 1
        if far - near <= 1:  # two points cost no more than the box that holds them and, mostly, one of them
            return next((n for n in (near, far) if self._at(text(self.entry, self.value(n)), kept) != self.search.now),
                        None)
        if not self._doubtful(near, far):
            box = self._box(near, far, kept)
            if box is None or self.search.stays(box):
                return None
            kept, self.doubted = box.kept, self._doubted(box)
        middle = (near + far) // 2
        found = self._between(near, middle, kept)
        return found if found is not None else self._between(middle + 1, far, kept)

    def _box(self, near: int, far: int, kept: Collection[str] | None) -> quick.Outcome | None:
        ends = sorted((self.value(near), self.value(far)))
        return self.search.look({self.name: between(self.entry, *ends)}, kept)

    def _doubtful(self, near: int, far: int) -> bool:
        """Whether a look at what stands now and its last rival alone already says that the box must be halved."""
        return bool(self.doubted) and not self.search.stays(self._box(near, far, self.doubted))

    def _doubted(self, box: quick.Outcome) -> frozenset[str]:
        rivals = sorted((s for s in box.firsts if s.id != self.search.now), key=lambda s: s.best)
        return frozenset(s.id for s in rivals[:1]) | {self.search.now or ""}
