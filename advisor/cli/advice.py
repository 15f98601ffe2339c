"""The commands that advise and explain: demo, recommend, verify, trace, why, whatif."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    from advisor.records import Advice, Judged

SurveyPath = Annotated[Path, typer.Argument(metavar="SURVEY", help="A survey file.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON document and nothing else.")]
Engine = Annotated[str, typer.Option("--engine", help="auto, durable or plain.")]
House = Annotated[Path | None, typer.Option("--house", metavar="DIR", help="A firm's folder, laid over ours.")]
DEMO = "terrace_two_showers.toml"


class Refusal(RuntimeError):
    """Something asked for that is not there; one line to the user, exit code 1."""


def register(app: typer.Typer) -> None:
    """Add this module's commands to the program."""
    for command in (demo, recommend, verify, trace, why, whatif):
        app.command()(command)


def _advise(path: Path, engine: str = "auto", house: Path | None = None) -> Advice:
    from advisor.advise import load_and_advise

    if engine not in ("auto", "durable", "plain"):
        raise typer.BadParameter(f"engine is {engine!r}. Allowed: auto, durable, plain.")
    return load_and_advise(str(path), engine, str(house) if house else None)


def _print_json(document: Any) -> None:
    print(json.dumps(document, ensure_ascii=False, indent=1))


def _write(advice: Advice, out: Path, limits: bool = False) -> None:
    from advisor.certificate import as_text, certificate
    from advisor.contrast.near import near
    from advisor.files import write_whole
    from advisor.report import write

    write(advice, out, near(advice) if limits else None)
    write_whole(out / "advice.json", as_text(certificate(advice)) + "\n")


def demo(out: Annotated[Path, typer.Option("--out", help="Where to write.")] = Path("advice"), house: House = None
         ) -> None:
    """Advise on a shipped example home and write its reports."""
    from advisor import paths
    from advisor.report.terminal import summary

    advice = _advise(paths.SURVEYS / DEMO, house=house)
    _write(advice, out)
    typer.echo(summary(advice))
    typer.echo(f"The letter is {out / 'letter.html'}, the installer's report {out / 'technical.html'}.")


def recommend(survey: SurveyPath, out: Annotated[Path | None, typer.Option("--out", help="Write reports here.")] = None,
              as_json: AsJson = False, engine: Engine = "auto", house: House = None,
              choose: Annotated[str, typer.Option("--choose", help="Another layout, by the estimator's choice.")] = "",
              reason: Annotated[str, typer.Option("--reason", help="Why: printed beside it as an opinion.")] = "",
              limits: Annotated[bool, typer.Option("--limits", help="Also write how far the advice holds; with --out. "
                                                                    "Takes some seconds.")] = False) -> None:
    """Judge every layout for this home and say which to fit, and why."""
    if bool(choose) != bool(reason.strip()):
        raise typer.BadParameter("a choice needs its reason, and a reason its choice. "
                                 'Write --choose ARRANGEMENT --reason "why".')
    advice = _advise(survey, engine, house)
    chosen = _find(advice, choose) if choose else None
    if out is not None:
        _write(advice, out, limits)
    if as_json:
        from advisor.certificate import as_text, certificate

        print(as_text(certificate(advice) | ({"choice": {"arrangement": chosen.id, "verdict": chosen.verdict,
                                                       "reason": reason, "standing": "opinion"}} if chosen else {})))
        return
    from advisor.report.terminal import summary

    for warning in advice.survey.warnings:
        print(f"note: {warning}", file=sys.stderr)
    typer.echo(summary(advice), nl=False)
    if chosen is not None:
        _say_choice(advice, chosen, reason, out)
    if out is not None:
        typer.echo(f"Written to {out}.")


def _say_choice(advice: Advice, chosen: Judged, reason: str, out: Path | None) -> None:
    """The estimator's own choice beside the advice, printed and (with --out) written as choice.md and choice.html."""
    from advisor.report import write_document
    from advisor.report.choosing import choice_document
    from advisor.report.plain import printed

    try:
        document = choice_document(advice, chosen, reason)
    except ValueError as error:
        raise Refusal(f"--reason: {error} Say it shorter.") from error
    if out is not None:
        write_document(advice, "choice", document, out)
    typer.echo("")
    typer.echo(printed(document, advice), nl=False)


def verify(file: Annotated[Path, typer.Argument(metavar="ADVICE.json")],
           rulebase: Annotated[str, typer.Option("--rulebase", help="The rule-base digest expected.")] = "",
           replay: Annotated[bool, typer.Option("--replay", help="Advise again and compare.")] = False,
           house: House = None) -> None:
    """Check a piece of advice without trusting the program that wrote it."""
    from advisor import verifier

    try:
        document = json.loads(file.read_text(encoding="utf-8"))
    except (UnicodeDecodeError, json.JSONDecodeError, RecursionError) as error:
        raise Refusal(f"{file}: is no advice file ({error}). Give the advice.json of a recommendation.") from error
    report = verifier.verify(document, rulebase or None)
    refusals = list(report.refusals)
    if replay:
        from advisor.contrast.replay import differences

        refusals += differences(document, str(house) if house else None)
    for line in refusals:
        print(line, file=sys.stderr)
    for what, number in report.did.items():
        typer.echo(f"{what}: {number}")
    if refusals:
        raise SystemExit(1)
    typer.echo(f"Passed. Rule base: {document['advisor']['rulebase']}")


def _find(advice: Advice, name: str) -> Judged:
    """An arrangement by its id, or by its family (then its best variant)."""
    for judged in advice.judged:
        if judged.id == name:
            return judged
    for judged in advice.families():
        if judged.arrangement.family == name:
            return judged
    families = ", ".join(j.arrangement.family for j in advice.families())
    raise Refusal(f"{name}: no such arrangement. Give an id as `advisor recommend SURVEY --json` lists them, "
                  f"or a family: {families}.")


def why(survey: SurveyPath, arrangement: Annotated[str, typer.Argument(metavar="ARRANGEMENT")],
        short: Annotated[bool, typer.Option("--short", help="The decisive reasons only.")] = False,
        full: Annotated[bool, typer.Option("--full", help="Every finding, with its derivation.")] = False,
        as_json: AsJson = False, house: House = None) -> None:
    """Why an arrangement stands, or why it does not."""
    from advisor.contrast.why import why as explain
    from advisor.report import explaining

    advice = _advise(survey, house=house)
    judged = _find(advice, arrangement)
    answer = explain(advice, judged.id, full)
    if as_json:
        _print_json(explaining.why_json(advice, answer))
        return
    typer.echo(explaining.why_text(advice, answer, with_tree=not short), nl=False)


def whatif(survey: SurveyPath, changes: Annotated[list[str], typer.Argument(metavar="FIELD=VALUE ...")],
           as_json: AsJson = False, house: House = None) -> None:
    """The advice with some answers changed, and what changed."""
    from advisor.certificate import certificate
    from advisor.contrast.whatif import whatif as change
    from advisor.report import explaining

    wrong = [c for c in changes if "=" not in c]
    if wrong:
        raise typer.BadParameter(
            f"{wrong[0]!r} is no change. Write FIELD=VALUE, for instance water.flow='20 l/min'.")
    before = _advise(survey, house=house)
    after, moved = change(before, dict(c.split("=", 1) for c in changes))
    if as_json:
        _print_json({"advice": certificate(after), "changed": [
            {"arrangement": m.arrangement, "from": m.before, "to": m.after, "because": list(m.because)}
            for m in moved]})
        return
    typer.echo(explaining.whatif_text(before, after, moved), nl=False)


def trace(survey: SurveyPath, token: Annotated[str, typer.Argument(metavar="TOKEN")], house: House = None) -> None:
    """One figure, walked back to the survey. TOKEN: a fact id of the technical report (f12), or a fact's name."""
    from advisor.report import explaining

    advice = _advise(survey, house=house)
    text = explaining.trace_text(advice, token)
    if not text:
        raise Refusal(f"{token}: no fact has this id or name. Take the token printed beside a figure, such as f12.")
    typer.echo(text, nl=False)
