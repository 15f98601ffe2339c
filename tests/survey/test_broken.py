"""Broken surveys: each says all that is wrong, where, what is allowed and what to do; exit code 1, no traceback.

The files stand in tests/broken; the messages are what an installer reads, so they are held to the letter.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from advisor.cli.app import guard
from advisor.cli.survey import app
from advisor.survey import SurveyError, read

BROKEN = Path(__file__).resolve().parents[1] / "broken"
EXPECTED = {
    "answer_tables.toml": [
        'water.static_pressure: the key "hw" is not known in an answer. Allowed: value, between, one_of, '
        'how, when, instead_of, note, who. Did you mean how?',
        "water.flow: the answer has value and between. Allowed: exactly one of value, between, one_of. Keep "
        "one.",
        "water.flow_pressure: the answer has no value. Allowed: exactly one of value, between, one_of. Keep "
        "one.",
        'water.hardness: how is "guessed". Allowed: measured, told, assumed. Write one of them.',
        'water.inside_pipe: instead_of: "wide" does not start with a number. Write the number with a point '
        'and one unit, for example "600 mm".',
    ],
    "confirmations.toml": [
        "confirmed.no-such-rule: no rule of this name asks to be confirmed. Look at `advisor rules list`.",
    ],
    "contradictions.toml": [
        "water.flow_pressure: 2.4 bar while water runs, but 2 bar with nothing running. Allowed: less than "
        "water.static_pressure. Read the gauge again; it may sit behind a reducing valve.",
        "heating.heat_loss: 750 W for each square metre of floor. Allowed: 4 to 500. Check the units of heat "
        "loss and floor area.",
    ],
    "dates.toml": [
        'works_date: "next spring". Allowed: a date such as 2027-01-15. Write the date, or leave the line '
        'out.',
        "surveyed_on: 2026. Allowed: a date such as 2027-01-15. Write the date, or leave the line out.",
        'nation: "france". Allowed: england, wales, scotland, northern ireland. Choose one, or leave the '
        'line out.',
    ],
    "gas_pipes.toml": [
        "gas.legs.first.from: first, third, second run in a circle. Allowed: every leg leads back to the "
        "meter. Draw it again.",
        'gas.legs.second.to: "cooker" is no appliance. Allowed: boiler, hob, or nothing for a tee. Name the '
        'appliance, or list it under gas.appliances.',
        'gas.legs.fourth.from: "metre" is no leg. Allowed: meter, first, second, third, fourth, fifth. Name '
        'the leg it begins at.',
        'gas.legs.fifth.to: "hob" is also the end of leg fourth. Allowed: one leg to an appliance. End one '
        'of them at a tee.',
    ],
    "hostile_text.toml": [
        "private.name: the text holds the control character U+0007. Allowed: printable text. Take it out.",
        "private.notes: the text holds the control character U+202E. Allowed: printable text. Take it out.",
        "private.phone: 7. Allowed: a text. Put it in quotes.",
        "private.password: this key is not known. Take it out, or look at `advisor survey blank`.",
        'outlets.shower.kind: "<script>alert(1)</script>". Allowed: shower, bath, basin, kitchen tap. Choose '
        'one, or leave the line out.',
        'outlets.shower.flow: "{0.__class__} l/min" does not start with a number. Write the number with a '
        'point and one unit, for example "15 l/min".',
        "<b>home</b>: this key is not known. Take it out, or look at `advisor survey blank`.",
        "water.flow: nested too deeply. Allowed: a value, or one table. Write it flat.",
    ],
    "misspelt_keys.toml": [
        "water.static_presure: this key is not known. Did you mean water.static_pressure?",
        "water.main_fuse: this key is not known. It stands under electric.main_fuse.",
        "water.colour: this key is not known. Take it out, or look at `advisor survey blank`.",
        "watter: this key is not known. Did you mean water?",
        "places.landing.widht: this key is not known. Did you mean places.landing.width?",
    ],
    "names.toml": [
        "places.Landing Cupboard: this is no name. Allowed: small letters, digits and _, beginning with a "
        "letter. Rename it.",
        "gas.appliances.boiler: boiler has a meaning of its own here. Allowed: any other name. Rename it.",
        'gas.legs.complete: "yes". Allowed: true, when every entry is listed. Write complete = true, without '
        'quotes.',
        'outlets.shower: "9 l/min". Allowed: a table. Write [outlets.shower] and its lines below.',
    ],
    "no_format.toml": [
        "survey_format: the line is missing. Allowed: 1. Write survey_format = 1 at the top.",
    ],
    "no_units.toml": [
        'water.static_pressure: 3.1 has no unit. Write the number with a point and one unit, for example '
        '"3.1 bar".',
        'water.flow: "15" has no unit. Write the number with a point and one unit, for example "15 l/min".',
        'places.landing.width: 800 has no unit. Write the number with a point and one unit, for example "600 '
        'mm".',
    ],
    "not_toml.toml": [
        "not valid TOML: Illegal character '\\n' (at line 5, column 17). Allowed: one key = value a line, "
        "texts in quotes. Mend that line first.",
    ],
    "not_utf8.toml": [
        "line 5 holds bytes that are not UTF-8. Allowed: UTF-8 text. Save the file as UTF-8.",
    ],
    "odd_numbers.toml": [
        'water.static_pressure: "3,1 bar" has a comma. Write the number with a point and one unit, for '
        'example "3.1 bar".',
        'water.flow: "10-12 l/min" holds two numbers. Write the number with a point and one unit, for '
        'example "15 l/min". For a range write between = [..., ...].',
        'water.flow_pressure: "lots" does not start with a number. Write the number with a point and one '
        'unit, for example "3.1 bar".',
        'water.hardness: "200 l" is a volume; a hardness is wanted. Write the number with a point and one '
        'unit, for example "200 mg/l".',
        'home.floor_area: "900 m2" is 900 m2. Allowed: 20 to 600 m2. Look again, or check the unit.',
        'household.people: "2.5" is not a whole number. Allowed: 0 to 12. Count again.',
        'household.busy_showers: nan is not a count. Write a plain number, for example "3".',
    ],
    "ranges.toml": [
        'water.static_pressure: the range runs from "3 bar" down to "2 bar". The smaller end comes first. '
        'Turn it round.',
        "water.flow: between is not of the right form. Write between = [smaller, larger], two values.",
        "water.stop_tap: a range of words. Allowed: fully open, part open, seized. Write one_of = [...] with "
        "the words that are possible.",
        'water.service_material: one_of names "lead" twice. Name each possible value once. Take one out.',
        "water.hardness: one_of is not of the right form. Write one_of = [...], one to twenty values.",
    ],
    "wish_order.toml": [
        'wishes.order: "no_pump" is no wish. Allowed: outlets_at_once, lasts_busy_hour, no_pumps, '
        'no_loft_tank, no_cylinder, backup_heat, no_heating_pause, low_running_cost, low_price, '
        'little_disruption, save_space. Did you mean no_pumps?',
        "wishes.order: names no_pumps twice. Name each wish once. Take one out.",
        'wishes.order: names low_price, which is no stated wish. Write wishes.low_price = "must" or '
        '"prefer", or take it out of the order.',
    ],
    "written_twice.toml": [
        "not valid TOML: Cannot overwrite a value (at line 6, column 18). Allowed: one key = value a line, "
        "texts in quotes. Mend that line first.",
    ],
    "wrong_format.toml": [
        "survey_format: 2. Allowed: 1. This program reads no other format.",
    ],
    "wrong_words.toml": [
        'water.shared: true. Allowed: no, yes. Write "yes" or "no", in quotes.',
        'water.stop_tap: "partly open". Allowed: fully open, part open, seized. Did you mean "part open"?',
        'water.service_material: "irn". Allowed: copper, plastic, lead, iron. Did you mean "iron"?',
        "water.tested_at: 7. Allowed: busy time, quiet time. Write one of the words, in quotes.",
        'wishes.no_pumps: "please". Allowed: none, prefer, must. Choose one, or leave the line out.',
    ],
}


def test_every_broken_file_is_in_the_table() -> None:
    assert {p.name for p in BROKEN.glob("*.toml")} == set(EXPECTED)
    assert len(EXPECTED) >= 10


@pytest.mark.parametrize("name", EXPECTED)
def test_all_faults_are_named_at_once(name: str, vocabulary) -> None:
    with pytest.raises(SurveyError) as refusal:
        read(BROKEN / name, vocabulary)
    assert refusal.value.faults == [f"{name}: {fault}" for fault in EXPECTED[name]]


@pytest.mark.parametrize("name", EXPECTED)
def test_check_prints_one_line_a_fault_and_exits_1(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        guard(lambda: app(["check", str(BROKEN / name)]))
    assert end.value.code == 1
    said = capsys.readouterr()
    assert said.err.splitlines() == [f"{name}: {fault}" for fault in EXPECTED[name]]
    assert said.out == ""


def test_the_program_itself_prints_no_traceback() -> None:
    command = [sys.executable, "-m", "advisor.cli.app", "survey", "check", str(BROKEN / "odd_numbers.toml")]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60)
    assert done.returncode == 1
    assert "Traceback" not in done.stderr and len(done.stderr.splitlines()) == len(EXPECTED["odd_numbers.toml"])


@pytest.mark.parametrize("fault", [f for faults in EXPECTED.values() for f in faults])
def test_every_fault_is_whole_sentences(fault: str) -> None:
    assert fault.endswith((".", "?")) and "  " not in fault
    assert all(c.isprintable() for c in fault)
