"""Reads rule files, thresholds and remedies into records; gathers every fault with its place."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from advisor.facts import PROVENANCES, SITE, Source, Span
from advisor.rulebase.model import AUTHOR_STRATA, EFFECTS, NATIONS, Conclusion, Pattern, Remedy, Rule, Threshold

RULE_KEYS = {"id", "title", "stratum", "where", "when", "unless", "effect", "about", "derives", "asks", "criterion",
             "remedies", "shows", "mistaken_if", "added", "changed", "source", "fires", "silent", "unsure",
             "exception_to", "safety"}
RULE_MUST = {"id", "title", "stratum", "where", "when", "shows", "mistaken_if", "added", "source", "fires", "silent",
             "unsure"}
COMPARISONS = ("below", "at_most", "above", "at_least", "is")
ABOUT_ARRANGEMENT = {"rules_out", "needs_work", "favours", "counts_against"}


class RulebaseError(ValueError):
    """The rule base cannot be used; `faults` holds one line a fault."""

    def __init__(self, faults: list[str]):
        self.faults = faults
        super().__init__("\n".join(faults))


def read_toml(path: Path, faults: list[str]) -> dict[str, Any]:
    """The file as a mapping; unreadable or wrong TOML becomes a fault and an empty mapping."""
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        faults.append(f"{path.name}: cannot be read ({error})")
        return {}


def read_source(raw: Any, place: str, faults: list[str]) -> Source:
    """A source table; the four provenance words are the only ones allowed."""
    if not isinstance(raw, Mapping):
        faults.append(f"{place}: source is {raw!r}. Give a table with document, place, provenance, seen.")
        return Source("")
    unknown = set(raw) - {"document", "place", "provenance", "seen", "checked_on", "edition", "note"}
    if unknown:
        faults.append(f"{place}: source has unknown keys {sorted(unknown)}.")
    provenance = raw.get("provenance", "")
    if provenance not in PROVENANCES:
        faults.append(f"{place}: provenance is {provenance!r}. Allowed: {', '.join(PROVENANCES)}.")
        provenance = "COMMON PRACTICE"
    if not raw.get("document") and provenance != "COMMON PRACTICE":
        faults.append(f"{place}: source names no document. Only COMMON PRACTICE may stand without one.")
    return Source(raw.get("document", ""), raw.get("place", ""), provenance, raw.get("seen", ""))


def read_pattern(raw: Any, place: str, faults: list[str]) -> Pattern:
    """One condition; at most one comparison, known keys only."""
    if not isinstance(raw, Mapping) or "fact" not in raw:
        faults.append(f"{place}: condition {raw!r} has no fact.")
        return Pattern("?")
    unknown = set(raw) - {"fact", "of", "value", *COMPARISONS}
    if unknown:
        faults.append(f"{place}: condition on {raw['fact']} has unknown keys {sorted(unknown)}. "
                      f"Allowed: fact, of, value, {', '.join(COMPARISONS)}.")
    given = [c for c in COMPARISONS if c in raw]
    if len(given) > 1:
        faults.append(f"{place}: condition on {raw['fact']} compares twice ({', '.join(given)}). Write two conditions.")
    op = given[0] if given else "applies"
    arg: Any = raw.get(op) if given else None
    if op == "is":
        arg = _is_argument(arg)
    elif isinstance(arg, bool) or (given and not isinstance(arg, int | float | str)):
        faults.append(f"{place}: {op} = {arg!r}. Give a number or \"threshold:id\".")
    elif isinstance(arg, int):
        arg = float(arg)
    return Pattern(raw["fact"], raw.get("of", SITE), op, arg, str(raw.get("value", "")))


def _is_argument(arg: Any) -> float | str | tuple[str, ...]:
    if isinstance(arg, list):
        return tuple(arg)
    if isinstance(arg, str) and not arg.startswith("threshold:"):
        return (arg,)
    return float(arg) if isinstance(arg, int) else arg


def read_rules(path: Path, faults: list[str]) -> list[Rule]:
    """All rules of one file, in order."""
    raw = read_toml(path, faults)
    unknown = set(raw) - {"rule"}
    if unknown:
        faults.append(f"{path.name}: unknown keys {sorted(unknown)}. A rule file holds only [[rule]] tables.")
    return [rule for table in raw.get("rule", []) if (rule := read_rule(table, path, faults)) is not None]


def read_rule(raw: Mapping[str, Any], path: Path, faults: list[str]) -> Rule | None:
    """One rule table as a record, or None with its faults."""
    name = raw.get("id", "?")
    place = f"{path.name}: rule {name!r}"
    before = len(faults)
    unknown, missing = set(raw) - RULE_KEYS, RULE_MUST - set(raw)
    if unknown or missing:
        faults.append(f"{place}: unknown keys {sorted(unknown)}, missing keys {sorted(missing)}.")
    if raw.get("stratum") not in AUTHOR_STRATA:
        faults.append(f"{place}: stratum is {raw.get('stratum')!r}. Allowed: {', '.join(AUTHOR_STRATA)}.")
    exception_to = raw.get("exception_to", "")
    effect = "derives" if exception_to else raw.get("effect")
    if effect not in EFFECTS:
        faults.append(f"{place}: effect is {effect!r}. Allowed: {', '.join(EFFECTS)}.")
    where = tuple(raw.get("where", ()))
    if not where or set(where) - set(NATIONS):
        faults.append(f"{place}: where is {list(where)}. Allowed: {', '.join(NATIONS)}.")
    if not isinstance(raw.get("added"), date):
        faults.append(f"{place}: added is {raw.get('added')!r}. Give a date such as 2026-11-25.")
    if not isinstance(raw.get("changed", raw.get("added")), date):
        faults.append(f"{place}: changed is {raw['changed']!r}. Give a date such as 2026-11-25, or leave it out.")
    when = tuple(read_pattern(p, place, faults) for p in raw.get("when", ()))
    unless = tuple(read_pattern(p, place, faults) for p in raw.get("unless", ()))
    if len(faults) > before:
        return None
    if raw.get("safety", False) not in (True, False) or (raw.get("safety") and effect not in ("requires", "caution")):
        faults.append(f"{place}: safety is {raw['safety']!r} on {effect}. Allowed: true, on requires or caution.")
    about = raw.get("about", SITE)
    source = read_source(raw["source"], place, faults)
    conclude = _conclusion(raw, name, about, exception_to, effect, place, faults)
    return Rule(
        id=name, title=raw["title"], stratum="exceptions" if exception_to else raw["stratum"], where=where, when=when,
        unless=unless, effect=effect, about=about, conclude=conclude, source=source, asks=raw.get("asks", ""),
        criterion=raw.get("criterion", ""), remedies=tuple(raw.get("remedies", ())), shows=tuple(raw["shows"]),
        mistaken_if=raw["mistaken_if"], added=raw["added"], changed=raw.get("changed"), exception_to=exception_to,
        fires=tuple(raw["fires"]),
        silent=tuple(raw["silent"]), unsure=tuple(raw["unsure"]), subject=path.stem,
        safety=bool(raw.get("safety", False)),
    )


def _conclusion(raw: Mapping[str, Any], name: str, about: str, exception_to: str, effect: str, place: str,
                faults: list[str]) -> Conclusion:
    if exception_to:
        return Conclusion(f"exception.{exception_to}", about, "yes")
    if effect != "derives":
        if effect in ABOUT_ARRANGEMENT and about == SITE:
            faults.append(f"{place}: {effect} needs about = \"$a\", the arrangement it speaks of.")
        return Conclusion(f"finding.{name}", about, "yes")
    derives = raw.get("derives")
    if not isinstance(derives, Mapping) or set(derives) - {"fact", "of", "is"} or not {"fact", "is"} <= set(derives):
        faults.append(f"{place}: derives is {derives!r}. Give {{ fact, of, is }}.")
        return Conclusion("?", SITE, "?")
    return Conclusion(derives["fact"], derives.get("of", SITE), str(derives["is"]))


def read_thresholds(path: Path, faults: list[str]) -> dict[str, Threshold]:
    """thresholds.toml: dated values, each a number or { between = [lo, hi] }."""
    found = {}
    for name, raw in read_toml(path, faults).items():
        place = f"{path.name}: [{name}]"
        values = []
        for row in raw.get("value", []):
            value = row.get("value")
            ends = value.get("between") if isinstance(value, Mapping) else [value, value]
            if not isinstance(row.get("from"), date) or not all(isinstance(e, int | float) for e in ends):
                faults.append(f"{place}: value {row!r}. Give from = a date and value = a number or between two.")
                continue
            values.append((row["from"], Span(float(ends[0]), float(ends[1]))))
        if not values:
            faults.append(f"{place}: has no value.")
            continue
        source = read_source(raw.get("source"), place, faults)
        found[name] = Threshold(name, raw.get("unit", ""), raw.get("meaning", ""), source, tuple(sorted(
            values, key=lambda v: v[0])))
    return found


def read_remedies(path: Path, faults: list[str]) -> dict[str, Remedy]:
    """shared/remedies.toml: the edits of survey values that works stand for."""
    found = {}
    for raw in read_toml(path, faults).get("remedy", []):
        place = f"{path.name}: remedy {raw.get('id', '?')!r}"
        missing = {"id", "title", "sets", "who", "band", "disruption", "source"} - set(raw)
        if missing:
            faults.append(f"{place}: missing keys {sorted(missing)}.")
            continue
        if raw["band"] not in ("none", "small", "medium", "large"):
            faults.append(f"{place}: band is {raw['band']!r}. Allowed: none, small, medium, large.")
        found[raw["id"]] = Remedy(raw["id"], raw["title"], tuple(raw["sets"]), raw["who"], raw["band"],
                                  raw["disruption"], dict(raw.get("adds", {})),
                                  read_source(raw["source"], place, faults))
    return found
