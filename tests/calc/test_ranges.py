"""A formula's text equals its function, and no inner point of a box leaves the range stated for the box."""

from __future__ import annotations

import math
import random

import pytest

from advisor import verifier
from advisor.calc import REGISTRY, OutOfRange
from advisor.calc.formula import Formula
from advisor.facts import ANYTHING, Span, Words, exactly

CLOSED = [f for f in REGISTRY.values() if not f.trust]
# where an argument's stated range is wider than any house, points are drawn from here
USUAL = {"": (0, 5), "l/min": (0, 60), "bar": (0, 8), "kW": (0.5, 40), "l": (0, 400), "mm": (0, 2000), "m": (0, 30),
         "K": (1, 60),
         "C": (0, 80), "min": (0, 120), "m3/h": (0, 8), "mbar": (0, 3), "A": (0, 100), "V": (200, 250), "kg": (0, 500),
         "kN": (0, 5), "MJ/m3": (35, 42), "W/K": (0, 500), "m2": (0, 300), "m3": (0, 600), "h": (1, 60)}


def point(formula: Formula, rng: random.Random) -> dict:
    values = {}
    for a in formula.args:
        if a.words:
            values[a.name] = rng.choice(a.words)
            continue
        low, high = USUAL.get(a.unit, (0, 100))
        low, high = max(low, a.lo), min(high, a.hi)
        values[a.name] = round(rng.uniform(low, max(low, high)), 2)
    return values


def call(formula: Formula, values: dict) -> float | str | None:
    try:
        return formula.function(**values)
    except (OutOfRange, ZeroDivisionError, OverflowError):
        return None


def as_verifier(formula: Formula) -> dict:
    return {"text": formula.text, "valid": formula.valid, "args": [a.name for a in formula.args],
            "domain": formula.domain, "variadic": formula.variadic,
            "turns": {a.name: list(a.turns) for a in formula.args if a.turns}}


def boxed(values: dict) -> dict:
    return {k: frozenset([v]) if isinstance(v, str) else (float(v), float(v)) for k, v in values.items()}


@pytest.mark.parametrize("formula", [f for f in CLOSED if not f.variadic], ids=lambda f: f.name)
def test_text_is_the_function(formula: Formula) -> None:
    rng, compared = random.Random(formula.name), 0
    for _ in range(200):
        values = point(formula, rng)
        ours, theirs = call(formula, values), verifier.over(as_verifier(formula), boxed(values))
        if ours is None:
            assert theirs in ((-math.inf, math.inf), frozenset(formula.domain)), values
        elif isinstance(ours, str):
            assert theirs == frozenset([ours])
        else:
            assert theirs == (pytest.approx(ours, rel=1e-9, abs=1e-9),) * 2, values
            compared += 1
    assert compared > 20 or formula.domain


@pytest.mark.parametrize("formula", [f for f in CLOSED if not f.variadic], ids=lambda f: f.name)
def test_no_inner_point_leaves_the_stated_range(formula: Formula) -> None:
    rng = random.Random(f"box {formula.name}")
    for _ in range(60):
        one, two = point(formula, rng), point(formula, rng)
        box = {k: Words(frozenset([one[k], two[k]])) if isinstance(one[k], str)
               else Span(*sorted((float(one[k]), float(two[k])))) for k in one}
        stated = formula.over(box)
        for _ in range(12):
            inner = {k: rng.choice(sorted(v.words)) if isinstance(v, Words) else rng.uniform(v.lo, v.hi)
                     for k, v in box.items()}
            got = call(formula, inner)
            if stated == ANYTHING or stated == formula.unknown:
                continue
            assert got is not None, (box, inner)
            if isinstance(stated, Words):
                assert got in stated.words
            else:
                slack = 1e-9 * max(1.0, abs(float(got)))
                assert stated.lo - slack <= float(got) <= stated.hi + slack, (box, inner, stated, got)


@pytest.mark.parametrize("name, worst", [("total", sum), ("largest", max)])
def test_sums_and_extremes_over_ranges(name: str, worst) -> None:
    rng = random.Random(name)
    for _ in range(100):
        spans = [Span(*sorted((rng.uniform(0, 20), rng.uniform(0, 20)))) for _ in range(rng.randint(1, 6))]
        stated = REGISTRY[name].over({str(i): s for i, s in enumerate(spans)})
        assert stated == Span(pytest.approx(worst(s.lo for s in spans)), pytest.approx(worst(s.hi for s in spans)))


def test_a_single_point_is_a_single_value() -> None:
    assert REGISTRY["instant_flow"].over({"power_kw": exactly(30.0), "rise_k": exactly(35.0)}).single
