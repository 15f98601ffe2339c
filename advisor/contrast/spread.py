"""One piece of work for each of many things, on all the cores there are.

The pieces must not need each other: each is worked in a copy of this program as it stands, and only its answer comes
back. Where the system cannot copy a program (or other threads run, which a copy would lose), all is done here.
"""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
import sys
import threading
from collections.abc import Callable, Sequence
from typing import Any, TypeVar

Item = TypeVar("Item")
Answer = TypeVar("Answer")

FEWEST = 8  # things for which a second process pays

_work: list[Callable[[Any], Any]] = []  # what the copies do: they find it here, for it cannot be sent to them


def spread(work: Callable[[Item], Answer], items: Sequence[Item]) -> list[Answer]:
    """`work` of each item, in their order; the answers must be such as can be pickled."""
    cores = _cores()
    if cores < 2 or len(items) < FEWEST or not _may_copy():
        return [work(item) for item in items]
    _work[:] = [work]
    gc.freeze()  # a copy that looked through what it shares for rubbish would have to copy it all
    try:
        # neighbours share sums that one copy remembers, so each takes several in a row
        with multiprocessing.get_context("fork").Pool(min(cores, len(items)), _leave_interrupts) as pool:
            return pool.map(_one, items, chunksize=max(1, len(items) // (3 * cores)))
    finally:
        gc.unfreeze()
        _work.clear()


def _one(item: Any) -> Any:
    return _work[0](item)


def _leave_interrupts() -> None:
    """Ctrl-C ends the program that waits, and that one ends its copies: one message, not one from each."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _cores() -> int:
    affinity = getattr(os, "sched_getaffinity", None)
    return len(affinity(0)) if affinity else os.cpu_count() or 1


def _may_copy() -> bool:
    """No copy may; and other systems than Linux copy a program, but not safely with what their libraries keep."""
    alone = threading.active_count() == 1 and not multiprocessing.current_process().daemon
    return sys.platform == "linux" and alone
