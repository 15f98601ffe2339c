"""Runs the examples a rule carries through the real reasoner: does it fire, stay silent, or remain unsure?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from advisor.facts import Fact, FactBook, Span, Value, Words, exactly, key_of
from advisor.reasoner import Session, matcher
from advisor.rulebase import Rulebase
from advisor.rulebase.model import Pattern, Rule
from advisor.site import domain

OUTCOMES = ("fires", "silent", "unsure")


def run(rule: Rule, example: Mapping[str, Any], base: Rulebase, engine: str = "auto") -> str:
    """What one example makes of one rule.

    Parameters
    ----------
    rule : a rule of `base`
    example : fact name -> number, word, {between = [lo, hi]}, {one_of = [...]} or "absent"; what is left out has its
        whole domain (a derived word: possible, not certain)

    Returns
    -------
    "fires" (certain), "unsure" (possible only) or "silent" (not even possible)

    Raises
    ------
    KeyError : when the example names a fact the rule neither reads nor shows (what it only shows fills its braces)
    """
    rule = base.rules[rule.id]
    read = {p.fact for p in (*rule.when, *rule.unless)}
    unread = set(example) - read - set(rule.shows)
    if unread:
        raise KeyError(f"example of {rule.id} names {sorted(unread)}, which the rule neither reads nor shows")
    book, entities = FactBook(), {"site": ["site"]}
    given = {"nation": rule.where[0], **example} if "nation" in read else dict(example)
    for pattern in (*rule.when, *rule.unless):
        entity = pattern.of.removeprefix("$")
        sort = base.vocabulary[pattern.fact].sort
        entities.setdefault(sort, [])
        if entity not in entities[sort]:
            entities[sort].append(entity)
        for fact in _facts(pattern, entity, sort, given.get(pattern.fact), base):
            if fact.key not in book:
                book.add(fact)
    alone = replace(base, rules={rule.id: rule}, sha=f"{base.sha}#{rule.id}")
    numbers = {t.id: v.lo for t in base.thresholds.values() for v in [t.on(base.date)[1]]}
    session = Session(alone, book, numbers, entities)
    session.judge([rule.stratum], matcher(engine))
    if not session.firings:
        return "silent"
    return "fires" if any(f.certain for f in session.firings) else "unsure"


def _facts(pattern: Pattern, entity: str, sort: str, given: Any, base: Rulebase) -> list[Fact]:
    entry = base.vocabulary[pattern.fact]
    name = pattern.fact
    if given == "absent" or (given is None and name.startswith("exception.")):
        return []  # an exception is no condition of the author's: unless an example names it, there is none
    if pattern.bind and given is None:
        return [Fact(key_of(name, entity), name, sort, entity, exactly(pattern.bind.removeprefix("$")))]
    if given is None and entry.made == "rule":
        words = pattern.arg if isinstance(pattern.arg, tuple) else tuple(entry.domain)
        return [Fact(key_of(name, entity, w), name, sort, entity, exactly(w), certain=False) for w in words]
    if given is None:
        return [Fact(key_of(name, entity), name, sort, entity, domain(entry))]
    key = key_of(name, entity, given) if entry.made == "rule" else key_of(name, entity)
    return [Fact(key, name, sort, entity, value_of(given))]


def value_of(given: Any) -> Value:
    """An example's value as a value set."""
    if isinstance(given, Mapping):
        if "one_of" in given:
            return Words(frozenset(given["one_of"]))
        return Span(float(given["between"][0]), float(given["between"][1]))
    if isinstance(given, list):
        return Words(frozenset(given))
    return exactly(given)
