"""Why one arrangement rather than another: only what differs and bears on their order, and what decided it."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.ranking import CONFIRM
from advisor.records import Advice, Judged

VERDICT, LEVEL = "verdict", "id"


@dataclass(frozen=True, slots=True)
class Difference:
    """A criterion on which the two do not stand on one step."""

    criterion: str
    decides: bool
    better: str  # the id of the arrangement that stands better on it


@dataclass(frozen=True, slots=True)
class Rather:
    """The two, the one that stands before the other, and their differences in the order they are looked at."""

    first: str
    second: str
    before: str
    differs: tuple[Difference, ...]
    decided_on: str  # "verdict", a criterion, "nothing left to confirm", or "id": nothing separates them

    @property
    def second_is_better_on(self) -> tuple[str, ...]:
        return tuple(d.criterion for d in self.differs if d.better == self.second)


def rather(advice: Advice, first: str, second: str) -> Rather:
    """Compare two arrangements as the ranking does; KeyError for an unknown one, ValueError for one and the same."""
    if first == second:
        raise ValueError(f"{first} is named twice. Name two different arrangements.")
    a, b = advice[first], advice[second]
    told = [(name, x, y) for name, x, y in zip(looked_at(advice), place(advice, a), place(advice, b), strict=True)
            if x != y]
    decided_on, mine, theirs = told[0]
    differs = tuple(Difference(name, n == 0, first if x < y else second)
                    for n, (name, x, y) in enumerate(told) if name != LEVEL)
    return Rather(first, second, first if mine < theirs else second, differs, decided_on)


def looked_at(advice: Advice) -> tuple[str, ...]:
    """What the ranking looks at, in its order: verdict, the wishes, what is left to confirm, the default order, id."""
    wishes = advice.survey.wishes
    rest = [c for c in advice.rulebase.ranking["default_order"] if c not in wishes]
    return (VERDICT, *wishes, CONFIRM, *rest, LEVEL)


def place(advice: Advice, judged: Judged) -> tuple[int | str, ...]:
    """An arrangement's place under each of `looked_at`, less is better."""
    out = 2 if judged.verdict == "ruled_out" else 1 if "ruled_out" in judged.possible else 0
    confirm = 0 if judged.verdict in ("suitable", "suitable_after_works") else 1
    given: dict[str, int | str] = {VERDICT: out, CONFIRM: confirm, LEVEL: judged.id}
    return tuple(given[name] if name in given else judged.steps[name][1] for name in looked_at(advice))
