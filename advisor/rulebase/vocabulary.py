"""Reads the vocabulary: what every fact name means, its sort, unit and domain; refuses what it does not know.

All faults of all files are gathered and reported at once.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from advisor.rulebase.model import Entry
from advisor.rulebase.reading import RulebaseError, read_toml

SORTS = ("site", "place", "outlet", "appliance", "leg", "source", "arrangement")
CHOICES: dict[str, tuple[str, ...]] = {
    "sort": SORTS, "kind": ("number", "words"), "made": ("survey", "structure", "calc", "rule", "threshold"),
    "may_change": ("fixed", "costly", "easy", "wish"), "better": ("", "more", "less"),
    "how": ("measured", "told", "assumed"), "weight": ("H", "M", "L"),
}
SUFFIX = {"bar": "_bar", "mbar": "_mbar", "l/min": "_l_min", "m3/h": "_m3_h", "kW": "_kw", "A": "_a", "m": "_m",
          "mm": "_mm", "m2": "_m2", "l": "_l", "mg/l": "_mg_l", "min": "_min", "years": "_years", "kN": "_kn",
          "kg": "_kg", "K": "_k"}
KEYS = {f.name for f in dataclasses.fields(Entry)} - {"name"}
MUST = {"sort", "kind", "meaning", "plain"}
MUST_SURVEY = MUST | {"field", "domain", "question", "tool", "minutes", "may_change"}


def load(*paths: Path) -> dict[str, Entry]:
    """All entries of these files, in the order they stand; a name in two files is a fault.

    Raises
    ------
    RulebaseError : with one line a fault, `file: [name]: what was found. What is allowed.`
    """
    entries: dict[str, Entry] = {}
    faults: list[str] = []
    for path in paths:
        for name, raw in read_toml(path, faults).items():
            place = f"{path.name}: [{name}]"
            found = list(_faults(name, raw))
            if name in entries:
                found.append("the name stands in the vocabulary twice. Keep one of them.")
            faults += [f"{place}: {text}" for text in found]
            if not found:
                entries[name] = _entry(name, raw)
    if faults:
        raise RulebaseError(faults)
    return entries


def _entry(name: str, raw: Mapping[str, Any]) -> Entry:
    given = dict(raw)
    number = given["kind"] == "number"
    if "domain" in given:
        given["domain"] = tuple(float(d) for d in given["domain"]) if number else tuple(given["domain"])
    for key in ("typical", "default", "minutes", "tolerance"):
        if isinstance(given.get(key), int):
            given[key] = float(given[key])
    return Entry(name=name, **given)


def _faults(name: str, raw: Any) -> Iterator[str]:
    if not isinstance(raw, Mapping):
        yield f'this is {raw!r}. An entry is a table: quote the dotted name, ["{name}"].'
        return
    must = MUST_SURVEY if raw.get("made", "survey") == "survey" else MUST
    if unknown := sorted(set(raw) - KEYS):
        yield f"unknown keys {unknown}. Known: {', '.join(sorted(KEYS))}."
    if missing := sorted(must - set(raw)):
        yield f"missing keys {missing}."
        return
    for key, allowed in CHOICES.items():
        if key in raw and raw[key] not in allowed:
            yield f"{key} is {raw[key]!r}. Allowed: {', '.join(a or 'nothing' for a in allowed)}."
    for key in ("meaning", "plain", "field", "question", "tool", "unit"):
        if not isinstance(raw.get(key, ""), str):
            yield f"{key} is {raw[key]!r}. Write a text."
    yield from (_number_faults if raw["kind"] == "number" else _word_faults)(name, raw)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _number_faults(name: str, raw: Mapping[str, Any]) -> Iterator[str]:
    domain = raw.get("domain")
    if domain is not None:
        if not (isinstance(domain, list) and len(domain) == 2 and all(map(_is_number, domain))
                and domain[0] <= domain[1]):
            yield f"domain is {domain!r}. Write the lowest and the highest number."
        else:
            for key in ("typical", "default"):
                if key in raw and not (_is_number(raw[key]) and domain[0] <= raw[key] <= domain[1]):
                    yield f"{key} is {raw[key]!r}. It must lie between {domain[0]:g} and {domain[1]:g}."
    suffix = SUFFIX.get(raw.get("unit", ""), "")
    if not name.endswith(suffix):
        yield f"the unit is {raw['unit']}, so the name must end in {suffix}."
    for key in ("minutes", "tolerance"):
        if key in raw and not (_is_number(raw[key]) and raw[key] >= 0):
            yield f"{key} is {raw[key]!r}. Write a number, 0 or more."


def _word_faults(name: str, raw: Mapping[str, Any]) -> Iterator[str]:
    domain = raw.get("domain")
    if domain is None:
        return
    if not isinstance(domain, list) or not all(isinstance(w, str) and w for w in domain):
        yield f"domain is {domain!r}. List the allowed words."
        return
    if len(set(domain)) != len(domain):
        yield f"domain is {domain!r}. Name each word once."
    for key in ("typical", "default"):
        if key in raw and raw[key] not in domain:
            yield f"{key} is {raw[key]!r}. Allowed: {', '.join(domain)}."
