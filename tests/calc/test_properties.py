"""Properties of every registered formula over the whole of its declared range (hypothesis); longer in tests/proof."""

from __future__ import annotations

import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from advisor.calc import REGISTRY, OutOfRange
from advisor.calc.formula import Arg, Formula
from advisor.facts import ANYTHING, Span, Words, exactly, words

FAR = 1e6  # stands for "no limit declared"
FORMULAS = [f for f in REGISTRY.values() if not f.trust and not f.variadic]


def numbers(arg: Arg) -> st.SearchStrategy[float]:
    """Any number of the declared range, its ends and its turning points often."""
    low, high = max(arg.lo, -FAR), min(arg.hi, FAR)
    edges = [x for x in (low, high, 0.0, 1.0, *arg.turns) if low <= x <= high]
    return st.one_of(st.sampled_from(edges), st.floats(low, high, allow_subnormal=False),
                     st.floats(max(low, -100), max(max(low, -100), min(high, 100)), allow_subnormal=False))


def points(formula: Formula) -> st.SearchStrategy[dict]:
    return st.fixed_dictionaries({a.name: st.sampled_from(a.words) if a.words else numbers(a) for a in formula.args})


def value(formula: Formula, point: dict) -> float | str | None:
    """The result; None where the formula says it does not hold. No other exception passes, and no NaN."""
    try:
        found = formula.function(**point)
    except OutOfRange:
        return None
    assert isinstance(found, str) or not math.isnan(found), point
    return found


def at_any_point(formula: Formula, data: st.DataObject) -> None:
    """A number, a word of the domain, or OutOfRange."""
    found = value(formula, data.draw(points(formula)))
    assert found is None or isinstance(found, int | float) or found in formula.domain


def beyond_its_range(formula: Formula, data: st.DataObject) -> None:
    """A value past a declared end, or no number at all, is refused with words, never answered."""
    ends = [(a, x) for a in formula.args if not a.words
            for x in ([math.nextafter(a.lo, -math.inf), a.lo - 1] if math.isfinite(a.lo) else [])
            + ([math.nextafter(a.hi, math.inf), a.hi + 1] if math.isfinite(a.hi) else [])
            + ([math.nan] if math.isfinite(a.lo) or math.isfinite(a.hi) else [])]
    if not ends:
        return
    arg, x = data.draw(st.sampled_from(ends))
    with pytest.raises(OutOfRange, match=arg.name):
        formula.function(**{**data.draw(points(formula)), arg.name: x})


def one_way(formula: Formula, data: st.DataObject) -> None:
    """With the others held still, a result goes one way in an argument, but at its declared turning points."""
    args = [a for a in formula.args if not a.words]
    if not args or formula.domain:
        return
    arg = data.draw(st.sampled_from(args))
    point = data.draw(points(formula))
    line = sorted(data.draw(st.lists(numbers(arg), min_size=3, max_size=6, unique=True)))
    results = [value(formula, {**point, arg.name: x}) for x in line]
    for left, middle, right in zip(range(len(line)), range(1, len(line)), range(2, len(line)), strict=False):
        a, b, c = results[left], results[middle], results[right]
        if None in (a, b, c) or any(line[left] < t < line[right] for t in arg.turns):
            continue
        slack = 1e-9 * max(1.0, abs(a), abs(b), abs(c)) if all(map(math.isfinite, (a, b, c))) else 0.0
        assert min(a, c) - slack <= b <= max(a, c) + slack, (point, arg.name, line[left:right + 1], (a, b, c))


def inside_the_box(formula: Formula, data: st.DataObject) -> None:
    """No inner point leaves the range stated for a box, and a box with a number stated has no hole."""
    one, two, share = data.draw(points(formula)), data.draw(points(formula)), st.floats(0, 1)
    box, inner = {}, {}
    for name, x in one.items():
        y = two[name]
        if isinstance(x, str):
            box[name], inner[name] = words(x, y), data.draw(st.sampled_from([x, y]))
        else:
            low, high = min(x, y), max(x, y)
            box[name] = exactly(low) if low == high else Span(low, high)
            inner[name] = min(high, max(low, low + data.draw(share) * (high - low)))
    stated, got = formula.over(box), value(formula, inner)
    if stated in (ANYTHING, formula.unknown):
        return
    assert got is not None, (box, inner)
    if isinstance(stated, Words):
        assert got in stated.words
        return
    ends = (abs(got), abs(stated.lo), abs(stated.hi))
    slack = 1e-9 * max(1.0, *ends) if all(map(math.isfinite, ends)) else 0.0
    assert stated.lo - slack <= got <= stated.hi + slack, (box, inner, stated, got)


PROPERTIES = [at_any_point, beyond_its_range, one_way, inside_the_box]


def search(formula: Formula, holds, cases: int) -> None:
    """Try a property on many cases of one formula."""
    @settings(max_examples=cases, deadline=None, derandomize=True, database=None,
              suppress_health_check=list(HealthCheck))
    @given(st.data())
    def over_its_range(data: st.DataObject) -> None:
        holds(formula, data)

    over_its_range()


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda f: f.name)
@pytest.mark.parametrize("holds", PROPERTIES, ids=lambda p: p.__name__)
def test_property(formula: Formula, holds) -> None:
    search(formula, holds, 12)
