"""Accepts the typical value for questions nobody answered: each is written as assumed, to be confirmed later."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import tomlkit

from advisor.rulebase.model import Entry
from advisor.survey.fields import CONFIRMED, nearest
from advisor.survey.record import Survey, SurveyError


@dataclass(frozen=True, slots=True)
class Assumed:
    """One value accepted without anybody having seen it."""

    field: str
    text: str


def choose(survey: Survey, wanted: Iterable[str] = ()) -> tuple[Assumed, ...]:
    """The typical values for these fields, or for every unanswered field whose typical value may stand here.

    Raises
    ------
    SurveyError : for a named field that is unknown, answered already, has no typical value, or has one that
        contradicts an answer
    """
    entries = {path: entry for path, entry, _ in survey.every_field()}
    named = tuple(dict.fromkeys(wanted))
    if not named:
        return _together(survey, [_typical(p, entries[p]) for p in survey.unanswered() if _can_assume(p, entries[p])])
    faults = [fault for path in named if (fault := _fault(path, survey, entries))]
    if faults:
        raise SurveyError(faults)
    chosen = tuple(_typical(path, entries[path]) for path in named)
    survey.with_changes({a.field: a.text for a in chosen})
    return chosen


def _together(survey: Survey, offered: list[Assumed]) -> tuple[Assumed, ...]:
    """Those that contradict neither the survey nor one another; the first come first."""
    kept: dict[str, Assumed] = {}
    for one in offered:
        try:
            survey.with_changes({a.field: a.text for a in (*kept.values(), one)})
        except SurveyError:
            continue  # somebody has to go and look
        kept[one.field] = one
    return tuple(kept.values())


def _can_assume(path: str, entry: Entry) -> bool:
    """A wish is the household's to state and a confirmation somebody's to give: neither can be assumed."""
    return entry.typical is not None and entry.default is None and not path.startswith(f"{CONFIRMED}.")


def _fault(path: str, survey: Survey, entries: dict[str, Entry]) -> str:
    if path not in entries:
        close = nearest(path, entries)
        return f"{path}: this is no field of this survey. " + (f"Did you mean {close}?" if close else
                                                               "See `advisor survey blank` for the fields.")
    if path in survey.answers:
        return (f'{path}: it is answered already ("{survey.answers[path].read}"). Allowed: fields without an answer. '
                "Take the answer out first.")
    if not _can_assume(path, entries[path]):
        return f"{path}: it has no typical value. Allowed: questions about the house and its use. Ask, or look."
    return ""


def _typical(path: str, entry: Entry) -> Assumed:
    text = entry.typical if entry.kind == "words" else f"{entry.typical:g} {entry.unit}".strip()
    return Assumed(path, str(text))


def written(text: str, chosen: Iterable[Assumed], survey: Survey) -> str:
    """The survey file's text with the assumed answers put in; comments and order stay."""
    document = tomlkit.parse(text)
    for assumed in chosen:
        *tables, key = assumed.field.split(".")
        at: Any = document
        for table in tables:
            if table not in at:
                at[table] = tomlkit.table()
            at = at[table]
        entry = survey.fields.entry(assumed.field)
        count = entry is not None and entry.kind == "number" and not entry.unit
        value = assumed.text if count else json.dumps(assumed.text)
        at[key] = tomlkit.value(f'{{ value = {value}, how = "assumed" }}')
    return tomlkit.dumps(document)
