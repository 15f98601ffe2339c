"""Any figure of a report, worked again in one line: `advisor calc calc.NAME` with the inputs its trace names."""

from __future__ import annotations

import math

import pytest

from advisor.calc import REGISTRY
from advisor.calc.public import answer, calculators
from advisor.calc.public_formulas import spelled
from advisor.facts import Fact, FactBook, Span, Words
from tests import homes

DEMOS = ["terrace_two_showers", "semi_weak_mains", "large_family_house"]


def corner(fact: Fact, pick: str) -> float | str:
    return sorted(fact.value.words)[0] if isinstance(fact.value, Words) else getattr(fact.value, pick)


def line(book: FactBook, fact: Fact, pick: str) -> dict[str, str] | None:
    """The keys of the one-line call, each input at one end of its range; None where an input has no end."""
    formula = REGISTRY[fact.made_by.removeprefix("calc.")]
    ends = [(arg, corner(book[key], pick)) for arg, key in fact.inputs]
    if any(isinstance(x, float) and not math.isfinite(x) for _, x in ends):
        return None
    if formula.variadic:
        return {formula.args[0].name: "; ".join(repr(x) for _, x in ends)}
    units = {a.name: a.unit for a in formula.args}
    return {arg: spelled(x, units[arg]) for arg, x in ends}


@pytest.mark.parametrize("name", DEMOS)
def test_every_calculated_figure_has_a_line_that_gives_it(name: str) -> None:
    book = homes.quick(homes.survey(name)).book
    computed = [f for f in book if f.made_by.startswith("calc.") and not f.trust]
    exact = 0
    for fact in computed:
        assert fact.made_by in calculators(), f"{fact.name}: {fact.made_by} has no calculator"
        if not fact.inputs and fact.made_by != "calc.total":
            continue
        for pick in ("lo", "hi"):
            keys = line(book, fact, pick)
            if keys is None or keys == {"values": ""}:
                continue
            found = answer(fact.made_by, keys)
            if found.result is None:
                assert not (isinstance(fact.value, Span) and math.isfinite(fact.value.lo)), (fact.name, found.reason)
                continue
            value = found.result["value"]
            assert found.working and found.source.document
            if isinstance(fact.value, Words):
                assert value in fact.value.words
            else:
                slack = 1e-9 * max(1.0, abs(value))
                assert fact.value.lo - slack <= value <= fact.value.hi + slack, (fact.name, keys, value, fact.value)
                exact += fact.value.single
    assert exact > 100


def test_what_a_line_cannot_give_is_known_by_name() -> None:
    """The drop of a gas tree comes from a walk through the tree: `gas-tree` takes the legs themselves."""
    assert [f.name for f in REGISTRY.values() if f.trust] == ["gas_tree_drop"]
    assert "gas-tree" in calculators()
