"""A survey record as the text of a survey file, in the order of the walk."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import tomlkit

from advisor.survey.fields import COMPLETE, CONFIRMED, LEGS, NAME, Fields
from advisor.survey.reader import FORMAT
from advisor.survey.record import Answer, Survey


def as_toml(survey: Survey) -> str:
    """The text of a file that reads back as this survey: answers, notes, lists, links, "unknown" and private lines.

    Parameters
    ----------
    survey : a survey without contradictions

    Returns
    -------
    TOML text; ranges and alternatives stand as `{ value = "between 2 bar and 3 bar" }`, which the reader takes.
    Comments of a file the survey came from are not in the record, and so not in the text.
    """
    lines = [f"survey_format = {FORMAT}"]
    for key in ("works_date", "surveyed_on"):
        if day := getattr(survey, key):
            lines.append(f"{key} = {day.isoformat()}")
    for section in sections(survey.fields):
        written = list(_section(survey, section))
        if written and section:
            lines += ["", *(_headed(survey, section) if section not in survey.fields.lists else ()), *written]
        else:
            lines += written
    if survey.private:
        lines += ["", "[private]", *(f"{key} = {_quoted(text)}" for key, text in survey.private.items())]
    return "\n".join(lines) + "\n"


def sections(fields: Fields) -> list[str]:
    """The sections in the order of the walk: "" for what stands before the first table, a list by its own path."""
    found: dict[str, None] = {"": None}
    for pattern in fields.entries:
        if not pattern.startswith(f"{CONFIRMED}."):
            found.setdefault(pattern.rpartition(".")[0].removesuffix(f".{NAME}"))
    return [*found, CONFIRMED]


def _headed(survey: Survey, section: str) -> Iterator[str]:
    yield f"[{section}]"
    if section == "wishes" and survey.wish_order:
        yield f"order = {json.dumps(list(survey.wish_order))}"


def _section(survey: Survey, section: str) -> Iterator[str]:
    if section not in survey.fields.lists:
        yield from _answers(survey, section)
        return
    if section not in survey.lists:
        return
    yield f"[{section}]"
    if section in survey.complete:
        yield f"{COMPLETE} = true"
    for name in survey.lists[section]:
        yield ""
        yield f"[{section}.{name}]"
        if section == LEGS:
            yield from (f"{key} = {_quoted(end)}" for key, end in zip(("from", "to"), survey.links[name], strict=True)
                        if end)
        yield from _answers(survey, f"{section}.{name}")


def _answers(survey: Survey, section: str) -> Iterator[str]:
    """The lines of the fields that stand directly under a section."""
    for path, entry, _ in survey.every_field():
        if path.rpartition(".")[0] != section:
            continue
        key = path.rpartition(".")[2]
        if path in survey.answers:
            answer = survey.answers[path]
            yield f"{key} = {_answer(answer, counts=entry.kind == 'number' and not entry.unit, usual=entry.how)}"
        elif path in survey.unknown:
            yield f'{key} = "unknown"'


def _answer(answer: Answer, counts: bool, usual: str) -> str:
    """One answer as it stands behind the equals sign: the plain value where that says it all."""
    value = answer.read if counts and answer.read.isdigit() else _quoted(answer.read)
    more = {"how": answer.how if answer.how != usual else "", "when": answer.when, "instead_of": answer.instead_of,
            "note": answer.note, "who": answer.who}
    said = "".join(f", {key} = {_quoted(text)}" for key, text in more.items() if text)
    return f"{{ value = {value}{said} }}" if said else value


def _quoted(text: Any) -> str:
    """A text as TOML writes it on one line."""
    return tomlkit.string(str(text)).as_string() if '"' not in str(text) and "\n" not in str(text) \
        else json.dumps(str(text), ensure_ascii=False)
