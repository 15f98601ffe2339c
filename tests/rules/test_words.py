"""What the householder reads: easy by Flesch's measure, in plain words, without praise."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
import textstat

from advisor.report import chapters
from advisor.upkeep import words
from tests.rules import rulegraph

SECTIONS = chapters.read()
EASY = 60.0  # "plain English" on Flesch's scale (R. Flesch, A New Readability Yardstick, 1948)
BRACES = re.compile(r"\{[^{}]+\}")


def ease(text: str) -> float:
    """Flesch reading ease, a figure in braces counted as one short word."""
    return textstat.flesch_reading_ease(BRACES.sub("ten", text))


@pytest.mark.parametrize(("text", "score"), [
    # 206.835 - 1.015 x words a sentence - 84.6 x syllables a word, syllables counted by hand:
    ("The cat sat on the mat.", 116.145),  # 6 words, 6 syllables: 206.835 - 6.09 - 84.6
    ("The pipe is thin. We change it.", 118.68),  # 7 words in 2 sentences, 7 syllables: 206.835 - 3.5525 - 84.6
    ("Water runs slowly here.", 75.875),  # 4 words, 6 syllables: 206.835 - 4.06 - 126.9
])
def test_the_measure_is_the_published_one(text: str, score: float) -> None:
    assert ease(text) == pytest.approx(score, abs=0.01)


def test_every_householder_text_is_easy() -> None:
    hard = {rule: (round(found, 1), SECTIONS[rule].householder) for rule in rulegraph.written()
            if (found := ease(SECTIONS[rule].householder)) < EASY}
    assert not hard


def test_every_section_keeps_to_its_words() -> None:
    assert not {s.rule: found for s in SECTIONS.values() if (found := list(words.faults(s)))}


@pytest.mark.parametrize(("change", "said"), [
    ({"householder": "Your condensate freezes."}, "says 'condensate'. Say: the boiler's waste water."),
    ({"why": "This is the ideal choice."}, "'ideal', which is praise"),
    ({"rival": "Theirs is a luxuriously large tank, superbly made."}, "'superbly', which is praise"),
    ({"why": " ".join(["word"] * 26) + "."}, "a sentence of 26 words"),
])
def test_a_wrong_word_is_named(change: dict[str, str], said: str) -> None:
    assert any(said in fault for fault in words.faults(replace(SECTIONS["supply-rich"], **change)))
