"""The rules engine: strata over a matcher, with a fall-back that is always said."""

from __future__ import annotations

from functools import lru_cache

from advisor.reasoner import durable
from advisor.reasoner.plain import PlainMatcher
from advisor.reasoner.program import Matcher
from advisor.reasoner.strata import ConflictError, Session

__all__ = ["ConflictError", "EngineError", "Session", "engine_name", "matcher"]

EngineError = durable.EngineError


@lru_cache(maxsize=1)
def _durable() -> durable.DurableMatcher:
    return durable.DurableMatcher()


def matcher(engine: str = "auto") -> Matcher:
    """The matcher asked for: "durable", "plain", or "auto" (durable where it is installed)."""
    if engine == "plain" or (engine == "auto" and not durable.AVAILABLE):
        return PlainMatcher()
    if engine not in ("auto", "durable"):
        raise ValueError(f"engine is {engine!r}. Allowed: auto, durable, plain.")
    return _durable()


def engine_name(chosen: Matcher) -> str:
    """The matcher as the report names it, with its version."""
    return durable.version() if isinstance(chosen, durable.DurableMatcher) else chosen.name
