"""The installer's report: every answer, check, finding, sum and limit, each figure with the id of its fact."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.calc import REGISTRY
from advisor.facts import Fact
from advisor.records import Advice, Finding, Judged
from advisor.report import chapters, phrases, picks, standing
from advisor.report.claims import Block, Claim, Document, Heading, Items, Note, Para, Sentence, Table
from advisor.report.say import Teller
from advisor.report.wording import how_known

TITLE = "Technical report for the installer"
PROVED = 8  # steps of a derivation shown for each reason


def technical(advice: Advice) -> Document:
    """The whole report as a document whose figures print their fact's id; nothing private is in it."""
    teller = Teller(advice)
    blocks = (*_run(teller), *_checks(teller), *_fates(teller), *_derivations(teller), *_works(teller),
              *_survey(teller), *_questions(teller), *_sums(teller), *_limits(teller), *_formulas(teller))
    return Document(TITLE, blocks, tokens=True)


def _any_id(teller: Teller) -> list[str]:
    return [teller.book["nation@site"].id]


def _run(teller: Teller) -> Iterator[Block]:
    ids = _any_id(teller)
    yield Para((teller.claim("Rule base {sha}", ids, sha=teller.text(teller.advice.rulebase.sha, "sha")),))
    yield Para((teller.claim("Rules dated {day}", ids, day=teller.text(teller.advice.rulebase.date.isoformat(),
                                                                     "base-date")),))
    counts = {n: teller.count(n, v) for n, v in (
        ("arrangements", len(teller.advice.judged)), ("families", len(teller.advice.families())),
        ("facts", sum(1 for _ in teller.book)), ("firings", len(teller.advice.derivation)))}
    yield Para((teller.claim("{arrangements} arrangements of {families} kinds were judged from {facts} facts by "
                             "{firings} instances of rules.", ids, **counts), Note(standing.MARKS)))


def _shown(advice: Advice) -> list[Judged]:
    """Recommended (or first), runner-up, cheaper: each once."""
    first = picks.recommended(advice) or advice.judged[0]
    found = [first, picks.runner_up(advice, first), picks.cheaper(advice, first)]
    unique: dict[str, Judged] = {j.id: j for j in found if j is not None}
    return list(unique.values())


def _checks(teller: Teller) -> Iterator[Block]:
    yield Heading(2, "Checks")
    for judged in _shown(teller.advice):
        yield Para((teller.claim("{title}: {verdict}", title=teller.title(judged),
                                 verdict=teller.text(phrases.VERDICT[judged.verdict], f"verdict:{judged.id}")),))
        rows = [_check_row(teller, judged, n) for n in range(len(judged.checks))]
        yield Table(("check", "value", "limit", "margin", "passes"), tuple(rows))


def _check_row(teller: Teller, judged: Judged, n: int) -> tuple[Sentence, ...]:
    check = judged.checks[n]
    value, limit, margin = teller.check_facts(check)
    outcome = {True: "yes", False: "no", None: "may or may not"}[check.passes]
    return (teller.claim("{what}", [value.id], what=teller.plain(value.name)), _cell(teller, value),
            _cell(teller, limit), _cell(teller, margin), Note(outcome))


def _cell(teller: Teller, fact: Fact | None) -> Sentence:
    return Note("") if fact is None else teller.claim("{it}", it=teller.value(fact))


def _fates(teller: Teller) -> Iterator[Block]:
    yield Heading(2, "Every kind of layout and its fate")
    for judged in teller.advice.families():
        yield Para((teller.claim("{rank}: {title}: {verdict}", rank=teller.count(f"rank:{judged.id}", judged.rank),
                                 title=teller.title(judged),
                                 verdict=teller.text(phrases.VERDICT[judged.verdict], f"verdict:{judged.id}")),))
        bearing = picks.bearing(judged)
        items = [_finding_line(teller, judged, finding) for finding in bearing[: picks.MOST_SHOWN]]
        if len(bearing) > picks.MOST_SHOWN:
            items.append((teller.claim("{n} more findings of these kinds are not shown.", [bearing[-1].rule],
                                       n=teller.count(f"hidden:{judged.id}", len(bearing) - picks.MOST_SHOWN)),))
        if items:
            yield Items(tuple(items))


def _finding_line(teller: Teller, judged: Judged, finding: Finding) -> tuple[Sentence, ...]:
    mark = "certain" if finding.certain else "possible"
    return (teller.claim(f"{{rule}} ({finding.effect.replace('_', ' ')}, {mark}).", [finding.rule],
                         rule=teller.rule(finding.rule, by_id=True)),
            *chapters.speak(teller, finding, judged, "finding", 1))


def _derivations(teller: Teller) -> Iterator[Block]:
    """What the recommended layout's findings, and the first reason against each other shown one, rest on."""
    yield Heading(2, "How it was concluded")
    advice = teller.advice
    for judged in _shown(advice):
        reasons = [*picks.independent_reasons(judged), *picks.certain(judged, "needs_work"),
                   *picks.certain(judged, "favours")][:3]
        for finding in reasons:
            yield Para((teller.claim("{rule}, about this layout: {title}", teller.finding_ids(finding),
                                     rule=teller.rule(finding.rule), title=teller.short(judged)),))
            steps = list(_steps(teller, finding.key))[:PROVED]
            yield Items(tuple((claim,) for claim, _ in steps), tuple(depth for _, depth in steps))


def _steps(teller: Teller, key: str) -> Iterator[tuple[Claim, int]]:
    from advisor.contrast.why import tree

    for depth, fact in tree(teller.advice, key, 4):
        if depth:
            yield _step(teller, fact), min(depth - 1, 3)


def _step(teller: Teller, fact: Fact) -> Claim:
    made = teller.text(fact.made_by, f"made-by:{fact.key}")
    return teller.claim("{what} is {value}, from {made}", what=teller.plain(fact.name), value=teller.value(fact),
                        made=made)


def _works(teller: Teller) -> Iterator[Block]:
    yield Heading(2, "Works and what comes with them")
    first = picks.recommended(teller.advice) or teller.advice.judged[0]
    items: list[tuple[Sentence, ...]] = []
    for finding in [f for f in first.findings if f.effect == "needs_work"]:
        remedy = teller.rules[finding.rule].remedies[0]
        record = teller.remedies[remedy]
        items.append((teller.claim("{work}: {who}; cost band {band}", teller.finding_ids(finding),
                                   work=teller.remedy(remedy), who=teller.text(record.who, f"who:{remedy}"),
                                   band=teller.text(record.band, f"band:{remedy}")),))
    for finding in picks.certain(first, "requires"):
        source = teller.text(teller.rules[finding.rule].source.cite(), f"rule-source:{finding.rule}")
        items.append((*chapters.speak(teller, finding, first, "finding", 1),
                      teller.claim("Source: {source}.", [finding.rule], source=source)))
    for finding in picks.certain(first, "caution"):
        items.append(chapters.speak(teller, finding, first, "why", 2))
    yield Items(tuple(items)) if items else Para((Note(standing.NONE),))


def _survey(teller: Teller) -> Iterator[Block]:
    yield Heading(2, "The survey as it was read")
    yield Para((Note(standing.HOW_WORDS),))
    rows = []
    for fact in teller.book:
        answer = teller.advice.survey.answers.get(fact.note) if fact.made_by == "survey" else None
        if answer is not None:
            rows.append((teller.claim("{field}", [fact.id], field=teller.text(fact.note, f"field:{fact.note}")),
                         teller.claim("{it}", it=teller.read(fact, answer.read)), _cell(teller, fact),
                         teller.claim("{how}", [fact.id], how=teller.text(how_known(fact.how), f"how:{fact.key}"))))
    yield Table(("field", "as written", "value", "how known"), tuple(rows))


def _questions(teller: Teller) -> Iterator[Block]:
    yield Heading(2, "To measure or confirm")
    items = []
    for question in teller.advice.questions:
        ids = [f.id for f in teller.book if f.made_by == "survey" and f.note == question.field][:1]
        items.append((teller.claim("{field}: {ask}?", ids, field=teller.text(question.field, f"field:{question.field}"),
                                   ask=teller.text(question.ask.rstrip(" .?"), f"question:{question.field}")),))
    yield Items(tuple(items)) if items else Para((Note(standing.NO_REMAINING),))


def _sums(teller: Teller) -> Iterator[Block]:
    """The calculated facts behind the layouts shown, each with its inputs."""
    yield Heading(2, "Sums")
    entities = {"site"}
    for judged in _shown(teller.advice):
        entities |= {judged.id, judged.arrangement.source, judged.arrangement.place}
    rows = []
    for fact in teller.book:
        if not fact.made_by.startswith("calc.") or fact.entity not in entities:
            continue
        name = fact.made_by.removeprefix("calc.")
        inputs = {f"i{n}": teller.value(teller.book[k]) for n, (_, k) in enumerate(fact.inputs[:8])}
        rows.append((teller.claim("{id}", [fact.id], id=teller.text(fact.id, f"token-of:{fact.key}")),
                     teller.claim("{what}, {about}", [fact.id], what=teller.plain(fact.name),
                                  about=_about(teller, fact)), _cell(teller, fact),
                     teller.claim("{formula}: " + ", ".join(f"{{{n}}}" for n in inputs), [fact.id],
                                  formula=teller.text(name, f"formula-name:{name}"), **inputs)))
    yield Table(("mark", "fact", "value", "formula and inputs"), tuple(rows))


def _about(teller: Teller, fact: Fact):
    if fact.sort == "arrangement":
        return teller.short(teller.advice[fact.entity])
    return teller.name(fact.entity)


def _limits(teller: Teller) -> Iterator[Block]:
    yield Heading(2, "Limits in force")
    day = teller.advice.survey.works_date or teller.advice.rulebase.date
    rows = []
    for fact in teller.book:
        if fact.made_by == "threshold":
            name = fact.name.removeprefix("threshold.")
            limit = teller.advice.rulebase.thresholds[name]
            rows.append((teller.claim("{what}", [fact.id], what=teller.text(limit.meaning.rstrip("."), f"threshold:{name}")),
                         _cell(teller, fact),
                         teller.claim("{since}", [fact.id], since=teller.text(limit.on(day)[0].isoformat(),
                                                                              f"threshold-date:{name}")),
                         teller.claim("{source}", [fact.id], source=teller.text(limit.source.cite(),
                                                                                f"threshold-source:{name}"))))
    yield Table(("limit", "value", "since", "source"), tuple(rows))


def _formulas(teller: Teller) -> Iterator[Block]:
    yield Heading(2, "Formulas used")
    ids = _any_id(teller)
    used = sorted({f.made_by.removeprefix("calc.") for f in teller.book if f.made_by.startswith("calc.")})
    rows = [(teller.claim("{name}", ids, name=teller.text(n, f"formula-name:{n}")),
             teller.claim("{text}", ids, text=teller.text(REGISTRY[n].text, f"formula:{n}")),
             teller.claim("{source}", ids, source=teller.text(REGISTRY[n].source.cite(), f"formula-source:{n}")))
            for n in used]
    yield Table(("formula", "text", "source"), tuple(rows))
