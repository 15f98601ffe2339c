"""What to measure next: what is listed can change the advice, answering it settles, what is not listed changes nothing."""

from __future__ import annotations

import itertools
import random

import pytest

from advisor.contrast import quick
from advisor.contrast.ask import ask, pieces
from advisor.contrast.unknowns import unknown_fields
from advisor.records import Advice
from advisor.report.asking import ask_document, ask_json
from advisor.report.lint import lint
from advisor.report.plain import printed
from advisor.survey import Survey, SurveyError
from tests import corpus, homes


def settled_at_random(survey: Survey, fields: tuple[str, ...], rng: random.Random) -> Survey | None:
    """These fields answered; None where the cross-field checks refuse it."""
    changes = {}
    for field in fields:
        entry, value = survey.fields.entry(field), survey.value(field)
        changes[field] = ("yes" if field.startswith("confirmed.") else rng.choice(sorted(value.words))
                          if entry.kind == "words" else homes.random_text(entry, rng, value.lo, value.hi))
    try:
        return survey.with_changes(changes)
    except SurveyError:
        return None


def unlisted_matter(advice: Advice, times: int, rng: random.Random) -> list[str]:
    """Answer the listed questions, then the others in several ways: every way must recommend the same."""
    answer, wrong = ask(advice), []
    listed = tuple(a.field for a in answer.asks)
    for _ in range(times):
        base = settled_at_random(advice.survey, listed, rng)
        ways = [base and settled_at_random(base, tuple(f for f in unknown_fields(base) if not f.startswith("confirmed.")), rng)
                for _ in range(2)]
        found = {quick.recommended(w, advice.rulebase) for w in ways if w}
        if len(found) > 1:
            wrong.append(f"{listed}: {found}")
        if answer.settled and found - {advice.recommended}:
            wrong.append(f"settled, yet {found}")
    return wrong


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_what_need_not_be_asked_changes_nothing(name: str) -> None:
    assert unlisted_matter(homes.advice(name), 4, random.Random(3)) == []


def test_what_need_not_be_asked_changes_nothing_in_invented_homes() -> None:
    rng = random.Random(5)
    assert [f for seed in (0, 1, 8) for f in unlisted_matter(homes.quick(corpus.survey(seed)), 2, rng)] == []


def gaps() -> Advice:
    """The terrace with eight answers more missing."""
    return homes.quick(homes.survey(homes.DEMO).with_changes(dict.fromkeys(GAPS, "unknown")))


GAPS = ("water.hardness", "heating.emitters", "existing.age", "home.built", "boiler.relief_length", "water.inside_pipe",
        "electric.solar", "boiler.flue_route")


def test_many_gaps_of_which_few_matter() -> None:
    """Few of eighteen missing answers matter; answering them settles the advice, whatever the others are."""
    advice = gaps()
    answer = ask(advice)
    assert len(answer.asks) + len(answer.need_not) >= 8 and 1 <= len(answer.asks) <= 3
    rng = random.Random(1)
    for _ in range(4):
        done = settled_at_random(advice.survey, tuple(a.field for a in answer.asks), rng)
        assert ask(homes.quick(done)).settled


def test_every_listed_question_can_change_the_advice() -> None:
    advice = gaps()
    answer = ask(advice)
    listed = tuple(a.field for a in answer.asks)
    for asked in answer.asks:
        found = set()
        for seed in range(8):
            done = settled_at_random(advice.survey, listed, random.Random(seed))
            found |= {quick.recommended(done.with_changes({asked.field: t}), advice.rulebase)
                      for t in pieces(advice.survey, asked.field)}
            if len(found) > 1:
                break
        assert len(found) > 1, asked.field


def test_what_only_shifts_all_alike_is_proved_not_to_matter() -> None:
    """Free ways in the cottage's consumer unit cost the same on every layout that could come first there."""
    advice = homes.advice("cottage_no_gas")
    answer = ask(advice)
    assert answer.settled and "electric.spare_ways" in answer.need_not
    for n in range(9):
        assert quick.recommended(advice.survey.with_changes({"electric.spare_ways": str(n)}),
                                 advice.rulebase) == advice.recommended


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_what_is_printed_holds(name: str) -> None:
    advice = homes.advice(name)
    answer = ask(advice)
    assert lint(ask_document(advice, answer), advice) == []
    assert max(map(len, printed(ask_document(advice, answer), advice).splitlines())) <= 80
    found = ask_json(advice, answer)
    fields = {a["field"] for a in found["ask"]}
    assert found["settled"] == (not fields) and not fields & set(found["need_not_ask"])
    assert all(a["tool"] and a["minutes"] >= 0 for a in found["ask"])


def test_the_pieces_of_a_field_cover_all_it_may_be() -> None:
    survey = homes.survey(homes.EMPTY)
    for field in unknown_fields(survey):
        entry = survey.fields.entry(field)
        if field.startswith("confirmed."):
            continue
        parts = [survey.with_changes({field: t}).value(field) for t in pieces(survey, field)]
        if entry.kind == "words":
            assert {w for p in parts for w in p.words} == set(entry.domain)
        else:
            assert (parts[0].lo, parts[-1].hi) == tuple(entry.domain)
            assert all(a.hi >= b.lo or b.lo == a.hi + 1 for a, b in itertools.pairwise(parts))


def test_where_nearly_all_is_unknown_a_first_visit_is_enough_for_a_usual_home() -> None:
    """The telephone enquiry: a list one can carry; with usual answers it settles, and each of them is needed."""
    advice = homes.advice(homes.EMPTY)
    answer = ask(advice)
    visit = answer.visit
    assert 1 <= len(visit.fields) <= 10 < len(answer.asks)
    assert [a.field for a in answer.asks[: len(visit.fields)]] == list(visit.fields)
    usual = {}
    for field in visit.fields:
        entry = advice.survey.fields.entry(field)
        usual[field] = entry.typical if entry.kind == "words" else homes.text_of(entry.unit, entry.typical)
    settled = ask(homes.quick(advice.survey.with_changes(usual)))
    assert settled.settled and settled.recommended == visit.would_recommend
    for spared in visit.fields:
        rest = {f: t for f, t in usual.items() if f != spared}
        survey = advice.survey.with_changes(rest)
        assert not quick.outcome(survey, advice.rulebase, free=unknown_fields(survey)).settled, spared
    text = printed(ask_document(advice, answer), advice)
    assert "FIRST VISIT" in text and "Depending on what these show" in text and lint(ask_document(advice, answer), advice) == []
    assert ask_json(advice, answer)["first_visit"]["fields"] == list(visit.fields)


def test_the_terrace_as_shipped_leaves_many_answers_open_and_asks_few() -> None:
    """Over thirty answers are open in it; the list is short, what it leaves out is proved, and its fields can turn it."""
    advice = homes.advice(homes.DEMO)
    answer = ask(advice)
    assert len(answer.need_not) >= 8 and 1 <= len(answer.asks) <= 3
    for asked in answer.asks:
        assert asked.tool and (asked.could_change_to or asked.could_leave_nothing)
