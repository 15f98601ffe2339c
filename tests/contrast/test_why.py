"""Short reasons are sufficient and necessary: the answers named suffice whatever the others are, and none can be spared."""

from __future__ import annotations

import random

import pytest

from advisor.contrast.enough import enough, stands
from advisor.contrast.why import FEW, why
from advisor.records import Advice
from advisor.report.explaining import why_json, why_text
from advisor.survey import SurveyError
from tests import homes


def certain_reasons(advice: Advice) -> list[tuple[str, str]]:
    return [(j.id, f.rule) for j in advice.families() if j.verdict == "ruled_out"
            for f in j.findings if f.effect == "rules_out" and f.certain]


@pytest.mark.parametrize("name", ["terrace_two_showers", "large_family_house", "flat_no_gas"])
def test_the_answers_named_suffice_and_none_can_be_spared(name: str) -> None:
    advice, rng = homes.advice(name), random.Random(4)
    for arrangement, rule in certain_reasons(advice)[::3]:
        named = enough(advice, arrangement, rule)
        assert stands(advice, arrangement, rule, named)
        for field in named:
            assert not stands(advice, arrangement, rule, set(named) - {field}), (arrangement, rule, field)
        others = [f for f in advice.survey.answers if f not in named and not f.startswith("wishes.")]
        placebo = rng.sample(others, min(len(named), len(others)))
        assert not named or not stands(advice, arrangement, rule, placebo), "a list as long about other answers"


def test_any_values_of_the_answers_not_named_leave_it_ruled_out() -> None:
    advice, rng, tried = homes.advice(homes.DEMO), random.Random(9), 0
    for arrangement, rule in certain_reasons(advice)[:4]:
        named = enough(advice, arrangement, rule)
        free = [(f, e) for f, e, _ in advice.survey.every_field()
                if f in advice.survey.answers and f not in named and not f.startswith("wishes.")]
        for _ in range(5):
            changes = {f: homes.random_text(e, rng) for f, e in rng.sample(free, 12)}
            try:
                after = homes.quick(advice.survey.with_changes(changes), (arrangement,)).judged[0]
            except SurveyError:
                continue
            tried += 1
            assert rule in {f.rule for f in after.findings if f.effect == "rules_out" and f.certain}
    assert tried > 5


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_every_independent_reason_is_shown_and_counted_and_what_is_hidden_too(name: str) -> None:
    advice = homes.advice(name)
    for judged in advice.families()[::2]:
        answer = why(advice, judged.id)
        found = why_json(advice, answer)
        forbids = {f.rule for f in judged.findings if f.effect == "rules_out" and f.certain}
        assert found["hidden"] == len(judged.findings) - len(found["reasons"])
        assert len(found["decisive"]) <= FEW
        if judged.verdict == "ruled_out":
            assert {r["rule"] for r in found["reasons"] if r["independent"]} == forbids
            assert found["independent_reasons"] == len(forbids)
        elif judged.verdict == "open":
            assert found["decided_by"] and not any(r["independent"] for r in found["reasons"])
        elif judged.verdict == "suitable":
            assert found["decisive"] or not advice.survey.wishes


def test_a_ruled_out_layout_says_how_many_reasons_and_both_numbers() -> None:
    """Two musts, 19 l/min at once (10 + 9 from the survey) and the busiest hour; and the weakest shower accepted."""
    advice = homes.advice("large_family_house")
    own = next(j.id for j in advice.families() if j.arrangement.family == "boiler-own-cistern-cylinder")
    text = why_text(advice, why(advice, own), with_tree=False)
    assert "Any one of these 3 reasons rules it out:" in text
    assert "19.0 l/min" in text and "Enough by itself" in text
