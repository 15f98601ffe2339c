"""Published tables: shared/tables/*.toml -> Table, each with its source attached.

A table that does not say where it comes from is refused, with every fault at once.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from advisor.facts import PROVENANCES, Source
from advisor.paths import TABLES

REQUIRED = ("id", "title", "document", "place", "edition", "provenance", "seen", "terms")
OPTIONAL = ("note", "where", "checked_on")


class TableError(ValueError):
    """A table file that is missing or says too little of itself."""


@dataclass(frozen=True)
class Table:
    """A table as published: its rows in the file's order, and what its head says."""

    id: str
    title: str
    source: Source
    rows: tuple[Mapping[str, Any], ...]
    edition: str = ""
    terms: str = ""
    note: str = ""

    def row(self, **keys: Any) -> Mapping[str, Any]:
        """The one row whose columns have these values; KeyError names what the table has instead."""
        found = [r for r in self.rows if all(r[k] == v for k, v in keys.items())]
        if len(found) != 1:
            known = ", ".join(str([r[k] for k in keys]) for r in self.rows)
            raise KeyError(f"{self.id}: {len(found)} rows for {keys}. It has {known}.")
        return found[0]


@lru_cache(maxsize=64)
def load(name: str, folder: Path = TABLES) -> Table:
    """Read one table by its name (the file's name without .toml); TableError lists every fault."""
    path = folder / f"{name}.toml"
    if not path.is_file():
        known = ", ".join(sorted(p.stem for p in folder.glob("*.toml")))
        raise TableError(f"{name}: no such table. Known: {known}.")
    try:
        raw = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise TableError(f"{path.name}: {error}. Mend the file.") from error
    faults = _faults(name, raw)
    if faults:
        raise TableError("\n".join(f"{path.name}: {f}" for f in faults))
    head = raw["table"]
    document = f"{head['document']}, {head['edition']}"
    source = Source(document, head["place"], head["provenance"], head["seen"])
    return Table(head["id"], head["title"], source, tuple(raw["row"]), head["edition"], head["terms"],
                 head.get("note", ""))


def _faults(name: str, raw: Mapping[str, Any]) -> list[str]:
    """What is wrong with a table as read."""
    head, rows = raw.get("table", {}), raw.get("row", [])
    faults = [f"'{k}' is missing or empty in [table]. Say it." for k in REQUIRED if not str(head.get(k, "")).strip()]
    unknown = sorted(set(head) - {*REQUIRED, *OPTIONAL})
    if unknown:
        faults.append(f"unknown keys {unknown} in [table]. Allowed: {', '.join((*REQUIRED, *OPTIONAL))}.")
    if head.get("provenance") and head["provenance"] not in PROVENANCES:
        faults.append(f"provenance is {head['provenance']!r}. Allowed: {', '.join(PROVENANCES)}.")
    if head.get("id") and head["id"] != name:
        faults.append(f"id is {head['id']!r}; the file's name is {name!r}. They must agree.")
    if not rows:
        faults.append("no [[row]]. A table has rows.")
    elif len({tuple(sorted(r)) for r in rows}) > 1:
        faults.append("rows have different columns. Give each row the same.")
    return faults
