"""When a value set may pass a test, and when it must (design: possible and certain)."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.facts import Span, Value, Words
from advisor.rulebase.model import Pattern


def decide(op: str, arg: float | tuple[str, ...] | None, value: Value) -> tuple[bool, bool]:
    """(possible, certain) of one test on one value set; a threshold must be resolved to its number before."""
    if op == "applies":
        return True, True
    if isinstance(value, Words):
        wanted = frozenset(arg if isinstance(arg, tuple) else ())
        return bool(value.words & wanted), value.words <= wanted
    if isinstance(arg, tuple) or arg is None:
        return False, False
    return _decide_number(op, float(arg), value)


def _decide_number(op: str, limit: float, value: Span) -> tuple[bool, bool]:
    lo, hi = value.lo, value.hi
    if op == "below":
        return lo < limit, hi < limit
    if op == "at_most":
        return lo <= limit, hi <= limit
    if op == "above":
        return hi > limit, lo > limit
    if op == "at_least":
        return hi >= limit, lo >= limit
    assert op == "is", op
    return lo <= limit <= hi, lo == limit == hi


def resolve(pattern: Pattern, thresholds: Mapping[str, float]) -> float | tuple[str, ...] | None:
    """The pattern's argument with a threshold replaced by its number."""
    if isinstance(pattern.arg, str):
        return thresholds[pattern.arg.removeprefix("threshold:")]
    return pattern.arg
