"""The edges close by, for a report, and the nearest pair of readings that change the advice only together.

Both look no farther than so many steps of each instrument, and say how far
they looked. Nothing is sampled: a window that leaves the advice as it is is
passed whole, the rest is halved down to single steps.
"""

from __future__ import annotations

import heapq
import itertools
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from advisor.contrast import quick
from advisor.contrast.flips import Flip, Search, Side, moved
from advisor.contrast.once import once
from advisor.contrast.spread import spread
from advisor.contrast.unknowns import between, text
from advisor.facts import Span
from advisor.records import Advice
from advisor.survey import SurveyError

WINDOW = 10  # steps of its instrument by which one reading is moved for the report
PAIR_WINDOW = 4  # steps by which two readings are moved together
PAIR_LOOKS = 1500  # boxes judged before the search for pairs says that it has not covered them all


@dataclass(frozen=True, slots=True)
class Near:
    """The readings whose edge lies within `within` steps, the nearest first; every other one is proved to have none."""

    fields: tuple[Flip, ...]
    within: int


@dataclass(frozen=True, slots=True)
class Pair:
    """Two readings that change the advice together, though neither alone does within `within` steps."""

    fields: tuple[str, str]
    at: tuple[str, str]
    steps: tuple[int, int]
    to: str | None


@dataclass(frozen=True, slots=True)
class Pairs:
    """The nearest pair, or None; `covered` where every pair within so many steps was judged."""

    nearest: Pair | None
    within: int
    readings: int  # how many were paired
    covered: bool


@once
def near(advice: Advice) -> Near:
    """The edges within the window, for "this holds as long as"."""
    return Near(_edges(Search(advice), WINDOW), WINDOW)


def readings(search: Search) -> list[str]:
    """The answers that an instrument gave: numbers with a unit."""
    return [n for n, a in search.survey.answers.items()
            if isinstance(a.value, Span) and (entry := search.survey.fields.entry(n)) is not None and entry.unit]


def _edges(search: Search, within: int) -> tuple[Flip, ...]:
    names = [n for n, a in search.survey.answers.items() if isinstance(a.value, Span) and not n.startswith("wishes.")]
    left, kept = _loose(search, names, within)
    found = [flip for flip in spread(lambda name: _edge(search, name, within, kept), left) if flip.turns]
    return tuple(sorted(found, key=lambda f: (f.steps or 0, f.field)))


def _edge(search: Search, name: str, within: int, kept: Collection[str] | None) -> Flip:
    """The edges of one reading within the window."""
    answer, entry = search.survey.answers[name], search.entry(name)
    assert isinstance(answer.value, Span)
    box = search.look(_window(search, [name], within), kept)
    if box is None or search.stays(box):
        return Flip(name, answer.read)
    below, above = (Side(search, name, start, end, box.kept).nearest(within) for start, end in zip(
        (answer.value.lo, answer.value.hi), entry.domain, strict=True))
    return Flip(name, answer.read, below, above)


def _window(search: Search, names: Collection[str], within: int) -> dict[str, str]:
    return {n: search.around(n, within) for n in names}


def _loose(search: Search, names: Sequence[str], within: int) -> tuple[list[str], Collection[str] | None]:
    """The readings not proved to leave the advice with all of them anywhere in their windows; who may come first."""
    box = search.look(_window(search, names, within)) if names else None
    if box is None:  # together they may contradict each other
        return list(names), None
    return ([] if search.stays(box) else [n for n in names if n in box.undecided]), box.kept


def _turning(search: Search, names: Sequence[str], within: int) -> Mapping[str, Collection[str]]:
    """The readings that alone, within the window, are not proved to leave the advice."""
    left, kept = _loose(search, names, within)
    alone = {n: search.look(_window(search, [n], within), kept) for n in left}
    return {n: b.kept for n, b in alone.items() if b is not None and not search.stays(b)}


@once
def pairs(advice: Advice) -> Pairs:
    """The two readings that change the advice together by the fewest steps, though neither does by itself."""
    search = Search(advice)
    names = readings(search)
    alone = _turning(search, names, PAIR_WINDOW)
    left = [n for n in names if n not in alone]
    box = search.look(_window(search, left, PAIR_WINDOW)) if len(left) > 1 else None
    if box is None or search.stays(box):
        return Pairs(None, PAIR_WINDOW, len(left), True)
    hunt = _Hunt(search, box)
    return Pairs(hunt.nearest([n for n in left if n in box.undecided]), PAIR_WINDOW, len(left), hunt.looks > 0)


Corner = tuple[tuple[int, int], tuple[int, int]]  # steps from and to, of both readings, signed


class _Hunt:
    """Nearest first: boxes of two readings, by the fewest steps in them, halved until one point is left."""

    def __init__(self, search: Search, box: quick.Outcome) -> None:
        self.search, self.kept, self.looks = search, box.kept, PAIR_LOOKS

    def nearest(self, names: Sequence[str]) -> Pair | None:
        ends = (-PAIR_WINDOW, PAIR_WINDOW)
        left = {frozenset(pair) for pair in self._open(names, self.kept)}
        queue: list[tuple[int, tuple[str, str], Corner]] = [
            (0, pair, (ends, ends)) for pair in itertools.combinations(names, 2) if frozenset(pair) in left]
        while queue and self.looks > 0:
            _, pair, corner = heapq.heappop(queue)
            changes = {n: self._text(n, c) for n, c in zip(pair, corner, strict=True)}
            if not self._turns(changes, corner):
                continue
            if all(low == high for low, high in corner):
                return Pair(pair, (changes[pair[0]], changes[pair[1]]), (abs(corner[0][0]), abs(corner[1][0])),
                            self._recommended(changes))
            for part in _halves(corner):
                heapq.heappush(queue, (sum(_least(c) for c in part), pair, part))
        return None

    def _open(self, names: Sequence[str], kept: Collection[str]) -> Iterator[tuple[str, str]]:
        """The pairs not settled by windows of many readings at once; what a window leaves as it is, its pairs leave."""
        if len(names) <= 2:
            yield from itertools.combinations(names, 2)
        elif (left := self._left(names, kept)) is not None:
            first, second = names[::2], names[1::2]
            yield from self._open(first, left)
            yield from self._open(second, left)
            yield from self._across(first, second, left)

    def _across(self, first: Sequence[str], second: Sequence[str], kept: Collection[str]) -> Iterator[tuple[str, str]]:
        """`_open` for pairs of one reading of each."""
        if len(first) == len(second) == 1:
            yield first[0], second[0]
        elif (left := self._left([*first, *second], kept)) is not None:
            longer, other = sorted((first, second), key=len, reverse=True)
            for part in (longer[::2], longer[1::2]):
                yield from self._across(part, other, left)

    def _left(self, names: Sequence[str], kept: Collection[str]) -> Collection[str] | None:
        """The layouts that may matter within the window of these readings; None where it leaves the advice as it is."""
        self.looks -= 1
        box = self.search.look(_window(self.search, names, PAIR_WINDOW), kept)
        if box is None:  # together they contradict each other; a part of them may not
            return kept
        return None if self.search.stays(box) else box.kept

    def _turns(self, changes: Mapping[str, str], corner: Corner) -> bool:
        self.looks -= 1
        if all(low == high for low, high in corner):
            return self._recommended(changes) != self.search.now
        box = self.search.look(changes, self.kept)
        return box is not None and not self.search.stays(box)

    def _recommended(self, changes: Mapping[str, str]) -> str | None:
        try:
            return quick.recommended(self.search.survey.with_changes(changes), self.search.base, self.kept)
        except SurveyError:
            return self.search.now

    def _text(self, name: str, steps: tuple[int, int]) -> str:
        """The reading moved by these steps; where it is a range, its own end is moved."""
        entry, value = self.search.entry(name), self.search.survey.value(name)
        assert isinstance(value, Span)
        at = [moved(entry, value.hi if n > 0 else value.lo, n) for n in steps]
        if steps[0] <= 0 <= steps[1]:
            at = [min(at[0], value.lo), max(at[1], value.hi)]
        return text(entry, at[0]) if at[0] == at[1] else between(entry, *at)


def _least(steps: tuple[int, int]) -> int:
    return 0 if steps[0] <= 0 <= steps[1] else min(abs(s) for s in steps)


def _halves(corner: Corner) -> list[Corner]:
    """Cut the longer side in two; the unmoved reading is a part of its own."""
    first, second = corner
    if first[1] - first[0] < second[1] - second[0]:
        return [(a, b) for b, a in _halves((second, first))]
    low, high = first
    if low < 0 < high:
        return [((low, -1), second), ((0, 0), second), ((1, high), second)]
    middle = (low + high) // 2
    return [((low, middle), second), ((middle + 1, high), second)]
