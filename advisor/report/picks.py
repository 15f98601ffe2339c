"""Which arrangements, findings and criteria a report speaks of: choices read off the records, nothing reasoned anew."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from advisor import verdicts
from advisor.checks.measure import again
from advisor.facts import ANYTHING, SITE, Fact, FactBook, Span, Words
from advisor.records import Advice, Check, Finding, Judged
from advisor.report import phrases

COST = "cost.installed_points"
STEPS_SHOWN, STEPS_DEEP = 14, 5  # steps shown of one derivation, and how deep it is followed
FIRST_CLASS = frozenset({"suitable", "suitable_after_works"})
# Margins without a single limit, and the sign that makes more of them better.
MARGINS = (("fit.space_margin_mm", 1), ("fit.door_margin_mm", 1), ("flue.clearance_margin_mm", 1),
           ("discharge.over_table_m", -1))
AGAINST = ("rules_out", "needs_work", "asks", "counts_against")


@dataclass(frozen=True, slots=True)
class Criterion:
    """A criterion of the ranking: its id, its title and the fact it looks at."""

    id: str
    title: str
    fact: str
    numeric: bool


def criteria(advice: Advice) -> Mapping[str, Criterion]:
    listed = advice.rulebase.ranking["criterion"]
    return {c["id"]: Criterion(c["id"], c["title"], c["fact"], "edges" in c) for c in listed}


def criteria_in_order(advice: Advice) -> tuple[str, ...]:
    """The stated wishes in the household's order, then the printed default order without those."""
    wishes = tuple(w for w in advice.survey.wishes if w in criteria(advice))
    return wishes + tuple(c for c in advice.rulebase.ranking["default_order"] if c not in wishes)


def rank_class(judged: Judged) -> int:
    """0: may be recommended; 1: still open; 2: ruled out."""
    if set(judged.possible) <= FIRST_CLASS:
        return 0
    return 2 if judged.verdict == "ruled_out" else 1


def recommended(advice: Advice) -> Judged | None:
    return advice[advice.recommended] if advice.recommended else None


def runner_up(advice: Advice, first: Judged) -> Judged | None:
    """The next family's best after `first`, ruled out or not; `first` with a helper it does without is no rival."""
    rest = [j for j in advice.families() if j.id != first.id]
    return next((j for j in rest if not _first_and_more(advice, first, j)), rest[0] if rest else None)


def _first_and_more(advice: Advice, first: Judged, other: Judged) -> bool:
    words = [{n: getattr(f.value, "words", frozenset()) for n in ("source_kind", "store", "helper")
              if (f := advice.fact(f"arrangement.{n}", j.id)) is not None} for j in (first, other)]
    alike = all(words[0].get(n) == words[1].get(n) for n in ("source_kind", "store"))
    return alike and words[0].get("helper") == {"none"} != words[1].get("helper")


def cost(advice: Advice, judged: Judged) -> float:
    fact = advice.fact(COST, judged.id)
    return fact.value.lo if fact is not None and isinstance(fact.value, Span) else 0.0


def cheaper(advice: Advice, first: Judged) -> Judged | None:
    """The layout that costs least to install of those that cost less than `first`.

    Where a comparison in figures is to be had, one that has it goes before one
    that has not: a reader can check two numbers.
    """
    price = cost(advice, first)
    less = [j for j in advice.families() if j.id != first.id and cost(advice, j) < price]
    less.sort(key=lambda j: (_told_apart(advice, j), cost(advice, j), j.rank))
    return less[0] if less else None


def _told_apart(advice: Advice, judged: Judged) -> int:
    """How much a comparison tells, 0 most; nobody quotes for leaving things as they are, so that comes late."""
    if _is_kept(advice, judged):
        return 2 + (judged.verdict == "ruled_out")
    if judged.verdict == "ruled_out":
        return 0 if check_behind(advice, judged) else 4
    return 0 if decisive_check(advice, judged) else 1


def _is_kept(advice: Advice, judged: Judged) -> bool:
    kind = advice.fact("arrangement.source_kind", judged.id)
    return kind is not None and isinstance(kind.value, Words) and kind.value.words == {"as found"}


def certain(judged: Judged, effect: str) -> list[Finding]:
    return [f for f in judged.findings if f.effect == effect and f.certain]


def independent_reasons(judged: Judged) -> list[Finding]:
    """The findings that rule it out, one a rule: any one of them is enough."""
    seen: dict[str, Finding] = {}
    for finding in certain(judged, "rules_out"):
        seen.setdefault(finding.rule, finding)
    return list(seen.values())


def decisive(advice: Advice, judged: Judged) -> list[Finding]:
    """The findings that make its verdict: every independent reason, or all that could still decide."""
    if judged.verdict == "ruled_out":
        return independent_reasons(judged)
    waits = [f for f in judged.findings if verdicts.unanswered(advice.book, advice.rulebase, f, judged.arrangement)]
    return [f for f in judged.findings if f.effect in ("rules_out", "needs_work") or f in waits]


def unanswered(advice: Advice) -> list[Fact]:
    """Survey facts whose field nobody answered, in book order."""
    return [f for f in advice.book if f.made_by == "survey" and f.how == "default"]


def grounds(advice: Advice, finding: Finding) -> list[Fact]:
    """The premises of a finding and all they were made from, nearest first."""
    found: dict[str, Fact] = {}
    queue = [k for k in finding.because if k in advice.book]
    while queue:
        fact = advice.book[queue.pop(0)]
        if fact.key not in found:
            found[fact.key] = fact
            queue += [k for k in (*fact.because, *(k for _, k in fact.inputs)) if k in advice.book]
    return list(found.values())


def check_of(advice: Advice, judged: Judged, finding: Finding) -> Check | None:
    """The measured quantity a finding turns on: the check whose margin or value is nearest among its grounds."""
    by_key = {c.margin_key or c.key: c for c in judged.checks} | {c.key: c for c in judged.checks}
    return next((by_key[f.key] for f in grounds(advice, finding) if f.key in by_key), None)


def check_behind(advice: Advice, judged: Judged) -> Check | None:
    """The failing check, value and limit both known, behind a reason: the one a household feels most."""
    behind = [check_of(advice, judged, f) for f in independent_reasons(judged)]
    telling = [c for c in behind if c is not None and c.passes is False and both_known(advice, c)]
    return min(telling, key=lambda c: phrases.order(c.name), default=None)


def decisive_check(advice: Advice, judged: Judged) -> Check | None:
    """The check behind what rules it out; else any check that surely fails in figures."""
    return check_behind(advice, judged) or next((c for c in failing(advice, judged) if both_known(advice, c)), None)


def measures(advice: Advice, judged: Judged) -> tuple[Check, ...]:
    """The checks, then the margins that come from a table or the worst of several, which have no single limit."""
    entities = {"site": SITE, "source": judged.arrangement.source, "place": judged.arrangement.place}
    made = []
    for name, better in MARGINS:
        entry = advice.rulebase.vocabulary.get(name)
        fact = advice.fact(name, entities.get(entry.sort, judged.id)) if entry else None
        if fact is not None and isinstance(fact.value, Span) and name not in {c.name for c in judged.checks}:
            low, high = sorted((better * fact.value.lo, better * fact.value.hi))
            made.append(Check(name, fact.key, "", fact.key, True if low >= 0 else False if high < 0 else None))
    burns = advice.fact("arrangement.burns", judged.id)
    flued = burns is not None and "gas" in getattr(burns.value, "words", ())
    discharges = advice.fact("arrangement.discharge_needed", judged.id)
    piped = discharges is not None and "yes" in getattr(discharges.value, "words", ())
    out = {"flue.clearance_margin_mm": flued, "discharge.over_table_m": piped}
    return (*judged.checks, *(c for c in made if out.get(c.name, True)))


def shown_fact(advice: Advice, name: str, judged: Judged) -> Fact | None:
    """The fact of this name about the arrangement, else its source, else its place."""
    entities = (judged.id, judged.arrangement.source, judged.arrangement.place)
    return next((f for e in entities if e and (f := advice.fact(name, e)) is not None), None)


def step_ids(advice: Advice, criterion: str, *judged: Judged) -> list[str]:
    """The ids of the findings that moved these arrangements' steps on a criterion."""
    keys = [f.key for j in judged for f in j.findings
            if advice.rulebase.rules[f.rule].criterion == criterion or f.effect == "needs_work"]
    return [advice.book[k].id for k in keys if k in advice.book]


def fate_ids(advice: Advice, judged: Judged) -> list[str]:
    """The ids behind a verdict: what decides or could decide it, else the family's own fact."""
    keys = [f.key for f in judged.findings if f.effect in AGAINST[:3]] if judged.verdict != "suitable" else []
    family = advice.fact("arrangement.family", judged.id)
    return [advice.book[k].id for k in keys if k in advice.book] + ([family.id] if family else [])


def failing(advice: Advice, judged: Judged) -> Iterator[Check]:
    """Checks that surely fail, the wished-for ones first."""
    yield from sorted((c for c in judged.checks if c.passes is False), key=lambda c: not on_wish(advice, c))


def on_wish(advice: Advice, check: Check) -> bool:
    """Whether a stated wish looks at this check."""
    looked_at = {criteria(advice)[w].fact for w in advice.survey.wishes if w in criteria(advice)}
    return check.name in looked_at or (bool(check.margin_key) and advice.book[check.margin_key].name in looked_at)


def both_known(advice: Advice, check: Check) -> bool:
    facts = [advice.book[k] for k in (check.key, check.limit_key) if k]
    return len(facts) > 1 and all(isinstance(f.value, Span) and f.value.single for f in facts)


def first_difference(advice: Advice, a: Judged, b: Judged) -> str:
    """The criterion on which `a` goes before `b`: "verdict", a wish, "nothing left to confirm", a default, or "id"."""
    if rank_class(a) != rank_class(b):
        return "verdict"
    wishes = [w for w in advice.survey.wishes if w in criteria(advice)]
    for criterion in wishes:
        if worst(a, criterion) != worst(b, criterion):
            return criterion
    settled = [j.verdict in FIRST_CLASS for j in (a, b)]
    if settled[0] != settled[1]:
        return "nothing left to confirm"
    for criterion in advice.rulebase.ranking["default_order"]:
        if worst(a, criterion) != worst(b, criterion):
            return criterion
    return "id"


def level_with(advice: Advice, first: Judged) -> list[Judged]:
    """The layouts that nothing but their names puts after this one: other kinds, or its own in another place.

    A larger size of the same kind is no such layout: the smaller goes before it for being smaller.
    """
    def size(j: Judged) -> tuple[object, ...]:
        return j.arrangement.litres, j.arrangement.power_kw, len(j.works)

    return [j for j in advice.judged if j.id != first.id and first_difference(advice, first, j) == "id"
            and (j.representative if j.arrangement.family != first.arrangement.family else size(j) == size(first))]


def worst(judged: Judged, criterion: str) -> int:
    return judged.steps.get(criterion, (0, 0))[1]


def better_on(advice: Advice, a: Judged, b: Judged) -> list[str]:
    """The criteria on which `a` is surely some steps better than `b`, wishes first."""
    return [c for c in all_criteria(advice)
            if c in a.steps and c in b.steps and a.steps[c][1] < b.steps[c][0]]


def all_criteria(advice: Advice) -> tuple[str, ...]:
    """Wishes, default order, then every other criterion there is."""
    first = criteria_in_order(advice)
    return first + tuple(c for c in criteria(advice) if c not in first)


def criterion_facts(advice: Advice, criterion: str, a: Judged, b: Judged) -> tuple[Fact | None, Fact | None]:
    """The facts a criterion compares; None where it looks at none."""
    known = criteria(advice).get(criterion)
    if known is None:
        return None, None
    return advice.fact(known.fact, a.id), advice.fact(known.fact, b.id)


def wishes(advice: Advice) -> list[Fact]:
    """The stated wishes' facts, in the household's order."""
    facts = (advice.fact(f"wishes.{w}", SITE) for w in advice.survey.wishes)
    return [f for f in facts if f is not None]


def foundations(advice: Advice, judged: Judged) -> list[Fact]:
    """Survey facts that the arrangement's findings and checks rest on, in book order."""
    book = advice.book
    fields = {field for f in judged.findings if f.key in book for field in book[f.key].rests_on}
    waiting = [k for c in judged.checks for k in (c.key, c.limit_key, c.margin_key) if k in book]
    seen: set[str] = set()
    while waiting:
        fact = book[waiting.pop()]
        if fact.key in seen:
            continue
        seen.add(fact.key)
        if fact.made_by == "survey":
            fields |= fact.rests_on
        waiting += [k for k in fact.because if not fact.made_by.startswith("calc.") or _has_a_say(book, fact, k)]
    return [f for f in book if f.made_by == "survey" and f.rests_on and f.rests_on <= fields and not moot(book, f)]


def moot(book: FactBook, fact: Fact) -> bool:
    """A cylinder nobody has needs no size, nor a bath nobody takes."""
    if fact.name == "existing.cylinder_l":
        kind = book.about("existing.kind", SITE)
        return kind is not None and isinstance(kind.value, Words) and kind.value.words <= {"combination boiler", "none"}
    baths = book.about("household.busy_baths", SITE) if fact.name == "household.bath_fill_l" else None
    return baths is not None and isinstance(baths.value, Span) and baths.value.hi <= 0


def _has_a_say(book: FactBook, fact: Fact, key: str) -> bool:
    """Whether a sum's input matters to it: not where it might be anything and the sum would be the same."""
    if fact.trust or book[key].value.single:
        return True
    return again(fact.made_by.removeprefix("calc."), fact.inputs,
                 lambda k: ANYTHING if k == key else book[k].value) != fact.value
