"""The reply to a rival's quote in sentences and as the contract's JSON; it concedes where theirs is as good."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from advisor.contrast.quotes import Quote
from advisor.contrast.rather import CONFIRM, VERDICT
from advisor.contrast.rival import Reply
from advisor.records import Advice, Judged
from advisor.report import chapters, letter_parts, phrases, picks, running, standing
from advisor.report.claims import Block, Claim, Document, Heading, Items, Note, Para
from advisor.report.say import Piece, Teller
from advisor.report.unlocking import written

MOST_REASONS = 4


def rival_json(advice: Advice, quote: Quote, answer: Reply) -> dict[str, Any]:
    """The contract's JSON of `rival`."""
    teller = Teller(advice)
    theirs = advice[answer.rival]
    return {"rival": answer.rival, "verdict": theirs.verdict, "price_gbp": quote.price_gbp,
            "better_on": list(answer.better_on), "gives_up": [c.text for c in _given_up(teller, answer)],
            "right_if": [{"field": f, "to": t} for f, t in answer.right_if.items()],
            "right_if_found": answer.found, "left_out": [i.word for i in answer.left_out],
            "questions": [c.text for c in _questions(teller, answer)], "concede": answer.concede}


def rival_document(advice: Advice, answer: Reply) -> Document:
    """Their case first, then what it gives up, when it would be right, and what to ask."""
    return Document("Reply to another quote", tuple(_blocks(Teller(advice), answer)))


def _blocks(teller: Teller, answer: Reply) -> Iterator[Block]:
    theirs = teller.advice[answer.rival]
    ids = picks.fate_ids(teller.advice, theirs)
    verdict = teller.text(phrases.verdict_words(theirs), f"verdict:{theirs.id}")
    yield Para((teller.claim("The other quote: {title}; here {verdict}.", ids, title=teller.title(theirs),
                             verdict=verdict), *_ours(teller, answer), *_conceded(teller, answer)))
    yield Heading(2, "Where theirs is better")
    yield Items(tuple((c,) for c in _better(teller, answer)))
    if answer.gives_up:
        yield Heading(2, "What it gives up")
        yield Items(tuple((c,) for c in _given_up(teller, answer)))
    yield Heading(2, "When theirs would be the right choice")
    yield from _right_if(teller, answer)
    if answer.left_out:
        yield Heading(2, "What the quote does not say, and what to ask")
        yield Items(tuple((c,) for c in _questions(teller, answer)))
    if answer.ours and (yearly := tuple(running.beside(teller, teller.advice[answer.ours], theirs))):
        yield Para(yearly)
    yield Para((Note(standing.SAME_RULES), Note(standing.QUOTES_BANDS)))


def _ours(teller: Teller, answer: Reply) -> Iterator[Claim]:
    if answer.ours and answer.ours != answer.rival:
        ours = teller.advice[answer.ours]
        yield teller.claim("Ours: {title}.", picks.fate_ids(teller.advice, ours), title=teller.title(ours))


def _conceded(teller: Teller, answer: Reply) -> Iterator[Claim]:
    if not answer.concede:
        return
    ids = picks.fate_ids(teller.advice, teller.advice[answer.rival])
    if answer.ours == answer.rival:
        yield teller.claim("It is the layout we recommend ourselves; choose between the two by price and by what is "
                           "included.", ids)
    else:
        yield teller.claim("It is at least as good as ours on every point we compare.", ids)


def _better(teller: Teller, answer: Reply) -> Iterator[Claim]:
    """Their best honest case: what it is ahead on, and what favours it."""
    advice, theirs = teller.advice, teller.advice[answer.rival]
    said = 0
    if answer.ours and answer.ours != answer.rival:
        ours = advice[answer.ours]
        listed = [*answer.better_on, *(c for c in picks.better_on(advice, theirs, ours) if c not in answer.better_on)]
        for name in listed:
            clause = letter_parts.criterion_clause(teller, name, theirs, ours, "{clause}.", letter_parts.ours)
            if clause is not None:
                said += 1
                yield clause
    shared = {f.rule for f in picks.certain(advice[answer.ours], "favours")} if answer.ours else set()
    for finding in [f for f in picks.certain(theirs, "favours") if f.rule not in shared][:2]:
        said += 1
        yield chapters.speak(teller, finding, theirs, "finding", 1)[0]
    if not said:
        frame = ("As a layout it is neither better nor worse: it is the same." if answer.ours == answer.rival
                 else "On none of the points we compare is {short} ahead of ours.")
        yield teller.claim(frame, picks.fate_ids(advice, theirs), short=teller.short(theirs))


def _given_up(teller: Teller, answer: Reply) -> Iterator[Claim]:
    """In litres, minutes and bar where there are figures; then what else our layout is ahead on."""
    advice, theirs = teller.advice, teller.advice[answer.rival]
    told: set[str] = set()
    ours = advice[answer.ours] if answer.ours and answer.ours != answer.rival else None
    too = {c.name for c in picks.failing(advice, ours)} if ours else set()  # what ours fails as well is no difference
    for check in list(picks.failing(advice, theirs))[:MOST_REASONS]:
        if check.name in phrases.CHECKS and check.name not in too:
            told |= {c.id for c in picks.criteria(advice).values() if c.fact == check.name}
            yield letter_parts.check_clause(teller, check, "{clause}.", "fails")
    for name in [c for c in answer.gives_up if c not in (VERDICT, CONFIRM) and c not in told] if ours else []:
        clause = letter_parts.criterion_clause(teller, name, theirs, ours)
        if clause is not None:
            yield clause
    for finding in picks.independent_reasons(theirs)[:MOST_REASONS]:
        yield from chapters.speak(teller, finding, theirs, "rival", 1)


def _right_if(teller: Teller, answer: Reply) -> Iterator[Block]:
    theirs = teller.advice[answer.rival]
    ids = picks.fate_ids(teller.advice, theirs)
    if not answer.right_if:
        frame = ("As things stand it is: {short}." if answer.found else
                 "Among the works and wishes we tried, none makes it come first: {short}.")
        yield Para((teller.claim(frame, ids, short=teller.short(theirs)),))
        return
    yield Para((teller.claim("Here these fail; were all of them so, {short} would come first:", ids,
                             short=teller.short(theirs)),))
    yield Items(tuple((_condition(teller, f, t, ids),) for f, t in answer.right_if.items()
                      if not _said_by_order(f, answer)))
    changes = written(answer.right_if)
    from_rules = Piece(_first_then(teller.advice, answer), f"recommended-then:{changes}")
    yield Para((teller.claim("With these answers our own rules recommend: {title}.", ids, title=from_rules),))


def _said_by_order(field: str, answer: Reply) -> bool:
    """A wish that is put first needs no second line saying that it is one."""
    return field == f"wishes.{answer.right_if.get('wishes.order', '').split(',')[0]}"


def _first_then(advice: Advice, answer: Reply) -> str:
    from advisor.contrast.quick import recommended

    first = recommended(advice.survey.with_changes(answer.right_if), advice.rulebase)
    return advice[first].arrangement.title if first else "nothing"


def _condition(teller: Teller, field: str, to: str, ids: list[str]) -> Claim:
    if field == "wishes.order":
        first = to.split(",")[0]
        return teller.claim("the household's first wish: {wish}.", ids, wish=teller.plain(f"wishes.{first}"))
    entry, listed = teller.advice.survey.fields.entry(field), teller.advice.survey.fields.split(field)
    assert entry is not None
    gaps = {"what": teller.plain(entry.name), "to": Piece(to, f"change:{field}={to}"),
            "now": Piece(_now(teller.advice, field), f"answer:{field}")}
    if listed:
        gaps["where"] = teller.name(listed[1])
    return teller.fill(("{where}, " if listed else "") + "{what}: {to}, in place of {now}.", gaps, ids)


def _now(advice: Advice, field: str) -> str:
    answer, entry = advice.survey.answers.get(field), advice.survey.fields.entry(field)
    if answer is not None:
        return answer.read
    return str(entry.default) if entry is not None and entry.default is not None else "unknown"


def _questions(teller: Teller, answer: Reply) -> Iterator[Claim]:
    theirs: Judged = teller.advice[answer.rival]
    for item in answer.left_out:
        yield teller.claim(item.ask, picks.fate_ids(teller.advice, theirs))
