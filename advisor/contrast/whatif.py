"""The advice with some answers changed, and what changed with it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from advisor.advise import advise
from advisor.records import Advice

DECIDED = ("suitable", "suitable_after_works", "ruled_out")


@dataclass(frozen=True, slots=True)
class Change:
    """An arrangement whose verdict moved, with the rules that fire on one side only."""

    arrangement: str
    before: str
    after: str
    because: tuple[str, ...]


def whatif(advice: Advice, changes: Mapping[str, str], engine: str = "auto") -> tuple[Advice, tuple[Change, ...]]:
    """Advise again on the survey with these answers (texts as in a survey file).

    Raises
    ------
    SurveyError : for an unknown field or a text that cannot be read
    """
    after = advise(advice.survey.with_changes(dict(changes)), advice.rulebase, engine)
    return after, changed(advice, after)


def changed(before: Advice, after: Advice) -> tuple[Change, ...]:
    """Every arrangement whose verdict differs, gone and new ones included, what matters most first.

    First what is recommended before, then after; then those of which it is now said that they suit or that they are
    ruled out; then those left open or not offered: each by the better of its two ranks.
    """
    first, second = ({j.id: j for j in a.judged} for a in (before, after))
    found = []
    for i in first.keys() | second.keys():
        was, now = (x.get(i) for x in (first, second))
        words = (was.verdict if was else "not offered", now.verdict if now else "not offered")
        if words[0] != words[1]:
            old, new = ({(f.rule, f.certain) for f in j.findings} if j else set() for j in (was, now))
            found.append(Change(i, *words, tuple(sorted({rule for rule, _ in old ^ new}))))
    heads = (before.recommended, after.recommended)

    def importance(change: Change) -> tuple[int, bool, int, str]:
        i = change.arrangement
        ranks = [x[i].rank for x in (first, second) if i in x]
        return heads.index(i) if i in heads else len(heads), change.after not in DECIDED, min(ranks), i

    return tuple(sorted(found, key=importance))
