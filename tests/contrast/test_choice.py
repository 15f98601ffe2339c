"""A choice of one's own: never without a reason; both are printed, and the reason is marked as opinion."""

from __future__ import annotations

import pytest

from advisor.report.choosing import choice_document
from advisor.report.lint import lint
from advisor.report.plain import printed
from tests import homes


def test_both_are_printed_and_the_reason_is_an_opinion() -> None:
    advice = homes.advice(homes.DEMO)
    combi = next(j for j in advice.families() if j.arrangement.family == "combination-boiler")
    document = choice_document(advice, combi, "The owner lets the house next year and wants 2 showers only rarely.")
    assert lint(document, advice) == []
    text = " ".join(printed(document, advice).split())
    assert advice[advice.recommended].arrangement.title in text and combi.arrangement.title in text
    assert "Opinion: The owner lets the house next year" in text and "not a conclusion of the rules" in text
    assert "12.3 l/min" in text, "what the rules hold against it stands beside it"


@pytest.mark.parametrize("reason", ["", "   ", "x" * 601])
def test_without_a_reason_there_is_no_choice(reason: str) -> None:
    advice = homes.advice(homes.DEMO)
    with pytest.raises(ValueError, match="Allowed"):
        choice_document(advice, advice.judged[1], reason)
