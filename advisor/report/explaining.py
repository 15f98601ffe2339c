"""The answers of `why`, `whatif` and `trace`, as text and as the contract's JSON."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from advisor.contrast.enough import enough
from advisor.contrast.whatif import Change
from advisor.contrast.why import FEW, Reason, Why, tree
from advisor.facts import Fact
from advisor.records import Advice, Judged
from advisor.report import letter_parts, rework
from advisor.report.claims import Claim
from advisor.report.say import Teller, criterion_title
from advisor.report.terminal import fate_words, finding_text
from advisor.report.wording import NBSP, clean, how_known, show_fact

WIDTH = 78
EFFECTS = {"rules_out": "rules it out", "needs_work": "needs work first", "asks": "waits for an answer",
           "caution": "caution", "requires": "comes with it", "favours": "speaks for it",
           "counts_against": "counts against it"}


def why_json(advice: Advice, answer: Why) -> dict[str, Any]:
    """The contract's JSON of `why`."""
    teller, judged = Teller(advice), advice[answer.arrangement]
    return {"arrangement": answer.arrangement, "verdict": answer.verdict, "hidden": answer.hidden, "reasons": [
        {"rule": r.rule, "effect": r.effect, "certain": r.certain, "text": _text(teller, answer, r),
         "facts": [advice.book[k].id for k in r.keys if k in advice.book],
         "independent": _forbids(r), "enough": list(_enough(advice, answer, r))} for r in answer.reasons],
        "independent_reasons": sum(_forbids(r) for r in answer.reasons),
        "decisive": [{"text": c.text, "facts": list(c.ids)} for c in _decisive(teller, judged)],
        "decided_by": list(judged.decided_by)}


def _forbids(reason: Reason) -> bool:
    """Whether this reason by itself rules the layout out."""
    return reason.effect == "rules_out" and reason.certain


def _enough(advice: Advice, answer: Why, reason: Reason) -> tuple[str, ...]:
    return enough(advice, answer.arrangement, reason.rule) if _forbids(reason) else ()


def _decisive(teller: Teller, judged: Judged) -> list[Claim]:
    """Why a layout that may be fitted may: the wishes it meets and the checks it passes, both figures each; few."""
    if judged.verdict not in ("suitable", "suitable_after_works"):
        return []
    return [s for item in letter_parts.reasons(teller, judged, FEW) for s in item if isinstance(s, Claim)]


def why_text(advice: Advice, answer: Why, with_tree: bool = True) -> str:
    """The reasons in plain lines; each with the facts below it unless asked to be short."""
    return _join(_why_lines(advice, answer, with_tree))


def _why_lines(advice: Advice, answer: Why, with_tree: bool) -> Iterator[str]:
    teller, judged = Teller(advice), advice[answer.arrangement]
    yield from _wrap(f"{clean(judged.arrangement.title)}: {fate_words(judged)}.")
    against = [r for r in answer.reasons if _forbids(r)]
    if against:
        yield (f"Any one of these {len(against)} reasons rules it out:" if len(against) > 1
               else "One reason rules it out:")
    decisive = _decisive(teller, judged)
    if decisive:
        yield "What decides for it, and nothing certainly against it:"
        for claim in decisive:
            yield from _wrap(claim.text, "- ")
    for reason in answer.reasons:
        doubt = "" if reason.certain else ", if it turns out so"
        yield ""
        yield from _wrap(f"{_text(teller, answer, reason)} ({EFFECTS[reason.effect]}{doubt})", "* ")
        yield from _wrap(f"{reason.rule}: {advice.rulebase.rules[reason.rule].source.cite()}", "  ")
        if fields := _enough(advice, answer, reason):
            yield from _wrap(f"Enough by itself, whatever else is answered: {', '.join(fields)}.", "  ")
        for indent, fact in tree(advice, reason.key)[1:] if with_tree else ():
            yield from _fact_line(advice, fact, indent)
    if judged.decided_by:
        yield ""
        yield from _wrap(f"These answers decide it: {', '.join(judged.decided_by)}.")
    if answer.hidden:
        yield ""
        yield f"{answer.hidden} more findings are not shown (--full shows them)."


def _text(teller: Teller, answer: Why, reason: Reason) -> str:
    judged = teller.advice[answer.arrangement]
    finding = next(f for f in judged.findings if f.key == reason.key)
    return finding_text(teller, finding, judged)


def whatif_text(before: Advice, after: Advice, moved: tuple[Change, ...]) -> str:
    """Whether the recommendation moved, then every verdict that did."""
    return _join(_whatif_lines(before, after, moved))


def _whatif_lines(before: Advice, after: Advice, moved: tuple[Change, ...]) -> Iterator[str]:
    first, second = (clean(a[a.recommended].arrangement.title) if a.recommended else "nothing"
                     for a in (before, after))
    if first == second:
        yield from _wrap(f"Still recommended: {first}.")
    else:
        yield from _wrap(f"Recommended before: {first}.")
        yield from _wrap(f"Recommended now: {second}.")
        yield from _decided(after)
    yield f"{len(moved)} verdicts changed." if len(moved) != 1 else "1 verdict changed."
    for change in moved[:12]:
        yield from _wrap(f"{change.arrangement}: {_spoken(change.before)} -> {_spoken(change.after)}", "  ")
        if change.because:
            yield from _wrap(f"because of {', '.join(change.because[:4])}", "      ")
    if len(moved) > 12:
        yield f"  ... and {len(moved) - 12} more (--json lists them)."


def _decided(after: Advice) -> Iterator[str]:
    for comparison in after.comparison[:1]:
        yield from _wrap(f"It stands before {comparison.second} on: {criterion_title(after, comparison.criterion)}.")


def _spoken(verdict: str) -> str:
    return verdict.replace("_", " ")


def trace_text(advice: Advice, token: str) -> str:
    """A figure with everything below it, to the survey; up to six facts of one name are shown. "" if there is none."""
    facts = [f for f in advice.book if token in (f.id, f.key, f.name)]
    return _join(line for fact in facts[:6] for line in _traced(advice, fact))


def _traced(advice: Advice, fact: Fact) -> Iterator[str]:
    """A figure, what it rests on, and the call that works it again, unwrapped so that it can be copied."""
    for at, below in tree(advice, fact.key):
        yield from _fact_line(advice, below, at)
    yield from rework.lines(advice, fact)


def _fact_line(advice: Advice, fact: Fact, indent: int) -> Iterator[str]:
    entry = advice.rulebase.vocabulary.get(fact.name)
    about = "" if fact.entity == "site" else f" of {fact.entity}"
    mark = "" if fact.certain else " (possible)"
    head = f"{fact.id} {fact.name}{about} = {show_fact(fact, entry)}{mark}  <- {_made(advice, fact)}"
    yield from _wrap(head, "  " * indent)
    if fact.made_by.startswith("calc."):
        from advisor.calc import REGISTRY
        from advisor.calc.public_formulas import LONGEST, printed

        formula = REGISTRY[fact.made_by.removeprefix("calc.")]
        said = formula.text if len(formula.text) <= LONGEST else " ".join(printed(formula)) or formula.text
        yield from _wrap(f"{said}; {formula.source.cite()}", "  " * indent + "    ")
    elif fact.made_by == "threshold" and fact.source is not None:
        yield from _wrap(fact.source.cite(), "  " * indent + "    ")


def _made(advice: Advice, fact: Fact) -> str:
    if fact.made_by == "survey":
        answer = advice.survey.answers.get(fact.note)
        written = f", written {answer.read!r}" if answer else ""
        return f"survey {fact.note}, {how_known(fact.how)}{written}"
    return fact.made_by


def _wrap(text: str, start: str = "") -> list[str]:
    return textwrap.wrap(text, max(WIDTH, len(start) + 30), initial_indent=start,
                         subsequent_indent=" " * (len(start) + 2)) or [start]


def _join(lines: Iterator[str]) -> str:
    text = "\n".join(lines).replace(NBSP, " ")
    return text + "\n" if text else ""

