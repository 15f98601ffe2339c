"""Reads families.toml: slots with their parts, recipes, links and names."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from advisor import tables
from advisor.facts import Source
from advisor.rulebase.reading import read_source, read_toml

EACH_PLACE = "each place"


@dataclass(frozen=True, slots=True)
class Part:
    """Something that is installed and priced."""

    id: str
    slot: str
    title: str
    ports: tuple[str, ...]
    words: Mapping[str, str]  # facts it makes about the arrangement
    numbers: Mapping[str, float]  # summed over the parts
    entity: Mapping[str, float]  # numbers about the heat source itself
    needs: tuple[str, ...]  # facts its checks owe

    def as_json(self) -> dict[str, Any]:
        return {"ports": list(self.ports), "words": dict(self.words), "numbers": dict(self.numbers),
                "entity": dict(self.entity), "needs": list(self.needs)}


@dataclass(frozen=True, slots=True)
class Naming:
    family: str
    title: str
    variant: str
    words: Mapping[str, tuple[str, ...]]
    short: str = ""


@dataclass(frozen=True, slots=True, eq=False)  # one object a rule base: what is made of it is kept beside it
class Families:
    """Everything the composer works from."""

    slots: Mapping[str, Mapping[str, Part]]
    recipes: tuple[tuple[str, Mapping[str, Any]], ...]  # (id, {slot: [part ids] or "each place"})
    links: tuple[tuple[str, str], ...]
    naming: tuple[Naming, ...]
    source: Source

    def as_json(self) -> dict[str, Any]:
        return {
            "slots": {s: {p.id: p.as_json() for p in parts.values()} for s, parts in self.slots.items()},
            "recipes": [{"id": i, "slots": dict(slots)} for i, slots in self.recipes],
            "links": [{"from": a, "to": b} for a, b in self.links],
            "naming": [{"family": n.family, "title": n.title, "variant": n.variant,
                        "words": {k: list(v) for k, v in n.words.items()}} for n in self.naming],
        }

    def needs_json(self) -> dict[str, Any]:
        return {s: {p.id: list(p.needs) for p in parts.values()} for s, parts in self.slots.items()}


def read_families(path: Path, faults: list[str]) -> Families:
    """The families file as records; a recipe that names an unknown part is a fault."""
    raw = read_toml(path, faults)
    slots: dict[str, dict[str, Part]] = {}
    for slot, parts in raw.get("slots", {}).items():
        slots[slot] = {name: _part(name, slot, table) for name, table in parts.items()}
    series: dict[str, list[str]] = {}
    for kind, table in raw.get("store_series", {}).items():
        made = [_sized(kind, litres, coil, table)
                for litres, coil in zip(table["litres"], table["coil_kw"], strict=True)]
        slots.setdefault("store", {}).update({p.id: p for p in made})
        series[kind] = [p.id for p in made]
    recipes = []
    for recipe in raw.get("recipe", []):
        chosen = {}
        for slot, options in recipe["slots"].items():
            listed = options if options == EACH_PLACE else series.get(options, options) if isinstance(
                options, str) else options
            chosen[slot] = listed
            for part in () if listed == EACH_PLACE else listed:
                if part not in slots.get(slot, {}):
                    faults.append(f"{path.name}: recipe {recipe['id']!r} names {slot} {part!r}, which is no part.")
        recipes.append((recipe["id"], chosen))
    naming = tuple(Naming(n["family"], n["title"], n["variant"], {k: tuple(v) for k, v in n["words"].items()},
                          n["short"]) for n in raw.get("naming", []))
    links = tuple((link["from"], link["to"]) for link in raw.get("link", []))
    return Families(slots, tuple(recipes), links, naming, read_source(raw.get("source"), path.name, faults))


def _part(name: str, slot: str, raw: Mapping[str, Any]) -> Part:
    numbers = {k: float(v) for k, v in raw.get("numbers", {}).items()}
    return Part(name, slot, raw["title"], tuple(raw["ports"]), raw["words"], numbers,
                {k: float(v) for k, v in raw.get("entity", {}).items()}, tuple(raw["needs"]))


def _sized(kind: str, litres: int, coil_kw: float, raw: Mapping[str, Any]) -> Part:
    """One size of a store series, with its dimensions from the table of standard sizes."""
    outside = raw.get("sized_as", kind)  # the series whose outside sizes it shares
    row = next(r for r in tables.load("store_sizes").rows if r["store"] == outside and r["litres"] == litres)
    numbers = {k: float(v) for k, v in raw["numbers"].items()}
    numbers |= {"litres": float(litres), "space.litres_l": float(litres), "store.litres_l": float(litres),
                "store.coil_kw": float(coil_kw), "store.diameter_mm": float(row["diameter_mm"]),
                "store.tall_mm": float(row["height_mm"]), "store.empty_kg": float(row["empty_kg"])}
    return Part(f"{kind}-{litres}", "store", raw["title"].format(litres=litres), tuple(raw["ports"]), raw["words"],
                numbers, {}, tuple(raw["needs"]))
