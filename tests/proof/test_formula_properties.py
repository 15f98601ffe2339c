"""The properties of `tests/calc/test_properties.py`, many more points of each formula."""

from __future__ import annotations

import pytest

from tests.calc.test_properties import FORMULAS, PROPERTIES, search
from tests.proof.table import record

pytestmark = pytest.mark.proof
POINTS = 200


@pytest.mark.parametrize("holds", PROPERTIES, ids=lambda p: p.__name__)
def test_many_points(holds) -> None:
    broken = {}
    for formula in FORMULAS:
        try:
            search(formula, holds, POINTS)
        except Exception as error:  # every formula is tried before any is told of
            broken[formula.name] = str(error)
    assert not broken, broken
    record(f"formulas: {holds.__name__.replace('_', ' ')}", f"{len(FORMULAS)} formulas, {POINTS} cases each, 0 broken")
