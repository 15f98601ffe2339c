"""Fates and ranks without a certificate: the plain matcher on as few arrangements as a question needs.

What-if questions run the stages of `advise.py` hundreds of times; this runs
them without questions, comparisons and derivation, and the rules only for
arrangements some test of which comes out as never before (`frame.py`). Under ranges every rank has
a best and a worst key that hold whatever the missing answers turn out to be,
so a box of surveys is judged in one evaluation (design: semantics 7).
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from advisor import ranking
from advisor.contrast.dossier import Dossier, dossiers
from advisor.contrast.frame import Frame, frame_of
from advisor.records import Arrangement, Finding
from advisor.rulebase import Rulebase
from advisor.survey import Survey
from advisor.verdicts import Fate

Key = tuple[Any, ...]
RULED_OUT = 2


@dataclass(frozen=True, slots=True)
class Standing:
    """One arrangement over a box of surveys: its fate, and its rank and fold keys at their best and worst.

    Only what rests on a field that is free to move spreads; the rest stands as `advise` would have it.
    """

    arrangement: Arrangement
    fate: Fate
    best: Key
    worst: Key
    fold_best: Key
    fold_worst: Key
    undecided: frozenset[str]  # the free fields on which its fate or a step may still turn
    rests: Mapping[str, frozenset[str]]  # finding key -> the fields it rests on

    @property
    def id(self) -> str:
        return self.arrangement.id

    @property
    def options(self) -> frozenset[str | None]:
        """What is recommended if it comes first: itself, or nothing (None), or either."""
        may, must_not = self.best[0] == 0, self.worst[0] > 0
        return frozenset(([self.id] if may else []) + ([None] if must_not else []))


def look(survey: Survey, base: Rulebase, only: Collection[str] | None = None,
         free: Collection[str] = (), exact: Collection[str] | None = None) -> list[Standing]:
    """Judge these arrangements (all by default): each one's standing while the `free` fields move.

    `exact` as for `Frame.variant`.
    """
    frame = frame_of(survey, base)
    chosen = [a for a in frame.candidates if only is None or a.id in only]
    moving, wishes = frozenset(free), survey.wishes
    return [_standing(base, d, moving, wishes) for d in dossiers(frame, survey, chosen, exact)]


def _standing(base: Rulebase, dossier: Dossier, free: frozenset[str], wishes: tuple[str, ...]) -> Standing:
    key = (free & dossier.loose, wishes)
    if key not in dossier.standings:
        dossier.standings[key] = _Bounds(base, dossier, key[0]).standing(wishes)
    return dossier.standings[key]


class _Bounds:
    """Best and worst of one arrangement: what only may be, and rests on a free field, is taken either way."""

    def __init__(self, base: Rulebase, dossier: Dossier, free: frozenset[str]) -> None:
        self.base, self.dossier, self.free = base, dossier, free
        self.a, self.fate = dossier.arrangement, dossier.fate
        self.undecided: set[str] = set()
        self.works: dict[str, bool] = {}  # remedy -> whether it is needed only if a free field says so
        self.moved: dict[str, list[Finding]] = {}  # criterion -> the findings that move its step
        for finding in self.fate.findings:
            self.moved.setdefault(base.rules[finding.rule].criterion, []).append(finding)

    def standing(self, wishes: tuple[str, ...]) -> Standing:
        classes, confirm, works = self._verdict()
        names = [*wishes, *self.base.ranking["default_order"]]
        steps = [self._steps(name) for name in names]
        keys, folds = [], []
        for n in (0, 1):
            at = [s[n] for s in steps]
            prefix, rest = (classes[n], *at[: len(wishes)]), (confirm[n], *at[len(wishes):], self.a.id)
            keys.append((*prefix, *rest))
            folds.append((*prefix, works[n], self.a.litres, self.a.power_kw, *rest))
        return Standing(self.a, self.fate, keys[0], keys[1], folds[0], folds[1], frozenset(self.undecided),
                        self.dossier.rests)

    def _moves(self, finding: Finding) -> bool:
        """Whether a finding that only may be turns on a free field; those fields are noted."""
        fields = self.dossier.rests[finding.key] & self.free
        if finding.certain or not fields:
            return False
        self.undecided |= fields
        return True

    def _verdict(self) -> tuple[tuple[int, int], tuple[int, int], tuple[int, int]]:
        """(best, worst) of the verdict class, of what is left to confirm and of the number of works."""
        fate = self.fate
        as_is = ranking.verdict_class(fate)
        confirm = int(fate.verdict not in ("suitable", "suitable_after_works"))
        works = [f for f in fate.findings if f.effect == "needs_work"]
        if as_is == RULED_OUT:
            return (as_is, as_is), (confirm, confirm), (len(fate.works), len(fate.works))
        forbidden = [f for f in fate.findings if f.effect == "rules_out"]
        moving = [f for f in (*forbidden, *works) if self._moves(f)]
        answerable = [f for f, fields in self.dossier.waiting if self._answerable(fields)]
        fixed = [f for f in forbidden if f not in moving]
        fixed += [f for f, _ in self.dossier.waiting if f not in answerable]
        worst = RULED_OUT if any(f.effect == "rules_out" for f in moving) else as_is
        stay = {self.base.rules[f.rule].remedies[0] for f in works if f not in moving}
        loose = bool(moving or answerable)
        return (int(bool(fixed)), worst), (0 if loose else confirm, confirm), (len(stay), len(fate.works))

    def _answerable(self, fields: frozenset[str]) -> bool:
        self.undecided |= fields & self.free
        return bool(fields & self.free)

    def _steps(self, name: str) -> tuple[int, int]:
        """`ranking.steps_of` for one criterion, with what is fixed taken as it stands at both ends."""
        best, worst, rests = self.dossier.base_steps[name]
        fields = rests & self.free
        if best != worst and fields:
            self.undecided |= fields
        else:
            best = worst
        for finding in self.moved.get(name, ()):
            move, loose = (-1 if finding.effect == "favours" else 1), self._moves(finding)
            worst += move if finding.certain or move > 0 else 0
            best += move if finding.certain or (loose == (move < 0)) else 0
        for remedy, certain in self.fate.works:
            added = self.base.remedies[remedy].adds.get(name, 0)
            if added:
                worst += added
                best += added if certain or not self._work_moves(remedy) else 0
        return min(max(best, 0), ranking.WORST), min(max(worst, 0), ranking.WORST)

    def _work_moves(self, remedy: str) -> bool:
        if remedy not in self.works:
            behind = [f for f in self.fate.findings if f.effect == "needs_work"
                      and self.base.rules[f.rule].remedies[0] == remedy]
            self.works[remedy] = all([self._moves(f) for f in behind])
        return self.works[remedy]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What may be recommended over a box: `firsts` can come first; `stand` may stand for a family one of them is of."""

    firsts: tuple[Standing, ...]
    stand: tuple[Standing, ...]
    only: frozenset[str | None] = frozenset()  # what looking closer has left of the options

    @property
    def kept(self) -> frozenset[str]:
        """The ids that a look at any part of this box must still judge."""
        return frozenset(s.id for s in self.stand)

    @property
    def undecided(self) -> frozenset[str]:
        """The free fields on which the recommendation may turn: no other can change it, whatever the rest is."""
        return frozenset() if self.settled else frozenset().union(*(s.undecided for s in self.stand))

    @property
    def options(self) -> frozenset[str | None]:
        """Every recommendation still possible; None stands for nothing recommended."""
        return self.only or frozenset().union(*(s.options for s in self.firsts))

    @property
    def settled(self) -> bool:
        return len(self.options) == 1


def outcome(survey: Survey, base: Rulebase, only: Collection[str] | None = None,
            free: Collection[str] = ()) -> Outcome:
    """Which arrangements may come first, whatever the free fields of this survey turn out to be.

    A first look leaves out every simulation but that of the layouts ahead on the frame's own survey: what cannot
    come first whatever a simulation said need not be simulated.
    """
    frame = frame_of(survey, base)
    if moved := frame.moved(survey):
        rough = contenders(look(survey, base, only, {*free, *moved}, _ahead(frame)))
        if rough.settled and set(free) >= moved:
            return rough
        only = rough.kept
    return contenders(look(survey, base, only, free))


def _ahead(frame: Frame) -> frozenset[str]:
    """The layouts that may come first on the frame's own survey, or stand for the family of one that may."""
    if frame.ahead is None:
        frame.ahead = contenders(look(frame.survey, frame.base)).kept
    return frame.ahead


def contenders(standings: Iterable[Standing]) -> Outcome:
    """Those whose best rank is not worse than the worst of every family's own first."""
    families: dict[str, list[Standing]] = {}
    for s in standings:
        families.setdefault(s.arrangement.family, []).append(s)
    for name, members in families.items():  # who may stand for the family
        limit = min(s.fold_worst for s in members)
        families[name] = [s for s in members if s.fold_best <= limit]
    bound = min(max(s.worst for s in members) for members in families.values())
    firsts = tuple(s for members in families.values() for s in members if s.best <= bound)
    alive = {s.arrangement.family for s in firsts}
    return Outcome(firsts, tuple(s for name in sorted(alive) for s in families[name]))


def recommended(survey: Survey, base: Rulebase, only: Collection[str] | None = None) -> str | None:
    """What `advise` would recommend on this survey as it stands, its ranges and gaps included."""
    (found,) = outcome(survey, base, only).options
    return found
