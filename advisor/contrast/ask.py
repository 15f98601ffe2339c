"""What to measure next: the open answers on which the recommendation may turn, and proof that the rest cannot turn it.

The survey with its gaps is a box; one evaluation names the arrangements that
may come first in it and the fields their order rests on. The box is cut at
those fields, one after another, until every part recommends one thing; cuts
whose parts agree are undone. Whoever answers the fields still cut at knows the
recommendation, whatever all others are: that is the proof for what need not be
measured. Where the budget ends first, what is still open is asked.
"""

from __future__ import annotations

import itertools
from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from advisor.contrast import quick
from advisor.contrast.frame import anchor
from advisor.contrast.once import once
from advisor.contrast.unknowns import CONFIRMED, between, choices, text, unknown_fields
from advisor.facts import Span
from advisor.records import Advice
from advisor.survey import Survey, SurveyError

PARTS = 4  # pieces a range of numbers is cut into
AT_ONCE = 8  # questions asked in one list; of more, those to begin with are told apart
BUDGET = 1000  # arrangements judged to prove fields irrelevant, all boxes together
OVERHEAD = 4  # what judging a box costs beside its arrangements, in arrangements


@dataclass(frozen=True, slots=True)
class Asked:
    """A measurement that may change the advice, and to what."""

    field: str
    tool: str
    minutes: float
    could_change_to: tuple[str, ...]
    could_leave_nothing: bool


@dataclass(frozen=True, slots=True)
class Ask:
    """The list in order, what is certain already, and the fields proved unable to change the advice."""

    settled: bool  # nothing is left to ask: every completion recommends what the survey does as it stands
    recommended: str | None
    unknown: tuple[str, ...]
    asks: tuple[Asked, ...]
    need_not: tuple[str, ...]
    out: tuple[str, ...]  # kinds of layout certainly ruled out: their best variant's id
    never_first: tuple[str, ...]  # kinds of layout that come first whatever the answers are: never
    visit: Visit | None = None  # where many are asked: which of them to begin with


@dataclass(frozen=True, slots=True)
class Visit:
    """The answers to get first: were each the usual one, they would settle the advice; none of them can be spared."""

    fields: tuple[str, ...]  # the most telling first
    would_recommend: str | None


@once
def ask(advice: Advice) -> Ask:
    """The shortest list the proofs leave, most telling first."""
    search = _Search(advice)
    wanted = search.wanted()
    visit = search.visit(wanted) if len(wanted) > AT_ONCE else None
    if visit is not None:
        wanted = (*visit.fields, *(f for f in wanted if f not in visit.fields))
    first = {s.arrangement.family for s in search.top.firsts}
    families = advice.families()
    return Ask(not wanted, advice.recommended, tuple(search.unknown), tuple(search.asked(f) for f in wanted),
               tuple(f for f in search.unknown if f not in wanted and not f.startswith(CONFIRMED)),
               tuple(j.id for j in families if j.verdict == "ruled_out"),
               tuple(j.id for j in families if j.verdict != "ruled_out" and j.arrangement.family not in first),
               visit)


@dataclass
class _Node:
    """A box of surveys: settled, cut at a field, or left as it is because the limit came first."""

    survey: Survey
    box: quick.Outcome
    cut_at: str = ""
    parts: list[_Node] = field(default_factory=list)

    def collapse(self) -> frozenset[str | None]:
        """Undo every cut whose parts all recommend the same; what may be recommended in this box."""
        if not self.parts:
            return self.box.options
        found = frozenset().union(*(p.collapse() for p in self.parts))
        if len(found) == 1:
            self.parts, self.cut_at = [], ""
            self.box = replace(self.box, only=found)
        return found

    def walk(self, depth: int = 0) -> Iterator[tuple[int, _Node]]:
        yield depth, self
        for part in self.parts:
            yield from part.walk(depth + 1)


class _Search:
    """The survey's box, cut until each part recommends one thing: the fields still cut at are all that can matter."""

    def __init__(self, advice: Advice) -> None:
        self.advice, self.base, self.survey = advice, advice.rulebase, advice.survey
        anchor(self.survey, self.base)
        self.unknown = unknown_fields(advice.survey)
        self.top = quick.outcome(self.survey, self.base, free=self.unknown)
        self.root = _Node(self.survey, self.top)
        self._grow()
        self.found = self.root.collapse()

    def _grow(self) -> None:
        """Cut the largest parts first until all are settled or the budget is spent."""
        budget = BUDGET
        queue = deque([self.root])
        while queue and budget > 0:
            node = queue.popleft()
            if node.box.settled:
                continue
            node.cut_at = self._handiest(node)
            for piece in pieces(node.survey, node.cut_at):
                try:
                    part = node.survey.with_changes({node.cut_at: piece})
                except SurveyError:
                    continue  # contradicts another answer: no home is like that
                budget -= len(node.box.stand) + OVERHEAD
                node.parts.append(_Node(part, quick.outcome(part, self.base, node.box.kept, unknown_fields(part))))
            queue.extend(node.parts)

    @staticmethod
    def _handiest(node: _Node) -> str:
        """Words first (they split for good), then what most layouts rest on, the widest range, the quickest."""

        def size(name: str) -> tuple[bool, float, float, str]:
            value, entry = node.survey.value(name), node.survey.fields.entry(name)
            assert entry is not None
            number = isinstance(value, Span)
            width = (value.hi - value.lo) / (entry.domain[1] - entry.domain[0]) if number else 1.0
            rest_on_it = sum(name in s.undecided for s in node.box.stand)
            return number, -rest_on_it * width, entry.minutes, name

        return min(node.box.undecided, key=size)

    def wanted(self) -> tuple[str, ...]:
        """The fields cut at, and those still open where the budget ran out; the earliest cut first."""
        depths: dict[str, int] = {}
        for depth, node in self.root.walk():
            for name in [node.cut_at] if node.parts else [] if node.box.settled else sorted(node.box.undecided):
                depths[name] = min(depths.get(name, depth), depth)
        if not depths and self.found != {self.advice.recommended}:
            return tuple(sorted(self.top.undecided))  # the gaps themselves, not any answer, hold the advice back
        return tuple(sorted(depths, key=lambda f: (depths[f], self._minutes(f), f)))

    def visit(self, wanted: tuple[str, ...]) -> Visit | None:
        """A smallest set of the questions whose usual answers settle the advice: begin with these."""
        usual = {f: t for f in wanted if (t := self._usual(f))}
        if self._with(usual) is None:
            return None
        for name in sorted(usual, key=lambda f: (-self._minutes(f), f)):  # spare the long ones first
            if self._with({f: t for f, t in usual.items() if f != name}) is not None:
                del usual[name]
        telling = {f: (self._left({f: usual[f]}), self._minutes(f), f) for f in usual}
        (found,) = self._box(usual).options
        return Visit(tuple(sorted(usual, key=telling.__getitem__)), found)

    def _usual(self, name: str) -> str:
        """The usual answer, "" where there is none; a confirmation is usually given."""
        entry = self.survey.fields.entry(name)
        if name.startswith(CONFIRMED):
            return "yes"
        if entry is None or entry.typical is None:
            return ""
        return str(entry.typical) if entry.kind == "words" else text(entry, float(entry.typical))

    def _box(self, answers: Mapping[str, str]) -> quick.Outcome:
        survey = self.survey.with_changes(answers)
        return quick.outcome(survey, self.base, self.top.kept, unknown_fields(survey))

    def _with(self, answers: Mapping[str, str]) -> quick.Outcome | None:
        """The outcome once these are answered, where that settles it."""
        try:
            box = self._box(answers)
        except SurveyError:
            return None
        return box if box.settled else None

    def _left(self, answers: Mapping[str, str]) -> tuple[int, int]:
        """What is still open after these answers: kinds of layout that may come first, fields that may decide."""
        try:
            box = self._box(answers)
        except SurveyError:
            return 999, 999
        return len({s.arrangement.family for s in box.firsts}), len(box.undecided)

    def _minutes(self, name: str) -> float:
        entry = self.survey.fields.entry(name)
        return entry.minutes if entry is not None else 0.0

    def asked(self, name: str) -> Asked:
        """The question with what its answers could lead to."""
        entry = self.survey.fields.entry(name)
        assert entry is not None
        nodes = [n for _, n in self.root.walk() if n.cut_at == name or (not n.parts and name in n.box.undecided)]
        reached = frozenset().union(*(n.collapse() for n in nodes)) if nodes else self.found
        others = sorted(o for o in reached if o is not None and o != self.advice.recommended)
        return Asked(name, entry.tool, entry.minutes, tuple(others), None in reached)


def pieces(survey: Survey, name: str) -> Iterator[str]:
    """Texts that together cover everything a field may be: each word, or equal parts of a range of numbers."""
    value = survey.value(name)
    if not isinstance(value, Span):
        yield from choices(survey, name)
        return
    entry = survey.fields.entry(name)
    assert entry is not None
    if not entry.unit and value.hi - value.lo < 2 * PARTS:  # counts, one by one
        yield from (str(n) for n in range(int(value.lo), int(value.hi) + 1))
        return
    width = (value.hi - value.lo) / PARTS
    inner = [float(f"{value.lo + i * width:.4g}") for i in range(1, PARTS)]
    ends = [value.lo, *(inner if entry.unit else (float(int(e)) for e in inner)), value.hi]
    for low, high in itertools.pairwise(ends):
        yield between(entry, low, high)
