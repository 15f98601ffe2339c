"""What a householder reads of the busy hour, and what decides it for the installer."""

from __future__ import annotations

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
