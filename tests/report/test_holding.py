"""How far the advice holds: each limit in letter and report is where the advice changes, just inside it does not."""

from __future__ import annotations

import re

import pytest

from advisor.contrast import quick
from advisor.contrast.flips import moved
from advisor.contrast.near import WINDOW, near
from advisor.report.holding import TITLE
from advisor.report.letter import letter
from advisor.report.lint import lint
from advisor.report.technical import technical
from tests import homes

DECIDED = ["flat_no_gas", "semi_weak_mains"]  # the proof of flips tries every home


def texts(document) -> str:
    return "\n".join(s.text for b in document.blocks for i in getattr(b, "items", ()) for s in i)


@pytest.mark.parametrize("name", DECIDED)
def test_limits_are_exact_and_stand_in_both_documents(name: str) -> None:
    advice = homes.advice(name)
    found = near(advice)
    assert found.fields
    for flip in found.fields:
        entry, now = advice.survey.fields.entry(flip.field), advice.survey.value(flip.field)
        for edge, start, sign in ((flip.below, now.lo, -1), (flip.above, now.hi, 1)):
            if edge is not None:
                assert 1 <= edge.steps <= WINDOW
                within = moved(entry, start, sign * (edge.steps - 1))
                tried = [quick.recommended(advice.survey.with_changes({flip.field: t}), advice.rulebase)
                         for t in (edge.at, homes.text_of(entry.unit, within))]
                assert tried[0] == edge.to != advice.recommended == tried[1], flip.field
    for make in (letter, technical):
        document = make(advice, found)
        assert lint(document, advice) == []
        assert TITLE in [getattr(b, "text", "") for b in document.blocks]
    assert re.search(r"(less|more|fewer) than [\d.]+.* \(now [\d.]+", texts(letter(advice, found)))


def test_the_flat_of_one_person_in_figures() -> None:
    """150 litres at 60 °C serve one shower and one bath in the busiest hour; a second bath is beyond it."""
    assert "The baths in the busiest hour: fewer than 2 (now 0)." in texts(letter(
        homes.advice("flat_no_gas"), near(homes.advice("flat_no_gas"))))


def test_a_wrong_limit_is_refused() -> None:
    """The claim lint judges the survey again with the limit: one step inside it is no limit."""
    advice = homes.advice("flat_no_gas")
    from advisor.report.known import _edge

    assert _edge(advice, "household.busy_baths=2") == ["2"]
    assert _edge(advice, "household.busy_baths=1") == []
