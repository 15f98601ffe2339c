"""The installer's report: the answer, every layout's fate, checks, proofs, works, questions; then the appendices.

Each figure prints the id of its fact; the appendices hold a line for every one
of them, so that a figure can be walked back to an answer, a table or a custom.
Nothing from the survey's private table is in it.
"""

from __future__ import annotations

from collections.abc import Iterator

from advisor.contrast.near import Near
from advisor.contrast.why import tree
from advisor.facts import Fact
from advisor.records import Advice, Finding, Judged
from advisor.report import (
    chapters,
    holding,
    hour_section,
    picks,
    pricing,
    standing,
    technical_tables,
    wording,
    year_section,
)
from advisor.report.claims import Block, Claim, Document, Heading, Items, Note, Para, Sentence, Table
from advisor.report.known import yes_no
from advisor.report.letter_parts import question_claim
from advisor.report.phrases import verdict_words
from advisor.report.say import Piece, Teller

TITLE = "Technical report for the installer"


def technical(advice: Advice, near: Near | None = None) -> Document:
    """The whole report as a document whose figures print their fact's id; `near` as for the letter."""
    teller = Teller(advice)
    body = [*_run(teller), *_answer(teller), *holding.in_technical(teller, near), *_fates(teller),
            *technical_tables.checks(teller, shown(advice)), *hour_section.section(teller),
            *year_section.section(teller), *_derivations(teller), *_works(teller), *_questions(teller)]
    return Document(TITLE, (*body, *technical_tables.appendices(teller, body)), tokens=True)


def shown(advice: Advice) -> list[Judged]:
    """Recommended (or first), runner-up, cheaper: each once."""
    first = picks.recommended(advice) or advice.judged[0]
    found = [first, picks.runner_up(advice, first), picks.cheaper(advice, first)]
    return list({j.id: j for j in found if j is not None}.values())


# ---------------------------------------------------------------- run and answer
def _run(teller: Teller) -> Iterator[Block]:
    advice, base = teller.advice, teller.advice.rulebase
    nation = teller.book["nation@site"]
    ids = [nation.id]
    counts = {n: teller.count(n, v) for n, v in (
        ("arrangements", len(advice.judged)), ("families", len(advice.families())), ("rules", len(base.rules)),
        ("facts", sum(1 for _ in teller.book)), ("firings", len(advice.derivation)),
        ("trust", sum(f.trust for f in teller.book)))}
    said = [teller.claim("Rule base {sha}, rules of {day}.", ids, sha=teller.code(base.sha, "sha"),
                         day=teller.text(base.date.isoformat(), "base-date")),
            teller.claim("Nation: {nation}.", nation=teller.value(nation))]
    if advice.survey.works_date:
        said.append(teller.claim("Limits in force on {day}, the works date.", ids, day=teller.text(
            advice.survey.works_date.isoformat(), "works-date")))
    else:
        said.append(teller.claim("No works date: limits in force on {day}.", ids, day=teller.text(
            base.date.isoformat(), "base-date")))
    if base.house:
        said.append(teller.claim("Laid over the rule base: the rules of {firm}.", ids,
                                 firm=teller.text(base.house.firm, "firm")))
        said += [teller.claim("{line}.", ids, line=teller.text(line, f"house:{i}"))
                 for i, line in enumerate(base.house.lines())]
    said.append(teller.claim("{arrangements} arrangements of {families} kinds were judged by {rules} rules: {firings} "
                             "instances fired on {facts} facts, {trust} of them taken on trust from a table.",
                             ids, **counts))
    said.append(teller.claim("Engine: {engine}; run checked: {checked}; fell back: {fell}.", ids,
                             engine=teller.code(advice.run.get("engine", ""), "engine"),
                             checked=teller.text(yes_no(advice.run.get("checked")), "checked"),
                             fell=teller.text(yes_no(advice.run.get("fell_back")), "fell-back")))
    yield Para(tuple(said))
    yield Para((Note(standing.MARKS),))
    warnings = [(teller.claim("{note}", ids, note=teller.code(w, f"warning:{n}")),)
                for n, w in enumerate(advice.survey.warnings)]
    if warnings:
        yield Heading(2, "Warnings about the survey")
        yield Items(tuple(warnings))


def _answer(teller: Teller) -> Iterator[Block]:
    advice, first = teller.advice, picks.recommended(teller.advice)
    yield Heading(2, "The answer")
    if first is None:
        ids = [i for j in advice.families() for i in picks.fate_ids(advice, j)[:1]]
        yield Para((teller.claim("Nothing is recommended: every layout waits for an answer or is ruled out.", ids),))
    else:
        yield Para((teller.claim("Recommended: {title}.", picks.fate_ids(advice, first), title=teller.title(first)),
                    teller.claim("Verdict: {verdict}.", picks.fate_ids(advice, first), verdict=verdict(teller, first))))
    if first is None and advice.if_typical:
        typical = teller.title(advice[advice.if_typical])
        yield Para((Note(standing.TYPICAL_ONLY), teller.claim("Were every missing answer the typical one: {title}.",
                                                              title=typical)))


def verdict(teller: Teller, judged: Judged) -> Piece:
    return teller.text(verdict_words(judged), f"verdict:{judged.id}")


# ---------------------------------------------------------------- fates
def _fates(teller: Teller) -> Iterator[Block]:
    """Every kind of layout: rank, verdict, the rules that make it, what it comes after on; then their sentences."""
    yield Heading(2, "Every kind of layout and its fate")
    listed = teller.advice.families()
    yield Table(("rank", "layout", "verdict", "rules that decide", "after the one above on"),
                tuple(_fate_row(teller, j) for j in listed))
    yield Para((Note(standing.STEPS), Note(standing.POINTS)))
    items: list[tuple[Sentence, ...]] = []
    depths: list[int] = []
    for judged in listed:
        lines = _fate_lines(teller, judged)
        if lines:
            items += [(teller.claim("{title}", title=teller.title(judged)),), *lines]
            depths += [0, *(1 for _ in lines)]
    yield Items(tuple(items), tuple(depths))
    yield from pricing.table(teller, listed)


def _fate_row(teller: Teller, judged: Judged) -> tuple[Sentence, ...]:
    ids = picks.fate_ids(teller.advice, judged)
    rules = list(dict.fromkeys(f.rule for f in picks.decisive(teller.advice, judged)))
    gaps = {f"r{n}": teller.rule(r, by_id=True) for n, r in enumerate(rules)}
    named = teller.fill(", ".join(f"{{{g}}}" for g in gaps), gaps) if gaps else Note("")
    return (teller.claim("{rank}", ids, rank=teller.count(f"rank:{judged.id}", judged.rank)),
            teller.claim("{short}", short=teller.short(judged)),
            teller.claim("{verdict}", ids, verdict=verdict(teller, judged)), named,
            technical_tables.comparison(teller, judged))


def _fate_lines(teller: Teller, judged: Judged) -> list[tuple[Sentence, ...]]:
    """Each finding that decides, and how many more there are."""
    decisive = picks.decisive(teller.advice, judged)
    lines = [_finding_line(teller, judged, f) for f in decisive]
    more = len(judged.findings) - len(decisive)
    if lines and more:
        lines.append((teller.claim("Findings that do not decide, not shown here: {n}.", picks.fate_ids(
            teller.advice, judged), n=teller.count(f"hidden:{judged.id}", more)),))
    return lines


def _finding_line(teller: Teller, judged: Judged, finding: Finding) -> tuple[Sentence, ...]:
    mark = "certain" if finding.certain else "possible"
    return (teller.claim(f"{{rule}} ({finding.effect.replace('_', ' ')}, {mark}).", teller.finding_ids(finding),
                         rule=teller.rule(finding.rule, by_id=True)),
            *chapters.speak(teller, finding, judged, "finding", 2))


# ---------------------------------------------------------------- proofs
def _derivations(teller: Teller) -> Iterator[Block]:
    """What rules out the layouts shown, or what was measured for them and works they need, down to the survey."""
    yield Heading(2, "How it was concluded")
    for judged in shown(teller.advice):
        against = picks.independent_reasons(judged)
        for finding in (against or picks.certain(judged, "needs_work"))[:3]:
            yield Para((teller.claim("{short}: {rule}.", teller.finding_ids(finding), short=teller.short(judged),
                                     rule=teller.lower_rule(finding.rule)),))
            yield _tree(teller, finding.key)
        measured = sorted(judged.checks, key=lambda c: not picks.on_wish(teller.advice, c))
        for check in () if against else measured[:2]:
            margin = teller.book[check.margin_key]
            yield Para((teller.claim("{short}: {what}, {margin}.", short=teller.short(judged),
                                     what=teller.plain(margin.name), margin=teller.value(margin)),))
            yield _tree(teller, margin.key)


def _tree(teller: Teller, key: str) -> Items:
    """The steps below a fact, indented; what is cut off is counted."""
    steps = tree(teller.advice, key, picks.STEPS_DEEP)[1:]
    items = [((_step(teller, fact),), depth - 1) for depth, fact in steps[: picks.STEPS_SHOWN]]
    more = len(steps) - len(items)
    if more:
        items.append(((teller.claim("Steps below these, not shown: {n}.", [teller.book[key].id], n=teller.count(
            f"more-steps:{key}", more)),), 0))
    return Items(tuple(item for item, _ in items), tuple(depth for _, depth in items))


def _step(teller: Teller, fact: Fact) -> Claim:
    """One line of a proof: a fact, its value, and what made it."""
    made = teller.code(fact.made_by, f"made-by:{fact.key}")
    what = teller.plain(fact.name)
    if fact.made_by == "absence":
        return teller.claim("{what}.", [fact.id], what=what)
    if fact.made_by == "survey":
        return teller.claim("{what}: {value}, {how} ({field}).", what=what, value=teller.value(fact),
                            how=teller.text(wording.how_known(fact.how), f"how:{fact.key}"),
                            field=teller.code(fact.note, f"field:{fact.note}"))
    if fact.name.startswith("finding."):
        return teller.claim("{what}, by {made}.", [fact.id], what=what, made=made)
    return teller.claim("{what}: {value}, by {made}.", what=what, value=teller.value(fact), made=made)


# ---------------------------------------------------------------- works and questions
def _works(teller: Teller) -> Iterator[Block]:
    """Works with who and which bands, what the rules require with their sources, then what to mind."""
    first = picks.recommended(teller.advice) or teller.advice.judged[0]
    yield Heading(2, "Works, and what comes with them")
    yield from _work_table(teller, first)
    required = [(*chapters.speak(teller, f, first, "finding", 1), _source(teller, f))
                for f in first.findings if f.effect == "requires"]
    if required:
        yield Heading(3, "Required with it")
        yield Items(tuple(required))
    minded = [(*chapters.speak(teller, f, first, "finding", 1), *chapters.speak(teller, f, first, "why", 1),
               _source(teller, f)) for f in first.findings if f.effect == "caution"]
    if minded:
        yield Heading(3, standing.CAUTIONS)
        yield Items(tuple(minded))
    yield from _asked(teller, first)
    yield Para((Note(standing.LAST_WORD), Note(standing.LICENSED)))


def _asked(teller: Teller, first: Judged) -> Iterator[Block]:
    """What its parts and works ask of the fitter, each with its source."""
    parts = [f"{slot}.{part}" for slot, part in first.arrangement.parts.items()]
    family = teller.structure(first, "arrangement.family")
    ids = [family.id] if family else []
    items = [(teller.claim("{says}.", ids, says=teller.text(r.text, f"requirement:{r.id}")),
              teller.claim("Source: {source}.", ids, source=teller.text(r.source.cite(), f"requirement-source:{r.id}")))
             for r in teller.advice.rulebase.requirements.values() if r.is_asked_by(parts, first.works)]
    if items:
        yield Heading(3, "What its parts ask of the fitter")
        yield Items(tuple(items))


def _work_table(teller: Teller, first: Judged) -> Iterator[Block]:
    rows = []
    for finding in [f for f in first.findings if f.effect == "needs_work"]:
        for nth, remedy in enumerate(teller.rules[finding.rule].remedies):
            record, ids = teller.remedies[remedy], teller.finding_ids(finding)
            gaps = {n: teller.text(t, f"{n}:{remedy}") for n, t in (
                ("who", record.who), ("band", record.band), ("disruption", record.disruption))}
            rows.append((teller.claim("{work}", ids, work=teller.remedy(remedy)),
                         Note("named work" if nth == 0 else "in its place"),
                         Note("certain" if finding.certain else "possible"),
                         *(teller.claim(f"{{{n}}}", ids, **gaps) for n in gaps)))
    if rows:
        yield Table(("work", "standing", "mark", "who", "cost band", "disruption"), tuple(rows))
    else:
        yield Para((Note(standing.NO_WORKS),))


def _source(teller: Teller, finding: Finding) -> Claim:
    cited = teller.rules[finding.rule].source.cite()
    return teller.claim("Source: {source}.", [finding.rule], source=teller.text(cited, f"rule-source:{finding.rule}"))


def _questions(teller: Teller) -> Iterator[Block]:
    yield Heading(2, "To measure or confirm")
    items = [(question_claim(teller, q.field, q.ask),) for q in teller.advice.questions]
    yield Items(tuple(items)) if items else Para((Note(standing.NO_REMAINING),))
