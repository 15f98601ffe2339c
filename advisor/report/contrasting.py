"""The answer of `rather` in sentences and as the contract's JSON."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from advisor.contrast.rather import CONFIRM, LEVEL, VERDICT, Difference, Rather
from advisor.facts import Fact
from advisor.records import Advice, Judged
from advisor.report import chapters, letter_parts, phrases, picks, running, standing
from advisor.report.claims import Block, Claim, Document, Heading, Items, Note, Para, Sentence, Table
from advisor.report.say import Piece, Teller
from advisor.report.wording import clean


def rather_json(advice: Advice, answer: Rather) -> dict[str, Any]:
    """The contract's JSON of `rather`, with the order the two stand in."""
    teller = Teller(advice)
    a, b = advice[answer.first], advice[answer.second]
    return {"first": a.id, "second": b.id, "before": answer.before, "decided_on": answer.decided_on, "differs": [
        {"criterion": d.criterion, "first": _cell(teller, d.criterion, a).text,
         "second": _cell(teller, d.criterion, b).text, "decides": d.decides} for d in answer.differs],
        "second_is_better_on": list(answer.second_is_better_on)}


def rather_document(advice: Advice, answer: Rather) -> Document:
    """Headline, two columns, the comparison that decides, what stands against the second, what it does better."""
    teller = Teller(advice)
    a, b = advice[answer.first], advice[answer.second]
    blocks: list[Block] = [Para(tuple(_opening(teller, answer, a, b)))]
    if answer.differs:
        blocks += [Heading(2, "What differs and matters"), Table(
            ("", clean(a.arrangement.title), clean(b.arrangement.title)),
            tuple((_label(teller, d), _cell(teller, d.criterion, a), _cell(teller, d.criterion, b))
                  for d in answer.differs))]
    worse = b if answer.before == a.id else a
    against = picks.independent_reasons(worse)
    if answer.decided_on == VERDICT and against:
        blocks += [Heading(2, "What rules the later one out"), Para((_how_many(teller, worse, len(against)),)),
                   Items(tuple(chapters.speak(teller, f, worse, "finding", 1) for f in against))]
    blocks += [Heading(2, "What the second does better"), Items(tuple(_better(teller, answer, a, b)))]
    if yearly := tuple(running.beside(teller, a, b)):
        blocks.append(Para(yearly))
    return Document("rather", tuple(blocks))


def _opening(teller: Teller, answer: Rather, a: Judged, b: Judged) -> Iterator[Sentence]:
    first, second = (a, b) if answer.before == a.id else (b, a)
    gaps = {"first": teller.title(first), "second": teller.title(second)}
    ids = [*picks.fate_ids(teller.advice, first), *picks.fate_ids(teller.advice, second)]
    if first is b:
        yield teller.claim("It is the other way round here.", ids)
    yield teller.fill("{first} stands before this: {second}.", gaps, ids)
    if a.verdict == b.verdict == "ruled_out":
        yield teller.claim("Both are ruled out here as things stand.", ids)
    if answer.decided_on == LEVEL:
        yield Note(standing.NOT_SEPARATED)
        return
    yield _decision(teller, answer.decided_on, first, second, ids)


def _decision(teller: Teller, name: str, first: Judged, second: Judged, ids: list[str]) -> Claim:
    """The deciding comparison, with both values and the step."""
    gaps = {"what": teller.criterion(name)}
    if name in (VERDICT, CONFIRM):
        gaps |= {"x": _verdict(teller, first), "y": _verdict(teller, second)}
        return teller.fill("Decided on this: {what}; {x}, against {y}.", gaps, ids)
    facts = picks.criterion_facts(teller.advice, name, first, second)
    ids = [*ids, *picks.step_ids(teller.advice, name, first, second)]
    gaps |= {n: _value(teller, f) for n, f in zip("xy", facts, strict=True)}
    gaps |= {n: _step(teller, name, j) for n, j in zip("st", (first, second), strict=True)}
    return teller.fill("Decided on this: {what}; {x} (step {s}), against {y} (step {t}).", gaps, ids)


def _label(teller: Teller, difference: Difference) -> Claim:
    ids = [f.id for j in (difference.better,) if (f := teller.book.about("arrangement.family", j)) is not None]
    frame = "{what} (this decides)" if difference.decides else "{what}"
    return teller.claim(frame, ids, what=teller.criterion(difference.criterion))


def _cell(teller: Teller, name: str, judged: Judged) -> Claim:
    ids = picks.fate_ids(teller.advice, judged)
    if name in (VERDICT, CONFIRM):
        return teller.fill("{x}", {"x": _verdict(teller, judged)}, ids)
    fact, _ = picks.criterion_facts(teller.advice, name, judged, judged)
    ids = [*ids, *picks.step_ids(teller.advice, name, judged)]
    return teller.fill("{x} (step {s})", {"x": _value(teller, fact), "s": _step(teller, name, judged)}, ids)


def _value(teller: Teller, fact: Fact | None) -> Piece:
    return teller.value(fact) if fact is not None else Piece("not recorded", "text:absent")


def _verdict(teller: Teller, judged: Judged) -> Piece:
    return teller.text(phrases.verdict_words(judged), f"verdict:{judged.id}")


def _step(teller: Teller, criterion: str, judged: Judged) -> Piece:
    return teller.count(f"worst-step:{criterion}:{judged.id}", judged.steps[criterion][1])


def _how_many(teller: Teller, judged: Judged, number: int) -> Claim:
    frame = ("Any one of these {n} things rules it out." if number > 1 else "This {n} thing rules it out.")
    return teller.claim(frame, picks.fate_ids(teller.advice, judged),
                        n=teller.count(f"reasons:{judged.id}", number))


def _better(teller: Teller, answer: Rather, a: Judged, b: Judged) -> Iterator[tuple[Sentence, ...]]:
    """What speaks for the second: the criteria it is ahead on, clause by clause; said plainly when there are none."""
    ids = picks.fate_ids(teller.advice, b)
    for name in answer.second_is_better_on:
        said = letter_parts.criterion_clause(teller, name, b, a)
        yield (said or teller.claim("It is ahead on this: {what}.", ids, what=teller.criterion(name)),)
    others = [c for c in picks.better_on(teller.advice, b, a) if c not in answer.second_is_better_on]
    for name in others:
        said = letter_parts.criterion_clause(teller, name, b, a, "Though nobody asked for it: {clause}.")
        if said is not None:
            yield (said,)
    if not answer.second_is_better_on and not others:
        yield (teller.claim("On none of the points we compare is it ahead.", ids),)
