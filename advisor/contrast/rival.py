"""The rival's case from our own rules: what it does better, what it gives up, when it is right, what it leaves out."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from advisor.contrast import quick
from advisor.contrast.quotes import ITEMS, Item, Quote
from advisor.contrast.rather import CONFIRM, LEVEL, VERDICT, rather
from advisor.contrast.unlock import unlock
from advisor.facts import Words
from advisor.records import Advice, Judged
from advisor.survey import SurveyError

MOST_WISHES = 2  # wishes changed beside a repair
MOST_REPAIRS = 3


@dataclass(frozen=True, slots=True)
class Reply:
    """The answer to one quote."""

    rival: str
    ours: str | None
    better_on: tuple[str, ...]  # criteria on which theirs is ahead of ours
    gives_up: tuple[str, ...]  # criteria on which ours is ahead of theirs
    right_if: Mapping[str, str]  # survey answers under which their kind of layout comes first; empty: it does now
    found: bool  # whether such answers were found (or none are needed)
    left_out: tuple[Item, ...]
    concede: bool


def reply(advice: Advice, quote: Quote) -> Reply:
    """Compare the quote with what we recommend, and look for the smallest conditions under which it would be right."""
    theirs = advice[quote.arrangement]
    left_out = tuple(i for i in ITEMS if i.word not in quote.included and _concerns(advice, i, theirs))
    ours = advice[advice.recommended] if advice.recommended else None
    if ours is not None and ours.arrangement.family == theirs.arrangement.family:
        told = rather(advice, ours.id, theirs.id).differs if ours.id != theirs.id else ()
        better, worse = (tuple(d.criterion for d in told if d.better == i) for i in (theirs.id, ours.id))
        return Reply(theirs.id, ours.id, better, worse, {}, True, left_out, not worse)
    against = ours or next(j for j in advice.families() if j.id != theirs.id)
    differs = rather(advice, against.id, theirs.id).differs
    told_apart = (VERDICT, CONFIRM, LEVEL)
    better = tuple(d.criterion for d in differs if d.better == theirs.id and d.criterion not in told_apart)
    worse = tuple(d.criterion for d in differs if d.better == against.id)
    conditions = _conditions(advice, theirs, better)
    concede = theirs.verdict != "ruled_out" and not worse
    return Reply(theirs.id, advice.recommended, better, worse, conditions or {}, conditions is not None, left_out,
                 concede)


def _concerns(advice: Advice, item: Item, judged: Judged) -> bool:
    def word(name: str) -> str:
        fact = advice.fact(name, judged.id)
        return next(iter(fact.value.words)) if fact is not None and isinstance(fact.value, Words) else ""

    return (not item.burns or word("arrangement.burns") == "gas") and (
        not item.store or word("arrangement.store") == item.store)


def _conditions(advice: Advice, theirs: Judged, better: tuple[str, ...]) -> dict[str, str] | None:
    """The fewest changed answers, of those tried, under which their kind of layout is recommended."""
    families = {j.arrangement.family for j in (theirs, *(j for j in advice.judged if j.id == advice.recommended))}
    two = {j.id for j in advice.judged if j.arrangement.family in families}
    for changes in _tries(advice, theirs, better):
        try:
            survey = advice.survey.with_changes(changes)
        except SurveyError:
            continue
        for only in (two, None):  # what does not beat ours cannot come first among all
            first = quick.recommended(survey, advice.rulebase, only)
            if first is None or advice[first].arrangement.family != theirs.arrangement.family:
                break
        else:
            return changes
    return None


def _tries(advice: Advice, theirs: Judged, better: tuple[str, ...]) -> Iterator[dict[str, str]]:
    """Repairs of what rules it out (or none needed), alone, then with wishes given up or put first; fewest first."""
    repairs = [r.answers for r in unlock(advice, theirs.id).repairs[:MOST_REPAIRS]]
    if theirs.verdict == "ruled_out" and not repairs:
        return
    starts = repairs if theirs.verdict == "ruled_out" else [{}]
    wishes = [_first_wish(advice, c) for c in better if f"wishes.{c}" in dict(_wish_fields(advice))]
    wishes += [{f"wishes.{w}": "none"} for w in advice.survey.wishes]
    for number in range(MOST_WISHES + 1):
        for start in starts:
            for chosen in itertools.combinations(wishes, number):
                changes: dict[str, str] = dict(start)
                for one in chosen:
                    changes |= one
                if changes:
                    yield changes
        if number == 1:
            yield from ({**start, **other} for start in starts for other in _otherwise(advice))


def _otherwise(advice: Advice) -> Iterator[dict[str, str]]:
    """One answer in words about the site that were another: solar panels that were not there, a drier loft."""
    for name, entry, _ in advice.survey.every_field():
        if entry.sort == "site" and entry.kind == "words" and not name.startswith(("wishes.", "confirmed.", "nation")):
            value = advice.survey.value(name)
            if name in advice.survey.answers and isinstance(value, Words):
                yield from ({name: w} for w in entry.domain if w not in value.words)


def _wish_fields(advice: Advice) -> Iterator[tuple[str, str]]:
    return ((f, f) for f, _, _ in advice.survey.every_field() if f.startswith("wishes."))


def _first_wish(advice: Advice, criterion: str) -> dict[str, str]:
    """The answers that make a criterion the household's first wish."""
    rest = [w for w in advice.survey.wishes if w != criterion]
    now = advice.survey.answers.get(f"wishes.{criterion}")
    strength = now.read if now is not None and now.read != "none" else "prefer"
    return {f"wishes.{criterion}": strength, "wishes.order": ", ".join([criterion, *rest])}
