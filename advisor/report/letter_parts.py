"""The parts of the householder's letter, each a list of items for `letter.py` to set out."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from advisor.facts import Fact, Span
from advisor.records import Check, Finding, Judged
from advisor.report import chapters, own_parts, phrases, picks, pricing, running, standing
from advisor.report.claims import Claim, Note, Sentence
from advisor.report.say import Piece, Teller
from advisor.report.wording import how_known

Item = tuple[Sentence, ...]
OWN = ("wishes.", "household.", "outlet.", "confirmed.", "nation")  # what the household itself said, listed elsewhere


# ---------------------------------------------------------------- clauses
def check_clause(teller: Teller, check: Check, frame: str, form: str, **more: Piece) -> Claim:
    """A check in words; `form` is "passes", "fails", "short" or "mended"; the frame's {clause} is replaced by it."""
    words = phrases.CHECKS[check.name]
    value, limit, margin = teller.check_facts(check)
    none = {"fails": "nothing", "mended": "mended_nothing"}.get(form, form)
    if nothing(value) and getattr(words, none):
        form = none
    template = frame.replace("{clause}", getattr(words, form))
    gaps = {"value": teller.value(value), **more}
    gaps |= {name: teller.value(f) for name, f in (("limit", limit), ("margin", margin)) if f is not None}
    return teller.fill(template, gaps, [f.id for f in (value, limit, margin) if f is not None])


def nothing(fact: Fact) -> bool:
    return isinstance(fact.value, Span) and fact.value.hi <= 0


def criterion_clause(teller: Teller, criterion: str, a: Judged, b: Judged, frame: str = "{clause}.",
                     other: Callable[[Judged], Piece] | None = None) -> Claim | None:
    """How `a` stands beside `b` on a criterion; None where their steps do not differ or nothing can be said."""
    words = phrases.CRITERIA.get(criterion)
    mine, theirs = (a.steps.get(criterion), b.steps.get(criterion))
    if words is None or mine is None or theirs is None or mine[1] == theirs[1]:
        return None
    better = mine[1] < theirs[1]
    template = words.better if better else words.worse
    if criterion in running.POINTS:
        found = running.clause(teller, criterion, a, b, better, template)
        if found is None:
            return None
        template, gaps, ids = found
        gaps = {"other": (other or teller.short)(b), "short": teller.short(a), **gaps}
        ids = [*ids, *picks.step_ids(teller.advice, criterion, a, b)]
        return teller.fill(frame.replace("{clause}", template), gaps, ids)
    facts = [picks.shown_fact(teller.advice, words.fact or picks.criteria(teller.advice)[criterion].fact, j)
             for j in (a, b)]
    if any(f is None for f in facts):
        return None
    gaps = {"other": (other or teller.short)(b), "short": teller.short(a)}
    gaps |= {n: teller.value(f) for n, f in zip("ab", facts, strict=True) if f is not None}
    if words.fact and not _bears_out(facts, gaps, better, criterion):
        return None
    ids = [*(f.id for f in facts if f is not None), *picks.step_ids(teller.advice, criterion, a, b)]
    return teller.fill(frame.replace("{clause}", template), gaps, ids)


def _bears_out(facts: list[Fact | None], gaps: dict[str, Piece], better: bool, criterion: str) -> bool:
    """Whether the figures that will be printed point the way the words do: steps may be moved by findings too."""
    ends = [f.value.lo for f in facts if f is not None and isinstance(f.value, Span)]
    if len(ends) < len(facts) or gaps["a"].text == gaps["b"].text:
        return False
    return (ends[0] > ends[1]) == (better == (criterion != "save_space"))


def ours(judged: Judged) -> Piece:
    """The recommended layout, said short."""
    return Piece("ours", f"ours:{judged.id}")


# ---------------------------------------------------------------- the opening
HEADLINE_WORDS, SENTENCE_WORDS = 40, 25
CHEAPER = ("{short} costs less to install, but {clause}.", "{short} costs less, but {clause}.",
           "A cheaper layout fails: {clause}.")


def headline(teller: Teller, first: Judged, cheaper: Judged | None) -> tuple[Claim, Claim]:
    """What is recommended, and the one fact that beats the cheaper layout, as fully as a headline holds."""
    title = teller.claim("We recommend: {title}.", picks.fate_ids(teller.advice, first), title=teller.title(first))
    said = [against_cheaper(teller, first, cheaper, frame) for frame in CHEAPER]
    left = min(HEADLINE_WORDS - len(title.text.split()), SENTENCE_WORDS)
    return title, next((c for c in said if len(c.text.split()) <= left), said[-1])


def level(teller: Teller, first: Judged) -> tuple[Claim, ...]:
    """Where nothing but the alphabet puts ours first: the layout that is level with it, by name."""
    advice = teller.advice
    said = []
    for other in picks.level_with(advice, first)[:1]:
        ids = [*picks.fate_ids(advice, first), *picks.fate_ids(advice, other)]
        here, there = first.arrangement, other.arrangement
        if here.family == there.family and here.place != there.place:
            frame, gaps = "The same in the {where}", {"where": teller.name(there.place)}
        else:
            frame, gaps = "{short}", {"short": teller.short(other)}
        said.append(teller.claim(f"{frame} {phrases.LEVEL['id']}.", ids, **gaps))
    return tuple(said)


def against_cheaper(teller: Teller, first: Judged, cheaper: Judged | None, frame: str) -> Claim:
    """The one fact that beats the cheaper layout, with both its numbers where it has numbers."""
    if cheaper is None:
        fact = teller.structure(first, picks.COST)
        return teller.claim("No other kind of layout we compared stands lower on price.", [fact.id] if fact else ())
    short = teller.short(cheaper)
    costs = [f.id for j in (first, cheaper) if (f := teller.structure(j, picks.COST)) is not None]
    reasons = picks.independent_reasons(cheaper)
    check = (picks.check_behind if reasons else picks.decisive_check)(teller.advice, cheaper)
    if check is not None and check.name in phrases.CHECKS:
        claim = check_clause(teller, check, frame, "fails", short=short)
        return Claim(claim.text, tuple(dict.fromkeys([*claim.ids, *costs])), claim.quantities)
    if reasons:
        return teller.fill(frame.replace("{clause}", "is ruled out: {rule}").replace("fails: is", "is"), {
            "short": short, "rule": teller.lower_rule(reasons[0].rule)}, [*teller.finding_ids(reasons[0]), *costs])
    criterion = picks.first_difference(teller.advice, first, cheaper)
    said = criterion_clause(teller, criterion, cheaper, first, frame, ours)
    return said or _level(teller, cheaper, criterion)


def _level(teller: Teller, judged: Judged, criterion: str) -> Claim:
    findings = [f for f in judged.findings if f.effect in picks.AGAINST]
    ids = teller.finding_ids(findings[0]) if findings else ()
    words = phrases.LEVEL.get(criterion, phrases.LEVEL["verdict"])
    return teller.claim(f"{{short}} costs less to install, but {words}.", ids, short=teller.short(judged))


# ---------------------------------------------------------------- for and against
FEW_REASONS = 3


def reasons(teller: Teller, first: Judged, most: int) -> list[Item]:
    """Why this one: what was wished for and is met, then the checks a household feels, then what favours it."""
    said: list[Claim] = []
    measured = sorted(picks.measures(teller.advice, first), key=lambda c: phrases.order(c.name))
    passing = {c.name: c for c in measured if c.passes and _tells(teller, c)}
    for wish in teller.advice.survey.wishes:
        check = passing.pop(picks.criteria(teller.advice)[wish].fact, None) if wish in phrases.CRITERIA else None
        if check is not None:
            said.append(check_clause(teller, check, "{clause}.", "passes"))
        elif wish in phrases.CRITERIA and first.steps.get(wish, (1, 1))[1] == 0:
            said += _wish_met(teller, wish, first)
    said += [check_clause(teller, c, "{clause}.", "passes") for c in passing.values()]
    favours = [chapters.speak(teller, f, first, "householder", 1)[0] for f in picks.certain(first, "favours")]
    kept = most - 1 if favours and most > FEW_REASONS else most  # where room is short, what was wished for goes first
    return [(c,) for c in _distinct([*said[:kept], *favours])[:most]]


def _tells(teller: Teller, check: Check) -> bool:
    """Whether the check has words, figures that are known, and something that was asked of it."""
    if check.name not in phrases.CHECKS or not phrases.CHECKS[check.name].passes:
        return False
    value, limit, _ = teller.check_facts(check)
    asked = limit is None or not isinstance(limit.value, Span) or limit.value.hi > 0
    return asked and all(teller.known(f) for f in (value, limit) if f is not None)


def _wish_met(teller: Teller, wish: str, first: Judged) -> list[Claim]:
    words = phrases.CRITERIA[wish]
    fact = picks.shown_fact(teller.advice, picks.criteria(teller.advice)[wish].fact, first)
    if fact is None or words.fact or "{" in words.better:
        return []
    return [teller.claim(f"{words.better}.", [fact.id])]


def _distinct(claims: Iterable[Claim]) -> list[Claim]:
    return list({c.text: c for c in claims}.values())


def drawbacks(teller: Teller, first: Judged, others: Iterable[Judged], most: int) -> list[Item]:
    """True drawbacks: what counts against it, what the others do better, what it may do."""
    counted = [f for f in first.findings if f.effect == "counts_against"]
    said = [chapters.speak(teller, f, first, "householder", 1)[0] for f in counted if f.certain][:2]
    said += [c for c in [own_parts.sentence(teller, first)] if c is not None]
    beaten: dict[str, Judged] = {}
    for other in others:
        for criterion in picks.better_on(teller.advice, other, first):
            beaten.setdefault(criterion, other)
    said += [c for k, j in beaten.items() if (c := criterion_clause(teller, k, first, j)) is not None]
    if not said:  # nothing else is ahead of it: what it may do, and what it makes the household do
        maybe = [f for e in ("counts_against", "caution", "requires") for f in first.findings if f.effect == e]
        said = [chapters.speak(teller, f, first, "householder", 1)[0] for f in maybe]
    return [(c,) for c in _distinct(said)][:most]


def runner_up(teller: Teller, first: Judged, second: Judged, most: int) -> list[Sentence]:
    """The next in line: its title, why it is not first, and up to `most` points on which it is ahead."""
    advice = teller.advice
    said: list[Sentence] = [teller.claim("{title}.", title=teller.title(second)), *pricing.said(teller, second)]
    against = picks.independent_reasons(second)
    criterion = picks.first_difference(advice, first, second)
    why = criterion_clause(teller, criterion, second, first, "It comes after ours because {clause}.", ours)
    if against:
        said += chapters.speak(teller, against[0], second, "householder", 1)
    elif why is not None:
        said.append(why)
        if criterion == "outlets_at_once" and (own := own_parts.sentence(teller, second)) is not None:
            said.append(own)
    elif second not in picks.level_with(advice, first)[:1]:  # that was said at the top
        words = phrases.LEVEL.get(criterion, phrases.LEVEL["verdict"])
        said.append(teller.claim(f"It {words}.", picks.fate_ids(advice, second)))
    better = picks.better_on(advice, second, first)
    frames = ("In its favour: {clause}.", "Also, {clause}.")[:most]
    merits = [c for b, f in zip(better, frames, strict=False)
              if (c := criterion_clause(teller, b, second, first, f, ours)) is not None]
    favours = [f for f in picks.certain(second, "favours") if f.rule not in {g.rule for g in first.findings}]
    if merits:
        said += merits
    elif favours:
        said += chapters.speak(teller, favours[0], second, "householder", 1)
    else:
        said.append(teller.claim("On none of the points we compare is it ahead of ours.",
                                 picks.fate_ids(advice, second)))
    return said


# ---------------------------------------------------------------- works, open points, cautions, wishes
def works(teller: Teller, first: Judged, most: int) -> list[Item]:
    """Works on the building first, with who and which cost band; then what any such boiler or store brings."""
    items: list[Item] = []
    needed = sorted((f for f in first.findings if f.effect == "needs_work"), key=lambda f: not f.certain)
    kept = needed[:max(most, sum(f.certain for f in needed))]
    for finding in kept:
        remedy = teller.rules[finding.rule].remedies[0]
        frame = "Before it: {work} ({band} cost)." if finding.certain else "If we find it needed: {work} ({band} cost)."
        items.append((teller.claim(frame, teller.finding_ids(finding), work=teller.remedy(remedy, lower=True),
                                   band=teller.text(teller.remedies[remedy].band, f"band:{remedy}")),))
    if not items:
        items.append((Note(standing.NO_WORKS),))
    brought = [f for f in first.findings if f.effect == "requires"]
    shown = safety_first(teller, brought, most)
    items += [chapters.speak(teller, f, first, "householder", 1) for f in shown]
    cut = len(needed) > len(kept) or len(brought) > len(shown)
    return items + ([(Note(standing.MORE_IN_TECHNICAL),)] if cut else [])


def safety_first(teller: Teller, findings: list[Finding], most: int) -> list[Finding]:
    """Whatever guards against harm, the certain of it however many; then others, up to `most` in all."""
    ordered = sorted(findings, key=lambda f: (not teller.rules[f.rule].safety, not f.certain))
    guards = sum(f.certain and teller.rules[f.rule].safety for f in findings)
    return ordered[:max(most, guards)]


def to_confirm(teller: Teller, first: Judged, most: int) -> list[Item]:
    """Questions that bear on this layout, then what was assumed, left open or only told to us."""
    advice = teller.advice
    asked = {teller.rules[f.rule].asks for f in first.findings if f.effect == "asks"}
    items: dict[str, Item] = {}
    for question in advice.questions:
        facts = [f for f in advice.book if f.made_by == "survey" and f.note == question.field]
        if facts and (first.id in question.decides or (facts[0].name in asked and bears(first, facts[0]))):
            items[question.field] = (question_claim(teller, question.field, question.ask),)
    foundations = [f for f in picks.foundations(advice, first) if not f.name.startswith(OWN)]
    for doubtful in (_assumed, _open, _ranged, _told):
        for fact in foundations:
            if doubtful(fact) and fact.note not in items and bears(first, fact):
                items[fact.note] = (_fact_line(teller, fact),)
    listed = list(items.values())
    return listed[:most] + ([(Note(standing.MORE_IN_TECHNICAL),)] if len(listed) > most else [])


def bears(first: Judged, fact: Fact) -> bool:
    """A fact about another place than the one chosen does not concern this layout."""
    return fact.sort != "place" or fact.entity == first.arrangement.place


def _assumed(fact: Fact) -> bool:
    return fact.how == "assumed"


def _open(fact: Fact) -> bool:
    return fact.how == "default"


def _ranged(fact: Fact) -> bool:
    return fact.how == "measured" and not fact.value.single


def _told(fact: Fact) -> bool:
    return fact.how == "told"


def _fact_line(teller: Teller, fact: Fact) -> Claim:
    """An answer that is not settled, with the place or pipe it is about and how it is known."""
    named = "" if fact.sort == "site" else "{where}, "
    gaps = {"what": teller.plain(fact.name), "where": teller.name(fact.entity), "value": teller.value(fact),
            "how": teller.text(how_known(fact.how), f"how:{fact.key}")}
    said = "not surveyed" if fact.how == "default" else "{value}, {how}"
    return teller.fill(f"{named}{{what}}: {said}.", gaps, [fact.id])


def question_claim(teller: Teller, field: str, ask: str) -> Claim:
    """A question as the vocabulary asks it, with the place or outlet it is about."""
    fact = next((f for f in teller.book if f.made_by == "survey" and f.note == field), None)
    asks = Piece(teller.text(ask, "").text, f"question:{field}", (fact.id,) if fact else ())
    if fact is None or fact.sort == "site":
        return teller.claim("{ask}", [fact.id] if fact else (), ask=asks)
    return teller.claim("{where}: {ask}", [fact.id], where=teller.name(fact.entity), ask=asks)


# What the home has in common with others: nobody in it can mend that, and it is felt every day.
SHARED = frozenset({"water.shared", "home.kind", "home.shared_heating", "electric.looped"})


def shared(teller: Teller, finding: Finding) -> bool:
    """Whether a caution is about what neighbours use too."""
    return any(p.fact in SHARED for p in teller.rules[finding.rule].when)


def cautions(teller: Teller, first: Judged, most: int, maybe: bool = True) -> list[Item]:
    """What guards against harm, then what other people's use does to it, however many; then others, up to `most`.

    Only where room is shortest (`maybe` is False) is a danger that only may be left to the technical report.
    """
    found = [f for f in first.findings if f.effect == "caution"]
    ordered = sorted(found, key=lambda f: (not teller.rules[f.rule].safety, not f.certain, not shared(teller, f)))
    dangers = [f for f in ordered if teller.rules[f.rule].safety and (f.certain or maybe)]
    kept = dangers + [f for f in ordered if f not in dangers and f.certain and shared(teller, f)]
    rest = [f for f in ordered if f not in kept]
    shown = [*kept, *rest[:max(0, most - len(kept))]]
    items = []
    for finding in shown:
        said = chapters.speak(teller, finding, first, "householder", 2 if finding.certain else 1)
        items.append(said if finding.certain else (Note(standing.MAY_BE), *said))
    return [*items, (Note(standing.MORE_CAUTIONS),)] if len(found) > len(shown) else items


def wishes(teller: Teller) -> list[Item]:
    """The stated wishes, the most important first."""
    return [(teller.claim("{wish}: {strength}.", wish=teller.plain(f.name), strength=teller.value(f)),)
            for f in picks.wishes(teller.advice)]
