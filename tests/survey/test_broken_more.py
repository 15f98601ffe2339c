"""Further broken surveys, as people write them: every fault with its place, what is allowed and what to do.

The files stand in tests/broken2; the messages are held to the letter.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.cli.app import guard
from advisor.cli.survey import app
from advisor.survey import SurveyError, read

BROKEN = Path(__file__).resolve().parents[1] / "broken2"
EXPECTED = {
    "answer_as_date.toml": [
        'water.flow: a date or a time. Write the number with a point and one unit, for example "15 l/min".',
        "water.tested_at: a date or a time. Allowed: busy time, quiet time. Write one of the words, in quotes.",
        'household.people: a date or a time. Write a plain number, for example "3".',
    ],
    "answer_as_list.toml": [
        'water.static_pressure: a list. Write the number with a point and one unit, for example "3.1 bar".',
        'water.flow: a list. Write the number with a point and one unit, for example "15 l/min".',
        "water.stop_tap: a list. Allowed: fully open, part open, seized. Write one of the words, in quotes.",
    ],
    "brackets_missing.toml": [
        "not valid TOML: Expected ']' at the end of a table declaration (at line 4, column 7). Allowed: one key = value a line, texts in quotes. Mend that line first.",
    ],
    "circle_of_one.toml": [
        'gas.legs.side.to: "Hob 2". Allowed: the name of a leg or an appliance, meter, boiler. Write the name in quotes.',
        "gas.legs.tail.from: tail runs in a circle. Allowed: every leg leads back to the meter. Draw it again.",
    ],
    "counts_not_whole.toml": [
        'household.people: "-1" is -1. Allowed: 0 to 12. Count again.',
        'household.busy_showers: "two" does not start with a number. Write a plain number, for example "3".',
        'household.busy_baths: "0.5" is not a whole number. Allowed: 0 to 4. Count again.',
        'home.storeys: "2 m" is a length; a count is wanted. Write a plain number, for example "3".',
        'home.bathrooms: "99" is 99. Allowed: 0 to 6. Count again.',
    ],
    "decimal_comma_ranges.toml": [
        'water.static_pressure: "2,5 bar" has a comma. Write the number with a point and one unit, for example "3.1 bar".',
        'water.flow: "13" has no unit. Write the number with a point and one unit, for example "15 l/min".',
        'water.flow_pressure: "2 l/min" is a flow; a pressure is wanted. Write the number with a point and one unit, for example "3.1 bar".',
    ],
    "empty_texts.toml": [
        'places.landing.depth: " mm" does not start with a number. Write the number with a point and one unit, for example "600 mm".',
        'places.landing.height: "2200" has no unit. Write the number with a point and one unit, for example "600 mm".',
        'confirmed.unvented-no-safe-discharge: "no". Allowed: yes. Choose one, or leave the line out.',
    ],
    "entries_twice.toml": [
        "not valid TOML: Cannot declare ('outlets', 'shower') twice (at line 7, column 16). Allowed: one key = value a line, texts in quotes. Mend that line first.",
    ],
    "far_out_of_domain.toml": [
        'gas.working_pressure: "21 bar" is 21000 mbar. Allowed: 10 to 30 mbar. Look again, or check the unit.',
        'gas.meter_capacity: "6 l/min" is 0.36 m3/h. Allowed: 2.5 to 40 m3/h. Look again, or check the unit.',
        'electric.main_fuse: "800 mA" is 0.8 A. Allowed: 30 to 100 A. Look again, or check the unit.',
        'boiler.flue_to_opening: "30 m" is 30000 mm. Allowed: 0 to 5000 mm. Look again, or check the unit.',
    ],
    "fields_one_level_up.toml": [
        "static_pressure: this key is not known. It stands under water.static_pressure.",
        "heat_loss: this key is not known. It stands under heating.heat_loss.",
        "people: this key is not known. It stands under household.people.",
    ],
    "heat_loss_too_small.toml": [
        "heating.heat_loss: 2 to 3 W for each square metre of floor. Allowed: 4 to 500. Check the units of heat loss and floor area.",
    ],
    "lists_not_tables.toml": [
        "places: a list. Allowed: one table for each entry. Give each a name of its own, such as [places.first].",
        "outlets: a list. Allowed: one table for each entry. Give each a name of its own, such as [outlets.first].",
    ],
    "nation_as_number.toml": [
        'survey_format: "1". Allowed: 1. This program reads no other format.',
        "nation: 44. Allowed: england, wales, scotland, northern ireland. Write one of the words, in quotes.",
    ],
    "nations_two_ways.toml": [
        'nation: "cornwall". Allowed: england, wales, scotland, northern ireland. Choose one, or leave the line out.',
        'home.kind: one_of names "house" twice. Name each possible value once. Take one out.',
        'home.built: "1930s". Allowed: before 1919, 1919-1944, 1945-1964, 1965-1980, 1981-1999, 2000-2010, after 2010. Choose one, or leave the line out.',
        'home.tenure: "rented". Allowed: owner occupied, leasehold, let by a landlord. Choose one, or leave the line out.',
    ],
    "notes_with_marks.toml": [
        "water.flow: note: the text holds the control character U+202E. Allowed: printable text. Take it out.",
        "water.static_pressure: when: the text holds the control character U+0007. Allowed: printable text. Take it out.",
        "water.hardness: who is not of the right form. Write a name in quotes.",
    ],
    "private_not_a_table.toml": [
        'private: "Mrs Ash". Allowed: a table. Write [private] and its lines below.',
        'household.people: true. Write a plain number, for example "3".',
    ],
    "running_above_standing.toml": [
        "water.flow_pressure: 1.5 bar while water runs, but 1.5 bar with nothing running. Allowed: less than water.static_pressure. Read the gauge again; it may sit behind a reducing valve.",
    ],
    "units_of_another_trade.toml": [
        'water.static_pressure: "3 tons": tons is no unit known here. Write the number with a point and one unit, for example "3.1 bar".',
        'water.flow: "15 m/s" is a speed; a flow is wanted. Write the number with a point and one unit, for example "15 l/min".',
        'heating.heat_loss: "24000" has no unit. Write the number with a point and one unit, for example "24 kW".',
        'heating.emitters: "12 kWh" is an energy; a power is wanted. Write the number with a point and one unit, for example "24 kW".',
        'places.loft_room.width: "2 ft 3 in" holds two numbers. Write the number with a point and one unit, for example "600 mm". For a range write between = [..., ...].',
    ],
    "wishes_as_yes_no.toml": [
        "wishes.no_pumps: true. Allowed: none, prefer, must. Write one of the words, in quotes.",
        'wishes.no_cylinder: "yes". Allowed: none, prefer, must. Choose one, or leave the line out.',
        "wishes.quiet: this key is not known. Take it out, or look at `advisor survey blank`.",
        'wishes.order: "no_pumps". Allowed: a list of wishes, the most important first. Write order = ["no_pumps", "low_price"].',
    ],
    "words_of_another_field.toml": [
        'boiler.flue_route: "outside". Allowed: outside wall, roof, shared duct, none. Did you mean "outside wall"?',
        'boiler.relief_end: "gully". Allowed: low level outside, visible inside over a tundish, none found. Choose one, or leave the line out.',
        'boiler.condensate_to: "stack". Allowed: internal stack, internal waste, outside gully, soakaway, none found. Choose one, or leave the line out.',
        'places.landing.discharge_end: "soakaway". Allowed: low level outside, gully, safe roof, stack shown to take heat, none found. Choose one, or leave the line out.',
        'places.landing.worked_design: "yes". Allowed: none, accepted, refused. Choose one, or leave the line out.',
        'places.landing.bearing: "concrete". Allowed: by a bearing wall, mid-span. Choose one, or leave the line out.',
    ],
    "works_date_in_words.toml": [
        'works_date: "15/01/2027". Allowed: a date such as 2027-01-15. Write the date, or leave the line out.',
        "surveyed_on: true. Allowed: a date such as 2027-01-15. Write the date, or leave the line out.",
        "existing.age: instead_of is not of the right form. Write the earlier reading with its unit, in quotes.",
    ],
}
def test_every_file_is_in_the_table_and_there_are_twenty() -> None:
    assert {p.name for p in BROKEN.glob("*.toml")} == set(EXPECTED)
    assert len(EXPECTED) >= 20
    assert not {p.name for p in BROKEN.glob("*.toml")} & {p.name for p in BROKEN.with_name("broken").glob("*.toml")}


@pytest.mark.parametrize("name", EXPECTED)
def test_all_faults_are_named_at_once(name: str, vocabulary) -> None:
    with pytest.raises(SurveyError) as refusal:
        read(BROKEN / name, vocabulary)
    assert refusal.value.faults == [f"{name}: {fault}" for fault in EXPECTED[name]]


@pytest.mark.parametrize("name", EXPECTED)
def test_check_prints_them_and_exits_1(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        guard(lambda: app(["check", str(BROKEN / name)]))
    assert end.value.code == 1
    said = capsys.readouterr()
    assert said.err.splitlines() == [f"{name}: {fault}" for fault in EXPECTED[name]]
    assert said.out == ""


@pytest.mark.parametrize("fault", [f for faults in EXPECTED.values() for f in faults])
def test_every_fault_is_whole_sentences(fault: str) -> None:
    assert fault.endswith((".", "?")) and "  " not in fault
    assert all(c.isprintable() for c in fault)
