"""What parts and works ask of whoever fits them: printed with the works, deciding nothing.

A requirement names parts as "slot.part"; a series stands for all its sizes
("store.unvented" for "store.unvented-210"), and "remedy.id" for a work.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from advisor.facts import Source
from advisor.rulebase.families import Families
from advisor.rulebase.model import NATIONS, Remedy
from advisor.rulebase.reading import read_source, read_toml

KEYS = {"id", "parts", "where", "says", "source"}
MOST_WORDS = 25
WORK = "remedy."


@dataclass(frozen=True, slots=True)
class Requirement:
    """One sentence without its full stop, the parts that ask it, the nations its source speaks for."""

    id: str
    parts: tuple[str, ...]
    where: tuple[str, ...]
    says: str
    source: Source

    @property
    def text(self) -> str:
        """The sentence, with its nations where they are not all."""
        if set(self.where) == set(NATIONS):
            return self.says
        return f"{', '.join(n.title() for n in self.where)}: {self.says[:1].lower()}{self.says[1:]}"

    def is_asked_by(self, parts: Iterable[str], works: Iterable[str] = ()) -> bool:
        """Whether one of these parts ("slot.part") or works (ids) asks it."""
        named = [*parts, *(WORK + w for w in works)]
        return any(n == p or n.startswith(f"{p}-") for n in named for p in self.parts)


def read_requirements(path: Path, families: Families, remedies: Mapping[str, Remedy],
                      faults: list[str]) -> dict[str, Requirement]:
    """The requirements of a file by id; every fault with its place."""
    found: dict[str, Requirement] = {}
    parts = [f"{slot}.{part}" for slot, listed in families.slots.items() for part in listed]
    parts += [WORK + remedy for remedy in remedies]
    for raw in read_toml(path, faults).get("requirement", []):
        place = f"{path.name}: requirement {raw.get('id', '?')!r}"
        unknown, missing = set(raw) - KEYS, KEYS - {"where"} - set(raw)
        if unknown or missing:
            faults.append(f"{place}: unknown keys {sorted(unknown)}, missing keys {sorted(missing)}.")
            continue
        one = Requirement(raw["id"], tuple(raw["parts"]), tuple(raw.get("where", NATIONS)), raw["says"],
                          read_source(raw["source"], place, faults))
        faults += [f"{place}: {text}" for text in _faults(one, parts)]
        if one.id in found:
            faults.append(f"{place}: the id is used twice. Rename one.")
        found[one.id] = one
    return found


def _faults(one: Requirement, parts: list[str]) -> list[str]:
    faults = [f"names {p!r}, which is no part, series or work." for p in one.parts
              if not any(n == p or n.startswith(f"{p}-") for n in parts)]
    if not one.parts:
        faults.append("names no part. Say which part or work asks it.")
    if not one.where or set(one.where) - set(NATIONS):
        faults.append(f"where is {list(one.where)}. Allowed: {', '.join(NATIONS)}.")
    if len(one.says.split()) > MOST_WORDS or one.says.endswith("."):
        faults.append(f"says is {len(one.says.split())} words. Write one sentence of at most {MOST_WORDS}, "
                      "without its full stop.")
    return faults
