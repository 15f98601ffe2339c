"""Faults of a rule base as a whole: rules that can never fire, words nobody reads, words that two rules may both
decide, sources without a place, facts a part owes that no check makes.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from advisor import advise, checks, reasoner
from advisor.rulebase import Rulebase
from advisor.rulebase.model import Pattern, Rule
from advisor.survey.reader import read_bytes
from advisor.upkeep.readers import PROBE

COMPARES = ("below", "at_most", "above", "at_least")
Held = dict[str, tuple[frozenset[str] | None, tuple[float, bool, float, bool]]]  # fact -> words, (lo, open, hi, open)
EVERYTHING = (-math.inf, False, math.inf, False)


def faults(base: Rulebase) -> Iterator[str]:
    """All of them, one line each."""
    yield from unreachable(base)
    yield from _unread(base)
    yield from _both(base)
    yield from _owed(base)
    yield from (f"{rule.subject}: rule {rule.id!r}: {text}" for rule in _written(base) for text in _source(rule))


def unreachable(base: Rulebase) -> Iterator[str]:
    """Rules whose conditions nothing can meet, whatever the survey says."""
    makers, built = _makers(base), _built(base)
    yield from (f"{rule.subject}: rule {rule.id!r}: can never fire: {text}" for rule in _written(base)
                for text in _never(base, rule, makers, built))


def _written(base: Rulebase) -> list[Rule]:
    return [r for r in base.rules.values() if not r.twin_of]


def _makers(base: Rulebase) -> Mapping[tuple[str, str], list[Rule]]:
    """(fact, word) -> the rules that conclude it."""
    makers: dict[tuple[str, str], list[Rule]] = {}
    for rule in base.rules.values():
        makers.setdefault((rule.conclude.fact, rule.conclude.word), []).append(rule)
    return makers


def _source(rule: Rule) -> Iterator[str]:
    source = rule.source
    if source.provenance == "PUBLISHED" and not (source.place and source.seen in ("original", "reprint")):
        yield "its source is PUBLISHED, yet place or seen (original, reprint) is missing. Add both."


# ---------------------------------------------------------------- never
def _never(base: Rulebase, rule: Rule, makers: Mapping[tuple[str, str], list[Rule]],
           built: Mapping[str, set[str]]) -> Iterator[str]:
    """Conditions that nothing can meet."""
    for pattern in rule.when:
        entry = base.vocabulary[pattern.fact]
        asked = pattern.arg if isinstance(pattern.arg, tuple) else ()
        if entry.made == "rule":
            words = asked or tuple(entry.domain)
            if not any(makers.get((pattern.fact, w)) for w in words):
                yield f"no rule makes {pattern.fact} {' or '.join(words)}. Write it, or take this out."
        elif entry.made == "structure" and pattern.fact in built and asked and not set(asked) & built[pattern.fact]:
            yield f"no part makes {pattern.fact} {' or '.join(asked)}. Allowed: " \
                  f"{', '.join(sorted(built[pattern.fact]))}."
    if clash := _clash(_held(base, rule.when), _held(base, ())):
        yield f"its conditions on {clash} exclude each other. Take one out."


def _built(base: Rulebase) -> dict[str, set[str]]:
    """The words that parts make, by fact."""
    found: dict[str, set[str]] = {}
    for parts in base.families.slots.values():
        for part in parts.values():
            for name, word in part.words.items():
                found.setdefault(name, set()).add(word)
    return found


def _held(base: Rulebase, patterns: Iterable[Pattern]) -> Held:
    """What conditions leave possible of each fact: words, or a stretch of numbers."""
    held: Held = {}
    for p in patterns:
        words, span = held.get(p.fact, (None, EVERYTHING))
        if isinstance(p.arg, tuple):
            words = frozenset(p.arg) if words is None else words & frozenset(p.arg)
        elif p.op in COMPARES or (p.op == "is" and p.arg is not None):
            span = _narrowed(span, p.op, _number(base, p))
        held[p.fact] = (words, span)
    return held


def _number(base: Rulebase, pattern: Pattern) -> float:
    if isinstance(pattern.arg, str):
        return base.thresholds[pattern.arg.removeprefix("threshold:")].on(base.date)[1].lo
    return float(pattern.arg)  # type: ignore[arg-type]


def _narrowed(span: tuple[float, bool, float, bool], op: str, value: float) -> tuple[float, bool, float, bool]:
    low, low_open, high, high_open = span
    if op in ("above", "at_least", "is"):
        low, low_open = max((low, low_open), (value, op == "above"))
    if op in ("below", "at_most", "is") and (value, op != "below") < (high, not high_open):
        high, high_open = value, op == "below"
    return low, low_open, high, high_open


def _clash(one: Held, other: Held) -> str:
    """A fact of which the two leave nothing possible together, or ""."""
    for fact in {*one, *other}:
        (words, span), (more, also) = one.get(fact, (None, EVERYTHING)), other.get(fact, (None, EVERYTHING))
        if words is not None and (not words or (more is not None and not words & more)):
            return fact
        low, low_open = max((span[0], span[1]), (also[0], also[1]))
        high, shut = min((span[2], not span[3]), (also[2], not also[3]))
        if low > high or (low == high and (low_open or not shut)):
            return fact
    return ""


# ---------------------------------------------------------------- unread, both, owed
def _unread(base: Rulebase) -> Iterator[str]:
    """Words that rules are there to derive, and that nobody makes or reads."""
    read = {p.fact for r in base.rules.values() for p in (*r.when, *r.unless)}
    made = {(r.conclude.fact, r.conclude.word) for r in base.rules.values()}
    for name, entry in base.vocabulary.items():
        if entry.made != "rule" or name.startswith(("finding.", "exception.")):
            continue
        if name not in read:
            yield f"facts-derived.toml: {name}: no rule reads it. Write the rule that does, or take it out."
        yield from (f"facts-derived.toml: {name}: no rule makes {word!r}. Write it, or take the word out."
                    for word in entry.domain if (name, word) not in made)


def _both(base: Rulebase) -> Iterator[str]:
    """Pairs that may both conclude, with different words, a fact that has one."""
    makers = _makers(base)
    deriving = [r for r in _written(base) if r.effect == "derives" and not r.exception_to
                and base.vocabulary[r.conclude.fact].single]
    for one, other in itertools.combinations(deriving, 2):
        if one.conclude.fact != other.conclude.fact or one.conclude.word == other.conclude.word:
            continue
        if not _clash(_held(base, _unfolded(base, one, makers)), _held(base, _unfolded(base, other, makers))):
            yield f"{one.subject}: rules {one.id!r} and {other.id!r} may both decide {one.conclude.fact}, each in " \
                  "its own way. Make one condition exclude the other, or declare exception_to."


def _unfolded(base: Rulebase, rule: Rule, makers: Mapping[tuple[str, str], list[Rule]]) -> tuple[Pattern, ...]:
    """Its conditions, and those of the one rule that makes each word it stands on."""
    found = list(rule.when)
    for pattern in rule.when:
        if base.vocabulary[pattern.fact].made == "rule" and isinstance(pattern.arg, tuple) and len(pattern.arg) == 1:
            below = makers.get((pattern.fact, pattern.arg[0]), [])
            if len(below) == 1 and below[0].id != rule.id:
                found += _unfolded(base, below[0], makers)
    return tuple(found)


def _owed(base: Rulebase) -> Iterator[str]:
    """A part's owed fact that is no calculated one, or that no check makes on a home of which nothing is known."""
    wrong = False
    for parts in base.families.slots.values():
        for part in parts.values():
            for name in part.needs:
                if name not in base.vocabulary or base.vocabulary[name].made not in ("calc", "structure"):
                    wrong = True
                    yield f"families.toml: part {part.id!r}: owes {name!r}, which is no calculated fact. Correct it."
    if wrong:
        return
    survey = read_bytes(PROBE, Path("probe.toml"), base.survey_entries())
    try:
        advise.run(survey, base, reasoner.matcher("plain"))
    except checks.OwedError as error:
        yield f"families.toml: {error}. Write the check, or take the name out of needs."

