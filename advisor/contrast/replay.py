"""Advises again on the survey inside a certificate and compares, for `verify --replay`."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import tomlkit

from advisor import rulebase
from advisor.advise import advise
from advisor.certificate import certificate
from advisor.survey import SurveyError, read

SECTIONS = ("advisor", "survey", "recommended", "if_typical", "arrangements", "comparison", "questions", "facts",
            "derivation", "rules", "formulas", "thresholds")


def differences(document: Mapping[str, Any], house: str | None = None) -> list[str]:
    """The sections in which a fresh run of the same survey differs, one line each; none when it agrees."""
    base = rulebase.load(house)
    with tempfile.TemporaryDirectory() as place:
        path = Path(place) / "survey.toml"
        path.write_text(tomlkit.dumps(as_survey(document)), encoding="utf-8")
        try:
            fresh = certificate(advise(read(path, base.survey_entries()), base))
        except SurveyError as error:
            return [f"replay: the survey in the file cannot be read: {fault}" for fault in error.faults]
    return [f"replay: {name} differs from a fresh run" for name in SECTIONS if fresh[name] != document.get(name)]


def as_survey(document: Mapping[str, Any]) -> dict[str, Any]:
    """The survey of a certificate as the nested tables of a survey file, from the texts as they were read."""
    made: dict[str, Any] = {"survey_format": 1}
    for path, answer in document["survey"].items():
        if path == "works_date":
            made[path] = _date(answer["read"])
            continue
        at = made
        *tables, last = path.split(".")
        if path.startswith("confirmed."):
            tables, last = ["confirmed"], path.removeprefix("confirmed.")
        for table in tables:
            at = at.setdefault(table, {})
        at[last] = _written(path, answer)
    return made


def _written(path: str, answer: Mapping[str, Any]) -> Any:
    if path == "wishes.order":
        return list(answer["value"])
    if path.endswith(".complete"):
        return True
    if path.startswith("gas.legs.") and path.endswith((".from", ".to")):
        return answer["read"]
    text = answer["read"]
    raw: dict[str, Any] = {k: answer[k] for k in ("how", "when", "instead_of", "note", "who") if answer.get(k)}
    raw |= _ranged(text)
    return raw


def _ranged(text: str) -> dict[str, Any]:
    if text.startswith("between "):
        return {"between": text.removeprefix("between ").split(" and ")}
    if text.startswith("one of "):
        return {"one_of": text.removeprefix("one of ").split(", ")}
    return {"value": _number(text)}


def _number(text: str) -> Any:
    try:
        return int(text)
    except ValueError:
        return text


def _date(text: str) -> Any:
    from datetime import date

    return date.fromisoformat(text)
