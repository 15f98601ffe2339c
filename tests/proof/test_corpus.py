"""Five hundred invented homes through the whole program, and a thousand runs without growing."""

from __future__ import annotations

import resource
from collections import Counter

import pytest

from advisor import advise, reasoner
from advisor.reasoner import durable
from tests import corpus, homes
from tests.proof.table import record

pytestmark = pytest.mark.proof
HOMES = 500
BLOCK = 125  # one test each, so that two processors share them
FIRST = 1000  # beside the dozen of the quick suite
RUNS = 1000
MOST_MB = 5.0


@pytest.mark.parametrize("first", range(FIRST, FIRST + HOMES, BLOCK))
def test_five_hundred_homes_get_advice_that_holds(first: int) -> None:
    faults = [fault for seed in range(first, first + BLOCK) for fault in corpus.faults(seed)]
    assert not faults, f"{len(faults)} faults; the first:\n" + "\n".join(faults[:20])
    record(f"invented homes {first} to {first + BLOCK - 1}",
           "no crash, no conflict, every fate with a reason, both engines identical, every run checked, both reports "
           "pass the claim lint")


def test_many_kinds_of_layout_win_somewhere() -> None:
    """A rule base that always says the same would pass everything else."""
    found = Counter(_family(seed) for seed in range(FIRST, FIRST + HOMES // 2))
    named = {family: times for family, times in found.items() if family}
    assert len(named) >= 6, found
    record("layouts recommended", f"{HOMES // 2} homes: {len(named)} kinds of layout come first somewhere, "
                                  f"{found['']} homes get none")


def _family(seed: int) -> str:
    advice = homes.quick(corpus.survey(seed))
    return advice[advice.recommended].arrangement.family if advice.recommended else ""


@pytest.mark.skipif(not durable.AVAILABLE, reason="durable-rules is not installed here")
def test_a_thousand_homes_leave_no_memory_behind() -> None:
    """Ten homes a hundred times each: the last half of the runs adds less than 5 MB."""
    surveys, matcher = [corpus.survey(seed) for seed in range(FIRST, FIRST + 10)], reasoner.matcher("durable")
    sizes = []
    for i in range(RUNS):
        advise.run(surveys[i % len(surveys)], homes.base(), matcher)
        if i + 1 in (RUNS // 2, RUNS):
            sizes.append(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)
    assert sizes[1] - sizes[0] < MOST_MB, sizes
    record("memory over 1,000 runs", f"ten homes in turn, the last 500 runs added {sizes[1] - sizes[0]:.1f} MB")
