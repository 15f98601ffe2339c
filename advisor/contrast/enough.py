"""Which answers alone are enough for a reason to stand, whatever all the others are: a smallest such set, with proof.

All other answers are taken away and the arrangement is judged again over
everything they may be: the rule must still certainly forbid it. Then each
answer is tried away in turn; what can be spared is not part of the reason.
"""

from __future__ import annotations

from collections.abc import Iterable

from advisor.contrast import quick
from advisor.records import Advice
from advisor.survey import SurveyError


def enough(advice: Advice, arrangement: str, rule: str) -> tuple[str, ...]:
    """The answers that suffice for this rule's certain finding; none of them can be spared.

    Empty where the layout itself is the reason, or where no certain finding of the rule is there.
    """
    finding = next((f for f in advice[arrangement].findings if f.rule == rule and f.certain), None)
    if finding is None:
        return ()
    kept = sorted(f for f in advice.book[finding.key].rests_on if f in advice.survey.answers)
    for field in list(kept):
        without = [f for f in kept if f != field]
        if stands(advice, arrangement, rule, without):
            kept = without
    return tuple(kept)


def stands(advice: Advice, arrangement: str, rule: str, answers: Iterable[str]) -> bool:
    """Whether the rule certainly forbids it when only these answers are known."""
    known = set(answers)
    away = {f: "unknown" for f in advice.survey.answers if f not in known}
    try:
        survey = advice.survey.with_changes(away)
    except SurveyError:
        return False
    (standing,) = quick.look(survey, advice.rulebase, {arrangement})
    return any(f.rule == rule and f.certain for f in standing.fate.findings)
