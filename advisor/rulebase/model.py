"""The records a rule base is made of: patterns, rules, thresholds, remedies, vocabulary entries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from advisor.facts import SITE, Source, Span

STRATA = ("circumstances", "parts", "exceptions", "findings", "verdicts", "preferences", "questions")
AUTHOR_STRATA = tuple(s for s in STRATA if s != "exceptions")
EFFECTS = ("derives", "rules_out", "needs_work", "requires", "caution", "favours", "counts_against", "asks")
NATIONS = ("england", "wales", "scotland", "northern ireland")
OPS = ("applies", "below", "at_most", "above", "at_least", "is")


@dataclass(frozen=True, slots=True)
class Pattern:
    """One condition: a fact of `of` ("$x" or "site") that passes a test; `bind` names the variable its word fills."""

    fact: str
    of: str = SITE
    op: str = "applies"
    arg: float | str | tuple[str, ...] | None = None  # number, "threshold:id", or words for "is"
    bind: str = ""

    @property
    def test_id(self) -> str:
        """What the engine knows this test by: the same text for the same test wherever it stands."""
        arg = "|".join(self.arg) if isinstance(self.arg, tuple) else ("" if self.arg is None else str(self.arg))
        return f"{self.fact}~{self.op}{' ' + arg if arg else ''}" + ("~value" if self.bind else "")

    def as_json(self) -> dict[str, Any]:
        arg = list(self.arg) if isinstance(self.arg, tuple) else self.arg
        return {"fact": self.fact, "of": self.of, "op": self.op, "arg": arg, "bind": self.bind}


@dataclass(frozen=True, slots=True)
class Conclusion:
    """What a rule concludes: `fact` of `of` is the word `word`."""

    fact: str
    of: str
    word: str

    def as_json(self) -> dict[str, str]:
        return {"fact": self.fact, "of": self.of, "is": self.word}


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule as its author wrote it, after reading."""

    id: str
    title: str
    stratum: str
    where: tuple[str, ...]
    when: tuple[Pattern, ...]
    unless: tuple[Pattern, ...]
    effect: str
    about: str
    conclude: Conclusion
    source: Source
    asks: str = ""
    criterion: str = ""
    remedies: tuple[str, ...] = ()
    shows: tuple[str, ...] = ()
    mistaken_if: str = ""
    added: date | None = None
    changed: date | None = None  # of its last change in what it says or decides
    exception_to: str = ""
    fires: tuple[Mapping[str, Any], ...] = ()
    silent: tuple[Mapping[str, Any], ...] = ()
    unsure: tuple[Mapping[str, Any], ...] = ()
    subject: str = ""  # the file it stands in
    safety: bool = False  # whether leaving it out could hurt somebody: the letter never cuts it
    twin_of: str = ""  # set on the rule the loader makes for the other nations

    def normal_form(self) -> dict[str, Any]:
        """What the certificate holds of it: everything that decides, nothing that only informs."""
        return {
            "id": self.id, "stratum": STRATA.index(self.stratum), "when": [p.as_json() for p in self.when],
            "unless": [p.as_json() for p in self.unless], "effect": self.effect, "about": self.about,
            "conclude": self.conclude.as_json(), "asks": self.asks, "criterion": self.criterion,
            "remedies": list(self.remedies),
        }


@dataclass(frozen=True, slots=True)
class Threshold:
    """A dated limit: the value in force on a day is the last one whose `from` is not later."""

    id: str
    unit: str
    meaning: str
    source: Source
    values: tuple[tuple[date, Span], ...]

    def on(self, day: date) -> tuple[date, Span]:
        """The (date, value) in force on `day`; the earliest value before the first date."""
        past = [v for v in self.values if v[0] <= day]
        return past[-1] if past else self.values[0]


@dataclass(frozen=True, slots=True)
class Remedy:
    """An edit of survey values, who may do it, what it costs and how far it disturbs the household."""

    id: str
    title: str
    sets: tuple[Mapping[str, Any], ...]  # {field = fact name, to = text}
    who: str
    band: str  # none, small, medium, large
    disruption: str  # none, hours, days
    adds: Mapping[str, int] = field(default_factory=dict)  # criterion -> steps
    source: Source = field(default_factory=lambda: Source(""))


@dataclass(frozen=True, slots=True)
class Entry:
    """A vocabulary entry: what a fact name means, its sort, its type and its domain."""

    name: str
    sort: str
    kind: str  # number or words
    unit: str = ""
    domain: tuple[Any, ...] = ()  # (lo, hi) or the words
    made: str = "survey"  # survey, structure, calc, rule, threshold
    single: bool = True
    meaning: str = ""
    plain: str = ""
    field: str = ""  # survey facts: the dotted path, NAME standing for the entry's name
    typical: Any = None
    question: str = ""
    tool: str = ""
    minutes: float = 0.0
    tolerance: float = 0.0
    may_change: str = "fixed"  # fixed, costly, easy, wish
    better: str = ""  # more, less or nothing
    how: str = "measured"
    weight: str = "M"
    personal: bool = False
    names_a: str = ""  # its words are entities of this sort, so a pattern may bind and follow them
    default: Any = None  # a wish not written has this value, and is not "unanswered"
