"""Does the hot water last: the facts that rules compare come from the simulation, and never say more than it."""

from __future__ import annotations

import random

import pytest

from advisor.facts import Span
from advisor.survey import Survey
from advisor.water import lasts as answers
from advisor.water.lasts import lasts
from advisor.water.store import FEW, MANY, Heating, minutes_to
from tests import homes
from tests.water.test_outcome import ranged

DEMO = "terrace_two_showers"


def book_of(survey: Survey):
    advice = homes.quick(survey)
    return advice, sorted(advice.book.of("outlet.kind"))


def margins(survey: Survey) -> dict[str, Span]:
    book = homes.quick(survey).book
    return {entity: fact.value for entity, (fact,) in book.of("outlet_short_margin_min").items()}


@pytest.mark.parametrize("layers", [FEW, MANY])
@pytest.mark.parametrize(("litres", "flow", "cold"), [(50, 9, 5), (120, 18, 5), (210, 30, 5), (300, 12, 15), (90, 40, 10)])
def test_a_store_surely_gives_three_quarters_of_its_heat(litres: float, flow: float, cold: float, layers: int) -> None:
    """The threshold `sure_share`: mixed litres V (60 - c) / (40 - c) if none is left behind; three quarters at the least."""
    whole = litres * (60 - cold) / (40 - cold)
    minutes = minutes_to(litres, layers, 60, cold, flow, 40, None, 40.0)
    assert 0.75 * whole < minutes * flow < whole


def test_reheat_never_brings_the_cold_nearer() -> None:
    for litres in (120, 210):
        plain = minutes_to(litres, FEW, 60, 5, 18, 40, None, 40.0)
        for kw in (3.0, 12.0):
            assert minutes_to(litres, FEW, 60, 5, 18, 40, Heating(kw, 60.0), 40.0) >= plain


def test_the_fact_is_what_the_simulation_says() -> None:
    """Four showers of 6 min, two at once, at 9 l/min: 216 l. 180 l of 60 degrees hold 283 l at 40, if none is left."""
    advice, outlets = book_of(homes.survey(DEMO))
    simulated = 0
    for judged in advice.judged:
        fact = advice.fact("store.short_after_min", judged.id)
        found = lasts(advice.book, judged.arrangement, outlets)
        if fact.made_by == "calc.busy_hour_short" and found is not None:
            simulated += 1
            until = advice.fact("busy.until_min", judged.id)
            assert fact.trust and until.trust
            assert (fact.value, until.value) == (found.short, Span(found.until, found.until)) or fact.value == Span(60, 60)
    assert simulated > 10


def test_a_large_store_is_not_simulated() -> None:
    """300 l give 0.75 x 300 x 55 / 35 = 354 l for sure; 216 are wanted and 6 min x 18 l/min may run beside: 324."""
    advice, _ = book_of(homes.survey(DEMO))
    large = [j for j in advice.judged if j.arrangement.litres == 300 and "cylinder" in j.arrangement.family]
    answers.forget()
    for judged in large:
        assert advice.fact("store.short_after_min", judged.id).value == Span(60, 60)
        assert advice.fact("store.bound_short_min", judged.id).value == Span(60, 60)
    homes.quick(homes.survey(DEMO), tuple(j.id for j in large))
    assert large and not answers._known


def test_where_the_cylinder_stands_is_not_simulated_twice() -> None:
    advice, outlets = book_of(homes.survey(DEMO))
    pair = [j.arrangement for j in advice.judged if j.id in ("boiler-unvented-cylinder:scullery-150l-18kw",
                                                             "boiler-unvented-cylinder:landing_cupboard-150l-18kw")]
    answers.forget()
    first, second = (lasts(advice.book, a, outlets) for a in pair)
    assert first is second and len(answers._known) == 1


def test_a_main_nobody_measured_does_not_keep_it_open() -> None:
    layout = "boiler-unvented-cylinder:scullery-150l-18kw"
    blind = homes.survey(DEMO).with_changes({"water.static_pressure": "unknown", "water.flow": "unknown"})
    known, unknown = (homes.quick(s).fact("store.short_after_min", layout) for s in (homes.survey(DEMO), blind))
    assert known.value == unknown.value and known.made_by == unknown.made_by == "calc.busy_hour_short"
    assert known.value.hi == 60 and known.value != homes.quick(blind).fact("store.bound_short_min", layout).value
    assert known.value.lo < 12 and not known.rests_on & {"water.static_pressure", "water.flow"}


def test_showers_of_any_length_hold_the_short_ones() -> None:
    """2 to 25 min: nothing runs out in short showers, so no layout with a store is certainly short over the range."""
    any_length = homes.survey("large_family_house").with_changes({"household.shower_minutes": "unknown"})
    wide = margins(any_length)
    brief = margins(any_length.with_changes({"household.shower_minutes": "3 min"}))
    lasting = [layout for layout, margin in brief.items() if margin.lo >= 0]
    assert len(lasting) > 20 and all(wide[layout].hi >= 0 for layout in lasting)


def test_draws_longer_than_the_hour_are_short_only_where_they_are() -> None:
    """Six showers of 25 min, two at once at 5 l/min: 75 min. 10 l/min from 5 to 40 degrees want 24.4 kW (10 x 4.187 x 35 / 60).

    30 kW keep up for ever, though the hour ends before the showers do. 18 kW fall 2.6 l/min behind: 300 l carry that
    past the hour, and run out before the end.
    """
    changes = {"household.busy_showers": "6", "household.shower_minutes": "25 min", "household.least_shower": "4 l/min",
               "outlets.main_shower.flow": "5 l/min", "outlets.loft_shower.flow": "5 l/min"}
    long = homes.quick(homes.survey(DEMO).with_changes(changes))

    def of(layout: str) -> tuple[Span, Span]:
        assert long.fact("busy.until_min", layout).value == Span(75, 75)
        return long.fact("outlet_short_after_min", layout).value, long.fact("outlet_short_margin_min", layout).value

    assert of("boiler-unvented-cylinder:scullery-210l-30kw") == (Span(180, 180), Span(105, 105))
    after, margin = of("boiler-unvented-priority:scullery-300l-18kw")
    assert 60 < after.lo <= after.hi < 75 and margin.hi < 0


@pytest.mark.parametrize("seed", [3, 4])
def test_no_home_inside_overturns_what_was_certain(tmp_path, seed: int) -> None:
    """The bounds where nothing can be simulated, and the band where it can, hold every completion's own answer."""
    rng, tried = random.Random(seed), 0
    large = homes.survey("large_family_house").with_changes({"household.shower_minutes": "unknown"})
    for survey in (ranged(tmp_path), large):
        wide = margins(survey)
        for _ in range(4):
            point = homes.completion(survey, rng)
            for layout, inner in margins(point).items() if point else ():
                tried += 1
                assert wide[layout].lo < 0 or inner.lo >= 0, (layout, wide[layout], inner)
                assert wide[layout].hi >= 0 or inner.hi < 0, (layout, wide[layout], inner)
    assert tried > 200


def test_two_showers_at_once_must_last_for_one_shower() -> None:
    """45 l of 60 degrees make 45 x 55 / 35 = 70.7 l of 40; 28 kW heat 28 x 60 / (4.187 x 35) = 11.5 of the 18 l/min wanted.

    Spent beside the boiler at 6.5 l/min they last 70.7 / 6.5 = 10.8 min at the most, and 70.7 / 18 = 3.9 min if the
    boiler stood still: a shower of 3 min is served, one of 12 min is not, however the case is built.
    """
    layout, rule = "storage-combination-boiler:28kw", "must-serve-them-for-one-shower"

    def of(minutes: str):
        advice = homes.quick(homes.survey(DEMO).with_changes({"household.shower_minutes": minutes}), (layout,))
        return advice.fact("together_short_after_min", layout).value, {f.rule: f.certain for f in advice[layout].findings}

    after, found = of("12 min")
    assert 3.5 <= after.lo <= after.hi <= 10.8 and found[rule]
    after, found = of("3 min")
    assert after == Span(60, 60) and rule not in found


def test_one_round_of_showers_lasts_no_less_than_the_hour_that_begins_with_it() -> None:
    """In every layout and every home: the same outlets, for the length of one shower only."""
    for name in homes.SURVEYS:
        book = homes.quick(homes.survey(name)).book
        for layout, (together,) in book.of("together_short_after_min").items():
            (hour,) = book.of("store.short_after_min")[layout]
            assert together.value.hi >= min(hour.value.hi, 60) and together.value.lo >= min(hour.value.lo, 60), (name, layout)
