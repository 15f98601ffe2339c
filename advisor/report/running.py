"""What one layout costs, to run and to fit, or disturbs beside another: in figures, by reason, or by points of custom.

Steps of the ranking rest on relative points, on works and on findings such as a boiler that cycles or is worn. Where
they differ, the words may say no more than what they rest on, and nothing at all where the sum of a year's hot water
says the opposite.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from advisor.facts import ANYTHING, Fact, Span
from advisor.records import Finding, Judged
from advisor.report import standing
from advisor.report.claims import Note, Sentence
from advisor.report.say import Piece, Teller

RUNNING, COST = "low_running_cost", "year.cost_pounds"
POINTS = {RUNNING: "cost.running_points", "little_disruption": "cost.disruption_points",
          "low_price": "cost.installed_points"}  # criteria told by points alone
IN_FIGURES = {True: "hot water costs less than with {other}: {a} a year, against {b}",
              False: "hot water costs more than with {other}: {a} a year, against {b}"}
BY_REASON = {
    RUNNING: {True: "{other} may cost more to run: {rule}", False: "it may cost more to run than {other}: {rule}"},
    "little_disruption": {True: "{other} may disturb the home again: {rule}",
                          False: "it may disturb the home again: {rule}"},
    "low_price": {True: "{other} may cost more in the end: {rule}", False: "it may cost more in the end: {rule}"}}
Said = tuple[str, Mapping[str, Piece], list[str]]  # template, its gaps, ids


def clause(teller: Teller, criterion: str, a: Judged, b: Judged, better: bool, said: str) -> Said | None:
    """How `a` stands beside `b`; `said` where the points and works say it; None where it cannot be said."""
    if criterion == RUNNING and (costs := _in_figures(teller, a, b, better)) is not None:
        return costs or None
    points = [_span(teller, POINTS[criterion], j) for j in (a, b)]
    first, second = ((p.value.lo if p else 0.0) + sum(teller.advice.rulebase.remedies[w].adds.get(criterion, 0)
                                                      for w in j.works) for p, j in zip(points, (a, b), strict=True))
    if all(points) and (first >= second if better else first <= second):
        finding = _moved(teller, criterion, b if better else a)
        if finding is None:
            return None
        gaps = {"rule": teller.lower_rule(finding.rule)}
        return BY_REASON[criterion][better], gaps, list(teller.finding_ids(finding))
    return said, {}, [f.id for f in points if f is not None]


def _in_figures(teller: Teller, a: Judged, b: Judged, better: bool) -> Said | tuple[()] | None:
    """By the sum of a year's hot water; () where it says the opposite, None where it leaves it open."""
    costs = [_span(teller, COST, j) for j in (a, b)]
    if all(costs):
        low, high = costs if better else costs[::-1]
        if low.value.hi < high.value.lo:
            gaps = {n: teller.value(f) for n, f in zip("ab", costs, strict=True)}
            return IN_FIGURES[better], gaps, [f.id for f in costs]
        if high.value.hi < low.value.lo:
            return ()
    return None


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


def _moved(teller: Teller, criterion: str, judged: Judged) -> Finding | None:
    """The finding that counts against it on this criterion, a certain one first."""
    against = [f for f in judged.findings if f.effect == "counts_against"
               and teller.advice.rulebase.rules[f.rule].criterion == criterion]
    return next(iter(sorted(against, key=lambda f: not f.certain)), None)
