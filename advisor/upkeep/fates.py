"""What has become of every fact of the trade: reads rules/fates.toml, checks it, and writes its table."""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from advisor import calc, paths
from advisor.rulebase import Rulebase
from advisor.rulebase.house import SUBJECT

FILE = "fates.toml"
PAGE = "FATES.md"
KINDS = ("rules", "requirements", "remedies", "parts", "survey", "checks", "limits", "sums")
WORDS = {"rules": "rule", "requirements": "asked of the fitter", "remedies": "work", "parts": "part",
         "survey": "asked in the survey", "checks": "looked at again", "limits": "figure", "sums": "sum"}
HEAD = """# What has become of every fact of the trade

Written by `advisor rules fates --write` from `rules/fates.toml`. A fact is held by a rule, by a requirement that is
printed with the works, by a work, a part, a question, a check of the survey, a figure or a sum; or it is dropped, with
the reason.

"""


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact of the trade, and what holds it."""

    subject: str
    says: str
    source: str
    held: Mapping[str, tuple[str, ...]]
    dropped: str = ""

    def fate(self) -> str:
        """Its fate in one line."""
        parts = [f"{WORDS[k]} {', '.join(f'`{n}`' for n in names)}" for k, names in self.held.items()]
        return "; ".join([*parts, *([f"dropped: {self.dropped}"] if self.dropped else [])])


def read(path: Path | None = None) -> tuple[tuple[str, ...], list[Fact]]:
    """The subjects that must be there, and the facts in order."""
    raw = tomllib.loads((path or paths.RULES / FILE).read_text(encoding="utf-8"))
    facts = [Fact(f["subject"], f["says"], f["source"], {k: tuple(f[k]) for k in KINDS if k in f},
                  f.get("dropped", "")) for f in raw["fact"]]
    return tuple(raw["subjects"]), facts


def faults(base: Rulebase, path: Path | None = None) -> Iterator[str]:
    """Entries without a fate or with a name that is not there, missing subjects, and rules no entry names."""
    subjects, facts = read(path)
    known = _known(base)
    for n, fact in enumerate(facts, 1):
        place = f"{FILE}: fact {n} ({fact.says[:40]} ...)"
        if fact.subject not in subjects:
            yield f"{place}: subject is {fact.subject!r}. Allowed: {', '.join(subjects)}."
        if not fact.held and not fact.dropped:
            yield f"{place}: has no fate. Name what holds it, or say why it is dropped."
        if not fact.source.strip():
            yield f"{place}: has no source. Name the document, or write \"common practice\"."
        for kind, names in fact.held.items():
            yield from (f"{place}: {kind} names {name!r}, which is not there." for name in names
                        if not _is_known(name, known[kind]))
    yield from (f"{FILE}: no fact is about {s!r}." for s in subjects if s not in {f.subject for f in facts})
    named = {name for f in facts for name in f.held.get("rules", ())}
    yield from (f"{FILE}: no fact names the rule {r.id!r}. Say where it comes from." for r in base.rules.values()
                if not r.twin_of and r.subject != SUBJECT and r.id not in named)
    asked = {name for f in facts for name in f.held.get("requirements", ())}
    yield from (f"{FILE}: no fact names the requirement {r!r}." for r in base.requirements if r not in asked)


def _known(base: Rulebase) -> dict[str, set[str]]:
    surveyed = base.survey_entries()
    return {
        "rules": {*base.rules, *(base.house.off if base.house else ())}, "requirements": set(base.requirements),
        "remedies": set(base.remedies),
        "parts": {f"{slot}.{part}" for slot, parts in base.families.slots.items() for part in parts},
        "survey": set(surveyed), "checks": {e.field for e in surveyed.values()} | {"gas.appliances.NAME"},
        "limits": set(base.thresholds), "sums": set(calc.REGISTRY),
    }


def _is_known(name: str, known: set[str]) -> bool:
    return name in known or any(k.startswith(f"{name}-") for k in known)


def counts(facts: list[Fact]) -> dict[str, int]:
    """How many facts each kind of fate holds; "dropped" are those held by nothing else."""
    found: Counter[str] = Counter(kind for f in facts for kind in f.held)
    found["dropped"] = sum(not f.held for f in facts)
    return {"facts": len(facts), **{k: found[k] for k in (*KINDS, "dropped")}}


def page(path: Path | None = None) -> str:
    """The whole table as Markdown, subject by subject."""
    subjects, facts = read(path)
    return HEAD + "".join(_lines(subjects, facts))


def _lines(subjects: tuple[str, ...], facts: list[Fact]) -> Iterator[str]:
    told: dict[str, Any] = counts(facts)
    yield f"{told.pop('facts')} facts. Held by " + ", ".join(
        f"{WORDS[k]} {n}" for k, n in told.items() if k != "dropped") + f"; dropped altogether {told['dropped']}.\n"
    for subject in subjects:
        yield f"\n## {subject[:1].upper()}{subject[1:]}\n\n| fact | source | fate |\n|---|---|---|\n"
        for fact in (f for f in facts if f.subject == subject):
            yield f"| {fact.says} | {fact.source} | {fact.fate()} |\n"
