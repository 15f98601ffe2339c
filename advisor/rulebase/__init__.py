"""Loads the rule base: rules, thresholds, families, remedies, vocabulary, ranking."""

from __future__ import annotations

import hashlib
import json
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any

from advisor import calc, paths
from advisor.rulebase import lint as lint_module
from advisor.rulebase import twins, vocabulary
from advisor.rulebase.families import Families, read_families
from advisor.rulebase.house import House, overlaid, read_house, retuned, supplied
from advisor.rulebase.model import Entry, Remedy, Rule, Threshold
from advisor.rulebase.reading import RulebaseError, read_remedies, read_rules, read_thresholds
from advisor.rulebase.requirements import Requirement, read_requirements

__all__ = ["Rulebase", "RulebaseError", "digest", "load", "load_from"]

NOT_RULES = {"vocabulary", "facts", "facts-derived", "thresholds", "families", "ranking", "requirements", "fates",
             "words"}
DATE = date(2026, 11, 25)  # thresholds in force on this day are used when the survey has no works date


@dataclass(frozen=True)
class Rulebase:
    """Everything a run judges by; `rules` holds the authors' rules and the loader's twins."""

    rules: Mapping[str, Rule]
    thresholds: Mapping[str, Threshold]
    remedies: Mapping[str, Remedy]
    vocabulary: Mapping[str, Entry]
    families: Families
    ranking: Mapping[str, Any]
    date: date
    sha: str
    house: House | None = None
    requirements: Mapping[str, Requirement] = field(default_factory=dict)  # printed, deciding nothing

    @cached_property
    def judging(self) -> tuple[Rule, ...]:
        """The rules that say something of a layout or the site, all but those that only derive a fact."""
        return tuple(r for r in self.rules.values() if r.effect != "derives")

    def absences(self) -> list[dict[str, Any]]:
        """Every `unless` test, once, with the sort of entity it is asked about."""
        found = {}
        for rule in self.rules.values():
            for p in rule.unless:
                found[p.test_id] = {"id": p.test_id, "fact": p.fact, "op": p.op, "sort": self.vocabulary[p.fact].sort,
                                    "arg": list(p.arg) if isinstance(p.arg, tuple) else p.arg}
        return [found[k] for k in sorted(found)]

    def survey_entries(self) -> dict[str, Entry]:
        """The vocabulary of what a survey may answer."""
        return {n: e for n, e in self.vocabulary.items() if e.made == "survey"}


def digest(document: Any) -> str:
    """SHA-256 of a document as JSON with sorted keys, no spaces, UTF-8 unescaped."""
    text = json.dumps(document, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return "sha256 " + hashlib.sha256(text.encode()).hexdigest()


def formulas_json() -> dict[str, Any]:
    """Every registered formula as the certificate prints it."""
    return {
        f.name: {"text": f.text, "valid": f.valid, "args": [a.name for a in f.args], "unit": f.unit,
                 "variadic": f.variadic, "trust": f.trust, "domain": list(f.domain),
                 "turns": {a.name: list(a.turns) for a in f.args if a.turns}, "source": f.source.as_json()}
        for f in sorted(calc.REGISTRY.values(), key=lambda f: f.name)
    }


def thresholds_json(thresholds: Mapping[str, Threshold], day: date) -> dict[str, Any]:
    """The values in force on a day, as the certificate prints them."""
    made = {}
    for t in sorted(thresholds.values(), key=lambda t: t.id):
        since, span = t.on(day)
        value = span.lo if span.single else {"between": [span.lo, span.hi]}
        made[t.id] = {"value": value, "unit": t.unit, "from": since.isoformat(), "source": t.source.as_json()}
    return made


@lru_cache(maxsize=4)
def load(house: str | None = None) -> Rulebase:
    """The shipped rule base, with a firm's folder over it; RulebaseError lists every fault."""
    return load_from(paths.RULES, paths.SHARED / "remedies.toml", house=Path(house) if house else None)


def load_from(rules_dir: Path, remedies_path: Path, extra_rules: Iterable[Rule] = (),
              house: Path | None = None) -> Rulebase:
    """Read a rule base from a directory of TOML files; RulebaseError when anything is wrong with it."""
    faults: list[str] = []
    written = [r for path in sorted(rules_dir.glob("*.toml")) if path.stem not in NOT_RULES
               for r in read_rules(path, faults)]
    over = read_house(house, faults) if house else None
    written = overlaid(over, written, faults) if over else written
    rules = twins.expand([*written, *extra_rules])
    vocab_files = [p for name in ("vocabulary", "facts", "facts-derived")
                   if (p := rules_dir / f"{name}.toml").exists()]
    try:
        entries = dict(vocabulary.load(*vocab_files))
    except ValueError as error:
        raise RulebaseError([*faults, *str(error).splitlines()]) from error
    entries |= twins.entries(rules)
    thresholds = read_thresholds(rules_dir / "thresholds.toml", faults)
    thresholds = retuned(over, thresholds, faults) if over else thresholds
    entries |= _threshold_entries(thresholds)
    remedies = read_remedies(remedies_path, faults)
    families = read_families(rules_dir / "families.toml", faults)
    if over:
        over, families = supplied(over, families, faults)
    asked = read_requirements(rules_dir / "requirements.toml", families, remedies, faults)
    ranking = tomllib.loads((rules_dir / "ranking.toml").read_text(encoding="utf-8"))
    criteria = {c["id"] for c in ranking["criterion"]}
    faults += lint_module.lint(rules, entries, thresholds, remedies, criteria)
    if faults:
        raise RulebaseError(faults)
    ordered = {r.id: r for r in sorted(rules, key=lambda r: r.id)}
    base = Rulebase(ordered, thresholds, remedies, entries, families, ranking, DATE, "", over, asked)
    return replace(base, sha=digest(certificate_part(base, base.date)))


def _threshold_entries(thresholds: Mapping[str, Threshold]) -> dict[str, Entry]:
    return {f"threshold.{t.id}": Entry(f"threshold.{t.id}", "site", "number", unit=t.unit, made="threshold",
                                       meaning=t.meaning, plain=t.meaning) for t in thresholds.values()}


def certificate_part(base: Rulebase, day: date) -> dict[str, Any]:
    """What `advisor.rulebase` is the digest of, exactly as it stands in advice.json."""
    return {
        "rules": {r.id: r.normal_form() for r in base.rules.values()},
        "needs": base.families.needs_json(), "slots": base.families.as_json(), "absences": base.absences(),
        "formulas": formulas_json(), "thresholds": thresholds_json(base.thresholds, day),
    }
