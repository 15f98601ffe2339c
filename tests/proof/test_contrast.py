"""Long proofs of the questions about other arrangements: unlock, ask, flips."""

from __future__ import annotations

import random

import pytest

from advisor.contrast.flips import flips
from advisor.contrast.near import pairs
from advisor.contrast.unlock import unlock
from advisor.report.flipping import flips_document
from advisor.report.lint import lint
from tests import corpus, homes
from tests.contrast import test_ask as asking
from tests.contrast import test_flips as flipping
from tests.contrast import test_rival as rivals
from tests.contrast import test_unlock as against
from tests.proof.table import record

pytestmark = pytest.mark.proof
HOMES = 100
QUOTED = 12  # homes whose quotes are made up
ASKED = 15  # each takes up to a quarter of a minute
DECIDED = [n for n in homes.SURVEYS if n != homes.EMPTY]
LARGE = ("large_family_house", homes.DEMO)  # fewer steps are judged again there


def test_unlock_equals_brute_force() -> None:
    wrong, arrangements, repairs = [], 0, 0
    for seed in range(2000, 2000 + HOMES):
        advice = homes.quick(corpus.survey(seed))
        for i in against.ruled_out(advice, 3):
            answer = unlock(advice, i)
            arrangements += 1
            repairs += len(answer.repairs)
            wrong += [f"seed {seed}: {f}" for f in against.faults(advice, answer)]
    assert not wrong, wrong[:5]
    record("unlock against brute force", f"{HOMES} invented homes, {arrangements} ruled-out layouts, {repairs} minimal "
           "repairs of up to three: the same sets, no part of one enough, no fixed field touched")


def test_what_need_not_be_asked_changes_nothing() -> None:
    rng, wrong, homes_tried, each = random.Random(11), [], 0, 25
    for seed in range(3000, 3000 + ASKED):
        homes_tried += 1
        wrong += [f"seed {seed}: {f}" for f in asking.unlisted_matter(homes.quick(corpus.survey(seed)), each, rng)]
    assert not wrong, wrong[:5]
    record("ask against completions", f"{homes_tried} invented homes, {each} sets of answers to the listed questions each, "
           "completed in two ways: the same recommendation")


@pytest.mark.parametrize("name", DECIDED)
def test_flips_against_every_step(name: str) -> None:
    """Every shipped home: what is printed passes the check of its sentences, and each edge is judged again."""
    advice, rng = homes.advice(name), random.Random(13)
    answer, most = flips(advice), 10 if name in LARGE else 40
    document = flips_document(advice, answer, pairs(advice))
    assert lint(document, advice) == []
    wrong = [f for flip in answer.fields for f in flipping.faults(advice, flip, most)]
    still = [f for f in answer.fields if f.proved and not f.turns and not f.field.startswith("wishes.")]
    wrong += [f for flip in still for f in flipping.stands_anyway(advice, flip, rng, 8)]
    assert not wrong, wrong[:5]
    unproved = sum(not f.proved for f in answer.fields)
    record(f"flips of {name}", f"{len(answer.fields)} answers, {sum(f.turns for f in answer.fields)} can change the advice, "
           f"each edge judged again with the steps before it; {len(still)} proved not to, tried at 8 values each; "
           f"{unproved} not proved")


def test_conditions_of_generated_quotes(tmp_path) -> None:
    """Quotes for every kind of layout of invented homes: the stated conditions make the engine choose it."""
    found = {}
    for seed in range(5000, 5000 + QUOTED):
        advice = homes.quick(corpus.survey(seed))
        for family in [j.arrangement.family for j in advice.families()]:
            found[seed, family] = rivals.conditions_hold(advice, family, tmp_path)
    stated = [holds for holds in found.values() if holds is not None]
    assert not [quote for quote, holds in found.items() if holds is False] and len(stated) > QUOTED
    record("conditions of generated quotes", f"{QUOTED} invented homes, {len(found)} quotes, {len(stated)} with "
           "conditions: under each the engine recommends the quoted kind of layout")
