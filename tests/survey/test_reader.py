"""What an installer may write, and what is made of it: sets of values, how they are known; nothing is guessed."""

from __future__ import annotations

from datetime import date

import pytest

from advisor.facts import Span, words
from advisor.survey import SurveyError, read

FORMS = [
    # what is written, the set it leaves possible, the text kept, how it is known
    ('water.flow = "15 l/min"', Span(15, 15), "15 l/min", "measured"),
    ('water.flow = { value = "15 l/min", how = "told" }', Span(15, 15), "15 l/min", "told"),
    ('water.flow = { value = "15 l/min", how = "assumed" }', Span(15, 15), "15 l/min", "assumed"),
    ('water.flow = { between = ["12 l/min", "16 l/min"] }', Span(12, 16), "between 12 l/min and 16 l/min", "measured"),
    ('water.flow = "between 12 l/min and 16 l/min"', Span(12, 16), "between 12 l/min and 16 l/min", "measured"),
    ('water.inside_pipe = { one_of = ["22 mm", "15 mm"] }', Span(15, 22), "one of 22 mm, 15 mm", "measured"),
    ('water.inside_pipe = { one_of = ["22 mm"] }', Span(22, 22), "22 mm", "measured"),
    ('water.service_material = "Lead"', words("lead"), "lead", "measured"),
    ('water.service_material = { one_of = ["iron", "lead"] }', words("lead", "iron"), "one of iron, lead", "measured"),
    ('water.service_material = "one of iron, lead"', words("lead", "iron"), "one of iron, lead", "measured"),
    ("household.people = 3", Span(3, 3), "3", "told"),
    ('household.people = "3"', Span(3, 3), "3", "told"),
    ("household.people = 3.0", Span(3, 3), "3", "told"),
    ("household.people = { between = [2, 4] }", Span(2, 4), "between 2 and 4", "told"),
    ('home.built = "before 1919"', words("before 1919"), "before 1919", "told"),
    ('wishes.no_pumps = "must"', words("must"), "must", "told"),
    # 20 m x 0.0980665 bar a metre of water (NIST SP 811) = 1.96133 bar
    ('water.static_pressure = "20 m head"', Span(1.96133, 1.96133), "20 m head", "measured"),
    ('cistern.head = "-0.4 m"', Span(-0.4, -0.4), "-0.4 m", "measured"),
]


@pytest.mark.parametrize("line, value, text, how", FORMS, ids=[f[0] for f in FORMS])
def test_forms_of_an_answer(line: str, value, text: str, how: str, survey_of) -> None:
    survey = survey_of(line)
    [answer] = survey.answers.values()
    assert answer.field == line.split(" = ")[0]
    if isinstance(value, Span):
        assert (answer.value.lo, answer.value.hi) == (pytest.approx(value.lo), pytest.approx(value.hi))
    else:
        assert answer.value == value
    assert (answer.read, answer.how) == (text, how)


def test_everything_said_about_a_reading_is_kept(survey_of) -> None:
    survey = survey_of("""
        [water]
        flow = { value = "14 l/min", how = "measured", when = "07:40", instead_of = "19 l/min", note = "tap half shut" }
        flow_pressure = { value = "1 bar", when = 07:40:00 }
    """)
    flow = survey.answers["water.flow"]
    assert (flow.when, flow.instead_of, flow.note, flow.unit) == ("07:40", "19 l/min", "tap half shut", "l/min")
    assert survey.answers["water.flow_pressure"].when == "07:40:00"
    assert flow.as_json() == {"read": "14 l/min", "value": 14.0, "unit": "l/min", "how": "measured", "when": "07:40",
                              "instead_of": "19 l/min", "note": "tap half shut"}


def test_unknown_is_no_answer_but_remembered(survey_of) -> None:
    survey = survey_of('water.hardness = "unknown"\nelectric.looped = { value = "unknown", note = "operator asked" }')
    assert not survey.answers
    assert survey.unknown == {"water.hardness", "electric.looped"}
    assert survey.value("water.hardness") == Span(0, 600)  # the whole domain
    assert {"water.hardness", "electric.looped"} <= set(survey.unanswered())


def test_unknown_is_not_no(survey_of) -> None:
    survey = survey_of('water.shared = "unknown"')
    assert survey.value("water.shared") == words("no", "yes")


def test_a_wish_not_written_is_no_wish(survey_of) -> None:
    survey = survey_of('wishes.no_pumps = "none"\noutlets.shower.flow = "8 l/min"')
    assert survey.value("wishes.no_cylinder") == words("none")
    assert survey.value("outlets.shower.at_once") == words("no")
    assert survey.wishes == ()
    assert not [f for f in survey.unanswered() if f.startswith("wishes.") or f.endswith(".at_once")]


def test_wishes_come_in_the_household_s_order(survey_of) -> None:
    survey = survey_of("""
        [wishes]
        no_pumps = "prefer"
        low_price = "must"
        save_space = "prefer"
        outlets_at_once = "prefer"
        order = ["save_space", "no_pumps"]
    """)
    assert survey.wishes == ("save_space", "no_pumps", "outlets_at_once", "low_price")


def test_lists_keep_the_order_of_the_file_and_their_completeness(survey_of) -> None:
    survey = survey_of("""
        [places]
        complete = true
        [places.loft]
        kind = "loft"
        [places.cellar]
        [gas.appliances]
        complete = false
        [outlets.shower]
    """)
    assert survey.lists["places"] == ("loft", "cellar")
    assert survey.complete == {"places"}
    assert survey.lists["outlets"] == ("shower",) and survey.lists["gas.appliances"] == ()
    fields = {field: entity for field, _, entity in survey.every_field()}
    assert fields["places.cellar.width"] == "cellar" and fields["water.flow"] == "site"
    assert "places.NAME.width" not in fields


def test_gas_legs_keep_where_they_begin_and_end(survey_of) -> None:
    survey = survey_of("""
        [gas.legs.first]
        from = "meter"
        size = "22 mm"
        [gas.legs.second]
        from = "first"
        to = "boiler"
    """)
    assert survey.links == {"first": ("meter", ""), "second": ("first", "boiler")}
    assert "gas.legs.first.from" not in survey.answers


def test_private_lines_are_kept_apart(survey_of) -> None:
    survey = survey_of('[private]\nname = "A. Home"\nnotes = "<b>two\\nlines</b> {braces}"\n')
    assert survey.private == {"name": "A. Home", "notes": "<b>two\nlines</b> {braces}"}
    assert not survey.answers and "A. Home" not in repr(survey)


def test_dates(survey_of) -> None:
    survey = survey_of('works_date = 2027-01-15\nsurveyed_on = "2026-11-20"\n')
    assert (survey.works_date, survey.surveyed_on) == (date(2027, 1, 15), date(2026, 11, 20))
    assert survey_of("").works_date is None


def test_answers_are_sorted_whatever_the_order_of_the_file(survey_of) -> None:
    one = survey_of('water.flow = "15 l/min"\nhome.storeys = 2\nelectric.main_fuse = "80 A"')
    two = survey_of('electric.main_fuse = "80 A"\nwater.flow = "15 l/min"\nhome.storeys = 2')
    assert list(one.answers) == list(two.answers) == ["electric.main_fuse", "home.storeys", "water.flow"]
    assert one.answers == two.answers


def test_windows_files_are_read(tmp_path, vocabulary) -> None:
    path = tmp_path / "home.toml"
    path.write_bytes(b'\xef\xbb\xbfsurvey_format = 1\r\nnation = "wales"\r\n')
    assert read(path, vocabulary).answers["nation"].value == words("wales")


def test_a_missing_file_is_an_error_of_the_system(tmp_path, vocabulary) -> None:
    with pytest.raises(OSError):
        read(tmp_path / "none.toml", vocabulary)


HOSTILE = {
    "a long text": ('[private]\nnotes = "' + "a" * 1_000_000 + '"', "private.notes: the text is 1000000 characters"),
    "a long answer": ('water.flow = "between' + " " * 1_000_000 + '"', "water.flow: "),
    "a long word": ('water.shared = "' + "yes" * 300_000 + '"', "water.shared: "),
    "a long key": ("a" * 1_000_000 + " = 1", "this key is not known"),
    "a deep key": ("a" + ".a" * 300_000 + " = 1", "nested too deeply"),
    "a deep quoted key": ('"a"' + '."a"' * 200_000 + " = 1", "nested too deeply"),
    "deep arrays": ("x = " + "[" * 100_000, "nested too deeply"),
    "deep tables": ("x = " + "{a=" * 100_000, "nested too deeply"),
    "a deep answer": ('water.flow = { note = ' + "{a=" * 60 + "1" + "}" * 60 + " }", "water.flow: nested too deeply"),
    "a long integer": ("household.people = " + "9" * 5000, "thousands of digits"),
    "a big integer": ("household.people = " + "9" * 500, "household.people: a very large number is not a count"),
    "infinity": ("household.people = inf", "household.people: inf is not a count"),
    "a huge file": ("# " + "x" * 2_100_000, "the file has 21"),
    "many entries": ("\n".join(f"[places.p{i}]" for i in range(60)), "places: 60 entries. Allowed: 40"),
    "null bytes": ("\0\0", "not valid TOML"),
    "control characters in a key": ('"a\\u0000b\\u001b[31m" = 1', "a\\x00b\\x1b[31m: this key is not known"),
    "control characters in a word": ('water.shared = "y\\u0007es"', 'water.shared: "y\\x07es"'),
    "a table for a word": ("[water.shared]\nx = 1", 'water.shared: the key "x" is not known'),
    "a list for a word": ('water.shared = ["yes"]', "water.shared: a list"),
    "a date for a number": ("water.flow = 2026-01-01", "water.flow: a date or a time"),
    "an array of tables": ("[[places]]\nkind = 'loft'", "places: a list"),
    "a text for a section": ('water = "wet"', 'water: "wet". Allowed: a table'),
    "a name from elsewhere": ('[places."../../etc/passwd"]', "places.../../etc/passwd: this is no name"),
    "the reserved name": ('places.complete = { kind = "loft" }', "places.complete: a table. Allowed: true"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_files_are_refused_in_one_printable_line(name: str, survey_of) -> None:
    text, expected = HOSTILE[name]
    with pytest.raises(SurveyError) as refusal:
        survey_of(text)
    [fault] = refusal.value.faults
    assert expected in fault and fault.startswith("home.toml: ")
    assert len(fault) < 400 and all(c.isprintable() for c in fault)
