"""The declared rounding, typed by hand: what a value prints as, unit by unit.

No published standard fixes these; the table is the declaration. Halves go away
from zero, so that 0.25 bar prints 0.3 bar as a person would write it.
"""

from __future__ import annotations

import math
from datetime import date

import pytest

from advisor.facts import ANYTHING, Fact, Span, Words, exactly, words
from advisor.report import wording
from advisor.rulebase.model import Entry


def plain(text: str) -> str:
    return text.replace(wording.NBSP, " ")


ROUNDING = [
    (9.76, "l/min", "9.8 l/min"), (9.74, "l/min", "9.7 l/min"), (19.94, "l/min", "19.9 l/min"),
    (20.4, "l/min", "20 l/min"), (23.5, "l/min", "24 l/min"), (0.25, "bar", "0.3 bar"), (3.0, "bar", "3.0 bar"),
    (24.0, "kW", "24.0 kW"), (5.449, "kW", "5.4 kW"), (450.4, "mm", "450 mm"), (4.55, "m", "4.6 m"),
    (297.5, "l", "298 l"), (12.5, "min", "13 min"), (2.345, "m3/h", "2.35 m³/h"), (0.965, "mbar", "0.97 mbar"),
    (38.5, "A", "39 A"), (2.25, "kN", "2.3 kN"), (225.4, "kg", "225 kg"), (62.5, "%", "63 %"), (0.8, "", "0.80"),
    (3.0, "", "3"), (60.0, "C", "60 °C"), (-0.0004, "bar", "0.0 bar"), (260.0, "mg/l", "260 mg/l"),
]


@pytest.mark.parametrize("value, unit, text", ROUNDING)
def test_declared_rounding(value: float, unit: str, text: str) -> None:
    assert plain(wording.show(exactly(value), unit)) == text


def test_number_and_unit_never_part() -> None:
    assert wording.show(exactly(9.8), "l/min") == "9.8\u00a0l/min"


SETS = [
    (Span(12.0, 14.04), "l/min", "12.0 to 14.0 l/min"), (Span(6.0, 7.5), "kW", "6.0 to 7.5 kW"),
    (words("lead", "iron"), "", "iron or lead"), (words("lead", "iron", "copper"), "", "copper, iron or lead"),
    (ANYTHING, "l/min", "not known"), (Span(-math.inf, 3.0), "m", "at most 3.0 m"),
    (Span(3.0, math.inf), "m", "at least 3.0 m"), (Span(0.8, 1.0), "", "0.80 to 1.00"),
    (words("1919-1944"), "", "1919-1944"), (words("landing_cupboard"), "", "landing cupboard"),
]


@pytest.mark.parametrize("value, unit, text", SETS)
def test_value_sets_are_phrases(value, unit: str, text: str) -> None:
    assert plain(wording.show(value, unit)) == text


MARGINS = [
    (exactly(-3.2), "l/min", "3.2 l/min short"), (exactly(1.4), "l/min", "1.4 l/min to spare"),
    (exactly(0.0), "mm", "nothing to spare"),
    (Span(-1.2, 0.8), "l/min", "between 1.2 l/min short and 0.8 l/min to spare"),
    (Span(0.59, 0.71), "mbar", "0.59 to 0.71 mbar to spare"), (Span(-3.1, -0.52), "bar", "0.5 to 3.1 bar short"),
    (exactly(-0.04), "l/min", "0.04 l/min short"), (exactly(-0.3), "mm", "0.3 mm short"),
    (ANYTHING, "mm", "not known"),
]


@pytest.mark.parametrize("value, unit, text", MARGINS)
def test_margins_say_their_side_and_never_hide_a_failure(value, unit: str, text: str) -> None:
    assert plain(wording.show_margin(value, unit)) == text


PAIRS = [
    # (value, limit, unit, both as printed): one more decimal only where rounding would make them alike
    (8.96, 9.0, "l/min", "8.96 l/min", "9.00 l/min"), (12.28, 18.0, "l/min", "12.3 l/min", "18.0 l/min"),
    (1.004, 1.0, "mbar", "1.004 mbar", "1.000 mbar"), (19.98, 20.0, "l/min", "19.98 l/min", "20.0 l/min"),
    (44.8, 45.0, "min", "44.8 min", "45.0 min"), (9.0, 9.0, "l/min", "9.0 l/min", "9.0 l/min"),
]


@pytest.mark.parametrize("value, limit, unit, shown, against", PAIRS)
def test_a_value_never_rounds_onto_its_limit(value, limit, unit, shown, against) -> None:
    assert tuple(map(plain, wording.show_pair(exactly(value), exactly(limit), unit))) == (shown, against)


def fact(name: str, value, unit: str = "", **more) -> Fact:
    return Fact(f"{name}@site", name, "site", "site", value, unit, **more)


def test_an_unanswered_field_is_not_surveyed_and_a_narrowed_one_is_a_range() -> None:
    entry = Entry("water.flow_l_min", "site", "number", unit="l/min", domain=(1, 100))
    missing = fact("water.flow_l_min", Span(1, 100), "l/min", how="default")
    assert wording.show_fact(missing, entry) == "not surveyed"
    derived = fact("water.flow_l_min", Span(1, 100), "l/min", how="default", made_by="calc.lesser")
    assert wording.show_fact(derived, entry) == "not known"
    narrowed = fact("water.flow_l_min", Span(5, 12), "l/min", how="default", made_by="calc.lesser")
    assert plain(wording.show_fact(narrowed, entry)) == "5.0 to 12.0 l/min"


AFTER = [(exactly(8.0), "after 8 min"), (exactly(60.0), "never"), (exactly(0.0), "at once"),
         (Span(3.0, 60.0), "after 3 min at worst, never at best"), (exactly(75.0), "after 75 min"),
         (Span(19.0, 180.0), "after 19 min at worst, never at best")]


@pytest.mark.parametrize("value, text", AFTER)
def test_sixty_minutes_is_never(value, text: str) -> None:
    assert plain(wording.show_fact(fact("outlet_short_after_min", value, "min"))) == text


def test_distance_beyond_a_table() -> None:
    assert plain(wording.show_fact(fact("discharge.over_table_m", exactly(2.44), "m"))) == "2.4 m beyond it"
    assert plain(wording.show_fact(fact("discharge.over_table_m", exactly(-18.8), "m"))) == "18.8 m inside it"


def test_how_known_in_words() -> None:
    assert [wording.how_known(h) for h in ("measured", "told", "assumed", "default")] == [
        "measured", "told to us", "assumed", "not surveyed"]


def test_renderings_hold_more_decimals_of_the_same_value_and_nothing_else() -> None:
    shown = {plain(t) for t in wording.renderings(fact("x_l_min", exactly(12.2834), "l/min"))}
    assert shown == {"12.3 l/min", "12.28 l/min", "12.283 l/min", "12.2834 l/min", "12.28340 l/min"}


def test_clean_drops_what_cannot_be_seen() -> None:
    assert wording.clean("a\x00b\u202ec\n d\ue000") == "abc d"
    assert isinstance(wording.show(Words(frozenset(["x"]))), str)


def test_dates_do_not_follow_the_machine() -> None:
    assert wording.day(date(2026, 11, 8)) == "8 November 2026"
    assert wording.day(None) == ""


def test_an_absence_in_words() -> None:
    entries = {"water.shared": Entry("water.shared", "site", "words", plain="the shared supply")}
    assert wording.plain("absent:water.shared~is yes|no", entries) == "nothing says that the shared supply is yes or no"
