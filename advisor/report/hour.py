"""The busy hour in sentences: their figures, each under a name that the claim lint works out again, and their words.

A sentence is told once, as a template with named gaps; the terminal fills it with plain text, a report with pieces
that know what they show.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from advisor.facts import Span
from advisor.records import Advice, Judged
from advisor.report.claims import Claim
from advisor.report.say import Piece, Teller
from advisor.report.wording import extra_decimals, number, plain_name, show, with_unit
from advisor.water import fittings
from advisor.water.busy_hour import Curve
from advisor.water.costly import costs, needs_bar
from advisor.water.network import Throttle
from advisor.water.outcome import Outcome, busy_hour

NOT_YET = "This could not be worked out yet."
NO_FIGURE = "-"


# ---------------------------------------------------------------- figures
def minute_words(minute: float) -> str:
    """When somebody falls short: "never", "at once", "after 17 min"."""
    if math.isinf(minute):
        return "never"
    return "at once" if minute <= 0 else f"after {_minutes(minute)}"


def band_words(span: Span) -> str:
    """Both ends of the first shortfall in words."""
    low, high = minute_words(span.lo), minute_words(span.hi)
    return low if low == high else f"{low} at worst, {high} at best"


def _minutes(minute: float) -> str:
    return with_unit(number(minute, 0), "min")


def _flow(l_min: float) -> str:
    return show(Span(l_min, l_min), "l/min")


def flow_below(l_min: float, wanted: float) -> str:
    """A flow that is less than what is wanted, with the decimals that show it."""
    ends = Span(l_min, l_min), Span(wanted, wanted)
    return show(ends[0], "l/min", extra_decimals(*ends, "l/min"))


def _bar(bar: float) -> str:
    return show(Span(bar, bar), "bar")


def _band(values: list[float], unit: str) -> str:
    return show(Span(min(values), max(values)), unit) if values else NO_FIGURE


def _first(outcome: Outcome) -> Curve:
    """The outlet that first falls short, at the worst."""
    run = outcome.worst.run
    return run.curves[run.first_short_outlet]


WHOLE: dict[str, Callable[[Outcome], str]] = {  # figures of a whole outcome
    "worst": lambda o: minute_words(o.first_short.lo),
    "best": lambda o: minute_words(o.first_short.hi),
    "minute": lambda o: _minutes(o.worst.minute),
    "least": lambda o: flow_below(_first(o).least_l_min, _first(o).wanted_l_min),
    "wanted": lambda o: _flow(_first(o).wanted_l_min),
    "left": lambda o: _band([c.run.left_l for c in o.cases if c.run.left_l is not None], "l"),
    "waits": lambda o: _band([c.run.heating_lost_min for c in o.cases], "min"),
    "drawn": lambda o: _minutes(o.worst.run.drawn_until_min),
    "costs": lambda o: _flow(costs(o)[0].costs_l_min),
    "without": lambda o: _flow(costs(o)[0].without_l_min),
    "needs": lambda o: _bar(needs_bar(o)),
    "content": lambda o: _bar(fittings.MAINS_MIXER_CONTENT_BAR),
}
OF_AN_OUTLET: dict[str, Callable[[Curve], str]] = {  # figures of one outlet, at the worst
    "fills": lambda c: number(c.ran_min, 0),
    "meant": lambda c: number(c.meant_min, 0),
    "outlet-least": lambda c: flow_below(c.least_l_min, c.wanted_l_min),
    "outlet-wanted": lambda c: _flow(c.wanted_l_min),
    "outlet-coldest": lambda c: show(Span(c.coldest_c, c.coldest_c), "C"),
}


def figure(outcome: Outcome, what: str) -> str:
    """A figure by its name, "left" or "fills/bath"; KeyError where there is none."""
    name, _, outlet = what.partition("/")
    return OF_AN_OUTLET[name](outcome.worst.run.curves[outlet]) if outlet else WHOLE[name](outcome)


def simulate(advice: Advice, judged: Judged) -> Outcome:
    """The busy hour of one layout; run once, remembered after."""
    return busy_hour(advice.book, judged.arrangement, sorted(advice.book.of("outlet.kind")))


def expected(advice: Advice, rest: str) -> list[str]:
    """What the key `hour:<figure>:<arrangement>` may say, run again for the lint."""
    what, _, arrangement = rest.partition(":")
    outcome = simulate(advice, advice[arrangement])
    return [figure(outcome, what)] if outcome.computed else []


def anchors(advice: Advice, rest: str) -> frozenset[str]:
    """The ids a sentence with such a figure must carry: the answers the run rests on."""
    _, _, arrangement = rest.partition(":")
    return frozenset(ids(advice, simulate(advice, advice[arrangement])))


def ids(advice: Advice, outcome: Outcome) -> tuple[str, ...]:
    """The survey's facts that an outcome rests on."""
    return tuple(f.id for f in advice.book if f.made_by == "survey" and f.note in outcome.rests_on)


# ---------------------------------------------------------------- words
@dataclass(frozen=True)
class Told:
    """A sentence with gaps: figures by name, outlets by entity."""

    template: str
    figures: dict[str, str] = field(default_factory=dict)  # gap -> figure
    outlets: dict[str, str] = field(default_factory=dict)  # gap -> entity

    def plain(self, outcome: Outcome) -> str:
        gaps = {g: figure(outcome, w) for g, w in self.figures.items()}
        gaps |= {g: plain_name(o) for g, o in self.outlets.items()}
        text = self.template.format(**gaps)
        return text[:1].upper() + text[1:]


def told(outcome: Outcome) -> Iterator[Told]:
    """What the householder would notice, in one to three sentences; the worst case where it is a range."""
    if not math.isinf(outcome.first_short.lo):
        yield from _short(outcome)
        return
    yield Told("Everyone has warm water in the busiest hour.")
    yield from slow(outcome)
    if any(c.run.left_l is not None for c in outcome.cases):
        yield Told("{left} of shower water are left at the end.", {"left": "left"})


def slow(outcome: Outcome) -> Iterator[Told]:
    """Baths that fill noticeably slower than wanted."""
    for name, curve in outcome.worst.run.curves.items():
        if curve.slow:
            yield Told("The {who} takes {ran} min to fill instead of {meant}.",
                       {"ran": f"fills/{name}", "meant": f"meant/{name}"}, {"who": name})


def _short(outcome: Outcome) -> Iterator[Told]:
    """Who first falls short, of what and when; what of the layout's own it passes; then how far that may be off."""
    band, curve = outcome.first_short, _first(outcome)
    same = minute_words(band.lo) == minute_words(band.hi)
    gaps = {"minute": "minute", "least": "least", "wanted": "wanted"}
    if curve.kind == "cold":
        said = f"The {{who}} turns cold {'at once' if band.lo <= 0 else 'after {minute} of drawing'}"
    else:
        said = "The {who} gets {least} of the {wanted} wanted, " + (
            "from the start" if band.lo <= 0 else "from {minute} on")
    used = {g: w for g, w in gaps.items() if f"{{{g}}}" in said}
    yield Told(f"{said}{'' if same else ', at worst'}.", used, {"who": outcome.worst.run.first_short_outlet})
    yield from (_throttle(t) for t in costs(outcome)[:1])
    if math.isinf(band.hi):
        yield Told("Where things stand kinder, nobody falls short.")
    elif not same:
        yield Told("Where things stand kinder, somebody first falls short {best}.", {"best": "best"})


def _throttle(found: Throttle) -> Told:
    """What the dearest part of the layout itself costs that outlet."""
    gaps = {"costs": "costs", "without": "without"}
    if found.element == fittings.MIXER:
        return Told("At worst the mixer wants {needs}; were all content with {content}, it would get {without}.",
                    {"needs": "needs", "content": "content", "without": "without"})
    return Told(f"At worst {found.element} costs {{costs}}; without it {{without}} would come.", gaps)


def sentence(outcome: Outcome) -> str:
    """What the householder would notice, as plain text."""
    return " ".join(t.plain(outcome) for t in told(outcome)) if outcome.computed else NOT_YET


def brief(outcome: Outcome) -> Told | None:
    """The one sentence of the letter, no longer than a sentence may be; None where nothing was computed."""
    if not outcome.computed:
        return None
    band = outcome.first_short
    if math.isinf(band.lo):
        if all(c.run.left_l is None for c in outcome.cases):
            return Told("In your busiest hour everyone has warm water.")
        return Told("In your busiest hour everyone has warm water, with {left} left.", {"left": "left"})
    same = minute_words(band.lo) == minute_words(band.hi)
    start = "In your busiest hour" if same else "At worst, in your busiest hour"
    gaps = {"minute": "minute", "least": "least", "wanted": "wanted"}
    said = "{who} turns cold after {minute} of drawing" if _first(outcome).kind == "cold" else (
        "{who} gets {least} of the {wanted} wanted")
    used = {g: w for g, w in gaps.items() if f"{{{g}}}" in said}
    return Told(f"{start} the {said}.", used, {"who": outcome.worst.run.first_short_outlet})


def claim(teller: Teller, judged: Judged, outcome: Outcome, said: Told) -> Claim:
    """A told sentence as a claim on the answers the run rests on."""
    gaps = {g: piece(outcome, judged, w) for g, w in said.figures.items()}
    gaps |= {g: teller.name(o) for g, o in said.outlets.items()}
    return teller.fill(said.template, gaps, ids(teller.advice, outcome))


def piece(outcome: Outcome, judged: Judged, what: str) -> Piece:
    """A figure as a piece the lint can work out again."""
    return Piece(figure(outcome, what), f"hour:{what}:{judged.id}")
