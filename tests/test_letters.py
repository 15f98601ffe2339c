"""The letters of the shipped homes are reviewed texts: a change shows as a difference to justify in the commit.

`pytest tests/test_letters.py --rewrite-letters` writes them anew; read every line of the difference.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.report.claims import Items, words
from advisor.report.letter import letter
from advisor.report.lint import lint, lint_html, too_long
from advisor.report.markdown import markdown
from advisor.report.technical import technical
from advisor.survey.generator import random_survey
from tests import homes

ADVICE = Path(__file__).resolve().parent / "advice"


def text_of(name: str) -> str:
    advice = homes.advice(name)
    return markdown(letter(advice), {f.key: f.id for f in advice.book})


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_letter_is_the_reviewed_one(name: str, request: pytest.FixtureRequest) -> None:
    path = ADVICE / name / "letter.md"
    text = text_of(name)
    if request.config.getoption("--rewrite-letters"):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    assert path.exists(), f"no reviewed letter for {name}: run pytest {__file__} --rewrite-letters and read it"
    assert text == path.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_letter_keeps_its_length(name: str) -> None:
    document = letter(homes.advice(name))
    assert words(document) <= 1000
    if homes.advice(name).recommended:
        assert 450 <= words(document) <= 800, words(document)
    assert not too_long(document)


@pytest.mark.parametrize("name", homes.SURVEYS)
@pytest.mark.parametrize("make", [letter, technical])
def test_every_sentence_stands_on_something(name: str, make) -> None:
    from advisor.report.html import html

    advice = homes.advice(name)
    document = make(advice)
    assert lint(document, advice) == []
    page = html(document, {f.key: f.id for f in advice.book}, make.__name__)
    assert lint_html(page, document, advice) == []


def test_a_reader_of_the_letter_alone_can_say_what_why_and_when_not() -> None:
    """Recommended; the fact that beats the cheaper layout with both numbers; what would make the cheaper one right."""
    text = text_of(homes.DEMO).replace("\u00a0", " ")
    recommended = homes.advice(homes.DEMO)[homes.advice(homes.DEMO).recommended].arrangement.title
    assert recommended in text
    # hand sum: 60 x 30 kW / (4.187 kJ/(kg K) x 35 K) = 12.28 l/min; two showers of 9 l/min are 18
    assert "12.3 l/min" in text and "18.0 l/min" in text
    right = text.split("## When the cheaper layout would be right")[1].split("##")[0]
    assert "12.3 l/min" in right and "18.0 l/min" in right


def _spoken(advice, document) -> set[str]:
    return {i for b in document.blocks if isinstance(b, Items) for item in b.items for s in item
            for i in getattr(s, "ids", ())}


@pytest.mark.parametrize("seed", range(1000, 1024))
def test_an_invented_homes_letter_is_short_and_cuts_no_safety_line(seed: int) -> None:
    """Two sides of A4 hold about 800 words; what guards against harm is never left out for it."""
    advice = homes.quick(random_survey(seed, homes.base().vocabulary))
    document = letter(advice)
    assert words(document) <= 800, words(document)
    if advice.recommended:
        first = advice[advice.recommended]
        guards = {f.rule for f in first.findings
                  if f.certain and f.effect in ("requires", "caution") and homes.base().rules[f.rule].safety}
        assert guards <= _spoken(advice, document)


def _guards_missing(advice) -> tuple[list[str], str]:
    """Safety cautions the letter leaves out, and the letter; each must then stand in the technical report."""
    document = letter(advice)
    first = advice[advice.recommended]
    spoken = _spoken(advice, document)
    held = [f for f in first.findings if f.effect == "caution" and advice.rulebase.rules[f.rule].safety]
    assert {f.rule for f in held if f.certain} <= spoken
    return [f.rule for f in held if f.rule not in spoken], markdown(document, {f.key: f.id for f in advice.book})


@pytest.mark.parametrize("name", [n for n in homes.SURVEYS if n != "nearly_empty"])
def test_no_danger_is_missing_from_a_shipped_homes_letter(name: str) -> None:
    missing, _ = _guards_missing(homes.advice(name))
    assert missing == []


def test_no_danger_is_missing_from_an_invented_homes_letter_or_it_says_where_it_stands() -> None:
    """Thirty homes with something to recommend: the certain ones always; one that only may be, at least by its place."""
    told, pointed = 0, 0
    for advice in _recommending(30):
        missing, text = _guards_missing(advice)
        told += any(f.effect == "caution" and advice.rulebase.rules[f.rule].safety
                    for f in advice[advice.recommended].findings)
        if missing:
            pointed += 1
            assert 'More under "Cautions" in the technical report.' in text
            report = technical(advice)
            assert any(getattr(b, "text", "") == "Cautions" for b in report.blocks)
            assert set(missing) <= _spoken(advice, report)
    assert told > 10 and pointed <= 2


def _recommending(wanted: int):
    found = 0
    for seed in range(4000, 4400):
        advice = homes.quick(random_survey(seed, homes.base().vocabulary))
        if advice.recommended:
            found += 1
            yield advice
        if found == wanted:
            return
    raise AssertionError(f"only {found} invented homes have something to recommend")


def test_what_neighbours_use_too_is_said_before_conveniences() -> None:
    """The flat shares its riser and its service pipe; both cost its shower flow, and no layout mends that."""
    text = text_of("flat_no_gas")
    assert "When next door runs a bath" in text and "pipes of the whole block" in text
