"""How far the advice holds: the readings whose limit lies nearest, for the letter and the technical report."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from advisor.contrast.flips import Flip
from advisor.contrast.near import Near
from advisor.facts import Fact
from advisor.report import picks, standing
from advisor.report.claims import Block, Claim, Heading, Items, Note, Para
from advisor.report.say import Piece, Teller

TITLE = "This holds as long as"
SPOKEN = ("site", "place", "outlet")  # what a householder can see; pipes under the floor are for the installer


def in_letter(teller: Teller, found: Near | None, most: int) -> Iterator[Block]:
    """The nearest one or two, in the householder's words."""
    spoken = [(f, fact_of(teller, f)) for f in (found.fields if found else ())]
    near = [f for f, fact in spoken if fact is not None and fact.sort in SPOKEN]
    if near and most:
        yield Heading(2, TITLE)
        yield Items(tuple((_limit(teller, f),) for f in near[:most]))


def in_technical(teller: Teller, found: Near | None) -> Iterator[Block]:
    """All of them with what the advice is beyond each; then how far the others were proved."""
    if found is None:
        return
    ids = picks.fate_ids(teller.advice, teller.advice.judged[0])
    yield Heading(2, TITLE)
    if found.fields:
        yield Items(tuple((_limit(teller, f), *_beyond(teller, f)) for f in found.fields))
    others = "No other reading" if found.fields else "No reading"
    yield Para((teller.claim(others + " changes the advice by itself within {n} steps of its instrument.", ids,
                             n=teller.count("near-steps", found.within)), Note(standing.FARTHER)))


def fact_of(teller: Teller, flip: Flip) -> Fact | None:
    return next((f for f in teller.book if f.made_by == "survey" and f.note == flip.field), None)


def sides(flip: Flip, counted: bool = False) -> Sequence[tuple[str, str]]:
    """(word, text) of the edges: what the reading must stay above and below."""
    words = (("more than", flip.below), ("fewer than" if counted else "less than", flip.above))
    return [(word, edge.at) for word, edge in words if edge is not None]


def _limit(teller: Teller, flip: Flip) -> Claim:
    """What the reading must stay above or below, and what it is."""
    fact = fact_of(teller, flip)
    assert fact is not None
    gaps = {"what": teller.plain(fact.name), "now": Piece(flip.value, f"answer:{flip.field}")}
    limits = sides(flip, counted=not fact.unit)
    gaps |= {f"e{n}": Piece(at, f"edge:{flip.field}={at}") for n, (_, at) in enumerate(limits)}
    about = "" if fact.sort == "site" else "{where}, "
    if about:
        gaps["where"] = teller.name(fact.entity)
    said = " and ".join(f"{word} {{e{n}}}" for n, (word, _) in enumerate(limits))
    return teller.fill(f"{about}{{what}}: {said} (now {{now}}).", gaps, [fact.id])


def _beyond(teller: Teller, flip: Flip) -> Iterator[Claim]:
    fact = fact_of(teller, flip)
    assert fact is not None
    for edge in (flip.below, flip.above):
        if edge is not None:
            title = teller.advice[edge.to].arrangement.title if edge.to else "nothing"
            yield teller.claim("At {at} the advice is {to}.", [fact.id],
                               at=Piece(edge.at, f"edge:{flip.field}={edge.at}"),
                               to=Piece(title, f"recommended-then:{flip.field}={edge.at}"))
