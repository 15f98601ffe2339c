"""The firm's own prices beside the layouts: said where its folder names them, and nowhere else."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.records import Judged
from advisor.report.claims import Block, Claim, Heading, Note, Para, Table
from advisor.report.say import Piece, Teller


def price(teller: Teller, judged: Judged) -> Piece | None:
    """What the firm asks for a layout, as a piece of a sentence; None where it does not say."""
    house = teller.advice.rulebase.house
    found = house.price(judged.arrangement) if house else None
    return teller.text(found.pounds, f"price:{judged.id}") if found else None


def said(teller: Teller, judged: Judged) -> Iterator[Claim]:
    """One sentence with the price and its source, where there is one."""
    asked = price(teller, judged)
    if asked is not None:
        family = teller.structure(judged, "arrangement.family")
        yield teller.claim("This firm's price for it: {price}.", [family.id] if family else [], price=asked)


def table(teller: Teller, listed: Iterable[Judged]) -> Iterator[Block]:
    """The prices of the kinds of layout, best variant each, with whose they are."""
    rows = []
    for judged in listed:
        asked, family = price(teller, judged), teller.structure(judged, "arrangement.family")
        if asked is not None:
            rows.append((teller.claim("{title}", title=teller.title(judged)),
                         teller.claim("{price}", [family.id] if family else [], price=asked),
                         Note("this firm's price")))
    if rows:
        yield Heading(3, "Prices")
        yield Table(("layout", "price", "source"), tuple(rows))


def lead(claims: Iterator[Claim]) -> Iterator[Para]:
    """The sentence as a paragraph of its own, or nothing."""
    found = tuple(claims)
    if found:
        yield Para(found)
