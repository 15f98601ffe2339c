"""From findings to a fate: which verdicts are still possible for an arrangement, and what would settle it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from advisor.facts import FactBook
from advisor.records import Arrangement, Finding, Firing
from advisor.rulebase import Rulebase
from advisor.site import answered

BELOW_QUESTIONS = ("circumstances", "parts", "exceptions", "findings", "verdicts", "preferences")
EFFECT_ORDER = ("rules_out", "needs_work", "asks", "requires", "caution", "favours", "counts_against")


@dataclass(frozen=True, slots=True)
class Fate:
    """What the findings leave possible for one arrangement."""

    findings: tuple[Finding, ...]
    possible: tuple[str, ...]
    verdict: str
    works: tuple[tuple[str, bool], ...]  # (remedy, certain)
    decided_by: tuple[str, ...]


def findings_of(book: FactBook, base: Rulebase, canonical: Mapping[str, Firing],
                arrangement: str) -> tuple[Finding, ...]:
    """Every finding about the arrangement or about the site, most decisive first."""
    found = []
    for rule in base.judging:
        concluded = book.by_name.get(rule.conclude.fact)
        for entity in (arrangement, "site") if concluded else ():
            for fact in concluded.get(entity, ()):
                found.append(Finding(rule.id, rule.effect, fact.certain, fact.key, canonical[fact.key].premises,
                                     entity))
    return tuple(sorted(found, key=lambda f: (EFFECT_ORDER.index(f.effect), not f.certain, f.rule, f.about)))


def entity_asked(base: Rulebase, asks: str, arrangement: Arrangement) -> str:
    """The entity of a fact a rule asks for, seen from one arrangement."""
    sort = base.vocabulary[asks].sort
    return {"site": "site", "place": arrangement.place, "source": arrangement.source}.get(sort, arrangement.id)


def unanswered(book: FactBook, base: Rulebase, finding: Finding, arrangement: Arrangement) -> bool:
    """Whether an `asks` below the questions still waits for its answer."""
    rule = base.rules[finding.rule]
    if finding.effect != "asks" or rule.stratum not in BELOW_QUESTIONS:
        return False
    asked = book.about(rule.asks, entity_asked(base, rule.asks, arrangement))
    return asked is None or not answered(asked)


def fate(book: FactBook, base: Rulebase, arrangement: Arrangement, findings: tuple[Finding, ...],
         named: bool = True) -> Fate:
    """The possible verdicts of one arrangement, and (if `named`) the survey fields that would decide between them."""
    forbidden = [f for f in findings if f.effect == "rules_out"]
    works = [f for f in findings if f.effect == "needs_work"]
    waiting = [f for f in findings if unanswered(book, base, f, arrangement)]
    possible: list[str] = []
    if any(f.certain for f in forbidden):
        possible = ["ruled_out"]
    else:
        if not any(f.certain for f in works):
            possible.append("suitable")
        if works:
            possible.append("suitable_after_works")
        if forbidden or waiting:
            possible.append("ruled_out")
    verdict = possible[0] if len(possible) == 1 else "open"
    needed: dict[str, bool] = {}
    for f in works:
        remedy = base.rules[f.rule].remedies[0]
        needed[remedy] = needed.get(remedy, False) or f.certain
    wanted = named and verdict == "open"
    decided = _decided_by(book, base, [*forbidden, *works], waiting, arrangement) if wanted else ()
    return Fate(findings, tuple(sorted(possible)), verdict, tuple(sorted(needed.items())), decided)


def _decided_by(book: FactBook, base: Rulebase, maybe: Sequence[Finding], waiting: Iterable[Finding],
                arrangement: Arrangement) -> tuple[str, ...]:
    fields: set[str] = set()
    for finding in maybe:
        if not finding.certain:
            fields |= {f for f in book[finding.key].rests_on if not settled(book, f)}
    for finding in waiting:
        asks = base.rules[finding.rule].asks
        asked = book.about(asks, entity_asked(base, asks, arrangement))
        fields.add(asked.note if asked is not None else asks)
    if not fields:  # only a range in a custom's figure leaves it open: the wish decides, or a better reading would
        rests = {f for finding in maybe for f in book[finding.key].rests_on}
        fields = {f for f in rests if f.startswith("wishes.")} or rests
    return tuple(sorted(fields))


def settled(book: FactBook, field: str) -> bool:
    """Whether the survey gives one value for a field."""
    fact = book.by_field.get(field)
    return fact is not None and answered(fact)
