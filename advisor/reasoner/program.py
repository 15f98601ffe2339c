"""What both matchers run: rules compiled to tests and joins, and the facts that may pass each test.

No number reaches a matcher: each constant test is decided beforehand and a
`Hold` says that one fact may pass one test.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Protocol

from advisor.rulebase.model import Rule

ABSENT = "absent:"


@dataclass(frozen=True, slots=True)
class Hold:
    """A fact (`key`) that may pass a test, about `entity`; `bound` is the word a variable takes from it."""

    test: str
    entity: str
    bound: str
    key: str
    certain: bool  # of the test and, for a fact from below, of the fact


@dataclass(frozen=True, slots=True)
class Slot:
    """One condition for a matcher: the test, and the variables its entity and its word fill ("site" is a constant)."""

    test: str
    of: str
    bind: str


@dataclass(frozen=True, slots=True)
class Compiled:
    """A rule as a matcher sees it: conditions first, then its absences."""

    rule: Rule
    slots: tuple[Slot, ...]


Conclude = Callable[[Compiled, tuple[Hold, ...]], list[Hold]]


class Matcher(Protocol):
    """Finds every instance of every rule over the holds, feeding back what `conclude` adds, to the fixed point."""

    def run(self, program: tuple[Compiled, ...], holds: list[Hold], conclude: Conclude) -> None: ...


def compile_rules(rules: Iterable[Rule]) -> tuple[Compiled, ...]:
    """Rules in a fixed order (by id), each with its conditions and absences as slots."""
    return tuple(
        Compiled(rule, tuple([Slot(p.test_id, p.of, p.bind) for p in rule.when]
                             + [Slot(ABSENT + p.test_id, p.of, "") for p in rule.unless]))
        for rule in sorted(rules, key=lambda r: r.id)
    )


def bindings(compiled: Compiled, premises: tuple[Hold, ...]) -> dict[str, str]:
    """What each variable of the rule stands for in this instance."""
    bound: dict[str, str] = {"site": "site"}
    for slot, hold in zip(compiled.slots, premises, strict=True):
        bound[slot.of] = hold.entity
        if slot.bind:
            bound[slot.bind] = hold.bound
    return bound
