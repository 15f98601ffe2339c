"""Remembered runs: the same as fresh ones, and only ever served for the same plant, plan and pipes."""

from __future__ import annotations

from dataclasses import asdict

import pytest

from advisor.report import busy
from advisor.water import memo
from advisor.water.busy_hour import Reserve, simulate
from advisor.water.demand import Draw, Plan
from advisor.water.plants import Instant, Stored
from advisor.water.store import FEW, Heating, Store, coil_kw_per_k
from tests import homes

COLD, WARM = 5.0, 40.0
PLAN = Plan((((Draw("shower", 9.0, 25.0),), (Draw("bath", 12.0, litres=100.0),)),), "")


def cylinder(**how) -> Stored:
    return Stored(Store(150, FEW, how.pop("start", 60.0), Heating(12.0, 60.0, 80.0, coil_kw_per_k(12.0), 0.33, 0.33, 5.0)), **how)


def free(wanted):
    return dict(wanted)


def poor(wanted):
    """One outlet gets all, two get half each."""
    return {n: q / len(wanted) for n, q in wanted.items()}


def test_a_remembered_run_is_the_run() -> None:
    runs = memo.Runs()
    first = runs.run(PLAN, cylinder(), free, COLD, WARM)
    assert runs.run(PLAN, cylinder(), free, COLD, WARM) is first and (runs.made, runs.served) == (1, 1)
    assert asdict(first) == asdict(simulate(PLAN, cylinder(), free, COLD, WARM))


@pytest.mark.parametrize("other", [
    {"plant": lambda: cylinder(pauses=True)}, {"plant": lambda: cylinder(start=59.9)}, {"plant": lambda: Instant(30.0)},
    {"flows": free}, {"cold_c": 6.0}, {"mixed_c": 41.0}, {"electric_kw": {"shower": 9.0}}, {"step_s": 2.5},
    {"reserve": lambda: Reserve(50.0, 12.0)}, {"plan": Plan((((Draw("shower", 9.0, 24.0),),),), "")},
], ids=lambda o: next(iter(o)))
def test_whatever_differs_is_run_again(other) -> None:
    runs = memo.Runs()

    def run(plan=PLAN, plant=cylinder, flows=poor, cold_c=COLD, mixed_c=WARM, electric_kw=None, reserve=lambda: None,
            step_s=5.0):
        return runs.run(plan, plant(), flows, cold_c, mixed_c, electric_kw, reserve(), step_s)

    first = run()
    assert asdict(run(**other)) != asdict(first)
    assert (runs.made, runs.served) == (2, 0)


def test_the_pipes_are_asked_nothing_a_fresh_run_would_not_ask() -> None:
    """Two homes that part at the first answer: the second home's pipes never see the first one's later questions."""
    runs, asked = memo.Runs(), []

    def strange(wanted):
        asked.append(tuple(wanted))
        return {n: 0.5 * q for n, q in wanted.items()}

    runs.run(PLAN, cylinder(), free, COLD, WARM)
    after_memo = runs.run(PLAN, cylinder(), strange, COLD, WARM) and set(asked)
    asked.clear()
    assert simulate(PLAN, cylinder(), strange, COLD, WARM) and set(asked) == after_memo


def test_only_so_many_are_kept() -> None:
    runs = memo.Runs(most=2)
    for power in (20.0, 24.0, 28.0):
        runs.run(PLAN, Instant(power), free, COLD, WARM)
    assert len(runs.kept) == 2
    runs.run(PLAN, Instant(20.0), free, COLD, WARM)
    assert runs.made == 4


def test_a_layout_in_another_place_shares_the_run() -> None:
    """The demo home has one cylinder in several places: twice the layouts need less than half the runs."""
    advice = homes.quick(homes.survey(homes.DEMO))
    memo.RUNS.clear()
    outcomes = busy.simulate(advice, advice.judged)
    total = sum(len(o.cases) for o in outcomes)
    assert memo.RUNS.made + memo.RUNS.served == total
    assert memo.RUNS.made < total / 2
