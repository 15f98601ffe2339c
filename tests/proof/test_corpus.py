"""Two thousand invented homes judged by both engines and verified, every eighth with its reports, and a thousand runs
without growing.
"""

from __future__ import annotations

import gc
import resource
from collections import Counter
from collections.abc import Iterator

import pytest

from advisor import advise, reasoner
from advisor.reasoner import durable
from tests import corpus, homes
from tests.proof.table import record

pytestmark = pytest.mark.proof
HOMES = 2000
BLOCK = 250  # one test each, so that two processors share them
FIRST = 1000  # beside the dozen of the quick suite
REPORTS = 8  # every so many homes the reports too
WHOLE = 40  # every so many homes by the one call a user makes, with its own check and the typical home
RUNS = 1000
LAYOUTS = 3  # every so many layouts are judged, for time: fewer facts a run, so a lower limit too
MOST_MB = 2.0
SWEEP = 5  # homes between two sweeps of the collector


@pytest.fixture
def swept_seldom() -> Iterator[None]:
    """The collector of circular garbage walks every fact of a run many times over; here it runs between homes."""
    homes.base()
    gc.collect()
    gc.freeze()
    gc.disable()
    yield
    gc.enable()
    gc.unfreeze()


@pytest.mark.parametrize("first", range(FIRST, FIRST + HOMES, BLOCK))
def test_two_thousand_homes_get_advice_that_holds(first: int, swept_seldom: None) -> None:
    faults: list[str] = []
    families: Counter[str] = Counter()
    for seed in range(first, first + BLOCK):
        if seed % WHOLE == 0:
            faults += corpus.faults(seed)
        else:
            found, family = corpus.judged(seed, True, seed % REPORTS == 0)
            faults += found
            families[family] += 1
        if seed % SWEEP == 0:
            gc.collect()
    assert not faults, f"{len(faults)} faults; the first:\n" + "\n".join(faults[:20])
    named = [family for family in families if family]
    assert len(named) >= 6, families  # a rule base that always says the same would pass everything else
    record(f"invented homes {first} to {first + BLOCK - 1}",
           "no crash, no conflict, every fate with a reason, both engines identical fact by fact, every run "
           f"verified; on every eighth both reports pass the claim lint; {len(named)} kinds of layout come first somewhere, "
           f"{families['']} homes get none")


@pytest.mark.skipif(not durable.AVAILABLE, reason="durable-rules is not installed here")
def test_a_thousand_homes_leave_no_memory_behind() -> None:
    """Ten homes a hundred times each, every third layout: the last half of the runs adds less than 2 MB."""
    surveys, matcher = [corpus.survey(seed) for seed in range(FIRST, FIRST + 10)], reasoner.matcher("durable")
    layouts = [[j.id for j in homes.quick(s).judged[::LAYOUTS]] for s in surveys]
    sizes = []
    for i in range(RUNS):
        at = i % len(surveys)
        advise.run(surveys[at], homes.base(), matcher, only=layouts[at])
        if i + 1 in (RUNS // 2, RUNS):
            sizes.append(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)
    assert sizes[1] - sizes[0] < MOST_MB, sizes
    record("memory over 1,000 runs", f"ten homes in turn, every third layout, the last 500 runs added {sizes[1] - sizes[0]:.1f} MB")
