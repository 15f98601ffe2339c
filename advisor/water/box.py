"""What is known of a home and a layout, as ends: the most demanding and the kindest home the answers allow.

The simulation is costly and no closed formula, so a ranged answer is bracketed: each input named in `ONE_WAY` only
ever brings the first shortfall nearer (or only further off) as it grows, so the two ends hold all between (a property
test in `tests/water` tries inner points). Counts are tried one by one. Any other ranged input makes the result
"anything", with the reason; an answer that was not given at all is asked for, never filled in.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Protocol

from advisor.facts import Fact, Span, Words

if TYPE_CHECKING:
    from advisor.records import Arrangement

NOT_LISTED = "not-listed"
ASKED = "not answered"

# Input -> whether more of it is kinder (the first shortfall comes later or never).
ONE_WAY = {
    "supply.useful_bar": False,
    "supply.mixer_bar": False,
    "outlet.flow_l_min": False, "household.shower_minutes_min": False, "household.bath_fill_l": False,
    "heating.heat_loss_kw": False, "cistern.head_m": True, "cistern.pipe_mm": True, "existing.boiler_power_kw": True,
    "existing.cylinder_l": True, "threshold.quiet_share": True, "threshold.shared_share": True,
    "threshold.winter_cold_c": True,
}
COUNTED = ("household.busy_showers", "household.busy_baths")
# With a bath before or after the showers, longer showers also put the bath off: no longer one-way.
NOT_BESIDE_A_BATH = ("household.shower_minutes_min", "household.bath_fill_l")


class Facts(Protocol):
    """Where facts are read: a fact book, or one with some answers changed."""

    def about(self, name: str, entity: str) -> Fact | None: ...


class NotComputed(ValueError):
    """Why there is no result; `reasons` are whole sentences, `fields` the survey fields that would help."""

    def __init__(self, reasons: list[str], fields: list[str]):
        super().__init__(" ".join(reasons))
        self.reasons, self.fields = reasons, fields


@dataclass
class Reader:
    """Reads the fact book for one arrangement, gathering every reason against before it refuses."""

    book: Facts
    arrangement: Arrangement
    reasons: list[str] = field(default_factory=list)
    fields: list[str] = field(default_factory=list)
    rests_on: set[str] = field(default_factory=set)
    used: dict[str, Fact] = field(default_factory=dict)  # every fact read, by key

    def fact(self, name: str, entity: str = "site") -> Fact:
        found = self.book.about(name, entity)
        if found is None:
            raise KeyError(f"{name}@{entity} is in no fact book")
        self.rests_on |= found.rests_on
        self.used[found.key] = found
        return found

    def span(self, name: str, entity: str = "site", asked: bool = True) -> Span:
        """The interval of a number; noted as a reason when it was never answered and `asked`."""
        fact = self.fact(name, entity)
        if asked and fact.how == "default":
            self.against(f"{fact.note} is {ASKED}", fact.note)
        value = fact.value
        return value if isinstance(value, Span) else Span(0.0, 0.0)

    def word(self, name: str, entity: str = "site") -> str:
        """The one word of a fact; noted as a reason where more than one is possible."""
        fact = self.fact(name, entity)
        words = sorted(fact.value.words) if isinstance(fact.value, Words) else [""]
        if fact.how == "default":
            self.against(f"{fact.note} is {ASKED}", fact.note)
        elif len(words) > 1:
            self.against(f"{fact.note} may be {' or '.join(words)}, and the busy hour differs too much between them",
                         fact.note)
        return words[0]

    def end(self, name: str, kind: bool, entity: str = "site", asked: bool = True) -> float:
        """The kind or the demanding end of a one-way input."""
        span = self.span(name, entity, asked)
        return span.hi if ONE_WAY[name] == kind else span.lo

    def against(self, reason: str, field_name: str = "") -> None:
        if reason not in self.reasons:
            self.reasons.append(reason)
        if field_name and field_name not in self.fields:
            self.fields.append(field_name)

    def refuse(self) -> None:
        if self.reasons:
            raise NotComputed(list(self.reasons), list(self.fields))

    def counts(self) -> Iterator[tuple[int, int]]:
        """Every pair of showers and baths the answers allow."""
        showers, baths = (self.span(n) for n in COUNTED)
        return itertools.product(range(round(showers.lo), round(showers.hi) + 1),
                                 range(round(baths.lo), round(baths.hi) + 1))

    def no_bath_trouble(self, bath_beside: bool) -> None:
        """Refuse the ranges that are not one-way once a bath queues with the showers."""
        if self.span("household.busy_baths").hi <= 0 or self.span("household.busy_showers").hi <= 0 or bath_beside:
            return
        for name in NOT_BESIDE_A_BATH:
            if not self.span(name).single:
                note = self.fact(name).note
                self.against(f"{note} is a range, and with a bath in the same hour more of it can help or hurt", note)
