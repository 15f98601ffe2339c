"""Reads a survey file: every fault with its place, all at once; nothing is dropped or guessed."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from datetime import date, datetime
from pathlib import Path
from typing import Any

from advisor import units
from advisor.rulebase.model import Entry
from advisor.survey import answers
from advisor.survey.consistency import impossible, odd
from advisor.survey.fields import COMPLETE, CONFIRMED, LEGS, LINK_KEYS, ORDER, PRIVATE_KEYS, Fields, nearest
from advisor.survey.models import answer_table, text_fault
from advisor.survey.record import Answer, Survey, SurveyError

FORMAT = 1
BIGGEST_FILE = 2_000_000  # bytes; a real survey has a few thousand
DEEPEST = 6
ENTRY_NAME = re.compile(r"[a-z][a-z0-9_]{0,39}")


def read(path: Path | str, vocabulary: Mapping[str, Entry]) -> Survey:
    """The survey in a file.

    Parameters
    ----------
    path : a TOML file, UTF-8
    vocabulary : fact name -> entry, as the rule base holds it

    Raises
    ------
    SurveyError : with one line a fault: `file: field: what was found. What is allowed. What to do.`
    OSError : when the file cannot be opened
    """
    path = Path(path)
    raw = _load(path)
    reading = _Reading(Fields.of(vocabulary))
    survey = reading.survey(raw, str(path))
    if reading.faults:
        raise SurveyError([f"{path.name}: {fault}" for fault in reading.faults])
    faults = list(impossible(survey))
    if faults:
        raise SurveyError([f"{path.name}: {fault}" for fault in faults])
    return _with_warnings(survey, reading.notes)


def _with_warnings(survey: Survey, notes: list[str]) -> Survey:
    from dataclasses import replace

    return replace(survey, warnings=(*notes, *odd(survey)))


def _load(path: Path) -> dict[str, Any]:
    data = path.read_bytes()
    if len(data) > BIGGEST_FILE:
        raise SurveyError([f"{path.name}: the file has {len(data)} bytes. Allowed: {BIGGEST_FILE}. Is it a survey?"])
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        raise SurveyError([f"{path.name}: byte {error.start} is no UTF-8. Save the file as UTF-8 text."]) from None
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise SurveyError([f"{path.name}: not valid TOML: {units.shown(str(error), 120)}. Mend that line first."]) from None
    except RecursionError:
        raise SurveyError([f"{path.name}: nested too deeply. A survey has at most {DEEPEST} levels."]) from None


class _Reading:
    """One file being read: faults and notes gather as it goes."""

    def __init__(self, fields: Fields):
        self.fields = fields
        self.faults: list[str] = []
        self.notes: list[str] = []
        self.answers: dict[str, Answer] = {}
        self.lists: dict[str, tuple[str, ...]] = {}
        self.complete: set[str] = set()
        self.links: dict[str, tuple[str, str]] = {}
        self.unknown: set[str] = set()
        self.private: dict[str, str] = {}
        self.order: tuple[str, ...] = ()

    def survey(self, raw: Mapping[str, Any], path: str) -> Survey:
        """Everything the file says; look at `faults` before using it."""
        self._format(raw)
        dates = {key: self._date(key, raw[key]) for key in ("works_date", "surveyed_on") if key in raw}
        for key, value in raw.items():
            if key in ("survey_format", "works_date", "surveyed_on"):
                continue
            if key == "private":
                self._private(value)
            elif key == CONFIRMED:
                self._confirmed(value)
            else:
                self._below("", key, value)
        self._wish_order_known()
        return Survey(
            answers=dict(sorted(self.answers.items())), lists=self.lists, complete=frozenset(self.complete),
            links=self.links, fields=self.fields, works_date=dates.get("works_date"),
            surveyed_on=dates.get("surveyed_on"), wish_order=self.order, unknown=frozenset(self.unknown),
            private=self.private, path=path)

    def _fault(self, place: str, text: str) -> None:
        self.faults.append(f"{place}: {text}")

    def _format(self, raw: Mapping[str, Any]) -> None:
        found = raw.get("survey_format")
        if found is None:
            self._fault("survey_format", f"the line is missing. Allowed: {FORMAT}. "
                                         f"Write survey_format = {FORMAT} at the top.")
        elif found != FORMAT or isinstance(found, bool):
            self._fault("survey_format", f"{answers.kind_of(found)}. Allowed: {FORMAT}. "
                                         "This program reads no other format.")

    def _date(self, key: str, raw: Any) -> date | None:
        if isinstance(raw, datetime):
            return raw.date()
        if isinstance(raw, date):
            return raw
        try:
            return date.fromisoformat(raw)
        except (TypeError, ValueError):
            self._fault(key, f"{answers.kind_of(raw)}. Allowed: a date such as 2027-01-15. "
                             "Write the date, or leave the line out.")
            return None

    def _private(self, raw: Any) -> None:
        if not isinstance(raw, Mapping):
            self._fault("private", f"{answers.kind_of(raw)}. Allowed: a table. Write [private] and its lines below.")
            return
        for key, value in raw.items():
            if key not in PRIVATE_KEYS:
                self._unknown_key(f"private.{units.shown(key)}", key, PRIVATE_KEYS)
            elif not isinstance(value, str):
                self._fault(f"private.{key}", f"{answers.kind_of(value)}. Allowed: a text in quotes.")
            elif fault := text_fault(value, many_lines=True):
                self._fault(f"private.{key}", fault)
            else:
                self.private[key] = value

    def _confirmed(self, raw: Any) -> None:
        known = [p.removeprefix(f"{CONFIRMED}.") for p in self.fields.entries if p.startswith(f"{CONFIRMED}.")]
        if not isinstance(raw, Mapping):
            self._fault(CONFIRMED, f"{answers.kind_of(raw)}. Allowed: a table of rule ids.")
            return
        for key, value in raw.items():
            if key not in known:
                self._unknown_key(f"{CONFIRMED}.{units.shown(key)}", key, known)
            else:
                self._answer(f"{CONFIRMED}.{key}", value)

    def _below(self, section: str, key: str, value: Any) -> None:
        """One key under a section: a field, a list, a deeper section, or nothing known."""
        path = f"{section}.{key}" if section else key
        if path == ORDER:
            self._order(value)
        elif self.fields.entry(path) is not None:
            self._answer(path, value)
        elif path in self.fields.lists:
            self._list(path, value)
        elif path in self.fields.sections:
            if isinstance(value, Mapping):
                for below, deeper in value.items():
                    self._below(path, below, deeper)
            else:
                self._fault(path, f"{answers.kind_of(value)}. Allowed: a table. Write [{path}] and its lines below.")
        else:
            self._unknown_key(f"{section}.{units.shown(key)}" if section else units.shown(key), key,
                              self.fields.keys_under(section))

    def _unknown_key(self, place: str, key: str, known: Any) -> None:
        close = nearest(key, known)
        advice = f"Did you mean {close}?" if close else "Take the line out, or look at `advisor survey blank`."
        self._fault(place, f"not known. {advice}")

    def _list(self, path: str, raw: Any) -> None:
        if not isinstance(raw, Mapping):
            self._fault(path, f"{answers.kind_of(raw)}. Allowed: tables with names of their own, such as [{path}.first].")
            return
        names = []
        for name, value in raw.items():
            if name == COMPLETE:
                self._complete(path, value)
            elif not ENTRY_NAME.fullmatch(name):
                self._fault(f"{path}.{units.shown(name)}", "this is no name. Allowed: small letters, digits and _, "
                                                           "beginning with a letter. Rename it.")
            elif not isinstance(value, Mapping):
                self._fault(f"{path}.{name}", f"{answers.kind_of(value)}. Allowed: a table. Write [{path}.{name}].")
            else:
                names.append(name)
                self._entry(path, name, value)
        self.lists[path] = tuple(names)

    def _complete(self, path: str, raw: Any) -> None:
        if not isinstance(raw, bool):
            self._fault(f"{path}.{COMPLETE}", f"{answers.kind_of(raw)}. Allowed: true, when every entry is listed.")
        elif raw:
            self.complete.add(path)

    def _entry(self, path: str, name: str, raw: Mapping[str, Any]) -> None:
        links = {}
        for key, value in raw.items():
            place = f"{path}.{name}.{key}"
            if path == LEGS and key in LINK_KEYS:
                links[key] = self._link(place, value)
            elif self.fields.entry(place) is not None:
                self._answer(place, value)
            else:
                self._unknown_key(f"{path}.{name}.{units.shown(key)}", key, self.fields.keys_under(f"{path}.NAME"))
        if path == LEGS:
            self.links[name] = (links.get("from", ""), links.get("to", ""))

    def _link(self, place: str, raw: Any) -> str:
        if isinstance(raw, str) and (raw == "" or ENTRY_NAME.fullmatch(raw)):
            return raw
        self._fault(place, f"{answers.kind_of(raw)}. Allowed: the name of a leg, \"meter\", \"boiler\" or an appliance.")
        return ""

    def _order(self, raw: Any) -> None:
        known = self.fields.wishes()
        if not isinstance(raw, list) or not all(isinstance(w, str) for w in raw):
            self._fault(ORDER, f"{answers.kind_of(raw)}. Allowed: a list of wishes, the most important first.")
            return
        for wish in raw:
            if wish not in known:
                self._unknown_key(f"{ORDER}: {units.shown(wish)}", wish, known)
        if twice := sorted({w for w in raw if raw.count(w) > 1}):
            self._fault(ORDER, f"names {units.shown(twice[0])} twice. Name each wish once. Take one out.")
        self.order = tuple(raw)

    def _wish_order_known(self) -> None:
        for wish in self.order:
            if wish in self.fields.wishes() and f"wishes.{wish}" not in self.answers:
                self._fault(ORDER, f"names {wish}, which is no stated wish. Write wishes.{wish} = \"must\" or "
                                   "\"prefer\", or take it out of the order.")

    def _answer(self, path: str, raw: Any) -> None:
        entry = self.fields.entry(path)
        assert entry is not None
        for got in self._got(path, raw, entry):
            self.answers[path] = got

    def _got(self, path: str, raw: Any, entry: Entry) -> Iterator[Answer]:
        """The answer at a path, or nothing where it says "unknown" or is faulty."""
        table = None
        if isinstance(raw, Mapping):
            if _depth(raw) > DEEPEST:
                self._fault(path, "nested too deeply. Allowed: a value, or one table. Write it flat.")
                return
            table, faults = answer_table(dict(raw))
            for fault in faults:
                self._fault(path, fault)
            if table is None:
                return
        value = table.value if table is not None and table.value is not None else raw
        if not isinstance(value, Mapping) and answers.is_unknown(value):
            self.unknown.add(path)
            return
        try:
            got = self._value(value if table is None else table, entry)
        except answers.AnswerFault as fault:
            self._fault(path, str(fault))
            return
        if got.echo:
            self.notes.append(f"{path}: {got.echo}")
        yield Answer(path, got.value, entry.unit, got.read, how=(table.how if table else "") or entry.how,
                     when=str(table.when) if table else "", note=table.note if table else "",
                     instead_of="" if table is None or table.instead_of is None else str(table.instead_of),
                     who=table.who if table else "", echo=got.echo)

    @staticmethod
    def _value(given: Any, entry: Entry) -> answers.Got:
        if hasattr(given, "between"):
            if given.between is not None:
                return answers.between(given.between, entry)
            if given.one_of is not None:
                return answers.one_of(given.one_of, entry)
            given = given.value
        return answers.plain(given, entry)


def _depth(raw: Any, so_far: int = 1) -> int:
    if so_far > DEEPEST or not isinstance(raw, Mapping | list):
        return so_far
    below = raw.values() if isinstance(raw, Mapping) else raw
    return max((_depth(v, so_far + 1) for v in below), default=so_far)
