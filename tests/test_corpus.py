"""A dozen invented homes through the whole program; five hundred in tests/proof."""

from __future__ import annotations

import pytest

from tests import corpus


@pytest.mark.parametrize("seed", range(12))
def test_any_home_gets_advice_that_holds(seed: int) -> None:
    assert corpus.faults(seed, pages=False) == []
