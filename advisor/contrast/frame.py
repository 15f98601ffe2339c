"""What two surveys of one home have in common: sums are worked again only where an answer below them changed.

A what-if question judges hundreds of surveys that list the same places,
outlets and pipes and differ in a few answers. A `Frame` keeps the facts of the
first of them. For another one it works again only what rests on a changed
answer, and says which tests of rules come out differently: layouts for which
none does stand as they stood. No rule reads a number otherwise than by its
tests, and no sum reads what a rule concluded, so nothing is lost by it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from advisor import arrangements as composer
from advisor import checks, ranking, site
from advisor.checks.measure import again
from advisor.facts import ANYTHING, Fact, FactBook, Span, Value, key_of
from advisor.reasoner.tests import decide, resolve
from advisor.records import Arrangement
from advisor.rulebase import Rulebase
from advisor.rulebase.model import Pattern, Rule
from advisor.survey import Survey

Outcomes = tuple[Any, ...]  # of every test of one fact
Differs = frozenset[tuple[str, Outcomes]]
COMMON = "common"
MOST_FRAMES = 4  # kept at once
MOST_CHANGES = 2000  # sets of changed answers whose consequences are remembered, for one frame
_FRAMES: dict[tuple[Any, ...], Frame] = {}


def frame_of(survey: Survey, base: Rulebase) -> Frame:
    """The frame of every survey that lists the same things under the same limits."""
    key = _key(survey, base)
    if key not in _FRAMES:
        while len(_FRAMES) >= MOST_FRAMES:
            del _FRAMES[next(iter(_FRAMES))]
        _FRAMES[key] = Frame(survey, base)
    return _FRAMES[key]


def _key(survey: Survey, base: Rulebase) -> tuple[Any, ...]:
    return (base.sha, tuple(sorted(survey.lists.items())), survey.complete, tuple(sorted(survey.links.items())),
            survey.works_date)


def anchor(survey: Survey, base: Rulebase) -> None:
    """Measure all that follows against this survey: questions about it then differ from it in few answers."""
    frame = frame_of(survey, base)
    if frame.survey.answers != survey.answers:
        _FRAMES[_key(survey, base)] = Frame(survey, base)


def forget() -> None:
    """Start afresh (for tests)."""
    _FRAMES.clear()


def owner_of(fact: Fact) -> str:
    """The arrangement or the heat source a fact is about; what is about neither, all of them share."""
    return fact.entity if fact.sort in ("arrangement", "source") else COMMON


class Tests:
    """Every test any rule or criterion puts to a fact of a name: what cannot change one of them changes no verdict."""

    def __init__(self, base: Rulebase, thresholds: dict[str, float]) -> None:
        self.patterns: dict[str, dict[str, Pattern]] = defaultdict(dict)  # fact name -> test id -> pattern
        self.readers: dict[str, list[Rule]] = defaultdict(list)  # test id -> rules
        self.readers_of_name: dict[str, list[Rule]] = defaultdict(list)
        self.concluders: dict[str, list[Rule]] = defaultdict(list)
        self.limits: dict[str, Any] = {}
        for rule in (r for r in base.rules.values() if r.stratum != "questions"):  # those only list
            self.concluders[rule.conclude.fact].append(rule)
            for pattern in (*rule.when, *rule.unless):
                self.patterns[pattern.fact][pattern.test_id] = pattern
                self.limits[pattern.test_id] = resolve(pattern, thresholds)
                self.readers[pattern.test_id].append(rule)
                self.readers_of_name[pattern.fact].append(rule)
        self.criteria: dict[str, list[Mapping[str, Any]]] = defaultdict(list)
        for criterion in base.ranking["criterion"]:
            self.criteria[criterion["fact"]].append(criterion)
        self.asked = {rule.asks for rule in base.rules.values() if rule.asks}
        self.names = self.patterns.keys() | self.criteria.keys() | self.asked
        self._known: dict[tuple[str, Value, bool], Outcomes] = {}

    def passes(self, pattern: Pattern, value: Value) -> tuple[bool, bool]:
        """Whether a value may pass a rule's test, and whether it must."""
        return decide(pattern.op, self.limits[pattern.test_id], value)

    def outcomes(self, name: str, value: Value, answered: bool) -> Outcomes:
        """What every test makes of this value: of each rule in turn, then of the criteria, then whether it is known."""
        if name not in self.names:
            return ()
        key = (name, value, answered and name in self.asked)
        if key not in self._known:
            if len(self._known) > 50_000:
                self._known.clear()
            tried = [(self.passes(p, value), value if p.bind else None) for p in self.patterns.get(name, {}).values()]
            self._known[key] = (*tried, *(ranking.step_of(value, c) for c in self.criteria.get(name, ())), key[2])
        return self._known[key]

    def different(self, name: str, before: Outcomes, now: Outcomes) -> Iterator[str]:
        """The tests of rules that come out differently."""
        tests = self.patterns.get(name, {})
        return (t for t, x, y in zip(tests, before, now, strict=False) if x != y)


@dataclass
class Frame:
    """The facts of one survey, and for others like it what comes out differently."""

    survey: Survey
    base: Rulebase
    facts: dict[str, Fact] = field(default_factory=dict)  # in the order they were made: inputs first
    own: set[str] = field(default_factory=set)  # arrangements and sources whose facts are here
    first: dict[str, Any] = field(default_factory=dict)  # what `dossier` found of each arrangement on this survey,
    derived: dict[str, dict[str, Fact]] = field(default_factory=dict)  # what the rules derived, by whose it is,
    kept: dict[tuple[str, Differs, Differs, Differs], Any] = field(default_factory=dict)  # what it found on variants,
    parts: dict[frozenset[str], Any] = field(default_factory=dict)  # which rules it ran for them,
    blocks: dict[tuple[str, str], list[frozenset[str]]] = field(default_factory=dict)  # and what kept others still

    def __post_init__(self) -> None:
        self.listed = site.entities(self.survey)
        self.candidates = composer.compose(self.base.families, self.listed["place"])
        self.units = {n: e.unit for n, e in self.base.vocabulary.items()}
        self.place: dict[str, int] = {}  # key -> its turn
        self.users: dict[str, list[str]] = defaultdict(list)  # key -> the sums that read it
        self.below: dict[str, frozenset[str]] = {}  # key -> what its sum reads
        self.named: dict[str, dict[str, list[str]]] = defaultdict(dict)  # owner -> fact name -> keys
        self.again: dict[str, Any] = {}
        self.simulated: set[str] = set()  # survey fields on which a simulation rests
        self.ahead: frozenset[str] | None = None  # `quick`: who may come first on this survey
        self.last: tuple[Survey, Any, Any, Any, Any] | None = None  # the last variant's survey, with what all share
        self.survey_keys: dict[str, str] = {}  # survey field -> key
        self.changes: dict[frozenset[str], dict[str, list[str]]] = {}
        self._learn(())
        self.thresholds = {f.name.removeprefix("threshold."): f.value.lo for f in self.facts.values()
                           if f.made_by == "threshold" and isinstance(f.value, Span)}
        self.tests = Tests(self.base, self.thresholds)
        self.order = {rule: n for n, rule in enumerate(self.base.rules)}
        self.criteria = {c["id"]: c for c in self.base.ranking["criterion"]}
        self.was = {key: self._outcomes(f, f.value) for key, f in self.facts.items()}

    def _outcomes(self, fact: Fact, value: Value, answered: bool | None = None) -> Outcomes:
        return self.tests.outcomes(fact.name, value, site.answered(fact) if answered is None else answered)

    def _learn(self, chosen: Sequence[Arrangement]) -> None:
        """Measure these arrangements on the frame's own survey and keep their facts."""
        book = FactBook()
        site.enter_survey(book, self.survey, self.base, self.listed)
        checks.measure_site(book, self.base, self.survey, self.listed)
        composer.enter_structure(book, self.base.families, chosen, self.units)
        checks.measure(book, self.base, self.survey, self.listed, chosen)
        for key, fact in book.facts.items():
            if key in self.facts:
                continue
            if fact.trust and key not in book.again:
                raise AssertionError(f"{key} is made by a solver and nothing says how to make it again")
            self.facts[key] = fact
            self.place[key] = len(self.place)
            owner = owner_of(fact)
            self.own.add(owner)
            self.named[owner].setdefault(fact.name, []).append(key)
            self.below[key] = frozenset(below for _, below in fact.inputs)
            for _, below in fact.inputs:
                self.users[below].append(key)
            if fact.made_by == "survey":
                self.survey_keys[fact.note] = key
        self.again |= book.again
        self.simulated |= {f for k in book.again if book[k].sort == "arrangement" for f in book[k].rests_on}
        self.changes.clear()
        self.last = None  # it knows nothing of the new arrangements' sums

    def learn(self, chosen: Iterable[Arrangement]) -> None:
        """Know these arrangements too."""
        new = [a for a in chosen if a.id not in self.own]
        if new:
            before = len(self.facts)
            self._learn(new)
            for key in list(self.facts)[before:]:
                self.was[key] = self._outcomes(self.facts[key], self.facts[key].value)

    def variant(self, survey: Survey, chosen: Sequence[Arrangement], exact: Collection[str] | None = None) -> Variant:
        """What comes out differently on a survey that lists the same.

        What a simulation says of an arrangement is taken as "anything" where it would have to run anew, but for
        those in `exact` (all by default): enough to see which cannot come first whatever it said.
        """
        self.learn(chosen)
        return Variant(self, survey, chosen, exact)

    def moved(self, survey: Survey) -> set[str]:
        """The fields whose answers differ, where a simulation rests on one of them."""
        fields = set(self.otherwise(survey))
        return fields if fields & self.simulated else set()

    def otherwise(self, survey: Survey) -> list[str]:
        """The fields answered otherwise than on the frame's own survey."""
        old, new = self.survey.answers, survey.answers
        return [n for n, now in new.items() if old.get(n) is not now] + [n for n in old if n not in new]

    def affected(self, changed: frozenset[str]) -> dict[str, list[str]]:
        """The sums that rest on these facts, by whose they are, in the order they are made."""
        if changed not in self.changes:
            if len(self.changes) >= MOST_CHANGES:
                self.changes.clear()
            reached: set[str] = set()
            waiting = list(changed)
            while waiting:
                for key in self.users.get(waiting.pop(), ()):
                    if key not in reached:
                        reached.add(key)
                        waiting.append(key)
            sums: dict[str, list[str]] = defaultdict(list)
            for key in sorted(reached, key=self.place.__getitem__):
                sums[owner_of(self.facts[key])].append(key)
            self.changes[changed] = sums
        return self.changes[changed]


class Variant:
    """One survey of a frame: the values that differ from the frame's own, and the tests that come out differently."""

    def __init__(self, frame: Frame, survey: Survey, chosen: Sequence[Arrangement],
                 exact: Collection[str] | None = None) -> None:
        self.frame, self.exact = frame, exact
        if frame.last is None or frame.last[0] is not survey:  # a closer look asks of the same survey again
            self.changed = dict(self._answers(survey))
            self.values: dict[str, Value] = {k: f.value for k, f in self.changed.items()}
            self.sums = frame.affected(frozenset(self.changed))
            self.common = self._differs(COMMON, [k for k in self.changed])
            frame.last = survey, self.changed, dict(self.values), self.sums, self.common
        else:
            _, self.changed, values, self.sums, self.common = frame.last
            self.values = dict(values)
        self.by_source = {s: self._differs(s) for s in sorted({a.source for a in chosen})}

    def _answers(self, survey: Survey) -> Iterable[tuple[str, Fact]]:
        """Survey facts whose value differs, or which are answered where they were not."""
        frame = self.frame
        for name in frame.otherwise(survey):
            key = frame.survey_keys.get(name)
            if key is None:
                continue
            fact = frame.facts[key]
            made = site.survey_fact(fact.name, frame.base.vocabulary[fact.name], fact.entity, survey)
            if made.value != fact.value or (made.how == "default") != (fact.how == "default"):
                yield key, made

    def differs(self, arrangement: Arrangement) -> tuple[Differs, Differs, Differs]:
        """The tests that come out differently for one arrangement: of what all share, of its source, of its own."""
        return self.common, self.by_source[arrangement.source], self._differs(arrangement.id)

    def _differs(self, owner: str, given: Iterable[str] = ()) -> Differs:
        """Work the owner's sums again; its facts of which some test comes out differently."""
        frame, found, moved = self.frame, [], self.values.keys()
        for key in given:
            now = self.changed[key]
            outcomes = frame._outcomes(now, now.value)
            if outcomes != frame.was[key]:
                found.append((key, outcomes))
        for key in self.sums.get(owner, ()):
            if moved.isdisjoint(frame.below[key]):
                continue
            fact = frame.facts[key]
            value = self._worked(key, fact)
            if value != fact.value:
                self.values[key] = value
                outcomes = frame._outcomes(fact, value)
                if outcomes != frame.was[key]:
                    found.append((key, outcomes))
        return frozenset(found)

    def _worked(self, key: str, fact: Fact) -> Value:
        if key in self.frame.again:
            if self.exact is not None and fact.sort == "arrangement" and fact.entity not in self.exact:
                return ANYTHING
            return self.frame.again[key](self)
        return again(fact.made_by.removeprefix("calc."), fact.inputs, self._value)

    def _value(self, key: str) -> Value:
        return self.values[key] if key in self.values else self.frame.facts[key].value

    def value(self, name: str, entity: str = "site") -> Value:
        """The value set of a fact, as `Measure.value`."""
        return self._value(key_of(name, entity))

    def moved(self, name: str, entity: str) -> bool:
        """Whether the fact of a name about an entity has another value here."""
        return key_of(name, entity) in self.values

    def about(self, name: str, entity: str) -> Fact | None:
        """The fact of a name about an entity, as it is on this survey."""
        key = key_of(name, entity)
        if key in self.changed:
            return self.changed[key]
        fact = self.frame.facts.get(key)
        return replace(fact, value=self.values[key]) if fact is not None and key in self.values else fact

    def book(self, chosen: Sequence[Arrangement], names: Collection[str]) -> FactBook:
        """The facts of these names about these arrangements and all they share."""
        frame, book = self.frame, FactBook()
        for owner in (COMMON, *sorted({a.source for a in chosen}), *(a.id for a in chosen)):
            by_name = frame.named[owner]
            for name in by_name if len(by_name) < len(names) else names:
                for key in by_name.get(name, ()) if name in names else ():
                    fact = self.changed.get(key) or frame.facts[key]
                    book.add(replace(fact, value=self.values[key])
                             if key in self.values and key not in self.changed else fact)
        return book
