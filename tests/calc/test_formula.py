"""The machinery of a formula: limits, words, ranges, infinities."""

from __future__ import annotations

import math

import pytest

from advisor.calc import REGISTRY, OutOfRange
from advisor.calc.formula import Arg, formula
from advisor.facts import ANYTHING, Source, Span, exactly, words


def test_every_broken_limit_is_named():
    with pytest.raises(OutOfRange) as caught:
        REGISTRY["supply_flow_at"](static_bar=1.0, flow_l_min=-5.0, residual_bar=1.0, at_bar=0.5)
    assert "flow_l_min must be at least 0" in str(caught.value) and "below the static" in str(caught.value)


def test_nan_is_refused_where_there_is_a_limit():
    with pytest.raises(OutOfRange):
        REGISTRY["instant_flow"](power_kw=math.nan, rise_k=35.0)


def test_an_unknown_word_is_refused():
    with pytest.raises(OutOfRange, match="busy time, quiet time"):
        REGISTRY["busy_supply_flow"](flow_l_min=9, tested_at="noon", shared="no", quiet_share=0.8, shared_share=0.5)


def test_a_limit_broken_at_one_corner_makes_the_range_anything():
    box = {"power_kw": Span(0.0, 20.0), "volume_l": exactly(210.0), "rise_k": exactly(50.0)}
    assert REGISTRY["reheat_minutes"].over(box) == ANYTHING


def test_words_and_numbers_over_a_box():
    """20 l/min, perhaps shared (x 0.5), tested at a quiet time (x 0.8): 8 to 16."""
    box = {"flow_l_min": exactly(20.0), "tested_at": words("quiet time"), "shared": words("yes", "no"),
           "quiet_share": exactly(0.8), "shared_share": exactly(0.5)}
    assert REGISTRY["busy_supply_flow"].over(box) == Span(8.0, 16.0)


@pytest.mark.parametrize("name, box, expected", [
    ("difference", {"value": ANYTHING, "limit": exactly(1.0)}, ANYTHING),
    ("difference", {"value": ANYTHING, "limit": ANYTHING}, ANYTHING),
    ("lesser", {"a": ANYTHING, "b": exactly(5.0)}, Span(-math.inf, 5.0)),  # at most 5, whatever a is
    ("flue_margin", {"opening_mm": ANYTHING, "opening_limit_mm": exactly(300.0), "boundary_mm": exactly(700.0),
                     "boundary_limit_mm": exactly(600.0)}, ANYTHING),
    ("drawn_minutes", {"litres_l": ANYTHING, "draw_l_min": exactly(9.0)}, ANYTHING),
])
def test_infinite_ends_never_become_a_number(name, box, expected):
    assert REGISTRY[name].over(box) == expected


def test_sums_with_an_unknown_part_are_unknown():
    assert REGISTRY["total"].over({"0": ANYTHING, "1": exactly(3.0)}) == ANYTHING
    assert REGISTRY["total"].over({}) == exactly(0.0)


def test_a_name_is_registered_once():
    with pytest.raises(KeyError, match="twice"):
        formula(text="a", args=(Arg("a", ""),), unit="", source=Source("none"), name="total")(lambda a: a)


def test_each_formula_says_where_it_comes_from():
    assert [f.name for f in REGISTRY.values() if not f.source.document] == []
