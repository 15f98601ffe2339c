"""The householder's letter: what to fit, why it beats the cheaper layout, what to confirm, what to mind."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.facts import Fact, Span
from advisor.records import Advice, Check, Finding, Judged
from advisor.report import chapters, phrases, picks, standing
from advisor.report.claims import Block, Claim, Document, Heading, Items, Note, Para, Ruled, Sentence
from advisor.report.say import Teller
from advisor.verdicts import unanswered

TITLE = "Your heating and hot water: what we recommend"
FEW, SOME, MANY = 3, 5, 7
UNVENTED, CISTERN, COMBINATION = "unvented", "cistern-fed", "combination"


def letter(advice: Advice) -> Document:
    """The letter of one piece of advice, as a document of claims."""
    teller = Teller(advice)
    first = picks.recommended(advice)
    body = _undecided(teller) if first is None else _recommendation(teller, first)
    return Document(TITLE, (*_head(teller), *body, *_foot(teller)))


# ---------------------------------------------------------------- head and foot
def _head(teller: Teller) -> Iterator[Block]:
    survey = teller.advice.survey
    nation = teller.book["nation@site"].id
    for key, label in (("name", "For"), ("address", "Address")):
        if survey.private.get(key):
            piece = teller.text(survey.private[key], f"private:{key}")
            yield Para((teller.claim(f"{label}: {{it}}", [nation], it=piece),))
        else:
            yield Ruled(label)
    if survey.surveyed_on:
        piece = teller.text(survey.surveyed_on.isoformat(), "surveyed-on")
        yield Para((teller.claim("Surveyed on {day}", [nation], day=piece),))
    else:
        yield Ruled("Surveyed on")


def _foot(teller: Teller) -> Iterator[Block]:
    yield Heading(2, "Your wishes as we understood them")
    wishes = picks.wishes(teller.advice)
    if not wishes:
        yield Para((Note(standing.NO_WISHES),))
    else:
        yield Items(tuple((teller.claim("{wish}: {strength}", wish=teller.criterion(f.name.removeprefix("wishes.")),
                                        strength=teller.value(f)),) for f in wishes))
    yield Heading(2, "The last word")
    yield Para((Note(standing.LAST_WORD), Note(standing.LICENSED), Note(standing.PROPOSES)))
    yield Ruled(standing.SIGN.rstrip(":"))


def _section(title: str, items: list[tuple[Sentence, ...]]) -> Iterator[Block]:
    if items:
        yield Heading(2, title)
        yield Items(tuple(items))


# ---------------------------------------------------------------- a recommendation
def _recommendation(teller: Teller, first: Judged) -> Iterator[Block]:
    cheaper = picks.cheaper(teller.advice, first)
    second = picks.runner_up(teller.advice, first)
    yield Para((teller.claim("We recommend this layout: {title}.", title=teller.title(first)),), "lead")
    yield Para((*_words_used(teller, first, cheaper), *_against_cheaper(teller, first, cheaper)))
    yield from _section("Why this one", _reasons(teller, first))
    yield from _section("What speaks against it", _drawbacks(teller, first, second, cheaper))
    if cheaper is not None:
        yield from _section("When the cheaper layout would be right", _conditions(teller, cheaper))
    yield from _section("What else we looked at", _others(teller, first))
    yield from _section("What the work includes", _works(teller, first))
    yield from _confirm(teller, first)
    yield from _section("Please mind", _cautions(teller, first))


def _words_used(teller: Teller, first: Judged, cheaper: Judged | None) -> list[Sentence]:
    """Terms explained before they are met again."""
    titles = " ".join(j.arrangement.title for j in (first, cheaper) if j is not None)
    said: list[Sentence] = [Note(standing.LAYOUTS_WORD)]
    for word, sentence in ((UNVENTED, standing.UNVENTED_WORD), (CISTERN, standing.CISTERN_WORD),
                           (COMBINATION, standing.COMBINATION_WORD)):
        if word in titles:
            said.append(Note(sentence))
    return said


def _against_cheaper(teller: Teller, first: Judged, cheaper: Judged | None) -> list[Sentence]:
    """The one fact that beats the cheaper layout, with both numbers, and the recommended one's own."""
    if cheaper is None:
        return []
    check = picks.decisive_check(teller.advice, cheaper)
    if check is None:
        findings = picks.independent_reasons(cheaper)
        said: list[Sentence] = [teller.claim("A layout that costs less is this: {title}.", title=teller.title(cheaper))]
        if findings:
            said += chapters.speak(teller, findings[0], cheaper, "householder", 1)
        return said
    own = next((c for c in first.checks if c.name == check.name), None)
    said = [teller.claim("A layout that costs less is this: {title}.", title=teller.title(cheaper)),
            _clause(teller, check, "It falls short: {clause}.")]
    if own is not None:
        said.append(_clause(teller, own, "For the layout we recommend, {clause}."))
    return said


def _clause(teller: Teller, check: Check, frame: str) -> Claim:
    """A check in words: value, limit and margin filled into the phrase of its name."""
    value, limit, margin = teller.check_facts(check)
    names = (value.name, margin.name if margin else "")
    template = next((phrases.CHECKS[n] for n in names if n in phrases.CHECKS), phrases.CHECK_VALUE_LIMIT)
    gaps = {"value": teller.value(margin if names[0] not in phrases.CHECKS and names[1] in phrases.CHECKS and margin
                                  else value), "name": teller.plain(value.name)}
    if limit is not None:
        gaps["limit"] = teller.value(limit)
    if margin is not None:
        gaps["margin"] = teller.value(margin)
    used = {k: v for k, v in gaps.items() if f"{{{k}}}" in template}
    return teller.fill(frame.replace("{clause}", template), used)


def _reasons(teller: Teller, first: Judged) -> list[tuple[Sentence, ...]]:
    """Three to five: the checks a household feels first, then what favours the layout."""
    ranked = sorted((c for c in first.checks if c.passes and _telling(teller, c)), key=lambda c: _weight(teller, c))
    items: list[tuple[Sentence, ...]] = [(_clause(teller, c, "{clause}."),) for c in ranked[:FEW + 1]]
    for finding in picks.certain(first, "favours")[: SOME - len(items)]:
        items.append(chapters.speak(teller, finding, first, "householder", 1))
    return items[:SOME]


def _weight(teller: Teller, check: Check) -> int:
    names = {teller.book[k].name for k in (check.key, check.margin_key) if k}
    return next((i for i, n in enumerate(phrases.CHECK_ORDER) if n in names), len(phrases.CHECK_ORDER))


def _telling(teller: Teller, check: Check) -> bool:
    """Whether the check has a phrase and figures of its own."""
    names = {teller.book[k].name for k in (check.key, check.margin_key) if k}
    value = teller.book[check.key].value
    return bool(names & set(phrases.CHECKS)) and isinstance(value, Span) and value.hi < float("inf")


def _drawbacks(teller: Teller, first: Judged, second: Judged | None,
               cheaper: Judged | None) -> list[tuple[Sentence, ...]]:
    """True drawbacks: what counts against it, then where the others are better, in figures."""
    items = [chapters.speak(teller, f, first, "householder", 1) for f in picks.certain(first, "counts_against")[:FEW]]
    for other in (cheaper, second):
        if other is not None:
            for criterion in picks.better_on(teller.advice, other, first):
                claim = _compared(teller, criterion, first, other)
                if claim is not None and len(items) < SOME and (claim,) not in items:
                    items.append((claim,))
    return items


def _compared(teller: Teller, criterion: str, a: Judged, b: Judged) -> Claim | None:
    """A criterion in words or figures: how `a` stands beside `b`."""
    if criterion in phrases.NUMERIC:
        fact, better, worse = phrases.NUMERIC[criterion]
        mine, other = (teller.structure(j, fact) for j in (a, b))
        if mine is None or other is None or mine.value == other.value:
            return None
        template = better if picks.worst(a, criterion) < picks.worst(b, criterion) else worse
        return teller.fill(f"{template}.", {"a": teller.value(mine), "b": teller.value(other)})
    if criterion in phrases.BANDED:
        fact_name, better, worse = phrases.BANDED[criterion]
        better_here = picks.worst(a, criterion) < picks.worst(b, criterion)
        ids = [f.id for j in (a, b) if (f := teller.structure(j, fact_name)) is not None]
        return teller.claim(f"{better if better_here else worse} than this: {{other}}.", ids, other=teller.short(b))
    if criterion in phrases.WORDED:
        word, good, bad = phrases.WORDED[criterion]
        fact_name = picks.criteria(teller.advice)[criterion].fact
        fact = teller.advice.fact(fact_name, a.id)
        if fact is None:
            return None
        return teller.claim((good if fact.value.single and word in getattr(fact.value, "words", ()) else bad) + ".",
                            [fact.id])
    return None


def _conditions(teller: Teller, cheaper: Judged) -> list[tuple[Sentence, ...]]:
    """What would have to be otherwise for the cheaper layout to be right, from the checks that fail it."""
    check = picks.decisive_check(teller.advice, cheaper)
    items: list[tuple[Sentence, ...]] = []
    if check is not None:
        value, limit, _ = teller.check_facts(check)
        if limit is not None:
            items.append((teller.fill("It would be right if " + phrases.CONDITION_LIMIT + ".", {
                "limit_name": teller.plain(limit.name), "value": teller.value(value), "limit": teller.value(limit)}),))
    wishes = [f for f in picks.wishes(teller.advice) if _fails_wish(teller, cheaper, f)]
    for wish in wishes[:2]:
        items.append((teller.claim("It would also be right without this wish: {wish} ({strength}).",
                                   wish=teller.criterion(wish.name.removeprefix("wishes.")),
                                   strength=teller.value(wish)),))
    more = [f for f in picks.independent_reasons(cheaper) if not _about_wish(teller, f)]
    for finding in more[:2]:
        items.append(chapters.speak(teller, finding, cheaper, "householder", 1))
    return items


def _fails_wish(teller: Teller, judged: Judged, wish: Fact) -> bool:
    return any(_about_wish(teller, f) and wish.key in _premises(teller, f) for f in picks.independent_reasons(judged))


def _about_wish(teller: Teller, finding: Finding) -> bool:
    return any(teller.book[k].name.startswith("wishes.") for k in _premises(teller, finding) if k in teller.book)


def _premises(teller: Teller, finding: Finding) -> set[str]:
    return {f.key for f in picks.grounds(teller.advice, finding)}


def _others(teller: Teller, first: Judged) -> list[tuple[Sentence, ...]]:
    """Every other kind of layout once: those left standing with what places them after, the rest by reason."""
    items: list[tuple[Sentence, ...]] = []
    by_rule: dict[str, list[Judged]] = {}
    for judged in teller.advice.families():
        reasons = picks.independent_reasons(judged)
        if judged.id == first.id:
            continue
        if reasons:
            by_rule.setdefault(reasons[0].rule, []).append(judged)
        else:
            items.append(_standing_line(teller, judged, first))
    for listed in by_rule.values():
        said = chapters.speak(teller, picks.independent_reasons(listed[0])[0], listed[0], "householder", 1)
        gaps = {f"t{i}": teller.short(j) for i, j in enumerate(listed)}
        ids = [i for j in listed for i in teller.finding_ids(picks.independent_reasons(j)[0])]
        template = "That rules out: " + "; ".join(f"{{{g}}}" for g in gaps) + "."
        items.append((*said, teller.fill(template, gaps, ids)))
    return items


def _standing_line(teller: Teller, judged: Judged, first: Judged) -> tuple[Sentence, ...]:
    """A layout that was not ruled out: why it comes after, and what it does better."""
    advice = teller.advice
    waiting = [f for f in judged.findings if f.effect == "rules_out"
               or unanswered(advice.book, advice.rulebase, f, judged.arrangement)]
    if judged.verdict == "open" and "ruled_out" in judged.possible and waiting:
        return (_waits(teller, judged, waiting[0]),)
    criterion = picks.first_difference(advice, first, judged)
    ids = [i for j in (first, judged) for i in _step_ids(teller, criterion, j)]
    said: list[Sentence] = [teller.claim("{title}: comes after ours on {criterion}.", ids, title=teller.short(judged),
                                         criterion=teller.criterion(criterion))]
    better = picks.better_on(advice, judged, first)
    merit = next((c for b in better if (c := _compared(teller, b, judged, first)) is not None), None)
    return (*said, merit) if merit is not None and judged.rank <= FEW else tuple(said)


def _waits(teller: Teller, judged: Judged, finding: Finding) -> Claim:
    """An undecided layout, with the first answers it waits for."""
    facts = [f for f in teller.book if f.made_by == "survey" and f.note in judged.decided_by[:2]]
    gaps = {"title": teller.short(judged)} | {f"f{i}": teller.plain(f.name) for i, f in enumerate(facts)}
    template = "{title}: not decided yet" + ("; it waits for " + " and ".join(f"{{f{i}}}" for i in range(len(facts)))
                                             if facts else "")
    return teller.fill(template + ".", gaps, [*teller.finding_ids(finding), *(f.id for f in facts)])


def _step_ids(teller: Teller, criterion: str, judged: Judged) -> list[str]:
    known = picks.criteria(teller.advice).get(criterion)
    name = known.fact if known else "arrangement.family"
    fact = teller.advice.fact(name, judged.id)
    return [fact.id] if fact is not None else []


def _works(teller: Teller, first: Judged) -> list[tuple[Sentence, ...]]:
    """Works on the building first, then what any such boiler or store brings with it."""
    items: list[tuple[Sentence, ...]] = []
    for finding in [f for f in first.findings if f.effect == "needs_work"]:
        remedy = teller.rules[finding.rule].remedies[0]
        frame = "First: {work}." if finding.certain else "Perhaps first, once we have looked: {work}."
        items.append((teller.claim(frame, teller.finding_ids(finding), work=teller.remedy(remedy)),))
    if not items:
        items.append((Note(standing.NO_WORKS),))
    for finding in picks.certain(first, "requires")[:MANY]:
        items.append(chapters.speak(teller, finding, first, "householder", 1))
    if len(picks.certain(first, "requires")) > MANY:
        items.append((Note(standing.MORE_IN_TECHNICAL),))
    return items


def _confirm(teller: Teller, first: Judged) -> Iterator[Block]:
    """What was told, assumed or never surveyed, as far as this layout rests on it."""
    yield Heading(2, "To confirm before anything is ordered")
    items: list[tuple[Sentence, ...]] = []
    for fact in picks.foundations(teller.advice, first):
        entry = teller.vocabulary.get(fact.name)
        if fact.how in ("told", "assumed") and not fact.name.startswith(("wishes.", "household.", "outlet.")):
            items.append((teller.claim("{what}: {value} ({how}).", what=teller.plain(fact.name),
                                       value=teller.value(fact), how=_how(teller, fact)),))
        elif fact.how == "default" and entry is not None and not fact.name.startswith("confirmed."):
            items.append((teller.claim("{what}: not surveyed.", [fact.id], what=teller.plain(fact.name)),))
    if not items:
        yield Para((Note(standing.NO_REMAINING),))
        return
    yield Items(tuple(items[:MANY]))
    rest = (Note(standing.MORE_IN_TECHNICAL),) if len(items) > MANY else ()
    yield Para((Note(standing.CONFIRM), *rest))


def _how(teller: Teller, fact: Fact):
    from advisor.report.wording import how_known

    return teller.text(how_known(fact.how), f"how:{fact.key}")


def _cautions(teller: Teller, first: Judged) -> list[tuple[Sentence, ...]]:
    found = picks.certain(first, "caution")
    items = [chapters.speak(teller, f, first, "householder", 1) for f in found[:MANY]]
    return [*items, (Note(standing.MORE_IN_TECHNICAL),)] if len(found) > MANY else items


# ---------------------------------------------------------------- nothing to recommend yet
def _undecided(teller: Teller) -> Iterator[Block]:
    advice = teller.advice
    family = teller.book.about("arrangement.family", advice.judged[0].id)
    ids = [family.id] if family else []
    yield Para((teller.claim("We cannot recommend a layout yet: each one waits for an answer or is ruled out.", ids),),
               "lead")
    yield Para((Note(standing.LAYOUTS_WORD),))
    if advice.if_typical:
        typical = advice[advice.if_typical]
        yield Heading(2, "If your home were typical")
        yield Para((Note(standing.TYPICAL_ONLY), teller.claim(
            "If every missing answer were the typical one, it would be this: {title}.", title=teller.title(typical))))
    asked = [(teller.claim("{question}?", _asked_ids(teller, q.field), question=teller.text(
        q.ask.rstrip(" .?"), f"question:{q.field}")),) for q in advice.questions[:MANY]]
    yield from _section("What to measure first", asked)
    yield from _section("What is already certain", _already(teller))


def _asked_ids(teller: Teller, field: str) -> list[str]:
    return [f.id for f in teller.book if f.made_by == "survey" and f.note == field][:1]


def _already(teller: Teller) -> list[tuple[Sentence, ...]]:
    items = []
    for judged in teller.advice.families():
        for finding in picks.independent_reasons(judged)[:1]:
            items.append((teller.claim("{title}: ruled out.", teller.finding_ids(finding), title=teller.short(judged)),
                          *chapters.speak(teller, finding, judged, "householder", 1)))
    return items[:SOME]
