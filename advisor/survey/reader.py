"""Reads a survey file: every fault with its place, all at once; nothing is dropped or guessed."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path
from typing import Any

from advisor import units
from advisor.rulebase.model import Entry
from advisor.survey import answers
from advisor.survey.consistency import impossible, odd
from advisor.survey.fields import (
    COMPLETE,
    CONFIRMED,
    ENTRY_NAME,
    LEGS,
    LINK_ALLOWED,
    LINK_KEYS,
    ORDER,
    PRIVATE_KEYS,
    Fields,
    nearest,
)
from advisor.survey.models import answer_table, text_fault
from advisor.survey.record import Answer, Survey, SurveyError

FORMAT = 1
BIGGEST_FILE = 2_000_000  # bytes; a real survey has a few thousand
DEEPEST = 6
LONGEST_ERROR = 160
MOST_ENTRIES = 40  # of one list
RESERVED = {LEGS: ("meter", "boiler"), "gas.appliances": ("meter", "boiler")}  # words of `from` and `to`
LONG_KEY = re.compile(r"""(?<![\w"'.-])(?:(?:[\w-]{1,80}|"[^"\n]{0,80}"|'[^'\n]{0,80}')[ \t]*\.[ \t]*){20,}""")


def read(path: Path | str, vocabulary: Mapping[str, Entry]) -> Survey:
    """The survey in a file.

    Parameters
    ----------
    path : a TOML file, UTF-8
    vocabulary : fact name -> entry, as the rule base holds it

    Raises
    ------
    SurveyError : with one line a fault: `file: field: what was found. What is allowed. What to do.`; all faults at
        once, but for a file that is no TOML at all
    OSError : when the file cannot be opened
    """
    return read_bytes(Path(path).read_bytes(), Path(path), vocabulary)


def read_bytes(data: bytes, path: Path, vocabulary: Mapping[str, Entry]) -> Survey:
    """As `read`, with the file's content at hand; `path` only names it."""
    raw = _load(data, path.name)
    reading = _Reading(Fields.of(vocabulary))
    survey = reading.survey(raw, str(path))
    if faults := [*reading.faults, *impossible(survey)]:
        raise SurveyError([f"{path.name}: {fault}" for fault in faults])
    return replace(survey, warnings=tuple(odd(survey)))


def _load(data: bytes, name: str) -> dict[str, Any]:
    """The TOML of a file; what is no TOML, or would take for ever, is one fault."""
    if len(data) > BIGGEST_FILE:
        raise SurveyError([f"{name}: the file has {len(data)} bytes. Allowed: {BIGGEST_FILE}. Is it a survey?"])
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise SurveyError([f"{name}: line {line} holds bytes that are not UTF-8. Allowed: UTF-8 text. "
                           "Save the file as UTF-8."]) from None
    too_deep = f"{name}: nested too deeply. Allowed: {DEEPEST} levels. Write it flat."
    if LONG_KEY.search(text):  # the TOML reader would take hours over such a key
        raise SurveyError([too_deep])
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise SurveyError([too_deep]) from None
    except tomllib.TOMLDecodeError as error:
        found = units.shown(str(error), LONGEST_ERROR)
        raise SurveyError([f"{name}: not valid TOML: {found}. Allowed: one key = value a line, texts in quotes. "
                           "Mend that line first."]) from None
    except ValueError:  # Python's own, for an integer of thousands of digits
        raise SurveyError([f"{name}: a number has thousands of digits. Allowed: numbers as one measures them. "
                           "Correct it."]) from None


class _Reading:
    """One file being read: faults gather as it goes."""

    def __init__(self, fields: Fields):
        self.fields = fields
        self.faults: list[str] = []
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

    def _no_table(self, place: str, raw: Any) -> None:
        self._fault(place, f"{answers.kind_of(raw)}. Allowed: a table. Write [{place}] and its lines below.")

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
            self._no_table("private", raw)
            return
        for key, value in raw.items():
            if key not in PRIVATE_KEYS:
                self._unknown_key("private", key, PRIVATE_KEYS)
            elif not isinstance(value, str):
                self._fault(f"private.{key}", f"{answers.kind_of(value)}. Allowed: a text. Put it in quotes.")
            elif fault := text_fault(value, many_lines=True):
                self._fault(f"private.{key}", fault)
            else:
                self.private[key] = value

    def _confirmed(self, raw: Any) -> None:
        known = [p.removeprefix(f"{CONFIRMED}.") for p in self.fields.entries if p.startswith(f"{CONFIRMED}.")]
        if not isinstance(raw, Mapping):
            self._no_table(CONFIRMED, raw)
            return
        for key, value in raw.items():
            path = f"{CONFIRMED}.{key}"
            if key not in known:
                close = nearest(key, known)
                self._fault(f"{CONFIRMED}.{units.shown(key)}", "no rule of this name asks to be confirmed. "
                            + (f"Did you mean {close}?" if close else "Look at `advisor rules list`."))
                continue
            self._answer(path, value)

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
                self._no_table(path, value)
        else:
            self._unknown_key(section, key, self.fields.keys_under(section))

    def _unknown_key(self, section: str, key: str, known: Iterable[str]) -> None:
        """A key that is not known, with the nearest one that is: here, or else in another section."""
        dot = f"{section}." if section else ""
        close = nearest(key, known)
        elsewhere = "" if close else next((p for p in self.fields.entries if p.split(".")[-1] == key), "")
        advice = (f"Did you mean {dot}{close}?" if close else f"It stands under {elsewhere}." if elsewhere else
                  "Take it out, or look at `advisor survey blank`.")
        self._fault(f"{dot}{units.shown(key)}", f"this key is not known. {advice}")

    def _list(self, path: str, raw: Any) -> None:
        if not isinstance(raw, Mapping):
            self._fault(path, f"{answers.kind_of(raw)}. Allowed: one table for each entry. "
                              f"Give each a name of its own, such as [{path}.first].")
            return
        if len(raw) > MOST_ENTRIES:
            self._fault(path, f"{len(raw)} entries. Allowed: {MOST_ENTRIES}. Leave out what does not matter.")
            return
        names = []
        for name, value in raw.items():
            if name == COMPLETE:
                self._complete(path, value)
            elif not ENTRY_NAME.fullmatch(name):
                self._fault(f"{path}.{units.shown(name)}", "this is no name. Allowed: small letters, digits and _, "
                                                           "beginning with a letter. Rename it.")
            elif name in RESERVED.get(path, ()):
                self._fault(f"{path}.{name}", f"{name} has a meaning of its own here. Allowed: any other name. "
                                              "Rename it.")
            elif not isinstance(value, Mapping):
                self._no_table(f"{path}.{name}", value)
            else:
                names.append(name)
                self._entry(path, name, value)
        self.lists[path] = tuple(names)

    def _complete(self, path: str, raw: Any) -> None:
        if not isinstance(raw, bool):
            self._fault(f"{path}.{COMPLETE}", f"{answers.kind_of(raw)}. Allowed: true, when every entry is listed. "
                                              "Write complete = true, without quotes.")
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
                self._unknown_key(f"{path}.{name}", key, self.fields.keys_under(f"{path}.NAME"))
        if path == LEGS:
            self.links[name] = (links.get("from", ""), links.get("to", ""))

    def _link(self, place: str, raw: Any) -> str:
        if isinstance(raw, str) and (raw == "" or ENTRY_NAME.fullmatch(raw)):
            return raw
        self._fault(place, f"{answers.kind_of(raw)}. {LINK_ALLOWED}")
        return ""

    def _order(self, raw: Any) -> None:
        known = self.fields.wishes()
        if not isinstance(raw, list) or not all(isinstance(w, str) for w in raw):
            self._fault(ORDER, f"{answers.kind_of(raw)}. Allowed: a list of wishes, the most important first. "
                               'Write order = ["no_pumps", "low_price"].')
            return
        for wish in raw:
            if wish not in known:
                close = nearest(wish, known)
                self._fault(ORDER, f'"{units.shown(wish)}" is no wish. Allowed: {", ".join(known)}. '
                                   + (f"Did you mean {close}?" if close else "Take it out."))
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
            if table is not None and table.instead_of is not None:
                self._earlier(path, table.instead_of, entry)
        except answers.AnswerFault as fault:
            self._fault(path, str(fault))
            return
        yield Answer(path, got.value, entry.unit, got.read, how=(table.how if table else "") or entry.how,
                     when=str(table.when) if table else "", note=table.note if table else "",
                     instead_of="" if table is None or table.instead_of is None else str(table.instead_of),
                     who=table.who if table else "", echo=got.echo)

    def _earlier(self, path: str, reading: Any, entry: Entry) -> None:
        """The earlier reading must be a reading too, or it was mistyped."""
        try:
            answers.plain(reading, entry)
        except answers.AnswerFault as fault:
            self._fault(path, f"instead_of: {fault}")

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
