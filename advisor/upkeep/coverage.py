"""Which rules speak at all over invented homes, and what another rule base would change."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from advisor import rulebase
from advisor.advise import advise
from advisor.records import Advice
from advisor.rulebase import Rulebase
from advisor.survey import Survey, read
from advisor.survey.generator import random_survey

FIRST_SEED = 1000


@dataclass(frozen=True, slots=True)
class Coverage:
    """How many homes each rule spoke in, certainly and at all."""

    homes: int
    certain: Counter[str]
    possible: Counter[str]

    def lines(self, base: Rulebase) -> Iterator[str]:
        """A line a rule, the silent ones first."""
        written = sorted(r.id for r in base.rules.values() if not r.twin_of)
        for rule in sorted(written, key=lambda r: (self.possible[r] > 0, self.certain[r] > 0, r)):
            yield f"{rule}: certain in {self.certain[rule]}, possible in {self.possible[rule]} of {self.homes} homes"


def cover(base: Rulebase, homes: int) -> Coverage:
    """Advise on invented homes, every other one wholly known, and count which rules fire."""
    certain: Counter[str] = Counter()
    possible: Counter[str] = Counter()
    for seed in range(FIRST_SEED, FIRST_SEED + homes):
        advice = advise(random_survey(seed, base.vocabulary, holes=0.3 * (seed % 2)), base, "plain")
        possible.update({f.rule for f in advice.derivation})
        certain.update({f.rule for f in advice.derivation if f.certain})
    return Coverage(homes, certain, possible)


def since(base: Rulebase, day: date) -> Iterator[str]:
    """What is new from a day on: rules added or changed, and limits that come into force."""
    for rule in base.rules.values():
        if rule.twin_of:
            continue
        if rule.added and rule.added >= day:
            yield f"{rule.added.isoformat()} added: {rule.id}: {rule.title}"
        elif rule.changed and rule.changed >= day:
            yield f"{rule.changed.isoformat()} changed: {rule.id}: {rule.title}"
    for limit in base.thresholds.values():
        for start, value in limit.values:
            if start >= day:
                shown = f"{value.lo:g}" if value.single else f"{value.lo:g} to {value.hi:g}"
                yield f"{start.isoformat()} in force: {limit.id} {shown} {limit.unit}: {limit.meaning}"


@dataclass(frozen=True, slots=True)
class Change:
    """A kind of layout whose fate another rule base changes, with the rules that speak in one of the two only."""

    survey: str
    layout: str
    before: str
    after: str
    blame: tuple[str, ...]

    def line(self) -> str:
        return f"{self.survey}: {self.layout}: {self.before} -> {self.after} ({', '.join(self.blame) or 'facts moved'})"


def impact(old: Path, new: Path, surveys: list[Path]) -> Iterator[Change]:
    """Every layout whose verdict differs between two folders of rules, survey by survey, and what is recommended."""
    bases = [rulebase.load_from(folder, rulebase.paths.SHARED / "remedies.toml") for folder in (old, new)]
    for path in surveys:
        known: list[Survey] = [read(path, base.survey_entries()) for base in bases]
        runs = [advise(survey, base, "plain") for survey, base in zip(known, bases, strict=True)]
        yield from _changes(path.stem, *runs)


def _changes(name: str, before: Advice, after: Advice) -> Iterator[Change]:
    if before.recommended != after.recommended:
        yield Change(name, "recommended", before.recommended or "nothing", after.recommended or "nothing", ())
    olds, news = ({j.id: j for j in a.judged} for a in (before, after))
    for name_of in sorted(set(olds) | set(news)):
        mine, theirs = olds.get(name_of), news.get(name_of)
        fates = [j.verdict if j else "not offered" for j in (mine, theirs)]
        if fates[0] != fates[1]:
            said = [{(f.rule, f.certain) for f in j.findings} if j else set() for j in (mine, theirs)]
            yield Change(name, name_of, *fates, tuple(sorted({rule for rule, _ in said[0] ^ said[1]})))
