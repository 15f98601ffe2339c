"""JSON Schema of a survey, made from the vocabulary: for editors and for programs that write surveys.

The schema knows shapes and words; units and cross-field checks are the reader's.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from advisor.rulebase.model import Entry
from advisor.survey.fields import COMPLETE, CONFIRMED, ENTRY_NAME, LEGS, LINK_KEYS, NAME, PRIVATE_KEYS, Fields
from advisor.survey.models import HOW, LONGEST_NOTE
from advisor.survey.reader import FORMAT

DIALECT = "https://json-schema.org/draft/2020-12/schema"
TEXT = {"type": "string", "maxLength": LONGEST_NOTE}


def schema(fields: Fields) -> dict[str, Any]:
    """The schema of a whole survey file."""
    top: dict[str, Any] = {
        "survey_format": {"const": FORMAT}, "works_date": {"type": "string", "format": "date"},
        "surveyed_on": {"type": "string", "format": "date"},
        "private": _table({key: TEXT for key in PRIVATE_KEYS}),
        CONFIRMED: {"type": "object", "additionalProperties": True},
    }
    for pattern, entry in fields.entries.items():
        if not pattern.startswith(f"{CONFIRMED}."):
            _put(top, pattern.split("."), _answer(entry))
    top["wishes"]["properties"]["order"] = {"type": "array", "uniqueItems": True, "items": {"enum": fields.wishes()}}
    for listed in fields.lists:
        _list(_at(top, listed.split(".")), listed)
    return {"$schema": DIALECT, "title": "Survey of a home", "type": "object", "required": ["survey_format"],
            "properties": top, "additionalProperties": False}


def _table(properties: dict[str, Any]) -> dict[str, Any]:
    return {"type": "object", "properties": properties, "additionalProperties": False}


def _at(properties: dict[str, Any], path: Iterable[str]) -> dict[str, Any]:
    """The table at a path, made on the way."""
    table: dict[str, Any] = {"properties": properties}
    for key in path:
        table = table["properties"].setdefault(key, _table({}))
    return table


def _put(properties: dict[str, Any], path: list[str], leaf: dict[str, Any]) -> None:
    _at(properties, path[:-1])["properties"][path[-1]] = leaf


def _list(table: dict[str, Any], listed: str) -> None:
    """A list of named tables: what was put under NAME holds for every name."""
    entry = table["properties"].pop(NAME)
    if listed == LEGS:
        entry["properties"] |= {key: {"type": "string"} for key in LINK_KEYS}
    table["properties"][COMPLETE] = {"type": "boolean", "description": "true when every entry is listed"}
    table["patternProperties"] = {f"^(?!{COMPLETE}$){ENTRY_NAME.pattern}$": entry}


def _answer(entry: Entry) -> dict[str, Any]:
    """A plain value, or a table with a value, a range or a choice, and how it is known."""
    plain = _plain(entry)
    table = _table({
        "value": plain, "between": {"type": "array", "items": plain, "minItems": 2, "maxItems": 2},
        "one_of": {"type": "array", "items": plain, "minItems": 1}, "how": {"enum": list(HOW)}, "when": TEXT,
        "instead_of": plain, "note": TEXT, "who": TEXT,
    })
    table["oneOf"] = [{"required": [key]} for key in ("value", "between", "one_of")]
    words = f"{entry.meaning} [{entry.unit}]" if entry.unit else entry.meaning
    return {"title": entry.plain, "description": f"{words}. {entry.question}", "anyOf": [plain, table]}


def _plain(entry: Entry) -> dict[str, Any]:
    if entry.kind == "words":
        return {"enum": [*entry.domain, "unknown"]}
    if entry.unit:
        return {"type": "string", "description": f"a number with its unit, {entry.domain[0]:g} to {entry.domain[1]:g} "
                                                 f"{entry.unit}, or \"unknown\""}
    return {"anyOf": [{"type": "integer", "minimum": int(entry.domain[0]), "maximum": int(entry.domain[1])},
                      {"const": "unknown"}]}
