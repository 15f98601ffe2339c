"""Runs remembered: the hour does not care where a cylinder stands, so many layouts share one run.

A run depends on its plan, its plant, the temperatures, the outlets with a heater of their own, the vessel and the step,
all compared by value; and on the pipes, but only by what they answered when they were asked. So a remembered run serves
again once the pipes give the same answers to the same questions.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping
from dataclasses import dataclass, field
from typing import Any

from advisor.water.busy_hour import STEP_S, Flows, Reserve, Run, simulate
from advisor.water.demand import Plan
from advisor.water.plants import Plant

MOST_RUNS = 512  # some 20 kB each

Answers = dict[tuple[tuple[str, float], ...], Mapping[str, float]]  # what was wanted -> what the pipes gave


@dataclass
class Remembered:
    """Pipes that solve each set of open outlets once."""

    flows: Flows
    known: Answers = field(default_factory=dict)

    def __call__(self, wanted: Mapping[str, float]) -> Mapping[str, float]:
        asked = tuple(wanted.items())
        if asked not in self.known:
            self.known[asked] = self.flows(wanted)
        return self.known[asked]

    def alike(self, other: Flows) -> bool:
        """Whether other pipes give the same in answer to all that these were asked."""
        return all(other(dict(asked)) == given for asked, given in self.known.items())


def by_value(thing: Any) -> Hashable:
    """Everything an object holds, so that no attribute added later can be forgotten in the comparison."""
    if isinstance(thing, list | tuple):
        return tuple(by_value(t) for t in thing)
    if isinstance(thing, Mapping):
        return tuple((k, by_value(v)) for k, v in thing.items())
    held = getattr(thing, "__dict__", None)
    return thing if held is None else (type(thing), by_value(held))


@dataclass
class Runs:
    """The last runs, and how often one served again."""

    most: int = MOST_RUNS
    made: int = 0
    served: int = 0
    kept: OrderedDict[Hashable, list[tuple[Answers, Run]]] = field(default_factory=OrderedDict)

    def run(self, plan: Plan, plant: Plant, flows: Flows, cold_c: float, mixed_c: float,
            electric_kw: Mapping[str, float] | None = None, reserve: Reserve | None = None,
            step_s: float = STEP_S) -> Run:
        """A run of `busy_hour.simulate`, made or remembered: nobody may change it; the plant is left in any state."""
        key = (plan, by_value(plant), cold_c, mixed_c, by_value(electric_kw or {}), by_value(reserve), step_s)
        alike = self.kept.setdefault(key, [])
        self.kept.move_to_end(key)
        for answers, run in alike:
            if all(flows(dict(asked)) == given for asked, given in answers.items()):
                self.served += 1
                return run
        noted: Answers = {}
        run = simulate(plan, plant, _noting(flows, noted), cold_c, mixed_c, electric_kw, reserve, step_s)
        self.made += 1
        alike.append((noted, run))
        while len(self.kept) > self.most:
            self.kept.popitem(last=False)
        return run

    def clear(self) -> None:
        self.kept.clear()
        self.made = self.served = 0


def _noting(flows: Callable[[Mapping[str, float]], Mapping[str, float]], noted: Answers) -> Flows:
    def answer(wanted: Mapping[str, float]) -> Mapping[str, float]:
        given = flows(wanted)
        noted[tuple(wanted.items())] = dict(given)
        return given

    return answer


RUNS = Runs()
