"""Orders the arrangements on fixed steps: verdict class, the household's wishes, then the printed default order.

One tuple an arrangement, compared as tuples: total, stable, and blind to
clones, dominated extras and the units anything was written in.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from advisor.facts import FactBook, Span, Value, Words
from advisor.records import Arrangement, Comparison
from advisor.rulebase import Rulebase
from advisor.verdicts import Fate

WORST = 4
CONFIRM = "nothing left to confirm"
Steps = dict[str, tuple[int, int]]


@dataclass(frozen=True, slots=True)
class Placed:
    """One arrangement with its steps and its place in the order."""

    arrangement: Arrangement
    fate: Fate
    steps: Mapping[str, tuple[int, int]]
    key: tuple[Any, ...]
    representative: bool
    rank: int


def rank(book: FactBook, base: Rulebase, arrangements: Sequence[Arrangement], fates: Mapping[str, Fate],
         wishes: Sequence[str]) -> tuple[Placed, ...]:
    """All arrangements in order: one variant a family first, then the rest."""
    steps = {a.id: steps_of(book, base, a, fates[a.id]) for a in arrangements}
    keys = {a.id: _key(base, fates[a.id], steps[a.id], wishes, a.id) for a in arrangements}
    best: dict[str, tuple[tuple[Any, ...], str]] = {}
    for a in arrangements:
        wished, rest = keys[a.id][: 1 + len(wishes)], keys[a.id][1 + len(wishes):]
        fold = (*wished, len(fates[a.id].works), a.litres, a.power_kw, *rest)
        if a.family not in best or fold < best[a.family][0]:
            best[a.family] = (fold, a.id)
    chosen = {i for _, i in best.values()}
    ordered = sorted(arrangements, key=lambda a: (a.id not in chosen, keys[a.id]))
    return tuple(Placed(a, fates[a.id], steps[a.id], keys[a.id], a.id in chosen, n)
                 for n, a in enumerate(ordered, start=1))


def verdict_class(fate: Fate) -> int:
    """0 may be recommended, 1 is still open to being forbidden, 2 is ruled out."""
    if fate.possible == ("ruled_out",):
        return 2
    return 1 if "ruled_out" in fate.possible else 0


def _key(base: Rulebase, fate: Fate, steps: Steps, wishes: Sequence[str], arrangement: str) -> tuple[Any, ...]:
    wished = tuple(steps[w][1] for w in wishes)
    confirm = 0 if fate.verdict in ("suitable", "suitable_after_works") else 1
    return (verdict_class(fate), *wished, confirm, *(steps[c][1] for c in base.ranking["default_order"]), arrangement)


def steps_of(book: FactBook, base: Rulebase, arrangement: Arrangement, fate: Fate) -> Steps:
    """(best, worst) step on every criterion, moved by favours, counts_against and works."""
    steps = {}
    for criterion in base.ranking["criterion"]:
        best, worst = base_step(book, criterion, arrangement.id)
        for finding in fate.findings:
            if base.rules[finding.rule].criterion == criterion["id"]:
                move = -1 if finding.effect == "favours" else 1
                best += move if finding.certain or move < 0 else 0
                worst += move if finding.certain or move > 0 else 0
        for remedy, certain in fate.works:
            added = base.remedies[remedy].adds.get(criterion["id"], 0)
            best += added if certain else 0
            worst += added
        steps[criterion["id"]] = (min(max(best, 0), WORST), min(max(worst, 0), WORST))
    return steps


def base_step(book: FactBook, criterion: Mapping[str, Any], arrangement: str) -> tuple[int, int]:
    """(best, worst) step of the criterion's own fact, before findings and works move it."""
    fact = book.about(criterion["fact"], arrangement)
    return (0, WORST) if fact is None else step_of(fact.value, criterion)


def step_of(value: Value, criterion: Mapping[str, Any]) -> tuple[int, int]:
    """(best, worst) step of a value on a criterion."""
    if "words" in criterion:
        assert isinstance(value, Words)
        found = [int(criterion["words"][w]) for w in value.words]
        return min(found), max(found)
    assert isinstance(value, Span)
    more = criterion["better"] == "more"
    best, worst = (value.hi, value.lo) if more else (value.lo, value.hi)
    return _step(best, criterion["edges"], more), _step(worst, criterion["edges"], more)


def _step(x: float, edges: Iterable[float], more: bool) -> int:
    """Edges not reached (more is better) or passed (less is better)."""
    return sum(x < e for e in edges) if more else sum(x > e for e in edges)


def compare(book: FactBook, base: Rulebase, placed: Sequence[Placed], wishes: Sequence[str]) -> tuple[Comparison, ...]:
    """Why each family's best stands before the next: the first criterion on which their keys differ."""
    listed = [p for p in placed if p.representative]
    return tuple(between(book, base, a, b, wishes) for a, b in itertools.pairwise(listed))


def between(book: FactBook, base: Rulebase, first: Placed, second: Placed, wishes: Sequence[str]) -> Comparison:
    """The deciding comparison between two arrangements, with both values and the step."""
    names = ["verdict", *wishes, CONFIRM, *base.ranking["default_order"], "id"]
    at = next(i for i, (x, y) in enumerate(zip(first.key, second.key, strict=True)) if x != y)
    name = names[at]
    if name in ("verdict", CONFIRM):
        values, keys = (first.fate.verdict, second.fate.verdict), ("", "")
    elif name == "id":
        values, keys = (first.arrangement.id, second.arrangement.id), ("", "")
    else:
        facts = [book.about(_criterion(base, name)["fact"], p.arrangement.id) for p in (first, second)]
        keys = tuple(f.key if f else "" for f in facts)
        values = tuple(f"step {p.steps[name][1]}" for p in (first, second))
    step = f"{first.key[at]} before {second.key[at]}"
    return Comparison(first.arrangement.id, second.arrangement.id, name, (values[0], values[1]), (keys[0], keys[1]),
                      step)


def _criterion(base: Rulebase, name: str) -> Mapping[str, Any]:
    return next(c for c in base.ranking["criterion"] if c["id"] == name)
