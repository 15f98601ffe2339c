"""What a householder reads of the busy hour, and what decides it for the installer."""

from __future__ import annotations

import pytest

from advisor.report import busy
from advisor.report.wording import NBSP
from tests import homes


def said(name: str, family: str) -> tuple[str, str]:
    advice = homes.quick(homes.survey(name))
    judged = next(j for j in advice.families() if j.arrangement.family == family)
    (outcome,) = busy.simulate(advice, [judged])
    return busy.sentence(outcome).replace(NBSP, " "), busy.decider(outcome).replace(NBSP, " ")


def test_a_boiler_too_small_for_two_showers() -> None:
    """30 kW warms 60 x 30 / (4.187 x 35) = 12.28 l/min, 6.14 for each of two."""
    words, why = said(homes.DEMO, "combination-boiler")
    assert words == "The loft shower gets 6.1 l/min of the 9.0 l/min wanted, from the start."
    assert why == "What decides: the heater warms 12.3 l/min of the 18.0 l/min wanted together."


def test_a_store_used_up() -> None:
    words, why = said("large_family_house", "storage-combination-boiler")
    assert words.startswith("The parents shower turns cold after 4 min of drawing")
    assert why == "What decides: the store is used up faster than it is reheated."


def test_a_cistern_too_low_is_not_blamed_on_the_main() -> None:
    words, why = said("estate_microbore", "keep-what-is-there")
    assert "of the 8.0 l/min wanted, from the start" in words and "the cistern's head" in why


def test_a_slow_bath_is_said_in_the_same_breath() -> None:
    words, _ = said("semi_weak_mains", "boiler-cistern-fed-cylinder")
    assert words.startswith("Everyone has warm water in the busiest hour. The bath takes 9 min to fill instead of 8.")


def test_the_advice_is_untouched() -> None:
    """The simulation reads the fact book and enters nothing."""
    advice = homes.quick(homes.survey(homes.DEMO))
    before = len(advice.book.facts)
    busy.simulate(advice, advice.families())
    assert len(advice.book.facts) == before


def test_the_pipe_that_decides_is_named_with_what_it_costs() -> None:
    """17 l/min at 1.4 bar of 3.4: at 1.5 bar 17 (1.9 / 2.0)^(1/1.85) = 16.5. In 5 m of 15 mm, half as much again for bends:
    v = 16.5 / 60000 / 0.0001453 = 1.89 m/s, f = 0.0256, 0.0256 x 7.5 / 0.0136 x 999.7 x 1.89^2 / 2 = 25,200 Pa. Without
    it 16.5 (1 - 0.252 / 1.9)^(-1/1.85) = 17.8: it costs 1.3 l/min.
    """
    survey = homes.survey(homes.DEMO).with_changes({
        "water.flow": "17 l/min", "water.inside_pipe": "15 mm", "water.inside_pipe_length": "5 m"})
    advice = homes.quick(survey)
    judged = next(j for j in advice.judged if j.id == "boiler-unvented-cylinder:scullery-180l-18kw")
    (outcome,) = busy.simulate(advice, [judged])
    said = busy.costly_pipes(advice, outcome).replace(NBSP, " ")
    assert said.startswith("The 5.0 m of 15 mm pipe indoors costs 1.")
    assert advice.fact("inside_pipe.costs_l_min").value.lo == pytest.approx(1.3, abs=0.15)
    # 14 l/min: 3.4 - 2 (18/14)^1.85 = 0.22 bar at 18 l/min, too little for any mixer with no inlet set in the way either
    unknown = homes.quick(homes.survey(homes.DEMO).with_changes({"water.flow": "14 l/min"}))
    (outcome,) = busy.simulate(unknown, [next(j for j in unknown.judged if j.id == judged.id)])
    assert "measure the pipe indoors" in busy.costly_pipes(unknown, outcome)
