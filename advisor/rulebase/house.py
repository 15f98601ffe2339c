"""A firm's own overlay: rules it adds, rules it switches off with a reason, thresholds it changes, sizes and prices.

A folder with `house.toml`::

    firm = "..."                       # shown in the reports
    [[rule]]                           # as short as five lines; what is left out is filled in
    id = "we-fit-no-pumped-discharge"
    title = "This firm fits no pumped discharge pipes"
    when = [{ fact = "arrangement.discharge", of = "$a", is = "pumped" }]
    effect = "rules_out"
    [[off]]
    rule = "hard-water-scale-reducer"
    reason = "the water here is soft"
    [[threshold]]
    id = "cylinder_around_mm"
    value = 150
    reason = "our fitters want more room"

Sizes of its own series (`[[size]]`) and what it asks for a layout (`[[price]]`) are read by `house_parts`.

A firm may be stricter than the rule base, never laxer where somebody could be hurt: what guards against harm, and what
a document or a sum forbids, cannot be switched off, and a published figure cannot be changed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import Any

from advisor.facts import Source, Span
from advisor.rulebase.families import Families
from advisor.rulebase.house_parts import Layout, Price, enlarged, price_of, prices
from advisor.rulebase.model import NATIONS, Rule, Threshold
from advisor.rulebase.reading import ABOUT_ARRANGEMENT, read_rule, read_toml

FILE, SUBJECT, OPENING = "house.toml", "house", "This firm"
KEYS = {"firm", "rule", "off", "threshold", "size", "price"}
EARLIEST = date(2000, 1, 1)
OWN = {"document": "This firm's own rule", "provenance": "COMMON PRACTICE"}


@dataclass(frozen=True, slots=True)
class House:
    """What a firm changes, in the order of its file."""

    firm: str
    rules: tuple[Rule, ...] = ()
    off: Mapping[str, str] = field(default_factory=dict)  # rule -> reason
    changed: Mapping[str, tuple[float, str]] = field(default_factory=dict)  # threshold -> value, reason
    raw_sizes: tuple[Mapping[str, Any], ...] = ()
    raw_prices: tuple[Mapping[str, Any], ...] = ()
    sizes: tuple[str, ...] = ()  # titles of the parts it adds
    prices: tuple[Price, ...] = ()

    def lines(self) -> list[str]:
        """What is in force, one line a change, for the reports."""
        return [*(f"added: {r.title} ({r.id})" for r in self.rules),
                *(f"switched off: {rule}, because {reason}" for rule, reason in self.off.items()),
                *(f"changed: {name} to {value:g}, because {reason}" for name, (value, reason) in self.changed.items()),
                *(f"added size: {title}" for title in self.sizes), *(p.line() for p in self.prices)]

    def price(self, arrangement: Layout) -> Price | None:
        """What the firm asks for a layout, where it says."""
        return price_of(self.prices, arrangement)


def read_house(folder: Path, faults: list[str]) -> House:
    """Read a firm's folder; every fault with its place."""
    path = folder / FILE
    raw = read_toml(path, faults)
    if set(raw) - KEYS:
        faults.append(f"{FILE}: unknown keys {sorted(set(raw) - KEYS)}. Allowed: {', '.join(sorted(KEYS))}.")
    rules = [r for table in raw.get("rule", []) if (r := _rule(table, path, faults)) is not None]
    off = dict(_pairs(raw.get("off", []), "rule", "[[off]]", faults))
    changed = {}
    for table in raw.get("threshold", []):
        value = table.get("value")
        if isinstance(value, bool) or not isinstance(value, int | float):
            faults.append(f"{FILE}: [[threshold]] {table.get('id', '?')!r}: value is {value!r}. Give one number.")
            continue
        changed |= {name: (float(value), reason) for name, reason in _pairs([table], "id", "[[threshold]]", faults)}
    return House(str(raw.get("firm", folder.name)), tuple(rules), off, changed, tuple(raw.get("size", [])),
                 tuple(raw.get("price", [])))


def supplied(house: House, families: Families, faults: list[str]) -> tuple[House, Families]:
    """The families with the firm's sizes in them, and the firm with its prices read."""
    larger = enlarged(house.raw_sizes, families, FILE, faults)
    new = tuple(p.title for slot, parts in larger.slots.items() for i, p in parts.items()
                if i not in families.slots[slot])
    return replace(house, sizes=new, prices=prices(house.raw_prices, larger, FILE, faults)), larger


def _pairs(tables: list[Mapping[str, Any]], key: str, place: str, faults: list[str]) -> list[tuple[str, str]]:
    """(name, reason) of each table; both must be texts."""
    found = []
    for table in tables:
        name, reason = table.get(key), table.get("reason")
        if isinstance(name, str) and isinstance(reason, str) and reason.strip():
            found.append((name, reason.strip()))
        else:
            faults.append(f"{FILE}: {place} {name!r} with reason {reason!r}. Write {key} and reason, both in quotes.")
    return found


def _rule(raw: Mapping[str, Any], path: Path, faults: list[str]) -> Rule | None:
    """A rule with what a firm need not write filled in."""
    named = [p["fact"] for p in raw.get("when", ()) if isinstance(p, Mapping) and isinstance(p.get("fact"), str)]
    effect = raw.get("effect")
    filled = {
        "stratum": "verdicts" if effect == "rules_out" else "findings", "where": list(NATIONS),
        "shows": list(dict.fromkeys(named)), "mistaken_if": "the firm has changed its mind", "added": EARLIEST,
        "source": OWN, "fires": [], "silent": [], "unsure": [],
        **({"about": "$a"} if effect in ABOUT_ARRANGEMENT or effect in ("caution", "requires", "asks") else {}),
        **raw,
    }
    if not str(raw.get("title", "")).startswith(OPENING):
        faults.append(f"{FILE}: rule {raw.get('id', '?')!r}: title is {raw.get('title')!r}. Begin it with "
                      f"\"{OPENING}\", so that every report says whose rule decided.")
        return None
    rule = read_rule(filled, path, faults)
    return replace(rule, subject=SUBJECT) if rule is not None else None


def overlaid(house: House, written: list[Rule], faults: list[str]) -> list[Rule]:
    """The rules in force: the written ones without those switched off, then the firm's."""
    known = {r.id: r for r in written}
    for rule in house.rules:
        if rule.id in known:
            faults.append(f"{FILE}: rule {rule.id!r}: the rule base has a rule of this id. Choose another.")
    for name in house.off:
        if name not in known:
            faults.append(f"{FILE}: [[off]] {name!r}: no such rule. `advisor rules list` names them.")
        elif _guards(known[name]):
            faults.append(f"{FILE}: [[off]] {name!r}: it guards against harm, or a document or a sum forbids it. "
                          "Allowed: rules of custom, preferences and cautions about comfort. Take the line out.")
        elif any(r.exception_to == name for r in written):
            faults.append(f"{FILE}: [[off]] {name!r}: another rule is an exception to it. Take the line out.")
    return [*(r for r in written if r.id not in house.off or _guards(r)), *house.rules]


def _guards(rule: Rule) -> bool:
    forbids = rule.effect in ("rules_out", "derives") and rule.source.provenance in ("PUBLISHED", "DERIVED")
    return rule.safety or forbids


def retuned(house: House, thresholds: Mapping[str, Threshold], faults: list[str]) -> dict[str, Threshold]:
    """The thresholds in force, with the firm's values from the first day on."""
    made = dict(thresholds)
    for name, (value, reason) in house.changed.items():
        old = thresholds.get(name)
        if old is None:
            faults.append(f"{FILE}: [[threshold]] {name!r}: no such threshold. Look in rules/thresholds.toml.")
        elif old.source.provenance == "PUBLISHED":
            faults.append(f"{FILE}: [[threshold]] {name!r}: the figure is published ({old.source.document}). "
                          "Allowed: figures of custom, memory or a sum. Take the line out.")
        else:
            source = Source(f"This firm's own figure: {reason}", "", "COMMON PRACTICE")
            made[name] = replace(old, source=source, values=((EARLIEST, Span(value, value)),))
    return made
