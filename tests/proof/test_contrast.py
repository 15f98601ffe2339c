"""Long proofs of the questions about other arrangements: unlock."""

from __future__ import annotations

import pytest

from advisor.contrast.unlock import unlock
from tests import corpus, homes
from tests.contrast import test_unlock as against
from tests.proof.table import record

pytestmark = pytest.mark.proof
HOMES = 100


def test_unlock_equals_brute_force() -> None:
    wrong, arrangements, repairs = [], 0, 0
    for seed in range(2000, 2000 + HOMES):
        advice = homes.quick(corpus.survey(seed))
        for i in against.ruled_out(advice, 3):
            answer = unlock(advice, i)
            arrangements += 1
            repairs += len(answer.repairs)
            wrong += [f"seed {seed}: {f}" for f in against.faults(advice, answer)]
    assert not wrong, wrong[:5]
    record("unlock against brute force", f"{HOMES} invented homes, {arrangements} ruled-out layouts, {repairs} minimal "
           "repairs of up to three: the same sets, no part of one enough, no fixed field touched")
