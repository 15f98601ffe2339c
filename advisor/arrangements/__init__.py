"""Composes the candidate arrangements: every recipe, every place, every standard size; never a survey number.

The list rests on structure only: the recipes of `rules/families.toml` and the
names of the places surveyed. For each recipe the product of its slots is taken
in the order the slots are written ("each place" stands for the surveyed
places, or for one place nobody recorded). The naming table (first match wins)
names the family; the id is `family:variant`.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Any

from advisor.facts import Fact, FactBook, exactly, key_of
from advisor.records import Arrangement
from advisor.rulebase.families import EACH_PLACE, Families, Part

NOT_RECORDED = "place-not-recorded"
NONE_FITS = "no-place-at-all"
COUNTED = ("cost.installed_points", "cost.disruption_points", "cost.running_points", "space.litres_l")


def place_entities(places: Iterable[str], complete: bool) -> tuple[str, ...]:
    """The places a store can be tried in: those surveyed, else one that stands for what nobody recorded."""
    listed = tuple(sorted(places))
    return listed or ((NONE_FITS,) if complete else (NOT_RECORDED,))


def compose(families: Families, places: Iterable[str]) -> tuple[Arrangement, ...]:
    """All candidates, sorted by id; ValueError when two share an id or one has no name."""
    return _composed(families, tuple(places))


@lru_cache(maxsize=50)
def _composed(families: Families, places: tuple[str, ...]) -> tuple[Arrangement, ...]:
    made: dict[str, Arrangement] = {}
    for recipe, chosen in families.recipes:
        options = {slot: places if parts == EACH_PLACE else tuple(parts) for slot, parts in chosen.items()}
        for combination in itertools.product(*options.values()):
            candidate = _arrangement(families, dict(zip(options, combination, strict=True)), recipe)
            if candidate.id in made:
                raise ValueError(f"families.toml: two combinations are both named {candidate.id}")
            made[candidate.id] = candidate
    return tuple(made[i] for i in sorted(made))


def parts_of(families: Families, arrangement: Arrangement) -> tuple[Part, ...]:
    """The chosen parts as records (the place is no part)."""
    return tuple(families.slots[slot][name] for slot, name in arrangement.parts.items() if slot != "place")


def _arrangement(families: Families, parts: Mapping[str, str], recipe: str) -> Arrangement:
    chosen = {slot: families.slots[slot][name] for slot, name in parts.items() if slot != "place"}
    words = _words(chosen.values())
    naming = next((n for n in families.naming if all(words.get(k) in v for k, v in n.words.items())), None)
    if naming is None:
        raise ValueError(f"families.toml: recipe {recipe!r} makes {dict(parts)}, which the naming table does not name")
    power, litres = (sum(p.numbers.get(k, 0.0) for p in chosen.values()) for k in ("power_kw", "litres"))
    place = parts.get("place", "")
    return Arrangement(
        id=f"{naming.family}:{_fill(naming.variant, power, litres, place)}", family=naming.family,
        title=_fill(naming.title, power, litres, place.replace("_", " ").replace("-", " ")), parts=dict(parts),
        links=_links(families, chosen),
        source=parts["source"], place=place, litres=litres, power_kw=power,
        short=naming.short,
    )


def _fill(template: str, power: float, litres: float, place: str) -> str:
    return template.format(power=f"{power:g}", litres=f"{litres:g}", place=place)


def _words(parts: Iterable[Part]) -> dict[str, str]:
    words: dict[str, str] = {}
    for part in parts:
        for name, word in part.words.items():
            if words.setdefault(name, word) != word:
                raise ValueError(f"families.toml: {part.id} says {name} is {word!r}, another part says {words[name]!r}")
    return words


def _links(families: Families, chosen: Mapping[str, Part]) -> tuple[tuple[str, str], ...]:
    def has(end: str) -> bool:
        slot, port = end.split(".")
        return slot in chosen and port in chosen[slot].ports

    return tuple((a, b) for a, b in families.links if has(a) and has(b))


def structure_facts(families: Families, arrangement: Arrangement) -> list[tuple[str, Any]]:
    """(name, word or number) of everything an arrangement's structure says about it, in a fixed order."""
    own = [("family", arrangement.family), ("source", arrangement.source), ("place", arrangement.place)]
    found = [(f"arrangement.{name}", word) for name, word in own if word]
    return sorted([*found, *_of_parts(families, tuple(p for p in arrangement.parts.items() if p[0] != "place"))])


@lru_cache(maxsize=1000)
def _of_parts(families: Families, chosen: tuple[tuple[str, str], ...]) -> tuple[tuple[str, Any], ...]:
    parts = [families.slots[slot][name] for slot, name in chosen]
    found: dict[str, Any] = dict(_words(parts))
    for name in (*COUNTED, *sorted({n for p in parts for n in p.numbers if n.startswith("store.")})):
        found[name] = sum(p.numbers.get(name, 0.0) for p in parts)
    return tuple(found.items())


def enter_structure(book: FactBook, families: Families, arrangements: Iterable[Arrangement],
                    units: Mapping[str, str]) -> None:
    """Enter the facts of every heat source and every arrangement into the book."""
    listed = tuple(arrangements)
    for source in sorted({a.source for a in listed}):
        for name, number in sorted(families.slots["source"][source].entity.items()):
            book.add(_fact(name, "source", source, number, units, families))
    for arrangement in listed:
        for name, value in structure_facts(families, arrangement):
            book.add(_fact(name, "arrangement", arrangement.id, value, units, families))


def _fact(name: str, sort: str, entity: str, value: float | str, units: Mapping[str, str], families: Families) -> Fact:
    return Fact(key_of(name, entity), name, sort, entity, exactly(value), unit=units.get(name, ""),
                made_by="structure", source=families.source)
