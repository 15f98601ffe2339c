"""Facts and value sets: the records every stage shares.

A value is the *set* of values that are still possible: a closed interval of
numbers (`Span`) or a set of words (`Words`). What nobody knows has its whole
domain; what does not apply is no fact at all.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

HOW_ORDER = ("measured", "told", "assumed", "default")  # strongest first
SITE = "site"


@dataclass(frozen=True, slots=True)
class Span:
    """A closed interval of numbers, `lo <= hi`; infinite ends mean "not limited"."""

    lo: float
    hi: float

    @property
    def single(self) -> bool:
        return self.lo == self.hi


@dataclass(frozen=True, slots=True)
class Words:
    """A non-empty set of words, any one of which may be the true one."""

    words: frozenset[str]

    @property
    def single(self) -> bool:
        return len(self.words) == 1


Value = Span | Words
ANYTHING = Span(-math.inf, math.inf)


def exactly(value: float | str) -> Value:
    """The value set that holds just this number or word."""
    return _word(value) if isinstance(value, str) else Span(float(value), float(value))


@lru_cache(maxsize=10_000)
def _word(word: str) -> Words:
    return Words(frozenset([word]))


def words(*options: str) -> Words:
    return Words(frozenset(options))


def only(value: Value) -> float | str:
    """The one member of a single-valued set; ValueError when it holds more."""
    if not value.single:
        raise ValueError(f"{value} is not a single value")
    return value.lo if isinstance(value, Span) else next(iter(value.words))


def value_to_json(value: Value) -> Any:
    """The JSON form of the contract: number, text, between, one_of or "anything"."""
    if isinstance(value, Words):
        return next(iter(value.words)) if value.single else {"one_of": sorted(value.words)}
    if value == ANYTHING:
        return "anything"
    return value.lo if value.single else {"between": [_end(value.lo), _end(value.hi)]}


def _end(x: float) -> float | str:
    return x if math.isfinite(x) else ("-infinity" if x < 0 else "infinity")


@dataclass(frozen=True, slots=True)
class Source:
    """Where a figure comes from, and how far it may be trusted."""

    document: str
    place: str = ""
    provenance: str = "COMMON PRACTICE"  # PUBLISHED, DERIVED, FROM MEMORY, COMMON PRACTICE
    seen: str = ""  # original, reprint or nothing

    def as_json(self) -> dict[str, str]:
        return {"document": self.document, "place": self.place, "provenance": self.provenance, "seen": self.seen}

    def cite(self) -> str:
        """One line for a reader; memory and practice are said to be what they are."""
        parts = [p for p in (self.document, self.place) if p]
        tail = {"FROM MEMORY": "from memory: check the current edition", "COMMON PRACTICE": "common practice",
                "DERIVED": "derived", "PUBLISHED": "published"}[self.provenance]
        return (", ".join(parts) + f" [{tail}]") if parts else tail


PROVENANCES = ("PUBLISHED", "DERIVED", "FROM MEMORY", "COMMON PRACTICE")


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing known (or known to be open), and why.

    `key` names the fact by content (`name@entity`, for derived words
    `name@entity=word`); `id` (f1, f2, ...) is given when it enters the book.
    """

    key: str
    name: str
    sort: str
    entity: str
    value: Value
    unit: str = ""
    certain: bool = True
    how: str = "measured"
    made_by: str = "survey"
    because: tuple[str, ...] = ()  # keys
    rests_on: frozenset[str] = frozenset()
    inputs: tuple[tuple[str, str], ...] = ()  # (argument, key)
    trust: bool = False
    source: Source | None = None
    note: str = ""
    id: str = ""


def key_of(name: str, entity: str, word: str | None = None) -> str:
    return f"{name}@{entity}" if word is None else f"{name}@{entity}={word}"


def weakest(hows: Iterable[str]) -> str:
    """The weakest way of knowing among these; "measured" when there are none."""
    return max(hows, key=HOW_ORDER.index, default="measured")


@dataclass
class FactBook:
    """All facts of one run, by key, in the order they were added (which gives their ids)."""

    facts: dict[str, Fact] = field(default_factory=dict)
    by_name: dict[str, dict[str, list[Fact]]] = field(default_factory=dict)  # name -> entity -> facts
    by_field: dict[str, Fact] = field(default_factory=dict)  # survey field -> its fact
    again: dict[str, Callable[..., Value]] = field(default_factory=dict)  # key -> how a value no formula gives is found

    def add(self, fact: Fact) -> Fact:
        """Enter a fact; a second fact under one key is a programming error."""
        if fact.key in self.facts:
            raise KeyError(f"fact {fact.key} is made twice")
        object.__setattr__(fact, "id", f"f{len(self.facts) + 1}")  # a copy for the id alone costs a tenth of a run
        self.facts[fact.key] = fact
        if fact.made_by == "survey":
            self.by_field.setdefault(fact.note, fact)
        self.by_name.setdefault(fact.name, {}).setdefault(fact.entity, []).append(fact)
        return fact

    def __getitem__(self, key: str) -> Fact:
        return self.facts[key]

    def __contains__(self, key: object) -> bool:
        return key in self.facts

    def __iter__(self) -> Iterator[Fact]:
        return iter(self.facts.values())

    def about(self, name: str, entity: str) -> Fact | None:
        """The fact of this name about this entity, where there is one (single-valued names)."""
        found = self.by_name.get(name, {}).get(entity)
        return found[0] if found else None

    def of(self, name: str) -> Mapping[str, list[Fact]]:
        return self.by_name.get(name, {})
