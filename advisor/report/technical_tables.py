"""The tables of the installer's report: checks, comparison, survey, figures walked back, limits, formulas."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from advisor.calc import REGISTRY
from advisor.facts import Fact
from advisor.records import Judged
from advisor.report import picks, standing
from advisor.report.claims import Block, Claim, Document, Heading, Note, Para, Sentence, Table, claims
from advisor.report.say import Piece, Teller
from advisor.report.wording import clean, how_known

OUTCOME = {True: "yes", False: "no", None: "may or may not"}
MOST_INPUTS = 10  # a sum of more is cut, and says so


def _row(cells: Iterable[Claim | None]) -> tuple[Sentence, ...]:
    return tuple(Note("") if c is None else c for c in cells)


# ---------------------------------------------------------------- body
def checks(teller: Teller, shown: Sequence[Judged]) -> Iterator[Block]:
    """Each measured quantity of the layouts shown: what there is, what is needed, the margin."""
    yield Heading(2, "Checks")
    yield Para((Note(standing.CHECK_COLUMNS),))
    for judged in shown:
        yield Heading(3, clean(judged.arrangement.title))
        yield Table(("check", "there is", "needed", "margin", "passes"),
                    tuple(_check_row(teller, c) for c in picks.measures(teller.advice, judged)))


def _check_row(teller: Teller, check) -> tuple[Sentence, ...]:
    value, limit, margin = teller.check_facts(check)
    single = margin is not None and margin.key == value.key
    pieces = (None if single else teller.value(value), teller.value(limit) if limit else None,
              teller.value(margin) if margin else None)
    template = "{a}, against {b}" if limit else "{a}"
    gaps = {"a": teller.plain(value.name)} | ({"b": teller.plain(limit.name)} if limit else {})
    named = teller.fill(template, gaps, [value.id])
    return (named, *_row(teller.cells(*pieces)), Note(OUTCOME[check.passes]))


def comparison(teller: Teller, judged: Judged) -> Sentence:
    """The first criterion on which a layout comes after the kind above it: both values, both steps."""
    listed = teller.advice.comparison
    n = next((n for n, c in enumerate(listed) if c.second == judged.id), None)
    if n is None:
        return Note("")
    c = listed[n]
    ids = [i for j in (c.first, c.second) for i in picks.fate_ids(teller.advice, teller.advice[j])[:1]]
    gaps = {"criterion": teller.criterion(c.criterion), "step": teller.text(c.step, f"step:{n}")}
    if all(c.keys):
        gaps |= {"a": teller.value(teller.book[c.keys[0]]), "b": teller.value(teller.book[c.keys[1]])}
        return teller.fill("{criterion}: {a} before {b}; step {step}", gaps, ids)
    return teller.fill("{criterion}" if c.criterion == "id" else "{criterion}; step {step}", gaps, ids)


# ---------------------------------------------------------------- appendices
def appendices(teller: Teller, body: Sequence[Block]) -> Iterator[Block]:
    """A line for every figure of the body and for all it was made from."""
    yield from _survey(teller)
    facts = _below(teller, body)
    yield from _walked(teller, [f for f in facts if f.made_by not in ("survey", "threshold")])
    yield from _limits(teller)
    yield from _formulas(teller, facts)


def _below(teller: Teller, body: Sequence[Block]) -> list[Fact]:
    """The facts whose values the body prints, with everything they were calculated or concluded from."""
    keys = {k.removeprefix("read:") for c in claims(Document("", tuple(body))) for _, k in c.quantities}
    queue, seen = [k for k in keys if k in teller.book], set()
    while queue:
        key = queue.pop()
        if key not in seen:
            seen.add(key)
            fact = teller.book[key]
            queue += [k for k in (*fact.because, *(k for _, k in fact.inputs)) if k in teller.book]
    return [f for f in teller.book if f.key in seen]


def _survey(teller: Teller) -> Iterator[Block]:
    yield Heading(2, "The survey as it was read")
    yield Para((Note(standing.HOW_WORDS),))
    rows = []
    for fact in teller.book:
        answer = teller.advice.survey.answers.get(fact.note) if fact.made_by == "survey" else None
        if answer is not None:
            extra = {n: teller.text(t, f"{n}:{fact.note}") for n, t in (
                ("when", answer.when), ("instead", answer.instead_of), ("note", answer.note)) if t}
            says = {"when": "at {when}", "instead": "in place of {instead}", "note": "{note}"}
            how = teller.fill("; ".join(["{how}", *(says[n] for n in extra)]), {
                "how": teller.code(how_known(fact.how), f"how:{fact.key}"), **extra}, [fact.id])
            field = teller.code(fact.note, f"field:{fact.note}", (fact.id,))
            rows.append((*_row(teller.cells(teller.token(fact), field, teller.read(fact, answer.read),
                                            teller.value(fact))), how))
    yield Table(("mark", "field", "as written", "value", "how known"), tuple(rows))
    yield from _unanswered(teller)


def _unanswered(teller: Teller) -> Iterator[Block]:
    facts = picks.unanswered(teller.advice)
    if facts:
        gaps = {f"f{n}": teller.code(f.note, f"field:{f.note}", (f.id,)) for n, f in enumerate(facts)}
        gaps["count"] = teller.count("unanswered", len(facts))
        named = ", ".join(f"{{{g}}}" for g in gaps if g != "count")
        yield Para((teller.fill(f"Not surveyed ({{count}}): {named}.", gaps),))


def _walked(teller: Teller, facts: Sequence[Fact]) -> Iterator[Block]:
    yield Heading(2, "Figures walked back")
    yield Para((Note(standing.WALKED),))
    rows = [(*_row(teller.cells(teller.token(f))), _named(teller, f), *_row(teller.cells(teller.value(f))),
             _made(teller, f)) for f in facts]
    yield Table(("mark", "fact", "value", "made by, from"), tuple(rows))


def _named(teller: Teller, fact: Fact) -> Sentence:
    """A fact's plain name, and what it is about where that is not the whole home."""
    gaps: dict[str, Piece] = {"what": teller.plain(fact.name)}
    if fact.sort == "arrangement":
        gaps["about"] = teller.short(teller.advice[fact.entity])
    elif fact.sort != "site":
        gaps["about"] = teller.name(fact.entity)
    return teller.fill("{what}, {about}" if "about" in gaps else "{what}", gaps, [fact.id])


def _made(teller: Teller, fact: Fact) -> Sentence:
    """What made it and from what: inputs of a sum with their values, premises of a rule by their marks."""
    gaps: dict[str, Piece] = {"made": teller.code(fact.made_by, f"made-by:{fact.key}")}
    below = [k for _, k in fact.inputs] if fact.inputs else [k for k in fact.because if k in teller.book]
    for n, key in enumerate(below[:MOST_INPUTS]):
        gaps[f"i{n}"] = teller.value(teller.book[key]) if fact.inputs else teller.token(teller.book[key])
    template = "{made}" + (": " if below else "") + ", ".join(f"{{i{n}}}" for n in range(len(below[:MOST_INPUTS])))
    if len(below) > MOST_INPUTS:
        template += " and more"
    return teller.fill(template, gaps, [fact.id])


def _limits(teller: Teller) -> Iterator[Block]:
    yield Heading(2, "Limits in force")
    day = teller.advice.survey.works_date or teller.advice.rulebase.date
    rows = []
    for fact in [f for f in teller.book if f.made_by == "threshold"]:
        name = fact.name.removeprefix("threshold.")
        limit = teller.advice.rulebase.thresholds[name]
        since = limit.on(day)[0].isoformat()
        rows.append(_row(teller.cells(
            teller.token(fact), teller.code(limit.meaning.rstrip("."), f"threshold:{name}", (fact.id,)),
            teller.value(fact), teller.code(since, f"threshold-date:{name}", (fact.id,)),
            teller.code(limit.source.cite(), f"threshold-source:{name}", (fact.id,)))))
    yield Table(("mark", "limit", "value", "since", "source"), tuple(rows))


def _formulas(teller: Teller, facts: Sequence[Fact]) -> Iterator[Block]:
    yield Heading(2, "Formulas used")
    first: dict[str, str] = {}
    for fact in facts:
        if fact.made_by.startswith("calc."):
            first.setdefault(fact.made_by.removeprefix("calc."), fact.id)
    rows = [_row(teller.cells(*(teller.code(text, f"{kind}:{n}", (fact_id,)) for kind, text in (
        ("formula-name", n), ("formula", REGISTRY[n].text), ("formula-source", REGISTRY[n].source.cite())))))
        for n, fact_id in sorted(first.items())]
    yield Table(("formula", "text", "source"), tuple(rows))
