"""The command that shows how a layout behaves: busy-hour."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from advisor.cli.advice import AsJson, SurveyPath, _advise, _find, _print_json


def register(app: typer.Typer) -> None:
    """Add this module's command to the program."""
    app.command("busy-hour")(busy_hour)


def busy_hour(survey: SurveyPath,
              arrangement: Annotated[str, typer.Argument(metavar="[ARRANGEMENT]", show_default=False)] = "",
              as_json: AsJson = False,
              chart: Annotated[Path | None, typer.Option("--chart", metavar="FILE",
                                                         help="Draw the curves into FILE (SVG).")] = None) -> None:
    """How the busiest hour runs: who gets how much, how warm, and when somebody falls short.

    Without ARRANGEMENT: the layout recommended, the runner-up and the cheapest.
    """
    from advisor.report import busy

    advice = _advise(survey)
    judged = (_find(advice, arrangement),) if arrangement else busy.chosen(advice)
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
