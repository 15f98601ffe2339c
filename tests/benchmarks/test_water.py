"""Sixty layouts through the busy hour; the same store in SciPy's general solver beside ours. Prints times, asserts ratios."""

from __future__ import annotations

import time

import pytest

from advisor.report import busy
from advisor.water import memo
from advisor.water.store import FEW, MANY, Heating, minutes_to
from tests import homes

pytestmark = pytest.mark.benchmark
LAYOUTS = 60
KJ = 4.187


def test_sixty_layouts() -> None:
    advice = homes.quick(homes.survey(homes.DEMO))
    judged = advice.judged[:LAYOUTS]
    memo.RUNS.clear()
    start, used = time.perf_counter(), time.process_time()
    outcomes = busy.simulate(advice, judged)
    spent, used = time.perf_counter() - start, time.process_time() - used
    runs, made = sum(len(o.cases) for o in outcomes), memo.RUNS.made
    print(f"\n{len(judged)} layouts, {runs} busy hours (both ends, 12 and 60 layers), {made} of them different: "
          f"{spent:.2f} s, of which {used:.2f} s on one core; {1000 * spent / made:.1f} ms each")
    again = time.process_time()
    busy.simulate(advice, judged)
    print(f"the same once more, remembered: {time.process_time() - again:.2f} s")
    assert len(judged) == LAYOUTS and all(o.computed for o in outcomes)
    assert memo.RUNS.made == made


def scipy_minutes(litres: float, layers: int, kw: float, l_min: float, mixed_c: float, cold_c: float) -> float | None:
    """The same layers as ordinary differential equations: upwind flow, heat into the lowest, rising heat as a stiff mixer."""
    import numpy as np
    from scipy.integrate import solve_ivp

    each = litres / layers

    def change(_t: float, t: np.ndarray) -> np.ndarray:
        q = l_min * min(1.0, (mixed_c - cold_c) / max(t[-1] - cold_c, 1e-9))
        rate = q / each * (np.concatenate(([cold_c], t[:-1])) - t)
        if kw and t[0] < 60.0:
            rate[0] += kw * 60 / (each * KJ)
        mixing = 200.0 * np.maximum(t[:-1] - t[1:], 0.0)  # per minute, where hot stands under cold
        rate[:-1] -= mixing
        rate[1:] += mixing
        return rate

    def cold(_t: float, t: np.ndarray) -> float:
        return t[-1] - mixed_c

    cold.terminal, cold.direction = True, -1
    found = solve_ivp(change, (0, 180), np.full(layers, 60.0), method="LSODA", events=cold, rtol=1e-4, atol=1e-3,
                      max_step=0.5)
    return float(found.t_events[0][0]) if len(found.t_events[0]) else None


@pytest.mark.parametrize("layers", [FEW, MANY])
def test_beside_a_general_solver(layers: int) -> None:
    pytest.importorskip("scipy")
    ours = theirs = 0.0
    worst = 0.0
    for litres, flow, kw in ((150, 12.0, 0.0), (150, 12.0, 3.0), (210, 18.0, 10.0), (210, 12.0, 3.0), (300, 18.0, 10.0)):
        start = time.perf_counter()
        a = minutes_to(litres, layers, 60.0, 10.0, flow, 40.0, Heating(kw, 60.0) if kw else None, 40.0)
        middle = time.perf_counter()
        b = scipy_minutes(litres, layers, kw, flow, 40.0, 10.0)
        ours, theirs = ours + middle - start, theirs + time.perf_counter() - middle
        assert a is not None and b is not None
        worst = max(worst, abs(a / b - 1))
    print(f"\n{layers} layers: ours {1000 * ours / 5:.1f} ms, SciPy LSODA {1000 * theirs / 5:.1f} ms a store; ratio "
          f"{theirs / ours:.1f}; the minute differs by at most {worst:.2%}")
    assert worst < 0.02
    assert theirs > ours
