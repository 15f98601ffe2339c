"""What the letter says of the other layouts: the cheaper one's case, and a row for every kind compared."""

from __future__ import annotations

from dataclasses import replace

from advisor import verdicts
from advisor.records import Check, Finding, Judged
from advisor.report import letter_parts as parts
from advisor.report import own_parts, phrases, picks, standing
from advisor.report.claims import Claim, Note, Sentence
from advisor.report.letter_parts import nothing
from advisor.report.say import Piece, Teller

# ---------------------------------------------------------------- the cheaper one's case
MOST_CONDITIONS = 3
WAITS = 2  # answers named that an open layout waits for


def conditions(teller: Teller, first: Judged, cheaper: Judged) -> list[parts.Item]:
    """What would have to be different for the cheaper layout to be right: one item a separate reason against it."""
    against = picks.independent_reasons(cheaper)
    if not against:
        if picks.rank_class(cheaper) == picks.rank_class(first):
            return _by_wish(teller, first, cheaper)
        return [(teller.claim("It is not ruled out; first this must be known.", picks.fate_ids(teller.advice, cheaper)),
                 _waits(teller, cheaper))]
    items = [_mended(teller, cheaper, f, len(against) == 1) for f in against]
    if len(items) == 1:
        return items
    more = [(Note(standing.MORE_IN_TECHNICAL),)] if len(items) > MOST_CONDITIONS else []
    return [(Note(standing.ALL_OF_THESE),), *items[:MOST_CONDITIONS], *more]


def _mended(teller: Teller, cheaper: Judged, finding: Finding, alone: bool) -> parts.Item:
    """What would take one reason away: the figure that fails, or the wish it fails."""
    frame = "Nothing we know of would rule it out if {clause}." if alone else "One reason would go if {clause}."
    said: list[Claim] = []
    check = picks.check_of(teller.advice, cheaper, finding)
    if check is not None and check.passes is False and check.name in phrases.CHECKS:
        said.append(_from_the_main(teller, check) or parts.check_clause(teller, check, frame, "mended"))
    wish = next((f for f in picks.grounds(teller.advice, finding) if f.name.startswith("wishes.")), None)
    if wish is not None:
        same = said and not nothing(teller.book[check.key]) if check is not None else False
        opening = "Giving up this wish would do the same" if same else "Giving up this wish would take that reason away"
        said.append(teller.claim(f"{opening}: {{wish}} ({{strength}}).",
                                 teller.finding_ids(finding), strength=teller.value(wish),
                                 wish=teller.plain(wish.name)))
    return tuple(said) or (teller.claim("It would need this to hold no longer: {rule}.", teller.finding_ids(finding),
                                        rule=teller.lower_rule(finding.rule)),)


def _from_the_main(teller: Teller, check: Check) -> Claim | None:
    """Where nothing arrives, no smaller wish helps: the mains itself would have to bring more."""
    value, limit, _ = teller.check_facts(check)
    left = teller.book.about("supply.flow_at_useful_l_min", "site")
    if limit is None or left is None or not nothing(value) or not nothing(left):
        return None
    return teller.claim("It would first need a stronger main: {left} is left at a useful pressure, and you want "
                        "{limit}.", left=teller.value(left), limit=teller.value(limit))


def _by_wish(teller: Teller, first: Judged, cheaper: Judged) -> list[parts.Item]:
    """The criteria that would put it before ours, were they the household's first wish."""
    found = []
    for criterion in picks.better_on(teller.advice, cheaper, first)[:2]:
        ids = [f.id for f in picks.criterion_facts(teller.advice, criterion, cheaper, first) if f is not None]
        found.append((teller.claim("It would go before ours if this were your first wish: {wish}.", ids,
                                   wish=teller.plain(f"wishes.{criterion}")),))
    return found


# ---------------------------------------------------------------- what was compared
GROUPS = (("Could be fitted, but comes after ours", "Held against ours"), ("Not decided yet", "Waits for"),
          ("Ruled out", "Why"))


Rows = list[tuple[Sentence, ...]]


def compared(teller: Teller, first: Judged | None, tails: bool = True) -> list[tuple[tuple[str, str], Rows]]:
    """Every kind of layout but the recommended one, by fate: column heads, then a row an outcome.

    `tails` says whether a reason tells how many more there are, and an open layout more than one answer it waits for.
    """
    groups: list[list[tuple[Judged, Claim]]] = [[], [], []]
    for judged in teller.advice.families():
        if first is None or judged.id != first.id:
            which = picks.rank_class(judged)
            outcome = _ruled_out(teller, judged, tails) if which == len(GROUPS) - 1 else \
                _after_ours(teller, judged, first) if which == 0 else _waits(teller, judged, WAITS if tails else 1)
            groups[which].append((judged, outcome))
    return [(heads, _rows(teller, found)) for heads, found in zip(GROUPS, groups, strict=True) if found]


def _rows(teller: Teller, found: list[tuple[Judged, Claim]]) -> Rows:
    """One row an outcome: what shares it is named together, so that nothing is said twice."""
    shared: dict[str, list[tuple[Judged, Claim]]] = {}
    for judged, outcome in found:
        shared.setdefault(outcome.text, []).append((judged, outcome))
    rows: Rows = []
    for same in shared.values():
        names = {f"k{i}": _kind(teller, judged, i > 0) for i, (judged, _) in enumerate(same)}
        ids = dict.fromkeys(i for _, outcome in same for i in outcome.ids)
        rows.append((teller.fill("; ".join(f"{{{name}}}" for name in names), names),
                     Claim(same[0][1].text, tuple(ids), same[0][1].quantities)))
    return rows


def _kind(teller: Teller, judged: Judged, inside: bool) -> Piece:
    piece = teller.short(judged)
    return replace(piece, text=piece.text[:1].lower() + piece.text[1:]) if inside else piece


def _after_ours(teller: Teller, judged: Judged, first: Judged | None) -> Claim:
    """The criterion on which a layout that could be fitted comes after the recommended one."""
    advice = teller.advice
    criterion = picks.first_difference(advice, first, judged) if first else "id"
    words = phrases.CRITERIA.get(criterion)
    facts = picks.criterion_facts(advice, criterion, first, judged) if first else ()
    ids = [f.id for f in facts if f is not None] or picks.fate_ids(advice, judged)
    ids += picks.step_ids(advice, criterion, first, judged) if first else []
    return teller.claim(words.short if words else phrases.LEVEL.get(criterion, phrases.LEVEL["verdict"]), ids)


def _ruled_out(teller: Teller, judged: Judged, tails: bool) -> Claim:
    """The first reason against it, in figures where it has them, and how many more there are."""
    against = picks.independent_reasons(judged)
    check = picks.check_behind(teller.advice, judged)
    more = len(against) - 1 if tails else 0
    tail = ("; {more} more " + ("reason" if more == 1 else "reasons")) if more else ""
    extra = {"more": teller.count(f"more-reasons:{judged.id}", more)} if more else {}
    ids = [i for f in against for i in teller.finding_ids(f)]
    if check is not None and check.name in phrases.CHECKS:
        claim = parts.check_clause(teller, check, "{clause}" + tail, "short", **extra)
        return Claim(claim.text, tuple(dict.fromkeys([*ids, *claim.ids])), claim.quantities)
    wish = next((teller.book[k] for k in against[0].because if k.startswith("wishes.")), None)
    if wish is not None:  # its own words are shorter than the rule's
        return teller.fill("you said {strength}: {wish}" + tail,
                           {"strength": teller.value(wish), "wish": teller.plain(wish.name), **extra}, ids)
    return teller.fill("{rule}" + tail, {"rule": teller.rule(against[0].rule), **extra}, ids)


def _waits(teller: Teller, judged: Judged, most: int = WAITS) -> Claim:
    """An undecided layout, with the first answers it waits for."""
    found = own_parts.waited_for(teller, judged)
    fields = [f for f in teller.book if f.made_by == "survey" and f.note in judged.decided_by
              and not picks.moot(teller.book, f)]
    if found is not None and all(verdicts.settled(teller.book, f.note) for f in fields):
        return teller.claim(own_parts.MAKERS_FIGURE[found.rule],
                            [*picks.fate_ids(teller.advice, judged), *teller.finding_ids(found)])
    facts = list({f.name: f for f in fields}.values())[:most]
    gaps = {f"f{i}": teller.plain(f.name) for i, f in enumerate(facts)}
    said = (f"your wish, {{{g}}}" if f.name.startswith("wishes.") else f"{{{g}}}"
            for g, f in zip(gaps, facts, strict=True))
    template = " and ".join(said) or "an answer that no survey field holds"
    return teller.fill(template, gaps, [*picks.fate_ids(teller.advice, judged), *(f.id for f in facts)])
