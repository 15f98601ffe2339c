"""Why A rather than B: what is listed differs, what decides is the first that differs, and both are said in figures."""

from __future__ import annotations

import itertools

import pytest

from advisor.contrast.rather import looked_at, place, rather
from advisor.report.contrasting import rather_document, rather_json
from advisor.report.lint import lint
from advisor.report.plain import printed
from tests import homes

PAIRS = [(n, i) for n in homes.SURVEYS for i in (0, 3, 7)]


@pytest.mark.parametrize(("name", "start"), PAIRS)
def test_neighbours_and_far_pairs_hold_up_to_the_claim_lint(name: str, start: int) -> None:
    advice = homes.advice(name)
    families = advice.families()
    for a, b in ((families[start], families[start + 1]), (families[0], families[-1 - start])):
        answer = rather(advice, a.id, b.id)
        assert answer.before == min((a, b), key=lambda j: j.rank).id
        assert lint(rather_document(advice, answer), advice) == []
        assert max(map(len, printed(rather_document(advice, answer), advice).splitlines())) <= 80


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_exchanging_what_is_listed_reverses_the_order_and_nothing_else_does(name: str) -> None:
    advice = homes.advice(name)
    names = looked_at(advice)
    for a, b in itertools.combinations(advice.families()[:8], 2):
        answer = rather(advice, a.id, b.id)
        mine, theirs = place(advice, a), place(advice, b)
        listed = {d.criterion for d in answer.differs} | {"id"}
        for unlisted in set(names) - listed:
            at = names.index(unlisted)
            assert mine[at] == theirs[at]
        if answer.decided_on != "id":
            at = names.index(answer.decided_on)
            swapped = [list(mine), list(theirs)]
            swapped[0][at], swapped[1][at] = theirs[at], mine[at]
            assert (mine < theirs) != (swapped[0] < swapped[1])
        assert sum(d.decides for d in answer.differs) == (answer.decided_on != "id")


def test_the_demo_in_figures() -> None:
    """Hand sum: 24 kW heats 24 x 60 / (4.187 x 35) = 9.8 l/min where two showers of 9 want 18: 8.2 short."""
    advice = homes.advice(homes.DEMO)
    combi = next(j for j in advice.judged if j.arrangement.family == "combination-boiler" and j.arrangement.power_kw == 24)
    found = rather_json(advice, rather(advice, advice.recommended, combi.id))
    flows = next(d for d in found["differs"] if d["criterion"] == "outlets_at_once")
    assert "8.2\u00a0l/min short" in flows["second"]
    assert found["decided_on"] == "verdict" and "low_price" in found["second_is_better_on"]


def test_the_same_arrangement_twice_is_refused() -> None:
    advice = homes.advice(homes.DEMO)
    with pytest.raises(ValueError, match="two different"):
        rather(advice, advice.recommended, advice.recommended)
