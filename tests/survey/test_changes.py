"""`with_changes`: the same texts as in the file, read as strictly, and never a change to the survey it began with."""

from __future__ import annotations

import timeit

import pytest

from advisor.facts import Span, words
from advisor.survey import Survey, SurveyError, read


def test_a_change_makes_a_new_survey(demo: Survey) -> None:
    before = dict(demo.answers)
    new = demo.with_changes({"water.flow": "14 l/min"})
    assert new.answers["water.flow"].value == Span(14, 14)
    assert demo.answers == before and new.answers is not demo.answers


@pytest.mark.parametrize("field, text, value", [
    ("water.static_pressure", "between 2 bar and 3 bar", Span(2, 3)),
    ("water.service_material", "one of lead, iron", words("lead", "iron")),
    ("household.people", "6", Span(6, 6)),
    ("wishes.no_pumps", "prefer", words("prefer")),
    ("outlets.bath.at_once", "yes", words("yes")),
    ("places.scullery.door", "27 in", Span(685.8, 685.8)),  # 27 x 25.4
    ("nation", "one of wales, england", words("wales", "england")),
])
def test_texts_as_in_a_file(demo: Survey, field: str, text: str, value) -> None:
    got = demo.with_changes({field: text}).answers[field].value
    if isinstance(value, Span):
        assert (got.lo, got.hi) == (pytest.approx(value.lo), pytest.approx(value.hi))
    else:
        assert got == value


@pytest.mark.parametrize("nothing", ["unknown", "null", "", None, " Unknown "])
def test_an_answer_can_be_taken_away(demo: Survey, nothing: str | None) -> None:
    new = demo.with_changes({"water.flow": nothing})
    assert "water.flow" not in new.answers and "water.flow" in new.unanswered()
    assert new.value("water.flow") == Span(1, 100)


def test_a_wish_can_be_given_up_and_taken_up(demo: Survey) -> None:
    assert demo.wishes[0] == "outlets_at_once"
    assert "outlets_at_once" not in demo.with_changes({"wishes.outlets_at_once": "none"}).wishes
    assert "outlets_at_once" not in demo.with_changes({"wishes.outlets_at_once": "unknown"}).wishes
    assert demo.with_changes({"wishes.save_space": "prefer"}).wishes == (*demo.wishes, "save_space")


def test_the_text_an_answer_keeps_is_one_it_accepts_again(demo: Survey) -> None:
    again = demo.with_changes({field: answer.read for field, answer in demo.answers.items()})
    assert {f: a.value for f, a in again.answers.items()} == {f: a.value for f, a in demo.answers.items()}


def test_lines_that_are_no_answers_can_be_changed_too(demo: Survey) -> None:
    new = demo.with_changes({"works_date": "2028-02-01", "wishes.order": "low_running_cost, no_pumps",
                             "places.complete": "false", "gas.legs.to_hob.from": "meter_to_hall"})
    assert new.works_date.isoformat() == "2028-02-01"
    assert new.wishes[:2] == ("low_running_cost", "no_pumps")
    assert "places" not in new.complete and "places" in demo.complete
    assert new.links["to_hob"] == ("meter_to_hall", "hob")


@pytest.mark.parametrize("changes, expected", [
    ({"water.flwo": "14 l/min"}, "water.flwo: this is no field of this survey. Did you mean water.flow?"),
    ({"places.cellar.width": "800 mm"}, "places.cellar.width: this is no field of this survey."),
    ({"private.name": "X"}, "private.name: this is no field of this survey."),
    ({"water.flow": "lots"}, 'water.flow: "lots" does not start with a number.'),
    ({"water.flow": "140 l/min"}, 'water.flow: "140 l/min" is 140 l/min. Allowed: 1 to 100 l/min.'),
    ({"water.shared": "maybe"}, 'water.shared: "maybe". Allowed: no, yes.'),
    ({"wishes.no_pumps": "yes"}, 'wishes.no_pumps: "yes". Allowed: none, prefer, must.'),
    ({"works_date": "soon"}, 'works_date: "soon". Allowed: a date such as 2027-01-15.'),
    ({"places.complete": "maybe"}, 'places.complete: "maybe". Allowed: true, false.'),
    ({"wishes.order": "no_pump"}, 'wishes.order: "no_pump" is no wish.'),
    ({"water.flow_pressure": "3.4 bar"}, "water.flow_pressure: 3.4 bar while water runs, but 3.4 bar"),
    ({"gas.legs.to_hob.from": "nowhere"}, 'gas.legs.to_hob.from: "nowhere" is no leg.'),
    ({"gas.legs.meter_to_hall.from": "to_boiler"}, "run in a circle"),
])
def test_bad_changes_are_refused(demo: Survey, changes: dict[str, str], expected: str) -> None:
    with pytest.raises(SurveyError) as refusal:
        demo.with_changes(changes)
    assert expected in str(refusal.value)


@pytest.mark.parametrize("key", ["from", "to"])
@pytest.mark.parametrize("text", ["\x1b[31mred", "\u202eabc", "two\nlines", "Under Floor", "x" * 5000])
def test_no_name_at_all_is_refused_in_one_printable_line(demo: Survey, key: str, text: str) -> None:
    """What a terminal would obey, or a page could not hold, never comes back as it was sent."""
    with pytest.raises(SurveyError) as refusal:
        demo.with_changes({f"gas.legs.under_floor.{key}": text})
    [fault] = refusal.value.faults
    assert fault.startswith(f"gas.legs.under_floor.{key}: ") and "Allowed: the name of a leg" in fault
    assert fault.isprintable() and len(fault) < 250


def test_all_bad_changes_are_named_at_once(demo: Survey) -> None:
    with pytest.raises(SurveyError) as refusal:
        demo.with_changes({"water.flow": "lots", "water.shared": "maybe", "nowhere.at_all": "1"})
    assert len(refusal.value.faults) == 3


def test_a_change_costs_little(demo: Survey, vocabulary) -> None:
    """Flip points rebuild a survey hundreds of times: a change must cost a fraction of reading the file."""
    reading = min(timeit.repeat(lambda: read(demo.path, vocabulary), number=3, repeat=3))
    changing = min(timeit.repeat(lambda: demo.with_changes({"water.flow": "14 l/min"}), number=3, repeat=3))
    assert changing < reading / 3
