"""The command that shows how a layout behaves: busy-hour."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from advisor.cli.advice import AsJson, House, SurveyPath, _advise, _find, _print_json

if TYPE_CHECKING:
    from advisor.records import Advice, Judged


def register(app: typer.Typer) -> None:
    """Add this module's command to the program."""
    app.command("busy-hour")(busy_hour)


def busy_hour(survey: SurveyPath,
              arrangement: Annotated[str, typer.Argument(metavar="ARRANGEMENT", show_default=False)] = "",
              as_json: AsJson = False,
              chart: Annotated[Path | None, typer.Option("--chart", metavar="FILE",
                                                         help="Draw the curves into FILE (SVG).")] = None,
              day: Annotated[str, typer.Option("--day", metavar="M|L|XL|own",
                                               help="A day of this European load profile instead; own: a week of the "
                                                    "household's own draw-offs, generated.")] = "",
              seed: Annotated[int, typer.Option("--seed", min=0, help="Which week --day own makes up.")] = 1,
              house: House = None) -> None:
    """How the busiest hour runs: who gets how much, how warm, and when somebody falls short.

    Without ARRANGEMENT: the layout recommended, the runner-up and the cheapest.
    """
    from advisor.report import busy
    from advisor.water.day import NAMES, OWN

    profile = {n.lower(): n for n in (*NAMES, OWN)}.get(day.lower(), "")
    if day and not profile:
        raise typer.BadParameter(f"--day is {day!r}. Allowed: {', '.join((*NAMES, OWN))}.")
    if day and chart is not None:
        raise typer.BadParameter("--chart draws the busy hour; leave out --day or --chart.")
    advice = _advise(survey, house=house)
    judged = (_find(advice, arrangement),) if arrangement else busy.chosen(advice)
    if day:
        _day(advice, judged, profile, as_json, seed)
        return
    outcomes = busy.simulate(advice, judged)
    if chart is not None:
        from advisor.report.chart import draw

        draw(judged, outcomes, chart)
    if as_json:
        _print_json(busy.as_json(judged, outcomes))
        return
    typer.echo(busy.text(advice, judged, outcomes), nl=False)
    if chart is not None:
        typer.echo(f"The chart is {chart}.")


def _day(advice: Advice, judged: Sequence[Judged], profile: str, as_json: bool, seed: int) -> None:
    from advisor.report.days import day_json, day_text
    from advisor.water.day import OWN, counted, day, own_week

    outlets, counts = sorted(advice.book.of("outlet.kind")), ()
    if profile == OWN:
        days = [own_week(advice.book, j.arrangement, outlets, seed) for j in judged]
        counts = counted(advice.book, judged[0].arrangement, outlets) if any(found for found, _ in days) else ()
    else:
        days = [day(advice.book, j.arrangement, profile) for j in judged]
    if as_json:
        _print_json(day_json(judged, days, profile, counts))
    else:
        typer.echo(day_text(judged, days, profile, counts), nl=False)
