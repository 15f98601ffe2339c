"""A choice of the estimator's own beside the advice: both are said, and the typed reason is marked as opinion."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.records import Advice, Judged
from advisor.report import chapters, phrases, picks, standing
from advisor.report.claims import Block, Document, Heading, Items, Note, Para
from advisor.report.say import Piece, Teller
from advisor.report.wording import clean

LONGEST_REASON = 600


def choice_document(advice: Advice, chosen: Judged, reason: str) -> Document:
    """What the rules recommend, what the estimator chose, why, and what the rules hold against the choice.

    Raises
    ------
    ValueError : without a reason, or with one too long for a document
    """
    typed = clean(reason)
    if not typed or len(typed) > LONGEST_REASON:
        raise ValueError(f"the reason has {len(typed)} characters. Allowed: 1 to {LONGEST_REASON}.")
    return Document("The estimator's own choice", tuple(_blocks(Teller(advice), chosen, typed)))


def _blocks(teller: Teller, chosen: Judged, reason: str) -> Iterator[Block]:
    advice, first = teller.advice, picks.recommended(teller.advice)
    ids = picks.fate_ids(advice, chosen)
    yield Heading(2, "The estimator's own choice")
    ours = (teller.claim("The rules recommend: {title}.", picks.fate_ids(advice, first), title=teller.title(first))
            if first is not None else teller.claim("The rules recommend nothing yet.", ids))
    yield Para((ours, teller.claim("The estimator chose: {title}; by the rules {verdict}.", ids,
                                   title=teller.title(chosen),
                                   verdict=teller.text(phrases.verdict_words(chosen), f"verdict:{chosen.id}"))))
    opinion = teller.claim("Opinion: {reason}", ids, reason=Piece(reason, f"typed:{reason}"))
    yield Para((opinion, Note(standing.OPINION)))
    against = picks.independent_reasons(chosen) or [f for f in chosen.findings if f.effect == "counts_against"]
    if against:
        yield Para((teller.claim("What the rules hold against it:", ids),))
        yield Items(tuple(chapters.speak(teller, f, chosen, "finding", 1) for f in against))
