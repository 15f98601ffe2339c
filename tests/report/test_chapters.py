"""Chapters: sections found, voices told apart, braces filled from the right arrangement."""

from __future__ import annotations

from advisor.report import chapters
from advisor.report.lint import fixed_faults
from advisor.report.say import GAP, Teller
from tests.report import small

NB = "\u00a0"


def test_sections_of_a_chapter(chapter) -> None:
    found = chapters.read()
    assert set(found) == {"must-serve-at-once", "scald-at-the-bath"}
    section = found["must-serve-at-once"]
    assert section.title == "The outlets that must work together cannot"
    assert section.why == "A promise broken."
    assert section.rival == "" and section.chapter == "together"


def test_two_voices_on_neighbouring_lines_are_two_texts(chapter) -> None:
    section = chapters.read()["scald-at-the-bath"]
    assert section.finding == "The store holds {space.litres_l}."
    assert section.householder.startswith("Water from a tank")


def spoken(advice, nth: int, voice: str) -> list[str]:
    judged = advice.judged[nth]
    return [c.text for c in chapters.speak(Teller(advice), judged.findings[0], judged, voice)]


def test_braces_are_filled_for_the_arrangement_spoken_of(chapter) -> None:
    advice = small.advice()
    # hand sum: 18.0 - 12.28 = 5.72
    assert spoken(advice, 1, "finding") == [
        f"Wanted are 18.0{NB}l/min; this gives 12.3{NB}l/min, 5.7{NB}l/min short.", "A second one."]
    assert spoken(advice, 0, "finding") == [f"The store holds 180{NB}l."]


def test_values_of_one_sentence_are_kept_apart(chapter) -> None:
    """17.96 l/min against 18.0 l/min may not both print 18.0."""
    assert spoken(small.advice(combi_flow=17.96), 1, "householder")[0] == (
        f"You want 18.00{NB}l/min and would get 17.96{NB}l/min.")


def test_each_sentence_is_a_claim_on_finding_rule_and_premises(chapter) -> None:
    advice = small.advice()
    judged = advice.judged[1]
    claim = chapters.speak(Teller(advice), judged.findings[0], judged, "householder")[1]
    assert claim.text == "Taking turns would do."
    assert claim.ids[0] == "must-serve-at-once"
    assert advice.book[judged.findings[0].key].id in claim.ids
    assert set(claim.ids) >= {advice.book[k].id for k in judged.findings[0].because}


def test_a_rule_without_a_chapter_speaks_by_its_title(chapter) -> None:
    advice = small.advice()
    judged = advice.judged[0]
    alarm = next(f for f in judged.findings if f.rule == "alarm-with-the-boiler")
    assert [c.text for c in chapters.speak(Teller(advice), alarm, judged, "householder")] == [
        "Fit an alarm in the boiler's room."]


def test_sentences_are_cut_before_they_are_filled() -> None:
    assert chapters.split("One is {a}. Two, e.g. this, is {b}! {c} is three.") == [
        "One is {a}.", "Two, e.g. this, is {b}!", "{c} is three."]


def test_shipped_chapters_type_no_figure_and_praise_nobody() -> None:
    """Whatever a chapter says of a rule may come into a report, where every figure must be a fact's value."""
    wrong = [(s.rule, fault) for s in chapters.read().values() for text in (s.finding, s.why, s.householder, s.rival)
             for fault in fixed_faults(GAP.sub("", text))]
    assert not wrong
