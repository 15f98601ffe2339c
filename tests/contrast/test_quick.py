"""The quick way agrees with the stages of `advise`, and its bounds hold for whatever the free answers turn out to be."""

from __future__ import annotations

import random

import pytest

from advisor.contrast import quick
from advisor.contrast.unknowns import unknown_fields
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
