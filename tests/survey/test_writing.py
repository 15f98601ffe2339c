"""What the program writes: a blank survey, a schema, assumed answers. Each must read as a survey again."""

from __future__ import annotations

import json
import re
import tomllib
from pathlib import Path

import pytest
from typer.testing import CliRunner

from advisor import paths
from advisor.cli.app import guard
from advisor.cli.survey import app
from advisor.survey import assume, read
from advisor.survey.blank import blank
from advisor.survey.fields import Fields
from advisor.survey.schema import schema

DEMOS = sorted(paths.SURVEYS.glob("*.toml"))
EXAMPLE = re.compile(r"# (?=[a-z_]+ = |\[[a-z_.]+\]$)")


@pytest.fixture(scope="module")
def fields(vocabulary) -> Fields:
    return Fields.of(vocabulary)


# --- blank -----------------------------------------------------------------------------------------------------------

def test_a_blank_survey_is_valid_and_says_nothing(fields: Fields, survey_file, vocabulary) -> None:
    survey = read(survey_file(blank(fields)), vocabulary)
    assert not survey.answers and not survey.warnings and not survey.wishes and survey.works_date is None


def test_a_blank_survey_with_every_example_taken_in_is_valid(fields: Fields, survey_file, vocabulary) -> None:
    head, _, rest = blank(fields).partition("survey_format = 1")
    body, _, private = rest.partition("# Rules of another nation")
    taken = "\n".join(EXAMPLE.sub("", line, count=1) for line in body.splitlines())
    taken = taken.replace('order = ["outlets_at_once", "no_pumps"]', 'order = ["no_pumps"]')
    survey = read(survey_file(f"{head}survey_format = 1{taken}\n# {private}"), vocabulary)
    wanted = {f for f, _, _ in survey.every_field() if not f.startswith("confirmed.")}
    assert set(survey.answers) == wanted  # every question of the vocabulary is there, each with an example that reads
    assert survey.lists == {"outlets": ("main_shower",), "gas.legs": ("meter_to_boiler",), "gas.appliances": ("hob",),
                            "places": ("landing_cupboard",)}


def test_every_question_stands_in_the_blank_survey_with_what_is_allowed(fields: Fields) -> None:
    text = " ".join(blank(fields).replace("##", " ").split())
    for path, entry in fields.entries.items():
        if path.startswith("confirmed."):
            continue
        assert " ".join(entry.question.split()) in text, path
        if entry.kind == "words":
            assert " | ".join(entry.domain) in text, path


def test_the_blank_survey_fits_a_page(fields: Fields) -> None:
    assert max(len(line) for line in blank(fields).splitlines()) <= 120


# --- schema ----------------------------------------------------------------------------------------------------------

def conforms(value, to: dict) -> bool:
    """As much of JSON Schema as ours uses."""
    if "anyOf" in to and not any(conforms(value, s) for s in to["anyOf"]):
        return False
    if "oneOf" in to and sum(conforms(value, s) for s in to["oneOf"]) != 1:
        return False
    if value != to.get("const", value) or value not in to.get("enum", [value]):
        return False
    kinds = {"object": dict, "array": list, "string": str, "boolean": bool, "integer": int}
    if "type" in to and (not isinstance(value, kinds[to["type"]]) or (to["type"] == "integer" and value is True)):
        return False
    if isinstance(value, int) and not to.get("minimum", value) <= value <= to.get("maximum", value):
        return False
    if isinstance(value, list):
        return len(value) >= to.get("minItems", 0) and all(conforms(v, to.get("items", {})) for v in value)
    return not isinstance(value, dict) or _object_conforms(value, to)


def _object_conforms(value: dict, to: dict) -> bool:
    if any(key not in value for key in to.get("required", ())):
        return False
    for key, below in value.items():
        inside = [s for name, s in to.get("properties", {}).items() if name == key]
        inside += [s for pattern, s in to.get("patternProperties", {}).items() if re.search(pattern, key)]
        if not inside and to.get("additionalProperties", True) is False:
            return False
        if not all(conforms(below, s) for s in inside):
            return False
    return True


def plain(path: Path) -> dict:
    """A TOML file as JSON has it: dates as texts."""
    return json.loads(json.dumps(tomllib.loads(path.read_text(encoding="utf-8")), default=str))


@pytest.mark.parametrize("path", DEMOS, ids=lambda p: p.stem)
def test_shipped_surveys_conform_to_the_schema(path: Path, fields: Fields) -> None:
    assert conforms(plain(path), schema(fields))


@pytest.mark.parametrize("name", ["no_format", "wrong_format", "misspelt_keys", "no_units", "wrong_words",
                                  "answer_tables", "names"])
def test_broken_shapes_do_not_conform(name: str, fields: Fields) -> None:
    assert not conforms(plain(Path(__file__).resolve().parents[1] / "broken" / f"{name}.toml"), schema(fields))


# --- assume ----------------------------------------------------------------------------------------------------------

def test_assumed_answers_are_marked_and_nothing_else_changes(demo, vocabulary, survey_file) -> None:
    text = Path(demo.path).read_text(encoding="utf-8")
    chosen = assume.choose(demo)
    path = survey_file(assume.written(text, chosen, demo))
    survey = read(path, vocabulary)
    assert {f: a for f, a in survey.answers.items() if f in demo.answers} == demo.answers
    new = {f: a.how for f, a in survey.answers.items() if f not in demo.answers}
    assert set(new) == {a.field for a in chosen} and set(new.values()) == {"assumed"}
    kept = path.read_text(encoding="utf-8").splitlines()
    gone = [line for line in text.splitlines() if line not in kept]
    assert gone == ['pressure_test = "unknown"', 'looped = "unknown"']  # answered now; every comment is still there


def test_everything_unanswered_can_be_assumed_but_wishes_and_confirmations(vocabulary, survey_file) -> None:
    path = survey_file("# a comment\nsurvey_format = 1\n[gas.legs.one] # dotted\nfrom = 'meter'\nto = 'boiler'\n"
                       "[places.a]\n[home]\n")
    survey = read(path, vocabulary)
    path.write_text(assume.written(path.read_text(), assume.choose(survey), survey), encoding="utf-8")
    after = read(path, vocabulary)
    assert after.unanswered() == () and after.wishes == () and not [f for f in after.answers if "confirmed" in f]
    assert after.answers["household.people"].value.lo == 3 and after.answers["gas.legs.one.size"].read == "22 mm"
    assert path.read_text().startswith("# a comment\n") and "# dotted" in path.read_text()
    assert assume.choose(after) == ()


# --- commands --------------------------------------------------------------------------------------------------------

def run(*arguments: str):
    return CliRunner().invoke(app, list(arguments), catch_exceptions=False)


def test_blank_check_assume_check(tmp_path: Path) -> None:
    path = tmp_path / "new home" / "survey.toml"
    assert run("blank", str(path)).exit_code == 0
    assert "valid. 0 answers, 0 of them assumed" in run("check", str(path)).stdout
    done = run("assume", str(path), "water.flow", "household.people")
    assert done.stdout.splitlines() == ["water.flow = 15 l/min, assumed: to be confirmed",
                                        "household.people = 3, assumed: to be confirmed",
                                        "2 answers assumed in survey.toml."]
    assert "valid. 2 answers, 2 of them assumed" in run("check", str(path)).stdout
    assert [p.name for p in path.parent.iterdir()] == ["survey.toml"]  # no temporary file is left


def test_blank_without_a_file_prints_it(fields: Fields) -> None:
    assert run("blank").stdout == blank(fields)


def test_schema_prints_one_json_document(fields: Fields) -> None:
    assert json.loads(run("schema").stdout) == schema(fields)


def refused(capsys, *arguments: str) -> list[str]:
    with pytest.raises(SystemExit) as end:
        guard(lambda: app(list(arguments)))
    assert end.value.code == 1
    return capsys.readouterr().err.splitlines()


def test_blank_does_not_overwrite(tmp_path: Path, capsys) -> None:
    path = tmp_path / "survey.toml"
    path.write_text("mine", encoding="utf-8")
    [fault] = refused(capsys, "blank", str(path))
    assert "the file exists" in fault and path.read_text() == "mine"


def test_assume_refuses_and_leaves_the_file_alone(tmp_path: Path, capsys) -> None:
    path = tmp_path / "survey.toml"
    text = 'survey_format = 1\nwater.flow = "12 l/min"\n'
    path.write_text(text, encoding="utf-8")
    faults = refused(capsys, "assume", str(path), "water.flow", "water.flwo", "wishes.no_pumps")
    assert faults[0].startswith('water.flow: it is answered already ("12 l/min").')
    assert faults[1].endswith("Did you mean water.flow?")
    assert faults[2].startswith("wishes.no_pumps: it has no typical value.")
    assert path.read_text() == text


def test_assume_that_would_contradict_leaves_the_file_alone(tmp_path: Path, capsys) -> None:
    """The typical running pressure of 1 bar cannot stand beside a measured 0.8 bar at rest."""
    path = tmp_path / "survey.toml"
    text = 'survey_format = 1\nwater.static_pressure = "0.8 bar"\n'
    path.write_text(text, encoding="utf-8")
    [fault] = refused(capsys, "assume", str(path), "water.flow_pressure")
    assert fault.startswith("water.flow_pressure: 1 bar while water runs") and path.read_text() == text
    done = run("assume", str(path))
    assert done.exit_code == 0 and "water.flow_pressure stays open" in done.stdout
    assert "flow_pressure" not in path.read_text()


def test_missing_file_is_one_line(capsys) -> None:
    [fault] = refused(capsys, "check", "no-such-file.toml")
    assert fault.startswith("no-such-file.toml: No such file")
