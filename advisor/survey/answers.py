"""One written answer into the set of values it leaves possible."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import Any

from advisor import units
from advisor.facts import Span, Value, Words
from advisor.rulebase.model import Entry
from advisor.survey.fields import CONFIRMED, nearest

UNKNOWN = ("unknown", "null", "")
BETWEEN = re.compile(r"between\s+(.+?)\s+and\s+(.+)", re.IGNORECASE)
ONE_OF = re.compile(r"one of\s+(.+)", re.IGNORECASE)
BIGGEST_COUNT = 10**9
LONGEST_ANSWER = 400  # characters; "one of ..." with every word of the longest domain stays below


class AnswerFault(ValueError):
    """What is wrong with one answer: found, allowed, what to do (the caller adds file and field)."""


@dataclass(frozen=True, slots=True)
class Got:
    """A value set, the text that gives it again, and what to say about how it was read."""

    value: Value
    read: str
    echo: str = ""


def is_unknown(raw: Any) -> bool:
    """Whether this says "asked, and nobody knows"."""
    return raw is None or (isinstance(raw, str) and raw.strip().casefold() in UNKNOWN)


def plain(raw: Any, entry: Entry) -> Got:
    """A plain value, or one of the texts "between X and Y" and "one of A, B"."""
    if isinstance(raw, str):
        if len(raw) > LONGEST_ANSWER:
            raise AnswerFault(f'"{units.shown(raw)}" is {len(raw)} characters long. '
                              f"{_allowed(entry) if entry.kind == 'words' else units.wanted(entry.unit)}")
        if match := BETWEEN.fullmatch(raw.strip()):
            return between([match[1], match[2]], entry)
        if match := ONE_OF.fullmatch(raw.strip()):
            return one_of([part.strip() for part in match[1].split(",")], entry)
    return _number(raw, entry) if entry.kind == "number" else _word(raw, entry)


def between(ends: list[Any], entry: Entry) -> Got:
    """A range of numbers; both ends belong to it."""
    if entry.kind != "number":
        raise AnswerFault(f"a range of words. {_allowed(entry)} Write one_of = [...] with the words that are possible.")
    low, high = (_number(end, entry) for end in ends)
    if low.value.lo > high.value.lo:
        raise AnswerFault(f'the range runs from "{low.read}" down to "{high.read}". The smaller end comes first. '
                          "Turn it round.")
    echo = "; ".join(e for e in (low.echo, high.echo) if e)
    return Got(Span(low.value.lo, high.value.lo), f"between {low.read} and {high.read}", echo)


def one_of(choices: list[Any], entry: Entry) -> Got:
    """Several possible values. For numbers the interval that holds them all: nothing possible is lost."""
    read = [(_number if entry.kind == "number" else _word)(choice, entry) for choice in choices]
    texts = [got.read for got in read]
    if twice := sorted({t for t in texts if texts.count(t) > 1}):
        raise AnswerFault(f'one_of names "{twice[0]}" twice. Name each possible value once. Take one out.')
    text = f"one of {', '.join(texts)}" if len(texts) > 1 else texts[0]
    echo = "; ".join(got.echo for got in read if got.echo)
    if entry.kind == "number":
        return Got(Span(min(g.value.lo for g in read), max(g.value.hi for g in read)), text, echo)
    return Got(Words(frozenset(texts)), text, echo)


def _number(raw: Any, entry: Entry) -> Got:
    if isinstance(raw, bool) or not isinstance(raw, int | float | str):
        raise AnswerFault(f"{kind_of(raw)}. {units.wanted(entry.unit)}")
    if isinstance(raw, str):
        try:
            reading = units.read(raw, entry.unit)
        except units.UnitError as error:
            hint = " For a range write between = [..., ...]." if "two numbers" in str(error) else ""
            raise AnswerFault(f"{error}{hint}") from None
        text = " ".join(raw.split())
    elif entry.unit:
        raise AnswerFault(f"{units.shown(_digits(raw))} has no unit. {units.wanted(entry.unit)}")
    else:
        reading, text = units.Reading(_finite(raw)), _digits(raw)
    _check_domain(reading.value, text, entry)
    return Got(Span(reading.value, reading.value), text, reading.note)


def _digits(raw: int | float) -> str:
    return f"{raw:g}" if isinstance(raw, float) else (str(raw) if abs(raw) < BIGGEST_COUNT else "a very large number")


def _finite(raw: int | float) -> float:
    if (isinstance(raw, int) and abs(raw) > BIGGEST_COUNT) or not math.isfinite(raw):
        raise AnswerFault(f"{_digits(raw)} is not a count. {units.wanted('')}")
    return float(raw)


def _check_domain(value: float, text: str, entry: Entry) -> None:
    low, high = entry.domain
    unit = f" {entry.unit}" if entry.unit else ""
    if not low <= value <= high:
        raise AnswerFault(f'"{text}" is {value:g}{unit}. Allowed: {low:g} to {high:g}{unit}. '
                          f"{'Look again, or check the unit' if entry.unit else 'Count again'}.")
    if not entry.unit and value != int(value):
        raise AnswerFault(f'"{text}" is not a whole number. Allowed: {low:g} to {high:g}. Count again.')


def _word(raw: Any, entry: Entry) -> Got:
    if isinstance(raw, bool):
        hint = 'Write "yes" or "no", in quotes' if "yes" in entry.domain else "Write one of the words, in quotes"
        raise AnswerFault(f"{kind_of(raw)}. {_allowed(entry)} {hint}.")
    if not isinstance(raw, str):
        raise AnswerFault(f"{kind_of(raw)}. {_allowed(entry)} Write one of the words, in quotes.")
    word = " ".join(raw.split()).casefold()
    if word in _domain(entry):
        return Got(Words(frozenset([word])), word)
    close = nearest(word, _domain(entry))
    advice = f'Did you mean "{close}"?' if close else "Choose one, or leave the line out."
    raise AnswerFault(f'"{units.shown(raw)}". {_allowed(entry)} {advice}')


def _domain(entry: Entry) -> tuple[str, ...]:
    """The words allowed; a confirmation can only be given, so "no" is not an answer to it."""
    return ("yes",) if entry.field.startswith(f"{CONFIRMED}.") else entry.domain


def _allowed(entry: Entry) -> str:
    return f"Allowed: {', '.join(_domain(entry))}."


def kind_of(raw: Any) -> str:
    """What a TOML value is, in words; never its whole content."""
    if isinstance(raw, bool):
        return "true" if raw else "false"
    if isinstance(raw, str):
        return f'"{units.shown(raw)}"'
    if isinstance(raw, int | float):
        return _digits(raw)
    return {dict: "a table", list: "a list"}.get(type(raw), "a date or a time")
