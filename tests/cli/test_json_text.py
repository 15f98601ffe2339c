"""The certificate as text: what a JSON reader makes of it is the document, and every fact has a line of its own."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace

import pytest

from advisor.certificate import as_text, certificate
from tests import homes


@pytest.mark.parametrize("name", [homes.DEMO, "nearly_empty"])
def test_the_text_is_the_document(name: str) -> None:
    document = certificate(homes.advice(name))
    text = as_text(document)
    assert json.loads(text) == json.loads(json.dumps(document))
    starts = Counter(line.split(": ", 1)[0] for line in text.splitlines())
    assert [fact for fact in document["facts"] if starts[f' "{fact}"'] != 1] == []


def test_odd_text_stays_itself() -> None:
    """Quotes, line ends and what is not ASCII; empty parts."""
    document = {"a": {"ké\n\"y": ["°C", None, True]}, "b": [], "c": {}, "d": 1.5, "e": [{"x": "\u2028"}]}
    assert json.loads(as_text(document)) == document


def test_a_certificate_asked_for_twice_is_the_same_and_a_changed_one_is_not() -> None:
    """Nobody's change at the top reaches the next; the way of the run is always the advice's own."""
    advice = homes.advice(homes.DEMO)
    first = certificate(advice)
    first.pop("run")
    assert certificate(advice)["run"] == dict(advice.run)
    assert certificate(replace(advice, run={"engine": "another"}))["run"] == {"engine": "another"}
    assert certificate(replace(advice, recommended=None))["recommended"] is None
    assert certificate(advice)["recommended"] == advice.recommended
