"""The answer of `ask` in sentences and as the contract's JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from advisor.contrast.ask import Ask, Asked, Visit
from advisor.facts import Fact
from advisor.records import Advice
from advisor.report import letter_parts, picks, standing
from advisor.report.claims import Block, Claim, Document, Heading, Items, Note, Para, Sentence
from advisor.report.say import Piece, Teller

MOST, MOST_TITLES = 10, 3


def ask_json(advice: Advice, answer: Ask) -> dict[str, Any]:
    """The contract's JSON of `ask`."""
    teller = Teller(advice)
    return {"settled": answer.settled, "recommended": answer.recommended,
            "certain_already": [c.text for c in _certain(teller, answer)],
            "ask": [{"field": a.field, "tool": a.tool, "minutes": a.minutes, "could_change_to": list(a.could_change_to),
                     "could_leave_nothing": a.could_leave_nothing} for a in answer.asks],
            "need_not_ask": list(answer.need_not),
            "first_visit": {"fields": list(answer.visit.fields), "if_usual": answer.visit.would_recommend}
            if answer.visit else None}


def ask_document(advice: Advice, answer: Ask) -> Document:
    """Whether the advice is settled, the measurements in order, what is certain, what need not be measured."""
    return Document("ask", tuple(_blocks(Teller(advice), answer)))


def _blocks(teller: Teller, answer: Ask) -> Iterator[Block]:
    yield Para(tuple(_opening(teller, answer)))
    if answer.visit is not None:
        yield from _first_visit(teller, answer, answer.visit)
    elif answer.asks:
        yield Heading(2, "Measure or ask next, in this order")
        yield Items(tuple(tuple(_question(teller, a)) for a in answer.asks[:MOST]))
        more = len(answer.asks) - MOST
        if more > 0:
            yield Para((teller.claim("{n} more may matter; --json lists them.", _ids(teller),
                                     n=teller.count("more-asks", more)),))
        yield Para((Note(standing.ASK_AGAIN),))
    yield Heading(2, "Certain already")
    yield from _certain_blocks(teller, answer)
    if answer.need_not:
        yield Heading(2, "Need not be measured for the choice")
        yield Para((Note(standing.NEED_NOT),))
        yield Items(tuple((_named(teller, f),) for f in answer.need_not))


def _first_visit(teller: Teller, answer: Ask, visit: Visit) -> Iterator[Block]:
    """Where much is unknown: what to begin with, what that would settle, and that the rest depends on it."""
    yield Heading(2, "First visit: begin with these, in this order")
    n = teller.count("visit", len(visit.fields))
    if visit.would_recommend is not None:
        yield Para((teller.claim("Were each answer the usual one, these {n} would settle it: {title}.", _ids(teller),
                                 n=n, title=teller.title(teller.advice[visit.would_recommend])),))
    else:
        yield Para((teller.claim("Were each answer the usual one, these {n} would settle it: nothing could be "
                                 "recommended.", _ids(teller), n=n),))
    asked = {a.field: a for a in answer.asks}
    yield Items(tuple(tuple(_question(teller, asked[f], short=True)) for f in visit.fields))
    more = len(answer.asks) - len(visit.fields)
    if more:
        yield Para((teller.claim("Depending on what these show, {n} more may matter; --json lists them.", _ids(teller),
                                 n=teller.count("after-visit", more)), Note(standing.ASK_AGAIN)))


def _ids(teller: Teller) -> list[str]:
    """What a sentence about the whole advice rests on: whatever decides the first arrangement."""
    return picks.fate_ids(teller.advice, teller.advice.judged[0])


def _opening(teller: Teller, answer: Ask) -> Iterator[Sentence]:
    number = teller.count("open-fields", len(answer.asks) + len(answer.need_not))
    first = picks.recommended(teller.advice)
    if first is not None:
        frame = ("Recommended, whatever the open answers turn out to be: {title}." if answer.settled
                 else "Recommended as things stand: {title}.")
        yield teller.claim(frame, _ids(teller), title=teller.title(first))
    else:
        yield teller.claim("Nothing is recommended as things stand.", _ids(teller))
    if answer.settled:
        yield teller.claim("Open answers: {n}; none of them can change the choice.", _ids(teller), n=number)
    else:
        yield teller.claim("Open answers: {n}; those that may change the choice: {m}.", _ids(teller), n=number,
                           m=teller.count("asked", len(answer.asks)))


def _question(teller: Teller, asked: Asked, short: bool = False) -> Iterator[Sentence]:
    fact = _fact(teller, asked.field)
    entry = teller.vocabulary[fact.name]
    yield letter_parts.question_claim(teller, asked.field, entry.question)
    yield teller.claim("{field}: {tool}, {minutes} min.", [fact.id],
                       field=teller.code(asked.field, f"field:{asked.field}"),
                       tool=teller.text(entry.tool, f"tool:{fact.name}"),
                       minutes=teller.text(f"{entry.minutes:g}", f"minutes:{fact.name}"))
    if short:
        return
    if len(asked.could_change_to) > MOST_TITLES:
        yield teller.claim("It could change the advice to one of {n} layouts.", [fact.id],
                           n=teller.count(f"could:{asked.field}", len(asked.could_change_to)))
    elif asked.could_change_to:
        gaps = {f"t{n}": teller.title(teller.advice[i]) for n, i in enumerate(asked.could_change_to)}
        listed = "; ".join(f"{{{g}}}" for g in gaps)
        yield teller.fill(f"It could change the advice to: {listed}.", gaps, [fact.id])
    if asked.could_leave_nothing:
        yield Note(standing.LEAVES_NOTHING)


def _fact(teller: Teller, field: str) -> Fact:
    return next(f for f in teller.book if f.made_by == "survey" and f.note == field)


def _certain(teller: Teller, answer: Ask) -> Iterator[Claim]:
    advice = teller.advice
    for frame, ids in (("Ruled out, whatever the answers are: {short}.", answer.out),
                       ("Comes first in no case: {short}.", answer.never_first)):
        for i in ids:
            yield teller.claim(frame, picks.fate_ids(advice, advice[i]), short=teller.short(advice[i]))


def _certain_blocks(teller: Teller, answer: Ask) -> Iterator[Block]:
    """The same as `_certain`, said once for each kind of certainty."""
    for said, ids in (("Ruled out, whatever the answers are:", answer.out),
                      ("May be fitted or not, but comes first in no case:", answer.never_first)):
        if ids:
            yield Para((teller.claim(said, _ids(teller)),))
            yield Items(tuple((teller.claim("{short}", picks.fate_ids(teller.advice, teller.advice[i]),
                                            short=teller.short(teller.advice[i])),) for i in ids))
    if not answer.out and not answer.never_first:
        yield Items(((_nothing_certain(teller),),))


def _nothing_certain(teller: Teller) -> Claim:
    return teller.claim("Nothing yet: every kind of layout may still come first.", _ids(teller))


def _named(teller: Teller, field: str) -> Claim:
    fact = _fact(teller, field)
    gaps: dict[str, Piece] = {"what": teller.plain(fact.name), "where": teller.name(fact.entity)}
    return teller.fill("{what}" if fact.sort == "site" else "{where}: {what}", gaps, [fact.id])
