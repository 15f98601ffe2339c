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
PAIRED_FROM, PAIRED = 6000, 60
POINTS_OF = 40  # pairs of one home whose every point is judged
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


def test_the_nearest_pair_of_readings() -> None:
    """The search looks at many readings at once; here each pair is looked at by itself, and each point that is left."""
    rng, tried, left, wrong = random.Random(17), [], 0, []
    for seed in range(PAIRED_FROM, PAIRED_FROM + PAIRED):
        advice = homes.quick(corpus.survey(seed))
        said = pairs(advice)
        mine = sum(said.nearest.steps) if said.nearest else None
        if not said.covered or (mine is None and seed % 10):
            continue
        steps, open_pairs = flipping.nearest_by_hand(advice, POINTS_OF, rng)
        tried, left = [*tried, mine], left + open_pairs
        if (steps or 99) < (mine or 99) or (steps != mine and open_pairs <= POINTS_OF):
            wrong.append(f"seed {seed}: said {mine}, one by one {steps} of {open_pairs} pairs")
    assert not wrong, wrong
    found = sum(n is not None for n in tried)
    assert found > 3 and len(tried) > found
    record("nearest pair of readings", f"{len(tried)} invented homes, {found} with a pair within the window; each pair "
           f"looked at alone leaves {left}, every point of at most {POINTS_OF} a home judged: none of fewer steps")


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
