"""A survey with some answers replaced, read as strictly as a file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from advisor import units
from advisor.survey import answers
from advisor.survey.consistency import impossible, odd
from advisor.survey.fields import COMPLETE, ENTRY_NAME, LEGS, LINK_ALLOWED, LINK_KEYS, ORDER, nearest
from advisor.survey.record import Answer, Survey, SurveyError

DATES = ("works_date", "surveyed_on")


def changed(survey: Survey, changes: Mapping[str, str | None]) -> Survey:
    """See `Survey.with_changes`."""
    draft = _Draft(survey)
    for path, text in changes.items():
        draft.set(path, text)
    if draft.faults:
        raise SurveyError(draft.faults)
    made = draft.survey()
    if contradictions := list(impossible(made)):
        raise SurveyError(contradictions)
    return replace(made, warnings=tuple(odd(made)))


@dataclass
class _Draft:
    """The parts of a survey while they are changed; faults gather."""

    old: Survey

    def __post_init__(self) -> None:
        self.answers = dict(self.old.answers)
        self.unknown, self.complete = set(self.old.unknown), set(self.old.complete)
        self.links = dict(self.old.links)
        self.dates: dict[str, date | None] = {key: getattr(self.old, key) for key in DATES}
        self.order = self.old.wish_order
        self.faults: list[str] = []

    def survey(self) -> Survey:
        stated = tuple(w for w in self.order if f"wishes.{w}" in self.answers)
        return replace(self.old, answers=dict(sorted(self.answers.items())), unknown=frozenset(self.unknown),
                       complete=frozenset(self.complete), links=self.links, wish_order=stated, **self.dates)

    def set(self, path: str, text: str | None) -> None:
        """One change: an answer, or one of the few lines that are not answers."""
        listed = self.old.fields.split(path)
        entry = self.old.fields.entry(path)
        if listed and listed[1] not in self.old.lists.get(listed[0], ()):
            self._unknown_field(path)
        elif entry is not None:
            self._answer(path, text)
        elif path in DATES:
            self._date(path, text)
        elif path == ORDER:
            self._order(text)
        elif listed and listed[0] == LEGS and listed[2] in LINK_KEYS:
            self._link(path, text, listed[1], listed[2])
        elif path.removesuffix(f".{COMPLETE}") in self.old.fields.lists:
            self._complete(path.removesuffix(f".{COMPLETE}"), text)
        else:
            self._unknown_field(path)

    def _unknown_field(self, path: str) -> None:
        close = nearest(path, [f for f, _, _ in self.old.every_field()])
        advice = f"Did you mean {close}?" if close else "See `advisor survey blank` for the fields."
        self.faults.append(f"{units.shown(path)}: this is no field of this survey. {advice}")

    def _answer(self, path: str, text: str | None) -> None:
        entry = self.old.fields.entry(path)
        assert entry is not None
        if answers.is_unknown(text):
            self.answers.pop(path, None)
            if entry.default is None:
                self.unknown.add(path)
            return
        try:
            got = answers.plain(text, entry)
        except answers.AnswerFault as fault:
            self.faults.append(f"{path}: {fault}")
            return
        self.unknown.discard(path)
        self.answers[path] = Answer(path, got.value, entry.unit, got.read, how=entry.how, echo=got.echo)

    def _link(self, path: str, text: str | None, leg: str, key: str) -> None:
        """Where a gas leg begins or ends; a text that could be no name at all is refused as in a file."""
        name = "" if answers.is_unknown(text) else str(text).strip()
        if name and not ENTRY_NAME.fullmatch(name):
            self.faults.append(f"{path}: {answers.kind_of(name)}. {LINK_ALLOWED}")
            return
        start, end = self.links[leg]
        self.links[leg] = (name, end) if key == "from" else (start, name)

    def _date(self, path: str, text: str | None) -> None:
        try:
            self.dates[path] = None if answers.is_unknown(text) else date.fromisoformat(str(text).strip())
        except ValueError:
            self.faults.append(f"{path}: {answers.kind_of(text)}. Allowed: a date such as 2027-01-15. Write the date.")

    def _order(self, text: str | None) -> None:
        """The wishes in order, most important first, with commas between."""
        names = [] if answers.is_unknown(text) else [n.strip() for n in str(text).split(",")]
        known = self.old.fields.wishes()
        if wrong := [n for n in names if n not in known]:
            self.faults.append(f'{ORDER}: "{units.shown(wrong[0])}" is no wish. Allowed: {", ".join(known)}. '
                               "Write them with commas between.")
        self.order = tuple(dict.fromkeys(names))

    def _complete(self, listed: str, text: str | None) -> None:
        word = str(text).strip().casefold()
        if word not in ("true", "false"):
            self.faults.append(f"{listed}.{COMPLETE}: {answers.kind_of(text)}. Allowed: true, false. "
                               "Write one of them.")
        elif word == "true":
            self.complete.add(listed)
        else:
            self.complete.discard(listed)
