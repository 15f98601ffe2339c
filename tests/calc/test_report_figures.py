"""Any figure of a report, worked again in one line: `advisor calc calc.NAME` with the inputs its trace names."""

from __future__ import annotations

import math
import shlex

import pytest

from advisor.calc import REGISTRY
from advisor.calc.public import answer, calculators
from advisor.facts import ANYTHING, Span, Words
from advisor.report import rework
from advisor.water import calculator as water
from tests import homes

DEMOS = ["terrace_two_showers", "semi_weak_mains", "large_family_house"]


@pytest.mark.parametrize("name", DEMOS)
def test_every_calculated_figure_has_a_line_that_gives_it(name: str) -> None:
    book = homes.quick(homes.survey(name)).book
    computed = [f for f in book if f.made_by.startswith("calc.") and not f.trust]
    exact = 0
    for fact in computed:
        assert fact.made_by in calculators(), f"{fact.name}: {fact.made_by} has no calculator"
        for pick in ("lo", "hi"):
            keys = rework.keys(book, fact, pick)
            if keys is None:
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


def test_the_printed_line_can_be_pasted() -> None:
    advice = homes.quick(homes.survey(homes.DEMO))
    fact = next(f for f in advice.book if f.name == "store.mixed_l")
    (line,) = rework.lines(advice, fact)
    words = shlex.split(line.partition("advisor calc ")[2])
    found = answer(words[0], dict(word.split("=", 1) for word in words[1:]))
    assert found.result["value"] == pytest.approx(fact.value.lo, rel=1e-12)


def test_what_a_line_cannot_give_is_known_by_name() -> None:
    """The drop of a gas tree comes from a walk through the tree: `gas-tree` takes the legs themselves. The busy hour
    comes from a simulation: `busy-hour` runs it."""
    trusted = {f"calc.{f.name}" for f in REGISTRY.values() if f.trust}
    assert trusted == set(rework.TRUSTED) == {"calc.gas_tree_drop", "calc.gravity_together", "calc.busy_hour_short",
                                            "calc.busy_hour_until", "calc.busy_hour_together"}
    assert "gas-tree" in calculators()


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_the_printed_gas_tree_gives_the_drop_at_both_ends(name: str) -> None:
    """Also where a size or length is a range, and where pipes or appliances have not been looked at."""
    advice, compared = homes.quick(homes.survey(name)), 0
    for fact in [f for f in advice.book if f.made_by == "calc.gas_tree_drop"][:6]:
        drops = []
        for line in rework.lines(advice, fact):
            words = shlex.split(line.partition("advisor calc ")[2])
            drops.append(answer(words[0], dict(word.split("=", 1) for word in words[1:])).result["drop"])
        if drops:
            assert (min(drops), max(drops)) == (pytest.approx(fact.value.lo), pytest.approx(fact.value.hi)), fact
            compared += 1
    assert compared or all(f.value == ANYTHING for f in advice.book if f.made_by == "calc.gas_tree_drop")


def test_the_printed_gravity_call_gives_the_flow() -> None:
    """Outlets on one cistern: `water-network` with the pipes typed out gives the flow of all together, at both ends."""
    compared = 0
    for advice in (homes.quick(homes.survey(name)) for name in homes.SURVEYS):
        for fact in [f for f in advice.book if f.made_by == "calc.gravity_together"]:
            ends = [x for x in dict.fromkeys((fact.value.lo, fact.value.hi)) if x > 0]
            for line, end in zip(rework.lines(advice, fact), ends, strict=True):
                words = shlex.split(line.partition("advisor calc ")[2])
                found = answer(words[0], dict(word.split("=", 1) for word in words[1:]), water.CALCULATORS)
                assert found.result["flow"] == pytest.approx(end, abs=0.001), (fact.name, line)
                compared += 1
    assert compared >= 5


# the legs as the two surveys have them, and what hangs on them besides the boiler
GAS = {
    "semi_weak_mains": ("meter_to_kitchen from meter 22 mm 4 m 3 elbows; to_boiler from meter_to_kitchen to boiler 22 mm "
                        "1.5 m 2 elbows; to_cooker from meter_to_kitchen to cooker 15 mm 2 m 2 elbows", "cooker", 11.5),
    "large_family_house": ("meter_to_garage from meter 28 mm 4 m 3 elbows; to_boiler from meter_to_garage to boiler 28 mm "
                           "1.5 m 2 elbows; to_hob from meter_to_garage to hob 22 mm 6 m 4 elbows", "hob", 11.0),
}


@pytest.mark.parametrize("name", GAS)
def test_the_gas_drop_of_a_report_is_that_of_the_tree_typed_in(name: str) -> None:
    legs, other, input_kw = GAS[name]
    book = homes.quick(homes.survey(name)).book
    drops = [f for f in book if f.name == "gas.drop_mbar" and isinstance(f.value, Span) and f.value.single]
    rest = answer("gas-rate", {"input": f"{input_kw} kW", "calorific_value": "39.5 MJ/m3"}).result["flow"]
    compared = 0
    for fact in drops:
        boiler = book[fact.inputs[0][1]]
        if not isinstance(boiler.value, Span) or not boiler.value.single:
            continue
        found = answer("gas-tree", {"legs": legs, "loads": f"boiler {boiler.value.lo:.12f} m3/h; {other} {rest:.12f} m3/h"})
        assert found.result["drop"] == pytest.approx(fact.value.lo, rel=1e-9), fact.entity
        compared += 1
    assert compared >= 5
