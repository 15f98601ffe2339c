"""The answer of `unlock` in sentences and as the contract's JSON."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from advisor.contrast.unlock import UP_TO, Repair, Unlock
from advisor.records import Advice, Judged
from advisor.report import chapters, phrases, picks, standing
from advisor.report.claims import Block, Claim, Document, Heading, Items, Note, Para, Sentence
from advisor.report.say import Piece, Teller

MOST_EFFECTS = 5
TERMINAL_REPAIRS = 6


def written(answers: Mapping[str, str]) -> str:
    """Changed answers as the key of a piece; `known.py` reads them back and runs the survey again."""
    return ";".join(f"{f}={t}" for f, t in sorted(answers.items()))


def unlock_json(advice: Advice, answer: Unlock) -> dict[str, Any]:
    """The contract's JSON of `unlock`."""
    teller, judged = Teller(advice), advice[answer.arrangement]
    return {"arrangement": answer.arrangement, "verdict": answer.verdict,
            "possible": answer.verdict != "ruled_out" or bool(answer.repairs),
            "searched": {"remedies": len(answer.searched), "up_to": UP_TO},
            "changes": [{"set": [{"field": e.field, "from": e.before, "to": e.after, "remedy": e.remedy}
                                 for e in r.edits],
                         "becomes": r.becomes, "band": r.band, "disruption": r.disruption, "minimal": True,
                         "recommended": r.recommended,
                         "side_effects": [c.text for c in _effects(teller, judged, r, len(r.moved))]}
                        for r in answer.repairs],
            "impossible_because": list(answer.fixed)}


def unlock_document(advice: Advice, answer: Unlock) -> Document:
    """What rules it out, then every repair in order, or why there is none."""
    teller, judged = Teller(advice), advice[answer.arrangement]
    return Document("unlock", tuple(_blocks(teller, judged, answer)))


def _blocks(teller: Teller, judged: Judged, answer: Unlock) -> Iterator[Block]:
    ids = picks.fate_ids(teller.advice, judged)
    verdict = teller.text(phrases.verdict_words(judged), f"verdict:{judged.id}")
    yield Para((teller.claim("{title}: {verdict}.", ids, title=teller.title(judged), verdict=verdict),))
    if answer.verdict != "ruled_out":
        yield Para((teller.claim("Nothing certainly forbids it, so there is nothing to unlock.", ids),
                    Note(standing.ASK_IS_FOR_OPEN)))
        return
    against = picks.independent_reasons(judged)
    yield Para((_reasons(teller, judged, len(against)),))
    yield Items(tuple(chapters.speak(teller, f, judged, "finding", 1) for f in against))
    if answer.fixed:
        yield from _impossible(teller, ids, answer)
    elif not answer.repairs:
        tried = teller.count(f"searched:{judged.id}", len(answer.searched))
        yield Para((teller.claim("No repair was found among {n} works and wishes, taken up to three at a time.", ids,
                                 n=tried), Note(standing.NOT_PROVED_IMPOSSIBLE)))
    else:
        yield from _repairs(teller, judged, answer)


def _impossible(teller: Teller, ids: list[str], answer: Unlock) -> Iterator[Block]:
    """Facts of the site that cannot change, apart from facts that only no work we know of changes."""
    stuck = [r for r in answer.fixed if r in answer.by_fixed_facts]
    for rules, said in ((stuck, "Fixed facts of this home forbid it; no set of works saves it:"),
                        ([r for r in answer.fixed if r not in stuck],
                         "No work and no wish in our rules changes this, so no set of them saves it:")):
        if rules:
            yield Para((teller.claim(said, ids),))
            yield Items(tuple((teller.claim("{rule}.", (r,), rule=teller.rule(r)),) for r in rules))


def _reasons(teller: Teller, judged: Judged, number: int) -> Claim:
    frame = "Any one of these {n} things rules it out:" if number > 1 else "This {n} thing rules it out:"
    return teller.claim(frame, picks.fate_ids(teller.advice, judged), n=teller.count(f"reasons:{judged.id}", number))


def _repairs(teller: Teller, judged: Judged, answer: Unlock) -> Iterator[Block]:
    ids = picks.fate_ids(teller.advice, judged)
    number = teller.count(f"repairs:{judged.id}", len(answer.repairs))
    frame = "Each of these {n} sets of changes is enough" if len(answer.repairs) > 1 else "This {n} set is enough"
    yield Heading(2, "What would make it possible")
    yield Para((teller.claim(frame + ", and no part of it is; the cheapest comes first.", ids, n=number),))
    for repair in answer.repairs[:TERMINAL_REPAIRS]:
        items: list[tuple[Sentence, ...]] = []
        depths: list[int] = []
        for item, depth in _repair(teller, judged, repair):
            items.append(item)
            depths.append(depth)
        yield Items(tuple(items), tuple(depths))
    if len(answer.repairs) > TERMINAL_REPAIRS:
        left = teller.count(f"more-repairs:{judged.id}", len(answer.repairs) - TERMINAL_REPAIRS)
        yield Para((teller.claim("{n} more sets are not shown; --json lists them.", ids, n=left),))


def _repair(teller: Teller, judged: Judged, repair: Repair) -> Iterator[tuple[tuple[Sentence, ...], int]]:
    ids = picks.fate_ids(teller.advice, judged)
    deep = int(len(repair.remedies) > 1)
    if deep:
        yield (Note(standing.TOGETHER),), 0
    for remedy in repair.remedies:
        yield (teller.claim("{work} ({who}; cost: {band}; disruption: {lasts}).", ids, work=teller.remedy(remedy),
                            who=teller.text(teller.remedies[remedy].who, f"who:{remedy}"),
                            band=teller.text(teller.remedies[remedy].band, f"band:{remedy}"),
                            lasts=teller.text(teller.remedies[remedy].disruption, f"disruption:{remedy}")),), deep
        for edit in (e for e in repair.edits if e.remedy == remedy):
            yield (teller.claim("{field}: from {before} to {after}", ids,
                                field=teller.code(edit.field, f"field:{edit.field}"),
                                before=Piece(edit.before, f"answer:{edit.field}"),
                                after=Piece(edit.after, f"to:{remedy}:{edit.field}")),), deep + 1
    yield tuple(_becomes(teller, judged, repair)), 1
    for effect in _effects(teller, judged, repair, MOST_EFFECTS):
        yield (effect,), 1


def _becomes(teller: Teller, judged: Judged, repair: Repair) -> Iterator[Claim]:
    ids = picks.fate_ids(teller.advice, judged)
    changes = written(repair.answers)
    yield teller.claim("With this it is {verdict}.", ids,
                       verdict=Piece(phrases.VERDICT[repair.becomes], f"then:{judged.id}|{changes}"))


def _effects(teller: Teller, judged: Judged, repair: Repair, most: int) -> Iterator[Claim]:
    """Wishes given up or made dearer, what the whole advice would be, and which other layouts move."""
    advice, changes = teller.advice, written(repair.answers)
    ids = picks.fate_ids(advice, judged)
    for wish in [e.field for e in repair.edits if e.field.startswith("wishes.")]:
        yield teller.claim("A wish is given up as a must: {wish}.", ids, wish=teller.plain(wish))
    adds = {c for r in repair.remedies for c, n in teller.remedies[r].adds.items() if n > 0}
    for criterion in [c for c in advice.survey.wishes if c in adds]:
        yield teller.claim("It costs something on this wish: {what}.", ids, what=teller.criterion(criterion))
    if repair.recommended != advice.recommended:
        title = advice[repair.recommended].arrangement.title if repair.recommended else "nothing"
        yield teller.claim("The whole advice would then recommend: {title}.", ids,
                           title=Piece(title, f"recommended-then:{changes}"))
    for other, _, after in repair.moved[:most]:
        yield teller.claim("{short}: {before} now, {after} then.", picks.fate_ids(advice, advice[other]),
                           short=teller.short(advice[other]),
                           before=teller.text(phrases.verdict_words(advice[other]), f"verdict:{other}"),
                           after=Piece(phrases.VERDICT[after], f"then:{other}|{changes}"))
    if len(repair.moved) > most:
        yield teller.claim("More kinds of layout move with it; `advisor whatif` lists them.", ids)
