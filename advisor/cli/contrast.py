"""The commands that compare and look for what would change the advice: rather, unlock, ask, flips, rival."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from advisor.cli.advice import AsJson, House, SurveyPath, _advise, _find, _print_json

if TYPE_CHECKING:
    from advisor.records import Advice
    from advisor.report.claims import Document


def register(app: typer.Typer) -> None:
    """Add this module's commands to the program."""
    for command in (rather, unlock, ask, flips, rival):
        app.command()(command)


def _say(advice: Advice, document: Document, as_data: dict[str, Any], as_json: bool) -> None:
    """An answer as JSON, or as a text for 80 columns."""
    from advisor.report.plain import printed

    if as_json:
        _print_json(as_data)
    else:
        typer.echo(printed(document, advice), nl=False)


def rather(survey: SurveyPath, first: Annotated[str, typer.Argument(metavar="A")],
           second: Annotated[str, typer.Argument(metavar="B")], as_json: AsJson = False, house: House = None) -> None:
    """Why A rather than B: what differs and matters, what decides, and what B does better."""
    from advisor.contrast.rather import rather as compare
    from advisor.report.contrasting import rather_document, rather_json

    advice = _advise(survey, house=house)
    a, b = (_find(advice, name) for name in (first, second))
    if a.id == b.id:
        raise typer.BadParameter(f"A and B are both {a.id}. Name two different arrangements.")
    answer = compare(advice, a.id, b.id)
    _say(advice, rather_document(advice, answer), rather_json(advice, answer), as_json)


def unlock(survey: SurveyPath, arrangement: Annotated[str, typer.Argument(metavar="ARRANGEMENT")],
           as_json: AsJson = False, house: House = None) -> None:
    """The smallest changes after which nothing forbids an arrangement, or the facts that nothing can change."""
    from advisor.contrast.unlock import unlock as search
    from advisor.report.unlocking import unlock_document, unlock_json

    advice = _advise(survey, house=house)
    answer = search(advice, _find(advice, arrangement).id)
    _say(advice, unlock_document(advice, answer), unlock_json(advice, answer), as_json)


def ask(survey: SurveyPath, as_json: AsJson = False, house: House = None) -> None:
    """What to measure next, what each could change the advice to, and what need not be measured."""
    from advisor.contrast.ask import ask as search
    from advisor.report.asking import ask_document, ask_json

    advice = _advise(survey, house=house)
    answer = search(advice)
    _say(advice, ask_document(advice, answer), ask_json(advice, answer), as_json)


def flips(survey: SurveyPath, as_json: AsJson = False, house: House = None) -> None:
    """How far each survey value is from changing the advice, and to what."""
    from advisor.contrast.flips import flips as search
    from advisor.contrast.near import pairs
    from advisor.report.flipping import flips_document, flips_json

    advice = _advise(survey, house=house)
    answer, two = search(advice), pairs(advice)
    _say(advice, flips_document(advice, answer, two), flips_json(answer, two), as_json)


def rival(survey: SurveyPath, quote: Annotated[Path, typer.Argument(metavar="QUOTE", help="A quote file.")],
          out: Annotated[Path | None, typer.Option("--out", help="Write the reply here.")] = None,
          as_json: AsJson = False, house: House = None) -> None:
    """Answer a rival's quote: where it is better, what it gives up, when it would be right, what it leaves out."""
    from advisor.contrast.quotes import read
    from advisor.contrast.rival import reply
    from advisor.report import write_document
    from advisor.report.rivalry import rival_document, rival_json

    advice = _advise(survey, house=house)
    offered = read(quote, advice)
    answer = reply(advice, offered)
    document = rival_document(advice, answer)
    if out is not None:
        write_document(advice, "reply", document, out)
    _say(advice, document, rival_json(advice, offered, answer), as_json)
    if out is not None and not as_json:
        typer.echo(f"Written to {out}.")
