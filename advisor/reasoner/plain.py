"""A straightforward forward-chaining matcher: semi-naive, indexed by test and entity, no dependencies.

It answers what-if questions, stands in where durable-rules is not installed,
and is the second opinion the engine is compared with.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from advisor.reasoner.program import Compiled, Conclude, Hold


class PlainMatcher:
    """See `program.Matcher`."""

    name = "plain matcher"

    def run(self, program: tuple[Compiled, ...], holds: list[Hold], conclude: Conclude) -> None:
        by_test: dict[str, list[tuple[Compiled, int, tuple[str, ...]]]] = defaultdict(list)
        for compiled in program:
            tests = tuple(slot.test for slot in compiled.slots)
            for position, test in enumerate(tests):
                by_test[test].append((compiled, position, tests))
        index: dict[str, dict[str, list[Hold]]] = defaultdict(lambda: defaultdict(list))
        queue = list(holds)
        for hold in queue:  # grows while it is read
            index[hold.test][hold.entity].append(hold)
            for compiled, position, tests in by_test.get(hold.test, ()):
                if all(map(index.__contains__, tests)):  # most rules wait for something that never comes
                    for premises in _joins(compiled, position, hold, index):
                        queue.extend(conclude(compiled, premises))


def _joins(compiled: Compiled, position: int, new: Hold,
           index: dict[str, dict[str, list[Hold]]]) -> Iterator[tuple[Hold, ...]]:
    """All instances in which the newest hold fills `position` and older holds (or it) fill the rest."""
    chosen: list[Hold | None] = [None] * len(compiled.slots)
    chosen[position] = new
    start = {"site": "site"}
    if not _bind(compiled, position, new, start):
        return
    yield from _extend(compiled, 0, position, chosen, start, index)


def _extend(compiled: Compiled, at: int, skip: int, chosen: list[Hold | None], bound: dict[str, str],
            index: dict[str, dict[str, list[Hold]]]) -> Iterator[tuple[Hold, ...]]:
    if at == skip:
        at += 1
    if at == len(compiled.slots):
        yield tuple(h for h in chosen if h is not None)
        return
    slot = compiled.slots[at]
    entities = index.get(slot.test, {})
    pool = entities.get(bound[slot.of], ()) if slot.of in bound else [h for hs in entities.values() for h in hs]
    for hold in list(pool):
        extended = dict(bound)
        if _bind(compiled, at, hold, extended):
            chosen[at] = hold
            yield from _extend(compiled, at + 1, skip, chosen, extended, index)
    chosen[at] = None


def _bind(compiled: Compiled, at: int, hold: Hold, bound: dict[str, str]) -> bool:
    """Extend the bindings by this hold; False where it contradicts them."""
    slot = compiled.slots[at]
    if bound.setdefault(slot.of, hold.entity) != hold.entity:
        return False
    return not slot.bind or bound.setdefault(slot.bind, hold.bound) == hold.bound
