"""One layout's busy hour as a small drawing for a report: the store's warmth above, who gets how much below.

Its words are outlets' names, axis labels and figures of the run (`words` lists them all for the claim lint); sentence
and title stand beside it in the report itself. Greys differ in darkness, and what falls short is hatched, so that a
grey print says the same.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from advisor.report import hour
from advisor.report.wording import NBSP, plain_name

if TYPE_CHECKING:
    from advisor.records import Judged
    from advisor.water.busy_hour import Curve
    from advisor.water.outcome import Outcome

WIDTH_IN, TOP_IN, LANE_IN, FOOT_IN, WARMTH_IN, GAP_IN = 4.6, 0.02, 0.62, 0.42, 1.1, 0.62  # GAP_IN: ticks and title
TICKS_IN = 0.34
LEFT, RIGHT = 0.075, 0.985  # of the width
GIVEN, LACKING, EDGE, LINE, SOFT = "#7fa7c9", "#8f1d14", "#5a646e", "#1f4e79", "#5a646e"
FONT, SMALL = 9.5, 8.5
GAP_MIN, STEP_MIN = 0.6, 0.25
LEAST_AXIS_C, BAR = 20.0, 0.52  # bars take so much of a lane; the rest is for its name
TIME, WARMTH, WANTED_C = "minutes from the first draw-off", "water at the top of the store, °C", "wanted at the shower"
FIXED = frozenset({TIME, WARMTH, WANTED_C})
TICK = re.compile(r"\d{1,3}")


def words(outcome: Outcome) -> frozenset[str]:
    """Every text a drawing of this outcome may hold, ticks of the axes left out."""
    if not outcome.computed:
        return FIXED
    return FIXED | {_label(name, curve) for name, curve in outcome.worst.run.curves.items()}


def strange(svg: str, allowed: frozenset[str]) -> list[str]:
    """Texts of a drawing that are neither allowed nor a tick of an axis."""
    found = [re.sub(r"<[^>]*>", "", t).strip() for t in re.findall(r"<text[^>]*>(.*?)</text>", svg, re.S)]
    plain = [t.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&") for t in found]
    return [t for t in plain if t not in allowed and not TICK.fullmatch(t)]


def _label(name: str, curve: Curve) -> str:
    """An outlet and what it gets at the least, where that is less than wanted or colder."""
    said = plain_name(name)
    if curve.kind == "cold":
        said += f": down to {hour.OF_AN_OUTLET['outlet-coldest'](curve)}"
    elif curve.kind or curve.slow:
        said += f": {hour.OF_AN_OUTLET['outlet-least'](curve)} of {hour.OF_AN_OUTLET['outlet-wanted'](curve)}"
    else:
        said += f": {hour.OF_AN_OUTLET['outlet-wanted'](curve)}"
    return said.replace(NBSP, " ")


def svg(judged: Sequence[Judged], outcomes: Sequence[Outcome]) -> tuple[str, ...]:
    """A drawing of each layout, all on the same scale of minutes; "" for one that was not computed.

    Raises
    ------
    chart.NoPlotter : the plotting library is missing
    """
    from advisor.report import chart

    end = max((o.worst.run.drawn_until_min for o in outcomes if o.computed), default=60.0)
    return tuple(_inline(chart.as_svg(WIDTH_IN, _height(o), lambda f, o=o: _fill(f, o, end), FONT, f"hour {j.id}"))
                 if o.computed and o.worst.run.curves else "" for j, o in zip(judged, outcomes, strict=True))


def _height(outcome: Outcome) -> float:
    run = outcome.worst.run
    return TOP_IN + (WARMTH_IN + GAP_IN if run.store_c else 0.0) + LANE_IN * len(run.curves) + FOOT_IN


def _inline(text: str) -> str:
    """The bare element: no prologue, no metadata, no style that would reach beyond it, only ids that are used."""
    text = text[text.index("<svg"):]
    text = re.sub(r"\s*<metadata>.*?</metadata>|\s*<style.*?</style>|\s*<!--.*?-->", "", text, flags=re.S)
    used = set(re.findall(r"#([\w-]+)", text))
    text = re.sub(r' id="([^"]*)"', lambda m: m.group(0) if m.group(1) in used else "", text)
    text = re.sub(r"font: ([\d.]+px)[^;\"]*", r"font: \1 sans-serif", text)
    text = re.sub(r' width="[^"]*pt" height="[^"]*pt"', "", text, count=1)
    return text.replace("<svg ", '<svg role="img" ', 1).strip()


def _fill(figure: Any, outcome: Outcome, end: float) -> None:
    run, height = outcome.worst.run, _height(outcome)
    lanes = LANE_IN * len(run.curves)
    below = figure.add_axes((LEFT, FOOT_IN / height, RIGHT - LEFT, lanes / height))
    for n, (name, curve) in enumerate(reversed(run.curves.items())):
        _lane(below, n, name, curve, run.drawn_until_min)
    below.set_ylim(0, len(run.curves))
    below.yaxis.set_visible(False)
    below.spines["left"].set_visible(False)
    _minutes(below, end)
    below.set_xlabel(TIME, fontsize=SMALL, color=SOFT, labelpad=2)
    if run.store_c:
        above = figure.add_axes((LEFT, (FOOT_IN + lanes + TICKS_IN) / height, RIGHT - LEFT, WARMTH_IN / height))
        _warmth(above, outcome, end)


def _warmth(axes: Any, outcome: Outcome, end: float) -> None:
    run = outcome.worst.run
    wanted = next(iter(run.curves.values())).mixed_wanted_c
    shown = [(m, c) for m, c in zip(run.store_minutes, run.store_c, strict=True) if m <= end]
    axes.plot([m for m, _ in shown], [c for _, c in shown], color=LINE, linewidth=2)
    axes.axhline(wanted, color=EDGE, linestyle=(0, (1, 2)), linewidth=1.2)
    axes.annotate(WANTED_C, (0.0, wanted), (4, -3), textcoords="offset points", fontsize=SMALL, color=SOFT, va="top")
    coldest = min(c for _, c in shown)
    axes.set_ylim(min(LEAST_AXIS_C, 5 * math.floor(coldest / 5)), max(run.store_c) + 4)
    axes.set_title(WARMTH, fontsize=SMALL, color=SOFT, loc="left", pad=4)
    axes.locator_params(axis="y", integer=True, nbins=4)
    _minutes(axes, end)


def _minutes(axes: Any, end: float) -> None:
    axes.set_xlim(0, max(end, 1.0))
    axes.locator_params(axis="x", integer=True, nbins=7)
    axes.tick_params(labelsize=SMALL, length=2.5, color=EDGE, labelcolor=SOFT)
    for side in ("left", "bottom"):
        axes.spines[side].set_color(EDGE)


def _lane(axes: Any, n: int, name: str, curve: Curve, until: float) -> None:
    """One outlet: outlined what is wanted, filled what comes, hatched where it is too little or too cold."""
    most = curve.wanted_l_min
    for minutes, flows, short in _stretches(curve, until):
        tops = [n + BAR * f / most for f in flows]
        how = {"facecolor": "white", "edgecolor": LACKING, "hatch": "////"} if short else {"facecolor": GIVEN}
        axes.fill_between(minutes, n, tops, step="post", linewidth=0, **how)
        axes.plot((minutes[0], minutes[-1]), (n + BAR, n + BAR), color=EDGE, linewidth=1, linestyle=(0, (3, 2)))
    axes.text(0.0, n + BAR + 0.06, _label(name, curve), fontsize=FONT, color=LACKING if curve.kind else "black",
              va="bottom")


def _stretches(curve: Curve, until: float) -> list[tuple[list[float], list[float], bool]]:
    """The outlet's time cut where it stands still and where it begins or ends to fall short."""
    found: list[tuple[list[float], list[float], bool]] = []
    for minute, flow, warm in zip(curve.minutes, curve.l_min, curve.mixed_c, strict=True):
        short = bool(curve.short(flow, warm))
        if found and minute - found[-1][0][-1] <= GAP_MIN:
            found[-1][0].append(minute)
            found[-1][1].append(found[-1][1][-1])
            if found[-1][2] == short:
                found[-1][1][-1] = flow
                continue
        found.append(([minute], [flow], short))
    for minutes, flows, _ in found:
        if len(minutes) == 1 or minutes[-1] < until:
            minutes.append(min(minutes[-1] + STEP_MIN, until))
            flows.append(flows[-1])
    return found
