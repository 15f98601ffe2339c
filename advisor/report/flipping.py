"""The answer of `flips` in sentences and as the contract's JSON, and the sentence "this holds as long as ..."."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from advisor.contrast.flips import Edge, Flip, Flips
from advisor.contrast.near import Pairs
from advisor.facts import Fact
from advisor.records import Advice
from advisor.report import picks, standing
from advisor.report.claims import Block, Claim, Document, Heading, Items, Note, Para
from advisor.report.say import Piece, Teller

MOST_HOLDS = 3


def flips_json(answer: Flips, two: Pairs | None = None) -> dict[str, Any]:
    """The contract's JSON of `flips`; with `two`, the nearest pair of readings and how far it was looked for."""
    def side(edge: Edge | None) -> dict[str, Any] | None:
        return {"at": edge.at, "to": edge.to, "steps": edge.steps} if edge else None

    return {"recommended": answer.recommended, "all_off_by_steps": answer.together, "fields": [
        {"field": f.field, "value": f.value, "below": side(f.below), "above": side(f.above), "choices": dict(f.choices),
         "proved": f.proved, "distance_in_steps": f.steps} for f in answer.fields]} | (_pair_json(two) if two else {})


def _pair_json(two: Pairs) -> dict[str, Any]:
    found = two.nearest
    return {"pair": {"fields": [{"field": f, "at": at, "steps": n} for f, at, n in zip(
        found.fields, found.at, found.steps, strict=True)], "to": found.to} if found else None,
            "pair_searched": {"within_steps": two.within, "readings": two.readings, "covered": two.covered}}


def flips_document(advice: Advice, answer: Flips, two: Pairs | None = None) -> Document:
    """What holds, then each answer that could change it, the nearest first, the nearest pair, those that cannot."""
    teller = Teller(advice)
    return Document("flips", (*_blocks(teller, answer), *(_pair(teller, two) if two and two.readings > 1 else ())))


def _pair(teller: Teller, two: Pairs) -> Iterator[Block]:
    """Two readings that change the advice only together, or that none do, and how far that was tried."""
    ids = picks.fate_ids(teller.advice, teller.advice.judged[0])
    yield Heading(2, "Two readings together")
    tried = {"n": teller.count("pair-steps", two.within), "m": teller.count("paired", two.readings)}
    if two.nearest is None:
        yield Para((teller.claim(
            "No two of the {m} readings that hold alone change it together within {n} steps of their instruments."
            if two.covered else "No two of {m} readings were found to change it within {n} steps; not all were tried.",
            ids, **tried),))
        return
    found = two.nearest
    change = ";".join(f"{f}={t}" for f, t in sorted(zip(found.fields, found.at, strict=True)))
    gaps = {f"f{n}": teller.code(f, f"field:{f}") for n, f in enumerate(found.fields)}
    gaps |= {f"a{n}": Piece(t, f"change:{f}={t}") for n, (f, t) in enumerate(zip(found.fields, found.at, strict=True))}
    gaps |= {f"w{n}": Piece(teller.advice.survey.answers[f].read, f"answer:{f}") for n, f in enumerate(found.fields)}
    gaps["to"] = _outcome(teller, found.to, change)
    yield Para((teller.fill("{f0} at {a0} (now {w0}) and {f1} at {a1} (now {w1}): the advice is {to}.", gaps, ids),
                teller.claim("Neither changes it alone within {n} steps; no nearer pair of {m} readings does."
                             if two.covered else "Neither changes it alone within {n} steps ({m} readings paired).",
                             ids, **tried)))


def _blocks(teller: Teller, answer: Flips) -> Iterator[Block]:
    first = picks.recommended(teller.advice)
    ids = picks.fate_ids(teller.advice, teller.advice.judged[0])
    opening = (teller.claim("Recommended: {title}.", ids, title=teller.title(first)) if first is not None
               else teller.claim("Nothing is recommended as things stand.", ids))
    holds = holds_as_long_as(teller.advice, answer)
    yield Para((opening, *([holds] if holds else [])))
    numbers = [f for f in answer.fields if f.below or f.above]
    words = [f for f in answer.fields if f.choices]
    if any(f.steps == 1 for f in numbers):
        yield Para((Note(standing.TIGHT),))
    if numbers:
        yield Heading(2, "Readings that would change it, the nearest first")
        yield Items(tuple((c,) for f in numbers for c in _edges(teller, f)))
    if words:
        yield Heading(2, "Other answers that would change it")
        yield Items(tuple((c,) for f in words for c in _choices(teller, f)))
    if not numbers and not words:
        yield Para((Note(standing.NO_FLIP),))
    doubtful = [f for f in answer.fields if not f.proved]
    if doubtful:
        yield Heading(2, "Not proved")
        yield Para((Note(standing.NOT_COVERED),))
        yield Items(tuple((_named(teller, f, "{field}"),) for f in doubtful))
    unable = sum(f.proved and not f.turns for f in answer.fields)
    yield Heading(2, "Cannot change it")
    yield Para((teller.claim("Answers that cannot, by themselves: {n} (--json lists them).", ids,
                             n=teller.count("cannot-flip", unable)), Note(standing.PROVED)))


def _fact(teller: Teller, flip: Flip) -> Fact | None:
    return next((f for f in teller.book if f.made_by == "survey" and f.note == flip.field), None)


def _named(teller: Teller, flip: Flip, frame: str, **gaps: Piece) -> Claim:
    fact = _fact(teller, flip)
    return teller.fill(frame, {"field": teller.code(flip.field, f"field:{flip.field}"), **gaps},
                       [fact.id] if fact else picks.fate_ids(teller.advice, teller.advice.judged[0]))


def _edges(teller: Teller, flip: Flip) -> Iterator[Claim]:
    for edge, side in ((flip.below, "at or below"), (flip.above, "at or above")):
        if edge is not None:
            plural = "step" if edge.steps == 1 else "steps"
            off = f"{{n}} {plural} of the instrument"
            if _counted(teller, flip):
                off = "{n} fewer" if edge is flip.below else "{n} more"
            yield _named(teller, flip, f"{{field}}, now {{now}}: {side} {{at}} ({off}) the advice is {{to}}.",
                         now=Piece(flip.value, f"answer:{flip.field}"),
                         at=Piece(edge.at, f"change:{flip.field}={edge.at}"),
                         n=teller.count(f"steps-off:{flip.field}={edge.at}", edge.steps),
                         to=_outcome(teller, edge.to, f"{flip.field}={edge.at}"))


def _counted(teller: Teller, flip: Flip) -> bool:
    entry = teller.advice.survey.fields.entry(flip.field)
    return entry is not None and not entry.unit


def _choices(teller: Teller, flip: Flip) -> Iterator[Claim]:
    for word, to in flip.choices.items():
        yield _named(teller, flip, "{field}, now {now}: with {word} the advice is {to}.",
                     now=Piece(flip.value, f"answer:{flip.field}"),
                     word=Piece(word, f"change:{flip.field}={word}"), to=_outcome(teller, to, f"{flip.field}={word}"))


def _outcome(teller: Teller, to: str | None, change: str) -> Piece:
    title = teller.advice[to].arrangement.title if to else "nothing"
    return Piece(title, f"recommended-then:{change}")


def holds_as_long_as(advice: Advice, answer: Flips) -> Claim | None:
    """One sentence for a report: the readings the advice rests on most closely; None where none could change it."""
    teller = Teller(advice)
    near = [f for f in answer.fields if f.steps is not None and (fact := _fact(teller, f)) is not None
            and fact.sort in ("site", "place", "outlet")][:MOST_HOLDS]
    said, gaps, ids = [], {}, []
    for n, flip in enumerate(near):
        fact = _fact(teller, flip)
        assert fact is not None
        about = "" if fact.sort == "site" else f"{{w{n}}}, "
        sides = (("more than", "b", flip.below), ("fewer than" if not fact.unit else "less than", "a", flip.above))
        said.append(f"{about}{{p{n}}}: " + " and ".join(
            f"{word} {{{end}{n}}}" for word, end, edge in sides if edge is not None))
        gaps |= {f"p{n}": teller.plain(fact.name), f"w{n}": teller.name(fact.entity)}
        gaps |= {f"{end}{n}": Piece(edge.at, f"change:{flip.field}={edge.at}")
                 for end, edge in (("b", flip.below), ("a", flip.above)) if edge is not None}
        ids.append(fact.id)
    frame = "This holds as long as each of these stays so: " + "; ".join(said) + "."
    return teller.fill(frame, gaps, ids) if said else None
