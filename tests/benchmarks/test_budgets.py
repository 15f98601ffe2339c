"""Times and ratios against the budgets; prints times, asserts only ratios."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable
from statistics import median

import pytest

from advisor import advise, paths, reasoner, verifier
from advisor.certificate import certificate
from advisor.contrast import ask, flips
from advisor.contrast.rather import rather
from advisor.contrast.unlock import unlock
from advisor.contrast.whatif import whatif
from advisor.contrast.why import why
from tests import homes

pytestmark = pytest.mark.benchmark
REFERENCE = "import durable.engine, pydantic, typer, rich.console, markdown_it"


def timed(what: Callable[[], object], times: int = 7) -> float:
    spent = []
    for _ in range(times):
        start = time.perf_counter()
        what()
        spent.append(time.perf_counter() - start)
    return median(spent) * 1000


def test_cold_start_against_the_imports_it_needs() -> None:
    """As installed: compiled once, not at every start."""
    compiled = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}

    def process(*arguments: str) -> Callable[[], object]:
        return lambda: subprocess.run([sys.executable, *arguments], capture_output=True, check=True, env=compiled)

    demo = str(paths.SURVEYS / f"{homes.DEMO}.toml")
    reference = timed(process("-c", REFERENCE), 5)
    command = timed(process("-m", "advisor.cli.app", "recommend", demo, "--json"), 5)
    print(f"\nreference imports {reference:.0f} ms; recommend --json {command:.0f} ms; ratio {command / reference:.2f}")
    assert command / reference < 6


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_reasoning_and_check(name: str) -> None:
    survey, base = homes.survey(name), homes.base()
    for engine in ("durable", "plain"):
        matcher = reasoner.matcher(engine)
        spent = timed(lambda m=matcher: advise.run(survey, base, m, typical=True))
        print(f"\n{name}: stages with the {engine} matcher {spent:.0f} ms")
    document = certificate(homes.advice(name))
    print(f"{name}: check {timed(lambda: verifier.verify(document)):.0f} ms, {len(document['derivation'])} instances, "
          f"{len(document['arrangements'])} arrangements")


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_questions(name: str) -> None:
    """Budgets in seconds: why, rather, whatif 1; unlock 2; ask 3, at worst 10; flips 5. Printed, not asserted."""
    advice = homes.advice(name)
    last = advice.families()[-1].id
    spent = {"why": timed(lambda: why(advice, last), 3),
             "rather": timed(lambda: rather(advice, advice.judged[0].id, last), 3),
             "whatif": timed(lambda: whatif(advice, {"household.busy_baths": "1"}, "plain"), 3),
             "unlock": timed(lambda: [unlock(advice, j.id) for j in advice.families() if j.verdict == "ruled_out"], 1),
             "ask": timed(lambda: ask.ask.__wrapped__(advice), 1),
             "flips": timed(lambda: flips.flips.__wrapped__(advice), 1)}
    print(f"\n{name}: " + ", ".join(f"{k} {v:.0f} ms" for k, v in spent.items())
          + " (unlock: every ruled-out kind of layout together)")
