"""The survey as one immutable record: what was answered, what was listed, what the household wishes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from advisor.facts import SITE, Value, value_to_json
from advisor.rulebase.model import Entry
from advisor.survey.fields import CONFIRMED, Fields


class SurveyError(ValueError):
    """A survey, or a change to one, that cannot be used; `faults` holds one line a fault."""

    def __init__(self, faults: list[str]):
        self.faults = faults
        super().__init__("\n".join(faults))


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer: the set of values it leaves possible, as written, and how it is known."""

    field: str  # dotted path in the survey
    value: Value
    unit: str
    read: str  # the text as written; `with_changes` accepts it again
    how: str = "measured"
    when: str = ""
    instead_of: str = ""  # an earlier reading this one replaces
    note: str = ""
    who: str = ""  # confirmations only
    echo: str = ""  # how a doubtful spelling was read: imperial gallons, pipe threads

    def as_json(self) -> dict[str, Any]:
        """The answer as advice.json prints it; what was not written is left out."""
        made: dict[str, Any] = {"read": self.read, "value": value_to_json(self.value), "unit": self.unit,
                                "how": self.how}
        extras = {"when": self.when, "instead_of": self.instead_of, "note": self.note, "who": self.who}
        return made | {key: text for key, text in extras.items() if text}


@dataclass(frozen=True)
class Survey:
    """A read survey. Never changed; `with_changes` makes another one."""

    answers: Mapping[str, Answer]  # by field, sorted
    lists: Mapping[str, tuple[str, ...]]  # "places", "outlets", "gas.legs", "gas.appliances" -> names in file order
    complete: frozenset[str]  # the lists said to hold every entry
    links: Mapping[str, tuple[str, str]]  # gas leg -> (from, to), "" where not written
    fields: Fields = field(repr=False)
    works_date: date | None = None
    surveyed_on: date | None = None
    wish_order: tuple[str, ...] = ()
    unknown: frozenset[str] = frozenset()  # fields asked, answered "unknown"
    private: Mapping[str, str] = field(default_factory=dict, repr=False)
    warnings: tuple[str, ...] = ()
    path: str = ""

    @property
    def wishes(self) -> tuple[str, ...]:
        """The wishes stated, in the household's order, then in the vocabulary's."""
        stated = [w for w in self.fields.wishes() if self._stated(w)]
        first = [w for w in self.wish_order if w in stated]
        return tuple(first + [w for w in stated if w not in first])

    def _stated(self, wish: str) -> bool:
        answer = self.answers.get(f"wishes.{wish}")
        return answer is not None and answer.read != "none"

    def value(self, path: str) -> Value:
        """What is possible for a field: its answer, a wish's default, or the whole domain.

        Raises
        ------
        KeyError : where the vocabulary has no such field
        """
        if path in self.answers:
            return self.answers[path].value
        entry = self.fields.entry(path)
        if entry is None:
            raise KeyError(path)
        return self.fields.unanswered(entry)

    def every_field(self) -> Iterator[tuple[str, Entry, str]]:
        """(field, entry, entity) of every field this survey could answer, list entries included."""
        for pattern, entry in self.fields.entries.items():
            if "NAME" not in pattern:
                yield pattern, entry, SITE
                continue
            for name in self.lists.get(self.fields.list_of(pattern), ()):
                yield pattern.replace("NAME", name), entry, name

    def unanswered(self) -> tuple[str, ...]:
        """Questions with no answer; a wish not written and a confirmation not given are not among them."""
        return tuple(f for f, entry, _ in self.every_field() if f not in self.answers and entry.default is None
                     and not f.startswith(f"{CONFIRMED}."))

    def with_changes(self, changes: Mapping[str, str | None]) -> Survey:
        """A survey with some answers replaced.

        Parameters
        ----------
        changes : field -> the text a survey file could hold ("14 l/min", "between 2 bar and 3 bar",
            "one of lead, iron", a wish word); "unknown", "null", "" or None takes the answer away

        Raises
        ------
        SurveyError : for an unknown field, a text that cannot be read, or a contradiction it brings about
        """
        from advisor.survey.changes import changed  # here, because changes needs this record

        return changed(self, changes)
