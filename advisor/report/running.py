"""What one layout costs to run beside another, as far as it can be said: in figures, by reason, or by bands of custom.

Steps of the ranking rest on relative points and on findings such as a boiler that cycles. Where they differ, the words
may say no more than what they rest on, and nothing at all where the sum of a year's hot water says the opposite.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from advisor.facts import ANYTHING, Fact, Span
from advisor.records import Finding, Judged
from advisor.report import standing
from advisor.report.claims import Note, Sentence
from advisor.report.say import Piece, Teller

CRITERION = "low_running_cost"
POINTS, COST = "cost.running_points", "year.cost_pounds"
IN_FIGURES = {True: "hot water costs less than with {other}: {a} a year, against {b}",
              False: "hot water costs more than with {other}: {a} a year, against {b}"}
BY_REASON = {True: "{other} may cost more to run: {rule}", False: "it may cost more to run than {other}: {rule}"}


def clause(teller: Teller, a: Judged, b: Judged, better: bool,
           said: str) -> tuple[str, Mapping[str, Piece], list[str]] | None:
    """Template, its gaps and ids of how `a` stands beside `b`; `said` by points alone; None where it cannot be said."""
    costs = [_span(teller, COST, j) for j in (a, b)]
    if all(costs):
        low, high = costs if better else costs[::-1]
        if low.value.hi < high.value.lo:
            gaps = {n: teller.value(f) for n, f in zip("ab", costs, strict=True)}
            return IN_FIGURES[better], gaps, [f.id for f in costs]
        if high.value.hi < low.value.lo:
            return None  # the steps say one thing and the sum the other
    points = [_span(teller, POINTS, j) for j in (a, b)]
    if all(points) and points[0].value == points[1].value:
        finding = _moved(teller, b if better else a)
        if finding is None:
            return None
        return BY_REASON[better], {"rule": teller.lower_rule(finding.rule)}, list(teller.finding_ids(finding))
    return said, {}, [f.id for f in points if f is not None]


def beside(teller: Teller, a: Judged, b: Judged) -> Iterator[Sentence]:
    """A year of hot water with each, where both could be worked out; said plainly where nothing is to choose by it."""
    costs = [_span(teller, COST, j) for j in (a, b)]
    if not all(costs) or a.id == b.id:
        return
    x, y = costs
    yield teller.claim("A year of hot water: {first}, {a}; {second}, {b}.", [x.id, y.id], a=teller.value(x),
                       b=teller.value(y), first=teller.short(a), second=teller.short(b))
    if x.value.lo <= y.value.hi and y.value.lo <= x.value.hi:
        yield Note(standing.BANDS_OVERLAP)


def _span(teller: Teller, name: str, judged: Judged) -> Fact | None:
    fact = teller.book.about(name, judged.id)
    return fact if fact is not None and isinstance(fact.value, Span) and fact.value != ANYTHING else None


def _moved(teller: Teller, judged: Judged) -> Finding | None:
    """The finding that counts against it on this criterion, a certain one first."""
    against = [f for f in judged.findings if f.effect == "counts_against"
               and teller.advice.rulebase.rules[f.rule].criterion == CRITERION]
    return next(iter(sorted(against, key=lambda f: not f.certain)), None)
