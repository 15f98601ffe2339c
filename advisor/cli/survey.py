"""The commands that write, check and complete a survey."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from advisor.survey import Survey
    from advisor.survey.fields import Fields

app = typer.Typer(no_args_is_help=True)
SurveyFile = Annotated[Path, typer.Argument(metavar="FILE", help="A survey file.")]


def _vocabulary():
    from advisor import rulebase

    return rulebase.load().survey_entries()


def _fields() -> Fields:
    from advisor.survey.fields import Fields

    return Fields.of(_vocabulary())


def _read(path: Path) -> Survey:
    from advisor.survey import read

    return read(path, _vocabulary())


@app.command()
def blank(file: Annotated[Path | None, typer.Argument(metavar="[FILE]", help="Where to write; else printed.")] = None
          ) -> None:
    """Write a commented blank survey: every question, in the order of the walk."""
    from advisor.survey.blank import blank as blank_text

    _write_new(file, blank_text(_fields()))


@app.command()
def sheet(file: Annotated[Path | None, typer.Argument(metavar="[FILE]", help="Where to write; else printed.")] = None
          ) -> None:
    """Write the blank survey as a page to print on A4 and write on."""
    from advisor.survey.sheet import sheet as made

    _write_new(file, made(_fields()))


def _write_new(file: Path | None, text: str) -> None:
    """To a file that is not there yet, or to standard output."""
    from advisor.files import write_whole
    from advisor.survey import SurveyError

    if file is None:
        typer.echo(text, nl=False)
        return
    if file.exists():
        raise SurveyError([f"{file}: the file exists. Allowed: a new name. Name another file, or remove this one."])
    write_whole(file, text)
    typer.echo(f"Written to {file}.")


@app.command()
def new(file: Annotated[Path, typer.Argument(metavar="FILE", help="The survey to write, or to go on with.")]) -> None:
    """Ask question by question, in the order of the walk; the file is a survey after every answer."""
    from advisor import rulebase
    from advisor.survey.interview import Interview
    from advisor.upkeep.readers import readers

    base = rulebase.load()
    Interview(file, base.survey_entries(), readers(base), say=typer.echo).run()


@app.command()
def check(file: SurveyFile) -> None:
    """Say everything that is wrong with a survey, all at once."""
    survey = _read(file)
    assumed = [a.field for a in survey.answers.values() if a.how == "assumed"]
    missing = survey.unanswered()
    for warning in survey.warnings:
        typer.echo(f"look again: {warning}")
    typer.echo(f"{file.name}: valid. {len(survey.answers)} answers, {len(assumed)} of them assumed; "
               f"{len(survey.warnings)} to look at again; {sum(f not in survey.unknown for f in missing)} questions "
               f"not answered, {len(survey.unknown)} answered \"unknown\".")


@app.command()
def assume(file: SurveyFile,
           field: Annotated[list[str] | None, typer.Argument(metavar="[FIELD ...]", help="Only these fields.")] = None
           ) -> None:
    """Accept typical values for unanswered questions; each is marked assumed and stays to be confirmed."""
    from advisor.files import write_whole
    from advisor.survey import assume as assuming
    from advisor.survey.reader import read_bytes

    survey = _read(file)
    chosen = assuming.choose(survey, field or ())
    text = assuming.written(file.read_text(encoding="utf-8-sig"), chosen, survey)
    after = read_bytes(text.encode(), file, _vocabulary())  # what does not read as a survey is never written
    write_whole(file, text)
    for one in chosen:
        typer.echo(f"{one.field} = {one.text}, assumed: to be confirmed")
    for left in after.unanswered() if not field else ():
        typer.echo(f"{left} stays open: nothing typical can be assumed here")
    typer.echo(f"{len(chosen)} answers assumed in {file.name}." if chosen else f"Nothing to assume in {file.name}.")


@app.command()
def schema() -> None:
    """Print the JSON Schema of a survey."""
    from advisor.survey.schema import schema as made

    typer.echo(json.dumps(made(_fields()), indent=1, ensure_ascii=False))
