"""The rule graph: how many rules stand between a survey answer and what a rule concludes."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from advisor.rulebase.model import Pattern, Rule
from tests import homes


@lru_cache(maxsize=1)
def written() -> Mapping[str, Rule]:
    """The rules as their authors wrote them: no twins."""
    return {r.id: r for r in homes.base().rules.values() if not r.twin_of}


@lru_cache(maxsize=1)
def makers() -> Mapping[str, list[Rule]]:
    """Fact name -> the rules that conclude it."""
    found: dict[str, list[Rule]] = {}
    for rule in written().values():
        found.setdefault(rule.conclude.fact, []).append(rule)
    return found


@lru_cache(maxsize=1)
def surveyed() -> frozenset[str]:
    """Names of facts that are a survey answer, or calculated from one, in the largest shipped home."""
    return frozenset(f.name for f in homes.advice(homes.DEMO).book if f.rests_on and f.made_by.startswith(
        ("survey", "calc.")))


def tests_of(rule: Rule) -> frozenset[str]:
    """What a rule tests, by test id; conditions that only bind a variable, and absences, do not count."""
    return frozenset(p.test_id for p in rule.when if not p.bind)


def step_below(pattern: Pattern, word_only: bool = True) -> list[Rule]:
    """The rules that make what a condition reads (the word it asks for, where it asks for one)."""
    return [r for r in makers().get(pattern.fact, ())
            if not word_only or not isinstance(pattern.arg, tuple) or r.conclude.word in pattern.arg]


@lru_cache(maxsize=256)
def longest_path(rule_id: str) -> tuple[str, ...]:
    """Rules on the longest path from a survey answer to this rule, itself last; () where no path starts at one.

    A step counts only where the rule tests something that no rule below it on the path tests already.
    """
    rule = written()[rule_id]
    best: tuple[str, ...] = ()
    for pattern in rule.when:
        for below in step_below(pattern):
            path = longest_path(below.id)
            if not path:
                continue
            known = frozenset().union(*(tests_of(written()[r]) for r in path))
            adds = tests_of(rule) - known - {pattern.test_id}
            grown = (*path, rule_id) if adds else path
            best = max(best, grown, key=len)
    if not best and any(p.fact in surveyed() for p in rule.when):
        best = (rule_id,)
    return best
