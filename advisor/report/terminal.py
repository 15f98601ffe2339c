"""What `advisor recommend` prints: short lines for an 80-column terminal or a phone over SSH."""

from __future__ import annotations

import itertools
import textwrap
from collections.abc import Iterator

from advisor.facts import exactly
from advisor.records import Advice, Finding, Judged
from advisor.report import chapters, others, picks, wording
from advisor.report.say import Teller, criterion_title
from advisor.report.wording import NBSP, clean
from advisor.verdicts import unanswered

WIDTH = 76
SPOKEN = {"suitable": "suitable", "suitable_after_works": "suitable after works", "ruled_out": "ruled out",
          "open": "open"}
NOTHING = exactly(0.0)
MOST_QUESTIONS = 8
MOST_CAUTIONS = 6
TELLING = ("outlet_flow_margin_l_min", "outlet_short_margin_min", "gas.drop_margin_mbar", "source.output_margin_kw")


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
        yield from _merits(teller, first)
        second = picks.runner_up(advice, first)
        if second is not None and second.verdict != "ruled_out":
            yield ""
            yield "RUNNER-UP"
            yield from _wrap(f"{clean(second.arrangement.title)} ({fate_words(second)})", "  ")
            yield from _wrap(_after(teller, first, second), "  - ")
    yield ""
    yield "EVERY OTHER KIND OF LAYOUT"
    for (heading, _), rows in others.compared(teller, first):
        yield f"  {heading}:"
        for row in rows:
            yield from _wrap(": ".join(cell.text for cell in row), "  - ")
    yield from _questions(advice)
    yield from _cautions(teller, first)
    yield ""
    yield from _wrap("Local codes and the maker's instructions decide. Gas, unvented hot water and wiring are for "
                     "registered and qualified people.")
    if house := advice.rulebase.house:
        yield from _wrap(f"With the rules of {clean(house.firm)}: {clean('; '.join(house.lines()))}.")
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
    advice = teller.advice
    for effect in ("rules_out", "needs_work", "asks"):
        for finding in judged.findings:
            if effect == "asks" and not unanswered(advice.book, advice.rulebase, finding, judged.arrangement):
                continue
            if finding.effect == effect and (finding.certain or judged.verdict == "open"):
                waits = "" if finding.certain else "May be: "
                return waits + finding_text(teller, finding, judged)
    comparison = next((c for c in advice.comparison if c.second == judged.id), None)
    if comparison is not None:
        return f"Stands after the layout above on: {criterion_title(advice, comparison.criterion)}."
    return "Nothing found that forbids it."


def _after(teller: Teller, first: Judged, second: Judged) -> str:
    """Why the runner-up is not first: what separates the two, or what is wrong with it where ours has less wrong."""
    if picks.rank_class(first) != picks.rank_class(second) or first.works != second.works:
        return reason(teller, second)
    criterion = picks.first_difference(teller.advice, first, second)
    if criterion == "id":
        return "Level with the layout above: the wishes stated do not separate them."
    return f"Stands after the layout above on: {criterion_title(teller.advice, criterion)}."


def finding_text(teller: Teller, finding: Finding, judged: Judged) -> str:
    """A finding as its chapter says it to an installer, filled with this home's figures."""
    return " ".join(claim.text for claim in chapters.speak(teller, finding, judged, "finding", 2))


def _merits(teller: Teller, judged: Judged) -> Iterator[str]:
    """What was measured and passes, the works it needs, and what counts against it."""
    for check in judged.checks:
        if check.name in TELLING and check.passes:
            value, limit, margin = teller.check_facts(check)
            if margin is not None and limit is not None and limit.value != NOTHING:
                names = (wording.plain(f.name, teller.vocabulary) for f in (value, limit))
                shown = (wording.show_fact(f, teller.vocabulary.get(f.name)) for f in (value, limit, margin))
                yield from _wrap("{}: {}; {}: {} ({})".format(*itertools.chain(*zip(names, shown, strict=False)),
                                                              wording.show_fact(margin)), "  - ")
    sure = {teller.rules[f.rule].remedies[0] for f in judged.findings if f.effect == "needs_work" and f.certain}
    for work in judged.works:
        opening = "Works first" if work in sure else "If found needed"
        yield from _wrap(f"{opening}: {clean(teller.remedies[work].title)}.", "  - ")
    for finding in judged.findings:
        if finding.effect == "counts_against" and finding.certain:
            yield from _wrap(f"Against it: {finding_text(teller, finding, judged)}", "  - ")


def _questions(advice: Advice) -> Iterator[str]:
    if not advice.questions:
        return
    yield ""
    yield "TO CONFIRM BEFORE QUOTING"
    for question in advice.questions[:MOST_QUESTIONS]:
        many = len(question.decides)
        decides = f" (decides {many} {'layout' if many == 1 else 'layouts'})" if many else ""
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
