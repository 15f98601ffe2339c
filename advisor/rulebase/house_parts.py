"""A firm's own sizes and prices: what its `house.toml` adds to the standard series, and what it asks for a layout.

::

    [[size]]                     # another size, where the part it is like is offered
    like = "store.unvented-180"
    litres = 170
    coil_kw = 18
    diameter_mm = 550
    height_mm = 1250
    empty_kg = 44
    [[size]]
    like = "source.combination-24"
    power_kw = 28                # for hot water
    heating_kw = 24
    lowest_kw = 3.5
    [[price]]                    # pounds; the narrowest that fits a layout is printed
    layout = "combination-boiler"
    power_kw = 28
    from = 2600
    to = 3100
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, Protocol

from advisor.rulebase.families import EACH_PLACE, Families, Part

STORE = {"litres": "litres", "coil_kw": "store.coil_kw", "diameter_mm": "store.diameter_mm",
         "height_mm": "store.tall_mm", "empty_kg": "store.empty_kg"}
BOILER = {"power_kw": "source.hot_kw", "heating_kw": "source.heating_kw", "lowest_kw": "source.lowest_kw"}
MOST = {"litres": 500.0, "power_kw": 70.0}  # beyond these a design of its own is wanted (common practice)
NARROWER = ("power_kw", "litres")
PRICE_KEYS = {"layout", "from", "to", *NARROWER}


class Layout(Protocol):
    """What a price asks of a layout."""

    family: str
    power_kw: float
    litres: float


@dataclass(frozen=True, slots=True)
class Offered:
    """A kind and size of layout that the recipes make, wherever its store stands."""

    family: str
    power_kw: float
    litres: float


@dataclass(frozen=True, slots=True)
class Price:
    """What the firm asks for a kind of layout, or for one of its sizes, in pounds."""

    layout: str
    low: float
    high: float
    power_kw: float | None = None
    litres: float | None = None

    def fits(self, arrangement: Layout) -> bool:
        return self.layout == arrangement.family and all(
            getattr(self, n) in (None, getattr(arrangement, n)) for n in NARROWER)

    @property
    def narrow(self) -> int:
        return sum(getattr(self, n) is not None for n in NARROWER)

    @property
    def pounds(self) -> str:
        return f"{self.low:,.0f} pounds" if self.low == self.high else f"{self.low:,.0f} to {self.high:,.0f} pounds"

    def line(self) -> str:
        size = [f"{getattr(self, n):g} {unit}" for n, unit in zip(NARROWER, ("kW", "l"), strict=True)
                if getattr(self, n) is not None]
        return f"price of {self.layout}{' (' + ', '.join(size) + ')' if size else ''}: {self.pounds}"


def price_of(prices: Iterable[Price], arrangement: Layout) -> Price | None:
    """The narrowest price that fits a layout; None where the firm names none."""
    return max((p for p in prices if p.fits(arrangement)), key=lambda p: p.narrow, default=None)


# ---------------------------------------------------------------- sizes
def enlarged(sizes: Iterable[Mapping[str, Any]], families: Families, place: str, faults: list[str]) -> Families:
    """The families with the firm's sizes beside the standard part that each is like."""
    slots = {slot: dict(parts) for slot, parts in families.slots.items()}
    beside: dict[str, list[str]] = {}
    for raw in sizes:
        made = _sized(raw, slots, f"{place}: [[size]] like {raw.get('like')!r}", faults)
        if made is not None:
            part, like = made
            slots[part.slot][part.id] = part
            beside.setdefault(f"{part.slot}.{like}", []).append(part.id)
    recipes = tuple((name, {slot: _with(slot, listed, beside) for slot, listed in chosen.items()})
                    for name, chosen in families.recipes)
    return replace(families, slots=slots, recipes=recipes) if beside else families


def _with(slot: str, listed: Any, beside: Mapping[str, list[str]]) -> Any:
    if listed == EACH_PLACE:
        return listed
    return [*listed, *(new for old in listed for new in beside.get(f"{slot}.{old}", ()))]


def _sized(raw: Mapping[str, Any], slots: Mapping[str, Mapping[str, Part]], place: str,
           faults: list[str]) -> tuple[Part, str] | None:
    """(the firm's part, the id it is like), or None with its faults."""
    slot, _, like = str(raw.get("like", "")).partition(".")
    old = slots.get(slot, {}).get(like)
    kinds = {"store": STORE, "source": BOILER}
    if old is None or slot not in kinds or not set(STORE if slot == "store" else BOILER).issubset(_holds(old, slot)):
        offered = [f"{s}.{p.id}" for s in kinds for p in slots[s].values() if set(kinds[s]) <= _holds(p, s)]
        faults.append(f"{place}: no such size. Allowed: {', '.join(offered)}.")
        return None
    wanted, before = kinds[slot], len(faults)
    if set(raw) - {"like"} != set(wanted):
        faults.append(f"{place}: keys are {sorted(raw)}. Allowed, and all wanted: like, {', '.join(wanted)}.")
        return None
    for key in wanted:
        most = MOST.get(key, float("inf"))
        if isinstance(raw[key], bool) or not isinstance(raw[key], int | float) or not 0 < raw[key] <= most:
            faults.append(f"{place}: {key} is {raw[key]!r}. Allowed: a number above 0"
                          f"{f', {most:g} at most' if key in MOST else ''}.")
    if len(faults) > before:
        return None
    size = float(raw["litres" if slot == "store" else "power_kw"])
    part = replace(_store(old, raw) if slot == "store" else _boiler(old, raw), id=re.sub(r"\d+$", f"{size:g}", old.id))
    if part.id in slots[slot]:
        faults.append(f"{place}: {slot}.{part.id} is there already. Take the size out, or give another.")
        return None
    return part, like


def _holds(part: Part, slot: str) -> set[str]:
    held = {**part.numbers, **part.entity}
    return {key for key, name in (STORE if slot == "store" else BOILER).items() if name in held}


def _store(old: Part, raw: Mapping[str, Any]) -> Part:
    litres = float(raw["litres"])
    numbers = {**old.numbers, **{name: float(raw[key]) for key, name in STORE.items()},
               "space.litres_l": litres, "store.litres_l": litres}
    return replace(old, title=_retitled(old.title, old.numbers["litres"], litres), numbers=numbers)


def _boiler(old: Part, raw: Mapping[str, Any]) -> Part:
    power = float(raw["power_kw"])
    return replace(old, title=_retitled(old.title, old.numbers["power_kw"], power),
                   numbers={**old.numbers, "power_kw": power},
                   entity={**old.entity, **{name: float(raw[key]) for key, name in BOILER.items()}})


def _retitled(title: str, old: float, new: float) -> str:
    return title.replace(f"{old:g}", f"{new:g}", 1)


# ---------------------------------------------------------------- prices
def prices(raws: Iterable[Mapping[str, Any]], families: Families, place: str, faults: list[str]) -> tuple[Price, ...]:
    """The firm's prices; each must fit a layout that can be offered, and no two the same one."""
    offered = list(_offered(families))
    found: dict[tuple[Any, ...], Price] = {}
    for raw in raws:
        where = f"{place}: [[price]] {raw.get('layout')!r}"
        price = _price(raw, where, faults)
        if price is None:
            continue
        if not any(price.fits(a) for a in offered):
            kinds = ", ".join(sorted({a.family for a in offered}))
            faults.append(f"{where}: no layout of this kind and size. Allowed: {kinds}, in the sizes offered.")
        key = (price.layout, price.power_kw, price.litres)
        if key in found:
            faults.append(f"{where}: it is priced twice. Keep one.")
        found[key] = price
    return tuple(found.values())


def _offered(families: Families) -> Iterator[Offered]:
    for _, chosen in families.recipes:
        slots = [[families.slots[slot][part] for part in listed] for slot, listed in chosen.items()
                 if listed != EACH_PLACE]
        for parts in itertools.product(*slots):
            words = {name: word for part in parts for name, word in part.words.items()}
            named = next((n for n in families.naming if all(words.get(k) in v for k, v in n.words.items())), None)
            if named is not None:
                yield Offered(named.family, *(sum(p.numbers.get(k, 0.0) for p in parts) for k in NARROWER))


def _price(raw: Mapping[str, Any], place: str, faults: list[str]) -> Price | None:
    numbers = {k: v for k, v in raw.items() if k != "layout"}
    if set(raw) - PRICE_KEYS or not {"layout", "from", "to"} <= set(raw):
        faults.append(f"{place}: keys are {sorted(raw)}. Allowed: layout, from, to, and power_kw or litres.")
    elif any(isinstance(v, bool) or not isinstance(v, int | float) or v < 0 for v in numbers.values()):
        faults.append(f"{place}: {numbers}. Give numbers; from and to are pounds.")
    elif raw["from"] > raw["to"]:
        faults.append(f"{place}: from {raw['from']} is above to {raw['to']}. Change one.")
    else:
        return Price(str(raw["layout"]), float(raw["from"]), float(raw["to"]),
                     *(float(raw[n]) if n in raw else None for n in NARROWER))
    return None
