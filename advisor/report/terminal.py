"""What `advisor recommend` prints: short lines for an 80-column terminal or a phone over SSH."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from advisor.records import Advice, Finding, Judged
from advisor.report import chapters, picks
from advisor.report.say import Teller
from advisor.report.wording import NBSP, clean

WIDTH = 76
SPOKEN = {"suitable": "suitable", "suitable_after_works": "suitable after works", "ruled_out": "ruled out",
          "open": "open"}
MOST_QUESTIONS = 8
MOST_CAUTIONS = 6


def summary(advice: Advice) -> str:
    """Recommended, runner-up, a line a family, what to confirm, cautions; nothing longer than a screen or two."""
    return "\n".join(_lines(advice)).replace(NBSP, " ") + "\n"


def _lines(advice: Advice) -> Iterator[str]:
    teller = Teller(advice)
    first = picks.recommended(advice)
    if first is None:
        yield from _wrap("Nothing can be recommended yet: every layout still waits for an answer or is ruled out.")
        if advice.if_typical:
            title = advice[advice.if_typical].arrangement.title
            yield from _wrap(f"If the missing answers were typical (an example, not a verdict): {clean(title)}.")
    else:
        yield "RECOMMENDED"
        yield from _wrap(f"{clean(first.arrangement.title)} ({fate_words(first)})", "  ")
        for finding in _decisive(first):
            yield from _wrap(finding_text(teller, finding, first), "  - ")
        second = picks.runner_up(advice, first)
        if second is not None:
            yield ""
            yield "RUNNER-UP"
            yield from _wrap(f"{clean(second.arrangement.title)} ({fate_words(second)})", "  ")
            yield from _wrap(reason(teller, second), "  - ")
    yield ""
    yield "EVERY KIND OF LAYOUT"
    for judged in advice.families():
        yield from _wrap(f"{judged.rank}. {clean(judged.arrangement.title)}: {fate_words(judged)}", "  ")
        yield from _wrap(reason(teller, judged), "       ")
    yield from _questions(advice)
    yield from _cautions(teller, first)
    yield ""
    yield from _wrap("Local codes and the maker's instructions decide. Gas, unvented hot water and wiring are for "
                     "registered and qualified people.")
    run = advice.run
    yield from _wrap(f"Checked: {'yes' if run['checked'] else 'no'}. Engine: {run['engine']}"
                     + (", fell back" if run["fell_back"] else "") + ".")


def fate_words(judged: Judged) -> str:
    """The verdict in words; an open one says between what."""
    if judged.verdict != "open":
        return SPOKEN[judged.verdict]
    if "ruled_out" not in judged.possible:
        return "suitable; works to be confirmed"
    return "open: not decided until more is known"


def reason(teller: Teller, judged: Judged) -> str:
    """The deciding reason of one arrangement, in a sentence."""
    for effect in ("rules_out", "needs_work", "asks"):
        for finding in judged.findings:
            if finding.effect == effect and (finding.certain or judged.verdict == "open"):
                waits = "" if finding.certain else "May be: "
                return waits + finding_text(teller, finding, judged)
    comparison = next((c for c in teller.advice.comparison if c.second == judged.id), None)
    if comparison is not None:
        from advisor.report.say import criterion_title

        return f"Stands after the layout above on: {criterion_title(teller.advice, comparison.criterion)}."
    return "Nothing found against it."


def finding_text(teller: Teller, finding: Finding, judged: Judged) -> str:
    """A finding as its chapter says it to an installer, filled with this home's figures."""
    return " ".join(claim.text for claim in chapters.speak(teller, finding, judged, "finding", 2))


def _decisive(judged: Judged) -> list[Finding]:
    """What speaks for and against the recommended one, most telling first."""
    order = {"needs_work": 0, "favours": 1, "counts_against": 2}
    return sorted((f for f in judged.findings if f.effect in order and f.certain), key=lambda f: order[f.effect])[:5]


def _questions(advice: Advice) -> Iterator[str]:
    if not advice.questions:
        return
    yield ""
    yield "TO CONFIRM BEFORE QUOTING"
    for question in advice.questions[:MOST_QUESTIONS]:
        decides = f" (decides {len(question.decides)} layouts)" if question.decides else ""
        yield from _wrap(f"{clean(question.ask)} [{question.field}]{decides}", "  - ")
    if len(advice.questions) > MOST_QUESTIONS:
        yield f"  ... and {len(advice.questions) - MOST_QUESTIONS} more in the technical report."


def _cautions(teller: Teller, first: Judged | None) -> Iterator[str]:
    if first is None:
        return
    found = [f for f in first.findings if f.effect == "caution" and f.certain]
    if not found:
        return
    yield ""
    yield "CAUTIONS"
    for finding in found[:MOST_CAUTIONS]:
        yield from _wrap(finding_text(teller, finding, first), "  - ")
    if len(found) > MOST_CAUTIONS:
        yield f"  ... and {len(found) - MOST_CAUTIONS} more in the letter."


def _wrap(text: str, start: str = "") -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=start, subsequent_indent=" " * len(start), break_long_words=True)
