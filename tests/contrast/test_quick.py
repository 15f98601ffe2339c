"""The quick way agrees with the stages of `advise`, and its bounds hold for whatever the free answers turn out to be."""

from __future__ import annotations

import random

import pytest

from advisor.contrast import frame, quick
from advisor.contrast.unknowns import unknown_fields
from advisor.survey import SurveyError
from tests import corpus, homes


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_recommends_and_ranks_as_advise_does(name: str) -> None:
    survey = homes.survey(name)
    advice = homes.advice(name)
    assert quick.recommended(survey, homes.base()) == advice.recommended
    standings = quick.look(survey, homes.base())
    for s in standings:
        judged = advice[s.id]
        assert (s.fate.verdict, s.fate.possible) == (judged.verdict, judged.possible)
        assert s.best == s.worst
    firsts = [j.id for j in advice.judged if j.representative]
    by_family: dict[str, quick.Standing] = {}
    for s in sorted(standings, key=lambda s: s.fold_worst):
        by_family.setdefault(s.arrangement.family, s)
    assert [s.id for s in sorted(by_family.values(), key=lambda s: s.worst)] == firsts


def test_the_recommendation_of_every_completion_is_among_the_options_of_its_box() -> None:
    rng, tried = random.Random(7), 0
    for seed in range(8):
        survey = corpus.survey(seed)
        box = quick.outcome(survey, homes.base(), free=unknown_fields(survey))
        for _ in range(2):
            done = homes.completion(survey, rng)
            if done is not None:
                tried += 1
                whole = quick.recommended(done, homes.base())
                assert whole in box.options, seed
                assert quick.recommended(done, homes.base(), box.kept) == whole
    assert tried > 10


def test_what_is_kept_between_surveys_changes_nothing() -> None:
    """The same boxes judged afresh and after hundreds of others: the same ranks, fates and undecided fields."""
    rng = random.Random(3)
    for name in ("terrace_two_showers", "flat_no_gas", "estate_microbore"):
        survey = homes.survey(name)
        frame.forget()
        frame.anchor(survey, homes.base())
        for _ in range(12):
            fields = rng.sample(sorted(homes.free_fields(survey)), rng.choice([1, 1, 2, 6]))
            changes = {f: "unknown" if rng.random() < 0.4 else homes.random_text(survey.fields.entry(f), rng) for f in fields}
            try:
                changed = survey.with_changes(changes)
            except SurveyError:
                continue
            kept = quick.look(changed, homes.base(), free=changes)
            frame.forget()
            assert quick.look(changed, homes.base(), free=changes) == kept, (name, changes)
            frame.anchor(survey, homes.base())


def test_what_is_kept_agrees_with_all_the_stages() -> None:
    """Fates of changed surveys against `advise`, which keeps nothing: verdicts, findings and what each rests on."""
    rng, survey = random.Random(8), homes.survey(homes.DEMO)
    frame.anchor(survey, homes.base())
    for _ in range(6):
        fields = rng.sample(sorted(homes.free_fields(survey)), 3)
        changes = {f: homes.random_text(survey.fields.entry(f), rng) for f in fields}
        try:
            changed = survey.with_changes(changes)
        except SurveyError:
            continue
        whole = homes.quick(changed)
        for s in quick.look(changed, homes.base()):
            judged = whole[s.id]
            assert s.fate.possible == judged.possible and tuple(r for r, _ in s.fate.works) == judged.works
            assert {(f.rule, f.certain, f.about) for f in s.fate.findings} == {
                (f.rule, f.certain, f.about) for f in judged.findings if homes.base().rules[f.rule].stratum != "questions"}
            assert all(s.rests[f.key] == whole.book[f.key].rests_on for f in s.fate.findings)
