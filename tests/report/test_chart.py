"""The chart of the busy hour: vectors, the same each time, with the householder's sentence, and a plain refusal."""

from __future__ import annotations

import builtins
import xml.etree.ElementTree as ET

import pytest

from advisor.report import busy, chart
from tests import homes

pytest.importorskip("matplotlib")


def drawn() -> str:
    advice = homes.quick(homes.survey(homes.DEMO))
    judged = [advice[i] for i in ("boiler-unvented-cylinder:scullery-180l-18kw", "combination-boiler:30kw")]
    return chart.svg(judged, busy.simulate(advice, judged))


def test_it_is_a_vector_drawing_with_the_sentences_in_it() -> None:
    text = drawn()
    words = " ".join("".join(e.itertext()) for e in ET.fromstring(text).iter() if e.tag.endswith("}text"))
    assert "<image" not in text
    for said in ("30 kW combination boiler, no cylinder", "gets 6.1 l/min of the 9.0 l/min wanted", "loft shower",
                 "Everyone has warm water", "minutes"):
        assert said in words


def test_the_same_run_draws_the_same_file() -> None:
    assert drawn() == drawn()


def test_a_layout_that_was_not_computed_still_says_so() -> None:
    advice = homes.quick(homes.survey(homes.EMPTY))
    text = chart.svg(advice.families()[:1], busy.simulate(advice, advice.families()[:1]))
    assert "could not be worked out yet" in text


def test_without_the_library_it_says_what_to_do(monkeypatch) -> None:
    real = builtins.__import__

    def missing(name, *rest, **more):
        if name.startswith("matplotlib"):
            raise ImportError(name)
        return real(name, *rest, **more)

    monkeypatch.setattr(builtins, "__import__", missing)
    with pytest.raises(chart.NoPlotter, match="extra `charts`"):
        chart.svg((), ())
