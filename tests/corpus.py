"""What must hold of the advice on any survey at all; `faults` says where it does not."""

from __future__ import annotations

import traceback
from collections.abc import Iterator

from advisor import advise, reasoner, verifier
from advisor.certificate import certificate
from advisor.records import Advice, Judged
from advisor.report.html import html
from advisor.report.letter import letter
from advisor.report.lint import lint, lint_html
from advisor.report.technical import technical
from advisor.survey import Survey
from advisor.survey.generator import random_survey
from tests import homes

USUAL, KNOWN, EMPTY = 0.3, 0.0, 0.9


def survey(seed: int) -> Survey:
    """Two in five complete, one in five nearly empty, the rest as surveys usually are."""
    holes = (KNOWN, USUAL, KNOWN, USUAL, EMPTY)[seed % 5]
    return random_survey(seed, homes.base().survey_entries(), holes)


def faults(seed: int, pages: bool = True) -> list[str]:
    """Everything wrong with the advice on this survey; a crash is one fault with its traceback."""
    try:
        advice = advise.advise(survey(seed), homes.base())
        return [f"seed {seed}: {fault}" for fault in (*_checked(advice), *_other_engine(advice), *_fates(advice),
                                                      *_report(advice, pages))]
    except Exception:  # whatever it is, the others are still to be tried
        return [f"seed {seed}: {traceback.format_exc()}"]


def judged(seed: int, verified: bool, reports: bool) -> tuple[list[str], str]:
    """What is wrong with the judgment (and the reports made of it), and the kind of layout that comes first.

    Both engines run once and are compared fact by fact; the verifier, where asked, reads the certificate of one.
    """
    try:
        advice = advise.run(survey(seed), homes.base(), reasoner.matcher("auto"))
        refused = [f"the run was refused: {r}" for r in (verifier.verify(certificate(advice)).refusals if verified else ())]
        told = _report(advice, pages=True) if reports else ()
        found = [f"seed {seed}: {fault}" for fault in (*refused, *_other_engine(advice), *_fates(advice), *told)]
        return found, advice[advice.recommended].arrangement.family if advice.recommended else ""
    except Exception:
        return [f"seed {seed}: {traceback.format_exc()}"], ""


def _checked(advice: Advice) -> Iterator[str]:
    if not advice.run["checked"] or advice.run["fell_back"]:
        yield f"the run was refused: {dict(advice.run)}"


def _other_engine(advice: Advice) -> Iterator[str]:
    """The other engine's word on it: every fact, firing, fate and question; what is the same need not be verified
    twice."""
    other = advise.run(advice.survey, advice.rulebase, reasoner.matcher("plain"))
    for what in ("judged", "recommended", "comparison", "questions", "derivation", "canonical"):
        if getattr(advice, what) != getattr(other, what):
            yield f"the two engines differ in {what}"
    if list(advice.book) != list(other.book):
        yield "the two engines differ in the facts"


def _fates(advice: Advice) -> Iterator[str]:
    if [j.rank for j in advice.judged] != list(range(1, len(advice.judged) + 1)):
        yield "the ranks are not 1, 2, 3 ..."
    if {j.arrangement.family for j in advice.families()} != {n.family for n in homes.base().families.naming}:
        yield "a family is missing"
    for judged in advice.judged:
        if reason := _no_reason(judged):
            yield f"{judged.id}: {reason}"


def _no_reason(judged: Judged) -> str:
    """What is missing behind a fate, or ""."""
    out = [f for f in judged.findings if f.effect == "rules_out"]
    if not judged.possible or judged.verdict != (judged.possible[0] if len(judged.possible) == 1 else "open"):
        return f"verdict {judged.verdict}, possible {judged.possible}"
    if judged.verdict == "ruled_out":
        return "" if any(f.certain and f.because for f in out) else "ruled out by nothing"
    if judged.verdict == "suitable_after_works":
        return "" if judged.works else "works without a work"
    if judged.verdict == "open":
        return "" if judged.decided_by else "open, and nothing would decide it"
    return "suitable, yet something may rule it out" if out else ""


def _report(advice: Advice, pages: bool) -> Iterator[str]:
    ids = {f.key: f.id for f in advice.book}
    for name, document in (("letter", letter(advice)), ("technical", technical(advice))):
        yield from (f"{name}: {fault}" for fault in lint(document, advice))
        if pages:
            yield from (f"{name} page: {fault}" for fault in lint_html(html(document, ids, name), document, advice))
