"""Runs the rules stratum by stratum: absences made facts, possible found by a matcher, certain by one pass after it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from advisor.facts import Fact, FactBook, exactly, key_of, weakest
from advisor.reasoner.program import ABSENT, Compiled, Hold, Matcher, bindings, compile_rules
from advisor.reasoner.tests import decide, resolve
from advisor.records import Firing
from advisor.rulebase import Rulebase
from advisor.rulebase.model import STRATA, Pattern

Test = tuple[str, float | tuple[str, ...] | None, str]  # comparison, its limit, the variable that takes the word


class ConflictError(ValueError):
    """Two rules certainly conclude different words where only one can be true."""


@dataclass
class Session:
    """One run's growing conclusions: the book, every firing, and the proof shown for each derived fact."""

    base: Rulebase
    book: FactBook
    thresholds: Mapping[str, float]
    entities: Mapping[str, Iterable[str]]
    firings: list[Firing] = field(default_factory=list)
    canonical: dict[str, Firing] = field(default_factory=dict)
    depth: dict[str, int] = field(default_factory=dict)

    def judge(self, strata: Iterable[str], matcher: Matcher) -> None:
        """Run these strata in order; conclusions enter the book, firings are kept."""
        for stratum in strata:
            self.run(stratum, _program(self.base, stratum), matcher)

    def run(self, stratum: str, program: tuple[Compiled, ...], matcher: Matcher) -> None:
        """Run some rules of one stratum."""
        if program:
            _Stratum(self, stratum, program).run(matcher)


_PROGRAMS: dict[tuple[str, str], tuple[Compiled, ...]] = {}


def _program(base: Rulebase, stratum: str) -> tuple[Compiled, ...]:
    """The compiled rules of a stratum, the same object for the same rule base (the engine keeps its rulesets)."""
    key = (base.sha, stratum)
    if key not in _PROGRAMS:
        if len(_PROGRAMS) > 70:
            _PROGRAMS.clear()
        _PROGRAMS[key] = compile_rules(r for r in base.rules.values() if r.stratum == stratum)
    return _PROGRAMS[key]


class _Stratum:
    """One stratum of one run."""

    def __init__(self, session: Session, stratum: str, program: tuple[Compiled, ...]):
        self.session, self.stratum, self.program = session, stratum, program
        self.tests: dict[str, dict[str, Test]] = defaultdict(dict)  # fact name -> test id -> test
        for compiled in program:
            for pattern in compiled.rule.when:
                self.tests[pattern.fact][pattern.test_id] = (
                    pattern.op, resolve(pattern, session.thresholds), pattern.bind)
        self.instances: dict[tuple[str, tuple[str, ...], str], tuple[Compiled, tuple[Hold, ...], str]] = {}
        self.made: dict[str, tuple[str, str, str, str]] = {}  # key -> name, sort, entity, word

    def run(self, matcher: Matcher) -> None:
        holds = self._given() + self._absences()
        matcher.run(self.program, holds, self._conclude)
        certain = self._certain()
        self._refuse_conflicts(certain)
        self._enter(certain)

    def _holds(self, fact: Fact) -> list[Hold]:
        """Every test of this stratum the fact may pass; a bound variable takes each word it may be."""
        found = []
        for test_id, (op, limit, bind) in self.tests.get(fact.name, {}).items():
            possible, certain = decide(op, limit, fact.value)
            if not possible:
                continue
            if not bind:
                found.append(Hold(test_id, fact.entity, "", fact.key, certain and fact.certain))
                continue
            options = sorted(fact.value.words)
            found += [Hold(test_id, fact.entity, w, fact.key, certain and fact.certain and len(options) == 1)
                      for w in options]
        return found

    def _given(self) -> list[Hold]:
        book = self.session.book
        return [hold for name in sorted(self.tests) for facts in book.of(name).values()
                for fact in facts for hold in self._holds(fact)]

    def _absences(self) -> list[Hold]:
        """A fact of absence where no certain fact passes the test; certain where none even may."""
        wanted = {p.test_id: p for compiled in self.program for p in compiled.rule.unless}
        found = []
        for test_id in sorted(wanted):
            pattern = wanted[test_id]
            sort = self.session.base.vocabulary[pattern.fact].sort
            for entity in self.session.entities.get(sort, ()):
                hold = self._absence(pattern, sort, entity)
                if hold is not None:
                    found.append(hold)
        return found

    def _absence(self, pattern: Pattern, sort: str, entity: str) -> Hold | None:
        book = self.session.book
        facts = book.of(pattern.fact).get(entity, [])
        limit = resolve(pattern, self.session.thresholds)
        marks = [(decide(pattern.op, limit, f.value), f.certain) for f in facts]
        if any(certain and sure for (_, certain), sure in marks):
            return None
        name = ABSENT + pattern.test_id
        key = key_of(name, entity)
        certain = not any(possible for (possible, _), _ in marks)
        if key not in book:
            rests = frozenset().union(*(f.rests_on for f in facts)) if facts else frozenset()
            book.add(Fact(key, name, sort, entity, exactly("yes"), certain=certain, made_by="absence",
                          how=weakest(f.how for f in facts), rests_on=rests, because=tuple(f.key for f in facts)))
            self.session.depth[key] = max((self.session.depth.get(f.key, 0) for f in facts), default=0)
        return Hold(name, entity, "", key, certain)

    def _conclude(self, compiled: Compiled, premises: tuple[Hold, ...]) -> list[Hold]:
        rule = compiled.rule
        bound = bindings(compiled, premises)
        entity = bound[rule.conclude.of]
        key = key_of(rule.conclude.fact, entity, rule.conclude.word)
        mark = (rule.id, tuple(h.key for h in premises), key)
        if mark in self.instances:
            return []
        self.instances[mark] = (compiled, premises, key)
        if key in self.made or key in self.session.book:
            return []
        sort = self.session.base.vocabulary[rule.conclude.fact].sort
        self.made[key] = (rule.conclude.fact, sort, entity, rule.conclude.word)
        fact = Fact(key, rule.conclude.fact, sort, entity, exactly(rule.conclude.word))
        return self._holds(fact)

    def _certain(self) -> set[str]:
        """Keys made certain: the least set in which a conclusion has an instance all of whose premises are certain."""
        certain: set[str] = set()
        growing = True
        while growing:
            growing = False
            for _, premises, key in self.instances.values():
                if key not in certain and all(self._sure(h, certain) for h in premises):
                    certain.add(key)
                    growing = True
        return certain

    def _sure(self, hold: Hold, certain: set[str]) -> bool:
        return hold.certain and (hold.key not in self.made or hold.key in certain)

    def _refuse_conflicts(self, certain: set[str]) -> None:
        words: dict[tuple[str, str], dict[str, set[str]]] = defaultdict(lambda: defaultdict(set))
        for compiled, _, key in self.instances.values():
            if key in certain and key in self.made:
                name, _, entity, word = self.made[key]
                words[name, entity][word].add(compiled.rule.id)
        for (name, entity), by_word in sorted(words.items()):
            if len(by_word) > 1 and self.session.base.vocabulary[name].single:
                rules = sorted(r for ids in by_word.values() for r in ids)
                raise ConflictError(
                    f"rules {' and '.join(repr(r) for r in rules)} both decide {name} of {entity} "
                    f"({', '.join(sorted(by_word))}). Add exception_to to the narrower one, "
                    "or make one condition exclude the other.")

    def _enter(self, certain: set[str]) -> None:
        """Firings in topological order, facts with their shown proof, into the session."""
        session = self.session
        ordered = [Firing(self.stratum, rule, premises, key, all(self._sure(h, certain) for h in holds))
                   for (rule, premises, key), (_, holds, _) in sorted(self.instances.items(), key=lambda i: i[0])]
        shown = _shown_proofs(ordered, session.depth)
        rests = self._rests(ordered)
        for key in sorted(self.made, key=lambda k: (session.depth[k], k)):
            session.book.add(self._fact(key, shown[key], key in certain, rests[key]))
        session.canonical.update({k: f for k, f in shown.items() if k in self.made})
        session.firings += sorted(ordered, key=lambda f: (
            max((session.depth.get(p, 0) for p in f.premises), default=0), f.rule, f.premises, f.conclusion))

    def _rests(self, ordered: list[Firing]) -> dict[str, frozenset[str]]:
        """The survey fields each new conclusion rests on, through every instance that makes it."""
        book = self.session.book
        rests: dict[str, frozenset[str]] = {key: frozenset() for key in self.made}
        growing = True
        while growing:
            growing = False
            for firing in ordered:
                if firing.conclusion not in rests:
                    continue
                below = (rests[p] if p in rests else book[p].rests_on for p in firing.premises)
                joined = rests[firing.conclusion].union(*below)
                if joined != rests[firing.conclusion]:
                    rests[firing.conclusion], growing = joined, True
        return rests

    def _fact(self, key: str, proof: Firing, certain: bool, rests: frozenset[str]) -> Fact:
        name, sort, entity, word = self.made[key]
        known = [self.session.book[p].how for p in proof.premises]
        return Fact(key, name, sort, entity, exactly(word), certain=certain, how=weakest(known),
                    made_by=f"rule.{proof.rule}", because=proof.premises, rests_on=rests)


def _shown_proofs(firings: list[Firing], depth: dict[str, int]) -> dict[str, Firing]:
    """For each conclusion the proof to show: certain before possible, then least depth, rule id, premises.

    What is certain is proved from certain instances alone, then the rest from all of them. Each conclusion lies deeper
    than its premises, so no proof rests on itself, whatever circles the rules make.
    """
    shown: dict[str, Firing] = {}
    local: dict[str, int] = {}
    for chosen in ([f for f in firings if f.certain], firings):
        _nearest(chosen, set(shown), depth, local, shown)
    for key, reach in local.items():
        depth.setdefault(key, reach)
    return shown


def _nearest(firings: list[Firing], settled: set[str], depth: dict[str, int], local: dict[str, int],
             shown: dict[str, Firing]) -> None:
    """Relax depths over these firings until none gets less; conclusions in `settled` keep theirs."""
    best: dict[str, tuple[int, str, tuple[str, ...]]] = {}
    waiting = [f for f in firings if f.conclusion not in settled]
    made_here = {f.conclusion for f in firings} - depth.keys()  # a given fact lies at depth 0
    changing = True
    while changing:
        changing = False
        for firing in waiting:
            if any(p in made_here and p not in local for p in firing.premises):
                continue
            below = (local.get(p, depth.get(p, 0)) for p in firing.premises)
            rank = (1 + max(below, default=0), firing.rule, firing.premises)
            if firing.conclusion not in best or rank < best[firing.conclusion]:
                best[firing.conclusion], shown[firing.conclusion] = rank, firing
                local[firing.conclusion] = rank[0]
                changing = True


def all_strata() -> tuple[str, ...]:
    """The seven strata in order."""
    return STRATA
