"""What a finished piece of advice is made of (the stages are in `advise.py`)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from advisor.facts import Fact, FactBook

if TYPE_CHECKING:
    from advisor.rulebase import Rulebase
    from advisor.survey import Survey

VERDICTS = ("suitable", "suitable_after_works", "ruled_out", "open")


@dataclass(frozen=True, slots=True)
class Arrangement:
    """One candidate: chosen parts by slot, and the links between their ports."""

    id: str
    family: str
    title: str
    parts: Mapping[str, str]
    links: tuple[tuple[str, str], ...]
    source: str  # the entity its heat-source facts are about
    place: str = ""  # the place its store stands in, if any
    litres: float = 0.0
    power_kw: float = 0.0
    short: str = ""  # the kind of layout in a few words, without sizes


@dataclass(frozen=True, slots=True)
class Firing:
    """One instance of a rule: the keys of its premises and of what it concludes."""

    stratum: str
    rule: str
    premises: tuple[str, ...]
    conclusion: str
    certain: bool


@dataclass(frozen=True, slots=True)
class Finding:
    """What one rule says about one arrangement (or about the site, then for all of them)."""

    rule: str
    effect: str
    certain: bool
    key: str  # of the finding fact
    because: tuple[str, ...]  # keys of the canonical premises
    about: str  # entity


@dataclass(frozen=True, slots=True)
class Check:
    """A measured quantity against its limit, ready to print."""

    name: str  # the fact's name
    key: str  # the fact measured
    limit_key: str  # the fact it is compared with, or ""
    margin_key: str  # the margin fact, or ""
    passes: bool | None


@dataclass(frozen=True, slots=True)
class Judged:
    """An arrangement with its fate."""

    arrangement: Arrangement
    verdict: str
    possible: tuple[str, ...]
    findings: tuple[Finding, ...]
    works: tuple[str, ...]  # remedy ids, certain and possible
    requires: tuple[str, ...]  # rule ids
    checks: tuple[Check, ...]
    decided_by: tuple[str, ...]  # survey fields that would settle an open verdict
    steps: Mapping[str, tuple[int, int]]  # criterion -> (best, worst) step, 0 is best
    representative: bool  # the variant that stands for its family
    rank: int

    @property
    def id(self) -> str:
        return self.arrangement.id


@dataclass(frozen=True, slots=True)
class Comparison:
    """Why one family's best stands before the next one's: the first criterion that separates them."""

    first: str
    second: str
    criterion: str  # "verdict", a wish, a default criterion, or "id" when nothing separates them
    values: tuple[str, str]  # as texts
    keys: tuple[str, str]  # facts compared, "" where the steps are not facts
    step: str


@dataclass(frozen=True, slots=True)
class Question:
    """A measurement or a confirmation still wanted."""

    field: str
    ask: str
    because: str  # rule id, or "open"
    decides: tuple[str, ...]


@dataclass(frozen=True)
class Advice:
    """Everything one run concluded, with its derivation; never changed afterwards."""

    survey: Survey
    rulebase: Rulebase
    book: FactBook
    judged: tuple[Judged, ...]  # by rank
    recommended: str | None
    if_typical: str | None
    comparison: tuple[Comparison, ...]
    questions: tuple[Question, ...]
    derivation: tuple[Firing, ...]
    run: Mapping[str, Any]
    canonical: Mapping[str, Firing]  # fact key -> the proof shown

    def __getitem__(self, arrangement_id: str) -> Judged:
        for judged in self.judged:
            if judged.id == arrangement_id:
                return judged
        raise KeyError(arrangement_id)

    def families(self) -> tuple[Judged, ...]:
        """One variant a family, by rank."""
        return tuple(j for j in self.judged if j.representative)

    def fact(self, name: str, entity: str = "site") -> Fact | None:
        return self.book.about(name, entity)
