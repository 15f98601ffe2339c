"""The busy hour drawn, a row a layout: temperature left, flow right. Only this module knows the plotting library."""

from __future__ import annotations

import io
import math
import textwrap
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from advisor.files import write_whole
from advisor.records import Judged
from advisor.report import busy
from advisor.report.wording import NBSP, clean, plain_name
from advisor.water.busy_hour import Curve, Run
from advisor.water.outcome import Outcome

WIDTH_IN, HEAD_IN, ROW_IN, SAID_IN, FOOT_IN = 7.6, 0.45, 2.55, 1.0, 0.45  # SAID_IN: a row of words alone
LINES = ("-", "--", "-.", ":")
COLOURS = ("#1f4e79", "#b4531f", "#3d7a3d", "#6b4c9a")  # told apart in grey by their dashes
STORE, WANTED, SHORT, SHORT_FILL = "#8a8a8a", "#b0b0b0", "#a01515", "#f4e6e6"
LINE_IN = 0.15  # height of a line of text
STEP_MIN, GAP_MIN = 0.25, 0.6  # spacing of the curves; a longer silence of an outlet breaks its line
TITLE_COLUMNS, SENTENCE_COLUMNS = 96, 118
MARGIN_C, ROOM = 8.0, 1.5
LEAST_C = 20.0


class NoPlotter(RuntimeError):
    """The plotting library is not installed; one line to the user."""


def draw(judged: Sequence[Judged], outcomes: Sequence[Outcome], path: Path) -> None:
    """Write the chart as one SVG file.

    Raises
    ------
    NoPlotter : the plotting library is missing
    """
    write_whole(path, svg(judged, outcomes))


def svg(judged: Sequence[Judged], outcomes: Sequence[Outcome]) -> str:
    """The chart as SVG text, the same for the same runs."""
    return as_svg(WIDTH_IN, tall(outcomes), lambda figure: fill(figure, judged, outcomes))


def as_svg(width_in: float, height_in: float, fill_in: Callable[[Any], None], font: float = 8,
           salt: str = "busy hour") -> str:
    """A figure filled by `fill_in` as SVG text, the same for the same contents.

    Raises
    ------
    NoPlotter : the plotting library is missing
    """
    try:
        import matplotlib
        from matplotlib.figure import Figure
    except ImportError as error:
        raise NoPlotter("the chart needs matplotlib, which is not installed. Install this program with its extra "
                        "`charts`, or leave out --chart.") from error
    out = io.StringIO()
    with matplotlib.rc_context({"svg.hashsalt": salt, "svg.fonttype": "none", "font.size": font,
                                "font.family": "sans-serif", "text.parse_math": False, "hatch.linewidth": 0.8,
                                "axes.spines.top": False, "axes.spines.right": False}):
        figure = Figure(figsize=(width_in, height_in))
        fill_in(figure)
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    return "\n".join(line.rstrip() for line in out.getvalue().splitlines()) + "\n"


def tall(outcomes: Sequence[Outcome]) -> float:
    """Height of the figure [in]."""
    return HEAD_IN + sum(ROW_IN if o.computed else SAID_IN for o in outcomes) + FOOT_IN


def fill(figure: Any, judged: Sequence[Judged], outcomes: Sequence[Outcome]) -> None:
    """Set heading, rows and footnote into an empty figure."""
    height = tall(outcomes)
    figure.text(0.02, 1 - 0.25 / height, "Your busiest hour", fontsize=12, fontweight="bold", va="center")
    end = max((o.worst.run.drawn_until_min for o in outcomes if o.computed), default=60.0)
    top = height - HEAD_IN
    for j, outcome in zip(judged, outcomes, strict=True):
        _row(figure, top, height, j, outcome, end)
        top -= ROW_IN if outcome.computed else SAID_IN
    figure.text(0.02, 0.2 / height, "Drawn at the worst end of what is known. Thin grey: the top of the store. "
                "Dotted: what is wanted. Red: somebody falls short.", fontsize=7, color="#444444", va="center")


def _row(figure: Any, top: float, height: float, judged: Judged, outcome: Outcome, end: float) -> None:
    title = textwrap.fill(clean(judged.arrangement.title), TITLE_COLUMNS)
    words = " ".join([busy.sentence(outcome), *(f"{r[:1].upper()}{r[1:]}." for r in outcome.reasons)])
    said = textwrap.fill(words.replace(NBSP, " "), SENTENCE_COLUMNS)
    figure.text(0.02, (top - 0.05) / height, title, fontsize=9, fontweight="bold", va="top")
    below = 0.2 + LINE_IN * title.count("\n")
    figure.text(0.02, (top - 0.05 - below) / height, said, fontsize=8.5, va="top")
    if not outcome.computed:
        return
    used = below + LINE_IN * said.count("\n")
    base, rise = (top - ROW_IN + 0.5) / height, (ROW_IN - 1.0 - used) / height
    run = outcome.worst.run
    _temperatures(figure.add_axes((0.075, base, 0.395, rise)), run, end)
    _flows(figure.add_axes((0.575, base, 0.395, rise)), run, end)


def _temperatures(axes: Any, run: Run, end: float) -> None:
    if run.store_c:
        axes.plot(run.store_minutes, run.store_c, color=STORE, linewidth=0.8)
    axes.axhline(40.0, color=WANTED, linestyle=":", linewidth=1)
    coldest = 40.0
    for n, (_, curve) in enumerate(run.curves.items()):
        _line(axes, curve, curve.mixed_c, n)
        coldest = min(coldest, *curve.mixed_c)
    hottest = max([45.0, *run.store_c])
    axes.set_ylim(min(LEAST_C, coldest - MARGIN_C), hottest + 5)
    _finish(axes, "at the shower or tap, °C", end)
    _mark(axes, run, "cold")


def _flows(axes: Any, run: Run, end: float) -> None:
    most = 1.0
    for n, (name, curve) in enumerate(run.curves.items()):
        axes.axhline(curve.wanted_l_min, color=WANTED, linestyle=":", linewidth=1)
        _line(axes, curve, curve.l_min, n, plain_name(name))
        most = max(most, curve.wanted_l_min)
    axes.set_ylim(0, most * ROOM)
    _finish(axes, "water it gets, l/min", end)
    _mark(axes, run, "flow")
    axes.legend(loc="upper right", frameon=False, fontsize=7, handlelength=2.4, ncols=3, columnspacing=1.2, borderpad=0)


def _line(axes: Any, curve: Curve, values: Sequence[float], n: int, label: str = "") -> None:
    """One outlet; its line breaks where it stood still."""
    minutes, shown = [], []
    for minute, value in zip(curve.minutes, values, strict=True):
        if minutes and minute - minutes[-1] > GAP_MIN:
            minutes.append(minute)
            shown.append(math.nan)
        minutes.append(minute)
        shown.append(value)
    axes.plot(minutes, shown, color=COLOURS[n % len(COLOURS)], linestyle=LINES[n % len(LINES)], linewidth=1.6,
              label=label or None)


def _mark(axes: Any, run: Run, kind: str) -> None:
    """Red wherever somebody is short of this, with a line at the first minute."""
    spans: list[list[float]] = []
    for start in sorted(minute for c in run.curves.values()
                        for minute, flow, warm in zip(c.minutes, c.l_min, c.mixed_c, strict=True)
                        if c.short(flow, warm) == kind):
        if spans and start <= spans[-1][1] + GAP_MIN:
            spans[-1][1] = start + STEP_MIN
        else:
            spans.append([start, start + STEP_MIN])
    for start, end in spans:
        axes.axvspan(start, min(end, run.drawn_until_min), color=SHORT_FILL, linewidth=0, zorder=0)
    first = min((c.first_short_min for c in run.curves.values() if c.kind == kind and c.first_short_min is not None),
                default=None)
    if first is not None:
        axes.axvline(first, color=SHORT, linewidth=1)


def _finish(axes: Any, title: str, end: float) -> None:
    axes.set_xlim(0, max(end, 1.0))
    axes.set_title(title, fontsize=8, loc="left", pad=3)
    axes.set_xlabel("minutes", fontsize=7, labelpad=1)
    axes.locator_params(axis="both", integer=True, nbins=7)
    axes.tick_params(labelsize=7, length=2)
