"""READ THIS FIRST. A survey becomes facts, facts become candidates, formulas measure them, rules judge them.

Each stage takes what the earlier ones made and returns or enters what the next
one needs. Nothing here knows a rule, a formula or a sentence.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from advisor import arrangements as composer
from advisor import checks, ranking, reasoner, site, verdicts
from advisor.facts import FactBook, Span
from advisor.records import Advice, Arrangement, Check, Judged, Question
from advisor.rulebase import Rulebase
from advisor.verifying import check_run

if TYPE_CHECKING:
    from advisor.survey import Survey

BEFORE = ("circumstances", "parts")
AFTER = ("exceptions", "findings", "verdicts", "preferences", "questions")


def advise(survey: Survey, base: Rulebase, engine: str = "auto", check: bool = True) -> Advice:
    """The whole of the advice on one survey: judged, ranked, explained by its derivation, and checked.

    Raises
    ------
    ConflictError : two rules certainly conclude different words for one fact
    """
    advice = _advise(survey, base, engine)
    if not check:
        return advice
    return check_run(advice, lambda: _advise(survey, base, "plain"))


def _advise(survey: Survey, base: Rulebase, engine: str) -> Advice:
    try:
        advice = run(survey, base, reasoner.matcher(engine))
    except reasoner.EngineError as error:
        advice = run(survey, base, reasoner.matcher("plain"), fell_back=str(error))
    return replace(advice, if_typical=_if_typical(survey, base))


def run(survey: Survey, base: Rulebase, matcher: reasoner.Matcher, fell_back: str = "",
        only: Sequence[str] | None = None, typical: bool = False) -> Advice:
    """The stages, one line each.

    `only` reasons about some arrangements alone (for what-if questions); `typical` puts typical values where nothing
    was answered.
    """
    book, listed = FactBook(), site.entities(survey)
    site.enter_survey(book, survey, base, listed, typical)
    checks.measure_site(book, base, survey, listed)
    candidates = _candidates(base, listed, only)
    composer.enter_structure(book, base.families, candidates, {n: e.unit for n, e in base.vocabulary.items()})
    listed |= {"arrangement": tuple(a.id for a in candidates), "source": tuple(sorted({a.source for a in candidates}))}
    session = reasoner.Session(base, book, numbers(book), listed)
    session.judge(BEFORE, matcher)
    checks.measure(book, base, survey, listed, candidates)
    session.judge(AFTER, matcher)
    fates = {a.id: verdicts.fate(book, base, a, verdicts.findings_of(book, base, session.canonical, a.id))
             for a in candidates}
    placed = ranking.rank(book, base, candidates, fates, survey.wishes)
    judged = tuple(_judged(book, base, p) for p in placed)
    first = judged[0]
    return Advice(
        survey=survey, rulebase=base, book=book, judged=judged,
        recommended=first.id if "ruled_out" not in first.possible else None,
        if_typical=None,
        comparison=ranking.compare(book, base, placed, survey.wishes),
        questions=_questions(book, base, judged), derivation=tuple(session.firings), canonical=session.canonical,
        run={"engine": reasoner.engine_name(matcher), "fell_back": bool(fell_back), "why": fell_back, "checked": False},
    )


def _candidates(base: Rulebase, listed: dict[str, tuple[str, ...]],
                only: Sequence[str] | None) -> tuple[Arrangement, ...]:
    everything = composer.compose(base.families, listed["place"])
    return everything if only is None else tuple(a for a in everything if a.id in set(only))


def numbers(book: FactBook) -> dict[str, float]:
    """Thresholds in force as plain numbers, for the tests of rules."""
    return {f.name.removeprefix("threshold."): f.value.lo for f in book
            if f.made_by == "threshold" and isinstance(f.value, Span)}


def _if_typical(survey: Survey, base: Rulebase) -> str | None:
    """What would be recommended if every missing answer were the typical one; an example, never a verdict."""
    return run(survey, base, reasoner.matcher("plain"), typical=True).recommended


def _judged(book: FactBook, base: Rulebase, p: ranking.Placed) -> Judged:
    fate = p.fate
    return Judged(
        arrangement=p.arrangement, verdict=fate.verdict, possible=fate.possible, findings=fate.findings,
        works=tuple(r for r, _ in fate.works),
        requires=tuple(f.rule for f in fate.findings if f.effect == "requires"),
        checks=_checks(book, base, p.arrangement), decided_by=fate.decided_by, steps=p.steps,
        representative=p.representative, rank=p.rank,
    )


def _checks(book: FactBook, base: Rulebase, arrangement: Arrangement) -> tuple[Check, ...]:
    """Every margin an arrangement owes: the figure, its limit, and whether it passes (0 or more is a pass)."""
    made = []
    for part in composer.parts_of(base.families, arrangement):
        for name in part.needs:
            entity = {"site": "site", "source": arrangement.source, "place": arrangement.place}.get(
                base.vocabulary[name].sort, arrangement.id)
            fact = book.about(name, entity)
            inputs = dict(fact.inputs) if fact else {}
            if fact is None or fact.made_by != "calc.difference":
                continue
            assert isinstance(fact.value, Span)
            passes = True if fact.value.lo >= 0 else False if fact.value.hi < 0 else None
            made.append(Check(name, inputs["value"], inputs["limit"], fact.key, passes))
    return tuple(made)


def _questions(book: FactBook, base: Rulebase, judged: Sequence[Judged]) -> tuple[Question, ...]:
    """What is still to be measured or confirmed: asked by a rule, or left open; with what it decides."""
    because: dict[str, str] = {}
    decides: dict[str, set[str]] = {}
    for j in judged:
        for field in (f for f in j.decided_by if not verdicts.settled(book, f)):
            decides.setdefault(field, set()).add(j.id)
            because.setdefault(field, "open")
        for finding in j.findings:
            rule = base.rules[finding.rule]
            if finding.effect == "asks" and (field := _field_asked(book, base, rule.asks, j.arrangement)):
                because[field] = min(because.get(field, rule.id), rule.id) if because.get(field) != "open" else rule.id
                decides.setdefault(field, set())
    ordered = sorted(because, key=lambda f: (-len(decides[f]), f))
    return tuple(Question(f, _wording(book, base, f), because[f], tuple(sorted(decides[f]))) for f in ordered)


def _field_asked(book: FactBook, base: Rulebase, asks: str, arrangement: Arrangement) -> str:
    """The survey field a rule asks for, where it is not answered yet."""
    fact = book.about(asks, verdicts.entity_asked(base, asks, arrangement))
    return fact.note if fact is not None and not site.answered(fact) else ""


def _wording(book: FactBook, base: Rulebase, field: str) -> str:
    for fact in book:
        if fact.made_by == "survey" and fact.note == field:
            return base.vocabulary[fact.name].question
    return field


def load_and_advise(path: str, engine: str = "auto", house: str | None = None, **kwargs: Any) -> Advice:
    """Read the survey file and advise on it with the shipped rule base (and a firm's overlay)."""
    from advisor import rulebase
    from advisor.survey import read

    base = rulebase.load(house)
    return advise(read(path, base.survey_entries()), base, engine, **kwargs)
