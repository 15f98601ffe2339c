"""The smallest changes after which nothing certainly forbids an arrangement: all minimal sets of up to three remedies.

Exact: every subset by size, over the remedies that touch a reason against the
arrangement, skipping supersets of repairs already found (design: semantics 7).
A remedy never touches a fixed field and never makes an answer worse.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import dataclass

from advisor.contrast import quick
from advisor.contrast.frame import anchor
from advisor.contrast.works import edits
from advisor.facts import Span
from advisor.records import Advice, Judged
from advisor.rulebase.model import Entry
from advisor.site import NOT_LISTED
from advisor.survey import Survey, SurveyError
from advisor.survey.answers import plain

UP_TO = 3
BANDS = ("none", "small", "medium", "large")
DISRUPTIONS = ("none", "hours", "days")


@dataclass(frozen=True, slots=True)
class Edit:
    """One changed answer: both texts are what `whatif` accepts."""

    field: str
    before: str
    after: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Repair:
    """A minimal set of remedies, confirmed by a re-run: what it changes and what becomes of every layout."""

    remedies: tuple[str, ...]
    edits: tuple[Edit, ...]
    becomes: str
    band: str
    disruption: str
    recommended: str | None  # what the whole advice would then recommend
    moved: tuple[tuple[str, str, str], ...]  # other kinds of layout: (best variant's id, verdict before, after)

    @property
    def answers(self) -> dict[str, str]:
        """Field -> text, as `whatif` takes them."""
        return {e.field: e.after for e in self.edits}


@dataclass(frozen=True, slots=True)
class Unlock:
    """All minimal repairs in order; where there is none, the reasons no remedy touches."""

    arrangement: str
    verdict: str
    searched: tuple[str, ...]  # the remedies that touch a reason
    repairs: tuple[Repair, ...]
    fixed: tuple[str, ...]  # rules that certainly forbid it and that nothing known could change
    by_fixed_facts: tuple[str, ...] = ()  # those of them that rest on fixed fields and the layout itself alone


def unlock(advice: Advice, arrangement: str) -> Unlock:
    """Search the repairs of one arrangement; none are sought for one that nothing certainly forbids."""
    judged = advice[arrangement]
    if judged.verdict != "ruled_out":
        return Unlock(judged.id, judged.verdict, (), (), ())
    search = _Search(advice, judged)
    fixed = search.untouched()
    found = () if fixed else search.minimal()
    repairs = sorted((_confirmed(advice, judged, search, s) for s in found), key=_order)
    return Unlock(judged.id, judged.verdict, tuple(sorted(search.remedies)), tuple(repairs), fixed,
                  tuple(r for r in fixed if all(is_fixed(advice, search.reasons[r]))))


def applicable(advice: Advice, judged: Judged, remedy: str) -> dict[str, str]:
    """What a remedy would change for this arrangement, without the answers that are as good already.

    Empty where it changes nothing, and where it would touch a fixed field: then it is no remedy here.
    """
    made: dict[str, str] = {}
    for field, text in edits(advice, judged, [remedy]).items():
        entry = advice.survey.fields.entry(field)
        listed = advice.survey.fields.split(field)
        if entry is None or entry.may_change == "fixed" or (listed and listed[1] == NOT_LISTED):
            return {}
        if not _as_good(advice.survey, field, text, entry):
            made[field] = text
    return made


def _as_good(survey: Survey, field: str, text: str, entry: Entry) -> bool:
    """Whether the present answer is surely what the remedy makes it, or better."""
    now, then, better = survey.value(field), plain(text, entry).value, entry.better
    if now == then:
        return True
    if not isinstance(now, Span) or not isinstance(then, Span):
        return field.startswith("wishes.") and now.words == {"none"}  # nobody asked for it: nothing to give up
    return now.lo >= then.hi if better == "more" else now.hi <= then.lo if better == "less" else False


class _Search:
    """Which remedies touch a reason, and which sets of them leave none standing."""

    def __init__(self, advice: Advice, judged: Judged) -> None:
        self.advice, self.judged = advice, judged
        anchor(advice.survey, advice.rulebase)
        self.remedies: dict[str, dict[str, str]] = {}
        self.seen: dict[frozenset[str], frozenset[str] | None] = {}
        self.known = {r: made for r in sorted(advice.rulebase.remedies) if (made := applicable(advice, judged, r))}
        standing = self._look(advice.survey)
        self.reasons = {f.rule: standing.rests[f.key] for f in standing.fate.findings
                        if f.effect == "rules_out" and f.certain}
        self._touch(frozenset().union(*self.reasons.values()))

    def _look(self, survey: Survey):
        (standing,) = quick.look(survey, self.advice.rulebase, {self.judged.id})
        return standing

    def _touch(self, fields: frozenset[str]) -> None:
        self.remedies |= {r: made for r, made in self.known.items() if fields & made.keys()}

    def untouched(self) -> tuple[str, ...]:
        """Rules that certainly forbid it and rest on nothing any remedy changes."""
        return tuple(sorted(r for r, fields in self.reasons.items()
                            if not any(fields & made.keys() for made in self.known.values())))

    def answers(self, chosen: Iterable[str]) -> dict[str, str]:
        return {f: t for r in sorted(chosen) for f, t in self.known[r].items()}

    def reasons_after(self, chosen: frozenset[str]) -> frozenset[str] | None:
        """The rules that still certainly forbid it once these are applied; None where the answers contradict."""
        if chosen not in self.seen:
            try:
                standing = self._look(self.advice.survey.with_changes(self.answers(chosen)))
            except SurveyError:
                self.seen[chosen] = None
                return None
            left = [f for f in standing.fate.findings if f.effect == "rules_out" and f.certain]
            for finding in left:  # what forbids it now may be open to other remedies
                self._touch(standing.rests[finding.key])
            self.seen[chosen] = frozenset(f.rule for f in left)
        return self.seen[chosen]

    def minimal(self) -> list[frozenset[str]]:
        """Every set of at most `UP_TO` after which nothing forbids it, none of whose parts is enough."""
        found: list[frozenset[str]] = []
        for size in range(1, UP_TO + 1):
            tried: set[frozenset[str]] = set()
            growing = True
            while growing:  # a set may bring another remedy into view
                growing = False
                for picked in itertools.combinations(sorted(self.remedies), size):
                    chosen = frozenset(picked)
                    if chosen in tried or any(f <= chosen for f in found):
                        continue
                    tried.add(chosen)
                    before = len(self.remedies)
                    if self.reasons_after(chosen) == frozenset():
                        found.append(chosen)
                    growing = growing or len(self.remedies) > before
        return found


def _confirmed(advice: Advice, judged: Judged, search: _Search, chosen: frozenset[str]) -> Repair:
    """The repair with a re-run of the whole advice: what becomes of it, and of every other kind of layout."""
    answers = search.answers(chosen)
    standings = quick.look(advice.survey.with_changes(answers), advice.rulebase)
    after = {s.id: s.fate.verdict for s in standings}
    (recommended,) = quick.contenders(standings).options
    owner = {f: r for r in sorted(chosen) for f in search.known[r]}
    made = tuple(Edit(f, _written(advice.survey, f), t, owner[f]) for f, t in sorted(answers.items()))
    remedies = [advice.rulebase.remedies[r] for r in sorted(chosen)]
    moved = tuple((j.id, j.verdict, after[j.id]) for j in advice.families()
                  if j.arrangement.family != judged.arrangement.family and after[j.id] != j.verdict)
    return Repair(tuple(sorted(chosen)), made, after[judged.id], max((r.band for r in remedies), key=BANDS.index),
                  max((r.disruption for r in remedies), key=DISRUPTIONS.index), recommended, moved)


def _written(survey: Survey, field: str) -> str:
    answer = survey.answers.get(field)
    if answer is not None:
        return answer.read
    entry = survey.fields.entry(field)
    return str(entry.default) if entry is not None and entry.default is not None else "unknown"


def _order(repair: Repair) -> tuple[int, int, int, tuple[str, ...]]:
    return BANDS.index(repair.band), DISRUPTIONS.index(repair.disruption), len(repair.remedies), repair.remedies


def is_fixed(advice: Advice, fields: Iterable[str]) -> list[bool]:
    """For each of these fields, whether the vocabulary holds it for fixed."""
    entries = [advice.survey.fields.entry(f) for f in sorted(fields)]
    return [e is not None and e.may_change == "fixed" for e in entries]
