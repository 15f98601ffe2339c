"""The busy hour in a report: the installer's section with drawings and the band, and the letter's one sentence."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from advisor.records import Advice, Judged
from advisor.report import busy, chart, drawing, hour, standing
from advisor.report.claims import Block, Claim, Drawings, Drawn, Heading, Note, Para, Sentence, Table
from advisor.report.say import Teller
from advisor.water.outcome import Outcome

LASTS = ("outlet_short_after_min", "outlet_short_margin_min")
ASKS = "household.busy_showers"  # a fact book without it knows nothing of any hour
COLUMNS = ("layout", "falls short, worst case", "kindest case", "left at the end", "heating waits", "drawing lasts")
FIGURES = ("worst", "best", "left", "waits", "drawn")
FILE = "busy_hour_{}.svg"


def _runs(advice: Advice) -> tuple[tuple[Judged, Outcome], ...]:
    """The layouts shown with their hours; none where the advice knows nothing of one."""
    if advice.book.about(ASKS, "site") is None:
        return ()
    judged = busy.chosen(advice)
    return tuple(zip(judged, busy.simulate(advice, judged), strict=True))


def section(teller: Teller) -> Iterator[Block]:
    """Recommended, runner-up and cheapest: what the household would notice, drawn, and the band as a table."""
    runs = _runs(teller.advice)
    if not runs:
        return
    yield Heading(2, "The busiest hour")
    computed = [(j, o) for j, o in runs if o.computed]
    if not computed:
        yield Para((Note(standing.HOUR_NOT_YET),))
        return
    drawings = _drawings(computed)
    shown = zip(computed, drawings or [""] * len(computed), strict=True)
    yield Para((Note(standing.HOUR), Note(standing.HOUR_DRAWN if drawings else standing.NO_CHARTS)))
    yield Drawings(tuple(Drawn(_said(teller, j, o), svg, j.id, FILE.format(n + 1))
                         for n, ((j, o), svg) in enumerate(shown)))
    yield Table(COLUMNS, tuple(_row(teller, j, o) for j, o in runs))


def _drawings(computed: Sequence[tuple[Judged, Outcome]]) -> tuple[str, ...]:
    """The drawings; none without the plotting library."""
    try:
        return drawing.svg(*zip(*computed, strict=True))
    except chart.NoPlotter:
        return ()


def _said(teller: Teller, judged: Judged, outcome: Outcome) -> tuple[Sentence, ...]:
    title = teller.claim("{short}.", short=teller.short(judged))
    return (title, *(hour.claim(teller, judged, outcome, t) for t in hour.told(outcome)))


def _row(teller: Teller, judged: Judged, outcome: Outcome) -> tuple[Sentence, ...]:
    named = teller.claim("{short}", short=teller.short(judged))
    if not outcome.computed:
        return (named, Note("not worked out"), *(Note("") for _ in FIGURES[1:]))
    anchors = hour.ids(teller.advice, outcome)
    return (named, *(teller.claim("{figure}", anchors, figure=hour.piece(outcome, judged, f)) for f in FIGURES))


def among_reasons(teller: Teller, first: Judged,
                  reasons: list[tuple[Sentence, ...]]) -> tuple[list[tuple[Sentence, ...]], tuple[Sentence, ...]]:
    """The letter's reasons and its sentence on the hour; where nobody falls short it takes the place of the reason

    that the hot water lasts, which says the same in fewer figures.
    """
    said = letter_sentence(teller, first)
    lasts = {f.id for n in LASTS if (f := teller.book.about(n, first.id)) is not None}
    for n, item in enumerate(reasons):
        if said and hour.simulate(teller.advice, first).first_short.lo == math.inf and any(
                lasts & set(getattr(s, "ids", ())) for s in item):
            told = replace(said[0], ids=tuple(dict.fromkeys([*said[0].ids, *(i for s in item for i in s.ids)])))
            return [*reasons[:n], (told,), *reasons[n + 1:]], ()
    return reasons, said


def letter_sentence(teller: Teller, first: Judged) -> tuple[Claim, ...]:
    """What the household would notice with the layout recommended, in one sentence; nothing where it is not known."""
    if teller.advice.book.about(ASKS, "site") is None:
        return ()
    outcome = hour.simulate(teller.advice, first)
    said = hour.brief(outcome)
    return (hour.claim(teller, first, outcome, said),) if said else ()
