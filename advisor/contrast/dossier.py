"""What the rules say of an arrangement, judged again only where a test came out differently.

A frame's own survey is judged once by all rules. For a variant of it the rules
that read something that came out differently are run again, with those that
read what these conclude, and so on; every other finding stands as it stood.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from advisor import ranking, reasoner, verdicts
from advisor.advise import AFTER, BEFORE
from advisor.contrast.frame import COMMON, Differs, Frame, Variant, owner_of
from advisor.facts import Fact, FactBook, key_of
from advisor.reasoner.program import Compiled, compile_rules
from advisor.records import Arrangement, Finding
from advisor.rulebase import Rulebase
from advisor.rulebase.model import Rule
from advisor.survey import Survey
from advisor.verdicts import Fate

STRATA = (*BEFORE, *(s for s in AFTER if s != "questions"))  # the questions only list; they decide nothing
MOST_KEPT = 60_000  # dossiers of one frame
Fields = frozenset[str]


@dataclass(frozen=True, slots=True)
class Dossier:
    """One arrangement's findings, with the survey fields on which each part of them rests."""

    arrangement: Arrangement
    fate: Fate
    rests: Mapping[str, Fields]  # finding key -> fields
    waiting: tuple[tuple[Finding, Fields], ...]  # unanswered questions, and the fields that answer each
    base_steps: Mapping[str, tuple[int, int, Fields]]  # criterion -> best, worst step of its fact, its fields
    loose: Fields  # every field on which something here may still turn
    standings: dict[Any, Any] = field(default_factory=dict, compare=False)  # `quick` keeps its own here


def dossiers(frame: Frame, survey: Survey, chosen: Sequence[Arrangement],
             exact: Collection[str] | None = None) -> list[Dossier]:
    """Each arrangement's dossier on this survey; rules run for those only that no earlier survey had alike."""
    variant = frame.variant(survey, chosen, exact)
    keys = {a.id: (a.id, *variant.differs(a)) for a in chosen}
    new = [a for a in chosen if keys[a.id] not in frame.kept]
    if len(frame.kept) + len(new) > MOST_KEPT:
        frame.kept.clear()
        new = list(chosen)
    if unseen := [a for a in new if a.id not in frame.first]:
        _first(frame, unseen)
    groups: dict[frozenset[str], list[Arrangement]] = defaultdict(list)  # those for which the same rules run again
    for a in new:
        groups[_touched(frame, a, frozenset().union(*keys[a.id][1:]))].append(a)
    for rules, group in groups.items():
        for dossier in _again(frame, variant, group, _part(frame, rules)):
            frame.kept[keys[dossier.arrangement.id]] = dossier
    return [frame.kept[keys[a.id]] for a in chosen]


@dataclass(frozen=True, slots=True)
class Part:
    """Some rules, ready to run: all that conclude anything of a name that one of them concludes."""

    rules: frozenset[str]
    programs: Mapping[str, tuple[Compiled, ...]]  # by stratum
    reads: frozenset[str]
    concludes: frozenset[str]


def _part(frame: Frame, rules: frozenset[str]) -> Part:
    if rules not in frame.parts:
        chosen = [frame.base.rules[r] for r in rules]
        frame.parts[rules] = Part(
            rules, {s: compile_rules(r for r in chosen if r.stratum == s) for s in STRATA},
            frozenset(p.fact for r in chosen for p in (*r.when, *r.unless)), frozenset(r.conclude.fact for r in chosen))
    return frame.parts[rules]


def _touched(frame: Frame, a: Arrangement, differs: Differs) -> frozenset[str]:
    """The rules that may conclude otherwise about an arrangement: they read a test that comes out differently.

    With them go the rules that read what they conclude, and those that conclude the same. Left out are rules that
    something unchanged keeps from firing: they concluded nothing and still do.
    """
    tests, keys = frame.tests, {key for key, _ in differs}
    waiting = [r for key, now in differs for t in tests.different(frame.facts[key].name, frame.was[key], now)
               for r in tests.readers.get(t, ())]
    touched: dict[str, Rule] = {}
    while waiting:
        rule = waiting.pop()
        if rule.id in touched or any(keys.isdisjoint(b) for b in _blocks(frame, a, rule)):
            continue
        touched[rule.id] = rule
        waiting += tests.concluders[rule.conclude.fact]
        waiting += tests.readers_of_name.get(rule.conclude.fact, ())
    return frozenset(touched)


def _blocks(frame: Frame, a: Arrangement, rule: Rule) -> list[frozenset[str]]:
    """For each condition that keeps the rule from firing on the frame's own survey, the facts that could let it."""
    if (a.id, rule.id) not in frame.blocks:
        found = []
        for pattern, wanted in [(p, True) for p in rule.when] + [(p, False) for p in rule.unless]:
            if frame.base.vocabulary[pattern.fact].made == "rule":
                continue  # what is concluded may change with anything
            sort = frame.base.vocabulary[pattern.fact].sort
            entities = (a.id,) if sort == "arrangement" else (a.source,) if sort == "source" else frame.listed[sort]
            keys = [k for e in entities if (k := key_of(pattern.fact, e)) in frame.facts]
            marks = [frame.tests.passes(pattern, frame.facts[k].value) for k in keys]
            if not any(possible for possible, _ in marks) if wanted else marks and all(sure for _, sure in marks):
                found.append(frozenset(keys))
        frame.blocks[a.id, rule.id] = found
    return frame.blocks[a.id, rule.id]


def _first(frame: Frame, chosen: Sequence[Arrangement]) -> None:
    """Judge these on the frame's own survey by all rules, and keep what the rules derived."""
    variant = frame.variant(frame.survey, chosen)
    part = _part(frame, frozenset(r.id for r in frame.base.rules.values() if r.stratum in STRATA))
    book = _run(frame, variant, chosen, part)
    found = _findings(book, frame.base, part.rules)
    for a in chosen:
        frame.first[a.id] = _dossier(variant, frame.base, a, (*found.get(a.id, ()), *found.get("site", ())),
                                     {f.key: f.rests_on for f in book}, {})
    for fact in book:
        if fact.made_by.startswith("rule."):
            frame.derived.setdefault(owner_of(fact), {})[fact.key] = fact


def _again(frame: Frame, variant: Variant, chosen: Sequence[Arrangement], part: Part) -> Iterable[Dossier]:
    """What stood, with what these rules conclude now."""
    book = _run(frame, variant, chosen, part) if part.rules else FactBook()
    found = _findings(book, frame.base, part.rules)
    for a in chosen:
        before = frame.first[a.id]
        findings = [f for f in before.fate.findings if f.rule not in part.rules]
        findings += [*found.get(a.id, ()), *found.get("site", ())]
        findings.sort(key=lambda f: (f.about == "site", frame.order[f.rule]))
        rests = {f.key: before.rests[f.key] if f.rule not in part.rules else book[f.key].rests_on for f in findings}
        yield _dossier(variant, frame.base, a, tuple(findings), rests, before.base_steps)


def _run(frame: Frame, variant: Variant, chosen: Sequence[Arrangement], part: Part) -> FactBook:
    """Run the rules of a part on what they read."""
    book = variant.book(chosen, part.reads)
    for owner in (COMMON, *sorted({a.source for a in chosen}), *(a.id for a in chosen)):
        for fact in frame.derived.get(owner, {}).values():
            if fact.name in part.reads and fact.name not in part.concludes:
                book.add(fact)
    listed = frame.listed | {"arrangement": tuple(a.id for a in chosen),
                             "source": tuple(sorted({a.source for a in chosen}))}
    session = reasoner.Session(frame.base, book, frame.thresholds, listed)
    for stratum, program in part.programs.items():
        session.run(stratum, program, reasoner.matcher("plain"))
    return book


def _findings(book: FactBook, base: Rulebase, rules: Collection[str]) -> dict[str, list[Finding]]:
    """Every finding of these rules, by the entity it is about."""
    found: dict[str, list[Finding]] = defaultdict(list)
    for rule in base.rules.values():
        if rule.id in rules and rule.effect != "derives":
            for entity, facts in book.of(rule.conclude.fact).items():
                found[entity] += [Finding(rule.id, rule.effect, f.certain, f.key, f.because, entity) for f in facts]
    return found


def _dossier(variant: Variant, base: Rulebase, a: Arrangement, findings: tuple[Finding, ...],
             rests: Mapping[str, Fields], known_steps: Mapping[str, tuple[int, int, Fields]]) -> Dossier:
    fate = verdicts.fate(variant, base, a, findings, named=False)
    waiting = []
    for finding in findings:
        if verdicts.unanswered(variant, base, finding, a):
            asks = base.rules[finding.rule].asks
            asked = variant.about(asks, verdicts.entity_asked(base, asks, a))
            waiting.append((finding, rests[finding.key] | {asked.note if asked is not None else asks}))
    steps = {c["id"]: known_steps[c["id"]] if known_steps and not variant.moved(c["fact"], a.id)
             else _step(variant.about(c["fact"], a.id), c) for c in base.ranking["criterion"]}
    loose = [rests[f.key] for f in findings if not f.certain] + [fields for _, fields in waiting]
    loose += [fields for best, worst, fields in steps.values() if best != worst]
    return Dossier(a, fate, {f.key: rests[f.key] for f in findings}, tuple(waiting), steps,
                   frozenset().union(*loose))


def _step(fact: Fact | None, criterion: Mapping[str, Any]) -> tuple[int, int, Fields]:
    if fact is None:
        return 0, ranking.WORST, frozenset()
    return *ranking.step_of(fact.value, criterion), fact.rests_on
