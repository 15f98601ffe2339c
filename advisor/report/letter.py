"""The householder's letter: what to fit, why it beats the cheaper layout, what to confirm, what to mind.

It is written at the fullest length first; where it runs past two sides of A4,
the longer lists are cut and say so.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from advisor.contrast.near import Near
from advisor.records import Advice, Judged
from advisor.report import holding, hour_section, others, picks, pricing, standing, wording
from advisor.report import letter_parts as parts
from advisor.report.claims import Block, Document, Heading, Items, Note, Para, Ruled, Sentence, Table, words
from advisor.report.say import Teller

TITLE = "Your heating and hot water: what we recommend"
MOST_WORDS = 800
ASKED_FIRST = 9
TERMS = (("unvented", standing.UNVENTED_WORD), ("cistern-fed", standing.CISTERN_WORD),
         ("combination", standing.COMBINATION_WORD))


@dataclass(frozen=True, slots=True)
class Length:
    """How many items each list may hold."""

    reasons: int
    drawbacks: int
    works: int
    confirm: int
    cautions: int
    limits: int = 2  # readings the advice holds for
    hour: bool = True  # whether the busiest hour is told
    maybe: bool = True  # whether every danger that only may be is told
    tails: bool = True  # whether second points, second open answers and counts of further reasons are told


LENGTHS = (Length(5, 4, 9, 7, 6), Length(5, 4, 6, 5, 4), Length(5, 3, 5, 4, 3, 1), Length(4, 3, 4, 3, 3, 1),
           Length(4, 2, 3, 3, 2, 1), Length(3, 2, 3, 2, 2, 1), Length(3, 2, 3, 2, 2, 1, tails=False),
           Length(3, 2, 1, 1, 1, 1, tails=False), Length(3, 2, 1, 1, 1, 0, tails=False),
           Length(3, 1, 1, 1, 1, 0, tails=False), Length(3, 2, 1, 1, 1, 0, hour=False, tails=False),
           Length(3, 1, 1, 1, 1, 0, hour=False, tails=False), Length(2, 1, 1, 1, 1, 0, hour=False, tails=False),
           Length(2, 1, 1, 1, 1, 0, hour=False, maybe=False, tails=False))


def letter(advice: Advice, near: Near | None = None) -> Document:
    """The letter of one piece of advice, as a document of claims, at the fullest length that fits.

    `near` are the readings the advice holds for; without it nothing is said of them.
    """
    document = Document(TITLE)
    for length in LENGTHS:
        document = Document(TITLE, tuple(_blocks(Teller(advice), length, near)))
        if words(document) <= MOST_WORDS:
            break
    return document


def _blocks(teller: Teller, length: Length, near: Near | None) -> Iterator[Block]:
    first = picks.recommended(teller.advice)
    yield from _head(teller)
    yield from _undecided(teller) if first is None else _recommendation(teller, first, length, near)
    yield from _foot(teller)


# ---------------------------------------------------------------- head and foot
def _head(teller: Teller) -> Iterator[Block]:
    survey = teller.advice.survey
    for key, label in (("name", "For"), ("address", "Address")):
        yield Ruled(label, teller.text(survey.private.get(key, ""), "").text, f"text:private:{key}")
    yield Ruled("Surveyed on", wording.day(survey.surveyed_on), "text:surveyed-on")


def _foot(teller: Teller) -> Iterator[Block]:
    yield Heading(2, "The wishes we worked with")
    stated = parts.wishes(teller)
    yield Items(tuple(stated)) if stated else Para((Note(standing.NO_WISHES),))
    yield Heading(2, "The last word")
    yield Para((Note(standing.LAST_WORD), Note(standing.LICENSED), Note(standing.PROPOSES)))
    yield Ruled("For the installer")
    yield Ruled("Date")


def _section(title: str, items: list[parts.Item], opening: tuple[Sentence, ...] = ()) -> Iterator[Block]:
    if items:
        yield Heading(2, title)
        if opening:
            yield Para(opening)
        yield Items(tuple(items))


# ---------------------------------------------------------------- a recommendation
def _recommendation(teller: Teller, first: Judged, length: Length, near: Near | None) -> Iterator[Block]:
    advice = teller.advice
    cheaper, second = picks.cheaper(advice, first), picks.runner_up(advice, first)
    yield Para(parts.headline(teller, first, cheaper), "lead")
    if even := parts.level(teller, first):
        yield Para(even)
    yield from pricing.lead(pricing.said(teller, first))
    yield Para(tuple(_terms(j for j in (first, cheaper, second) if j is not None)))
    reasons, hour = parts.reasons(teller, first, length.reasons), ()
    if length.hour:
        reasons, hour = hour_section.among_reasons(teller, first, reasons)
    if hour:
        yield Para(hour)
    yield from _section("Why this one", reasons)
    beside = [j for j in (cheaper, second) if j is not None]
    yield from _section("What speaks against it", parts.drawbacks(teller, first, beside, length.drawbacks))
    if cheaper is not None:
        yield from _section("When the cheaper layout would be right", others.conditions(teller, first, cheaper))
    if second is not None:
        yield Heading(2, "The next in line")
        yield Para(tuple(parts.runner_up(teller, first, second, 2 if length.tails else 1)))
    yield from holding.in_letter(teller, near, length.limits)
    yield from _works(teller, first, length)
    yield from _all_compared(teller, first, length.tails)


def _works(teller: Teller, first: Judged, length: Length) -> Iterator[Block]:
    yield from _section("What the work includes", parts.works(teller, first, length.works))
    items = parts.to_confirm(teller, first, length.confirm)
    yield from _section("To confirm before anything is ordered", items, (Note(standing.CONFIRM),))
    yield from _section("Please mind", parts.cautions(teller, first, length.cautions, length.maybe),
                        tuple(_minded(teller, first)))


def _minded(teller: Teller, first: Judged | None) -> Iterator[Sentence]:
    """What goes with any such work; what a store of water adds to it."""
    yield Note(standing.NOTIFIED)
    yield Note(standing.ASBESTOS)
    store = teller.structure(first, "arrangement.store") if first else None
    if store is None or "none" not in getattr(store.value, "words", ()):
        yield Note(standing.STORED)


def _terms(spoken: Iterator[Judged]) -> Iterator[Sentence]:
    """The terms of the trade that stand in the titles, in plain words."""
    titles = " ".join(j.arrangement.title for j in spoken)
    yield from (Note(sentence) for word, sentence in TERMS if word in titles.lower())


def _all_compared(teller: Teller, first: Judged | None, tails: bool = True) -> Iterator[Block]:
    yield Heading(2, "Everything else we compared" if first else "Everything we compared")
    for heads, rows in others.compared(teller, first, tails):
        yield Table(heads, tuple(rows))


# ---------------------------------------------------------------- nothing to recommend yet
def _undecided(teller: Teller) -> Iterator[Block]:
    advice = teller.advice
    ids = [i for j in advice.families() for i in picks.fate_ids(advice, j)[:1]]
    yield Para((teller.claim("We cannot recommend a layout yet: each one waits for an answer or is ruled out.", ids),),
               "lead")
    asked = [(parts.question_claim(teller, q.field, q.ask),) for q in advice.questions[:ASKED_FIRST]]
    more = [(Note(standing.MORE_IN_TECHNICAL),)] if len(advice.questions) > ASKED_FIRST else []
    yield from _section("What to measure first", [*asked, *more])
    if advice.if_typical:
        yield Heading(2, "If your home were typical")
        typical = teller.title(advice[advice.if_typical])
        yield Para((Note(standing.TYPICAL_ONLY),
                    teller.claim("Were every missing answer the typical one, this would come first.", typical.ids),
                    teller.claim("{title}.", title=typical)))
    yield from _all_compared(teller, None)
    yield Heading(2, "Please mind")
    yield Para((Note(standing.CONFIRM), *_minded(teller, None)))
