"""An answer about one piece of advice, kept while the claim lint asks for it again."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

from advisor.facts import FactBook
from advisor.records import Advice

Answer = TypeVar("Answer")


def once(make: Callable[[Advice], Answer]) -> Callable[[Advice], Answer]:
    """`make`, with its last answer kept for as long as the same advice is asked about."""
    last: list[tuple[FactBook, Answer]] = []

    @wraps(make)
    def kept(advice: Advice) -> Answer:
        if not last or last[0][0] is not advice.book:
            last[:] = [(advice.book, make(advice))]
        return last[0][1]

    kept.last = last  # type: ignore[attr-defined]  # for tests that put an answer there
    return kept
