"""Why an arrangement stands, or why it does not: each independent reason, with what it rests on."""

from __future__ import annotations

from dataclasses import dataclass

from advisor import verdicts
from advisor.facts import Fact
from advisor.records import Advice, Finding, Judged

DECISIVE = {"ruled_out": ("rules_out",), "open": ("rules_out", "needs_work", "asks"),
            "suitable_after_works": ("needs_work",), "suitable": ()}
FEW = 5


@dataclass(frozen=True, slots=True)
class Reason:
    """One finding that bears on the verdict."""

    rule: str
    effect: str
    certain: bool
    keys: tuple[str, ...]  # the facts it rests on, nearest first
    key: str


@dataclass(frozen=True, slots=True)
class Why:
    """The answer: the reasons shown, and how many were left out."""

    arrangement: str
    verdict: str
    reasons: tuple[Reason, ...]
    hidden: int


def why(advice: Advice, arrangement: str, full: bool = False) -> Why:
    """The decisive findings first: all that rule it out, else at most five unless `full`; KeyError if unknown."""
    judged = advice[arrangement]
    decisive = [f for f in judged.findings if f.effect in DECISIVE[judged.verdict] and _bears(advice, judged, f)]
    others = [f for f in judged.findings if f not in decisive]
    if full:
        shown = [*decisive, *others]
    else:
        supporting = [f for f in others if f.effect in ("favours", "counts_against", "requires")]
        shown = decisive if judged.verdict == "ruled_out" else (decisive or supporting)[:FEW]
    reasons = tuple(Reason(f.rule, f.effect, f.certain, f.because, f.key) for f in shown)
    return Why(arrangement, judged.verdict, reasons, len(judged.findings) - len(shown))


def _bears(advice: Advice, judged: Judged, finding: Finding) -> bool:
    """A merely possible finding makes no certain verdict; a question decides only while the verdict waits for it."""
    if finding.effect == "asks":
        return verdicts.unanswered(advice.book, advice.rulebase, finding, judged.arrangement)
    return finding.certain if judged.verdict in ("ruled_out", "suitable_after_works") else True


def tree(advice: Advice, key: str, depth: int = 12) -> list[tuple[int, Fact]]:
    """The derivation below a fact, each fact once, as (indent, fact) in reading order."""
    shown: set[str] = set()
    lines: list[tuple[int, Fact]] = []

    def walk(at: str, indent: int) -> None:
        fact = advice.book[at]
        lines.append((indent, fact))
        if at in shown or indent >= depth:
            return
        shown.add(at)
        for below in fact.because:
            walk(below, indent + 1)

    walk(key, 0)
    return lines
