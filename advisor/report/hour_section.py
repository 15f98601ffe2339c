"""The busy hour in a report: the installer's section with drawings and the band, and the letter's one sentence."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.records import Advice, Judged
from advisor.report import busy, chart, drawing, hour, standing
from advisor.report.claims import Block, Drawings, Drawn, Heading, Note, Para, Sentence, Table
from advisor.report.say import Teller
from advisor.water.outcome import Outcome

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


def letter_sentence(teller: Teller, first: Judged) -> tuple[Sentence, ...]:
    """What the household would notice with the layout recommended, in one sentence; nothing where it is not known."""
    if teller.advice.book.about(ASKS, "site") is None:
        return ()
    outcome = hour.simulate(teller.advice, first)
    said = hour.brief(outcome)
    return (hour.claim(teller, first, outcome, said),) if said else ()
