"""Refuses what the engine would get silently wrong, and what no rule base should hold.

The engine's traps that matter here: a misspelt name never fires, an absence is
not withdrawn, too many patterns of a kind overflow a table, one fact cannot
fill two patterns. Each is found before a rule reaches the engine.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from advisor.facts import SITE
from advisor.rulebase.model import NATIONS, STRATA, Entry, Pattern, Remedy, Rule, Threshold

MOST_PATTERNS = 16  # of one rule: the engine loads a 17th and then fails at the first fact
MOST_JOINS = 28
MOST_SHARING = 60  # rules of one stratum that use the same test
NUMERIC = ("below", "at_most", "above", "at_least")


def lint(rules: list[Rule], vocabulary: Mapping[str, Entry], thresholds: Mapping[str, Threshold],
         remedies: Mapping[str, Remedy], criteria: set[str]) -> list[str]:
    """All faults of a rule base, one line each; empty when it may be used."""
    faults: list[str] = []
    made_in = _made_in(rules)
    seen: set[str] = set()
    for rule in rules:
        place = f"{rule.subject}.toml: rule {rule.id!r}"
        if rule.id in seen:
            faults.append(f"{place}: the id is used twice. Rename one.")
        seen.add(rule.id)
        faults += [f"{place}: {text}" for text in _rule_faults(rule, vocabulary, thresholds, made_in)]
        faults += [f"{place}: {text}" for text in _reference_faults(rule, vocabulary, remedies, criteria)]
    ids = {r.id for r in rules}
    for rule in rules:
        if rule.exception_to and rule.exception_to not in ids:
            faults.append(f"{rule.subject}.toml: rule {rule.id!r}: exception_to names {rule.exception_to!r}, "
                          "which is no rule.")
    return faults + _crowding(rules)


def _made_in(rules: list[Rule]) -> dict[str, int]:
    """The highest stratum in which each derived name is made."""
    made: dict[str, int] = {}
    for rule in rules:
        made[rule.conclude.fact] = max(made.get(rule.conclude.fact, 0), STRATA.index(rule.stratum))
    return made


def _rule_faults(rule: Rule, vocabulary: Mapping[str, Entry], thresholds: Mapping[str, Threshold],
                 made_in: Mapping[str, int]) -> Iterator[str]:
    stratum = STRATA.index(rule.stratum)
    sorts: dict[str, str] = {}
    if not rule.when:
        yield "has no condition. A rule that always fires is a statement, not a rule."
    if len(rule.when) + len(rule.unless) > MOST_PATTERNS:
        yield f"has {len(rule.when) + len(rule.unless)} conditions; at most {MOST_PATTERNS}. Split it."
    for pattern in (*rule.when, *rule.unless):
        yield from _pattern_faults(pattern, vocabulary, thresholds)
        yield from _bind_sorts(pattern, vocabulary, sorts)
        if pattern.fact in made_in and made_in[pattern.fact] > stratum:
            yield f"reads {pattern.fact}, which is made in the later stratum {STRATA[made_in[pattern.fact]]}."
    yield from _join_faults(rule, made_in, sorts, stratum)
    if rule.effect in ("derives", "favours", "counts_against") and set(rule.where) != set(NATIONS) \
            and not rule.exception_to:
        yield f"{rule.effect} must hold in all four nations (where lists {', '.join(rule.where)})."
    if rule.effect == "derives" and not rule.exception_to:
        yield from _derives_faults(rule, vocabulary, sorts)


def _join_faults(rule: Rule, made_in: Mapping[str, int], sorts: Mapping[str, str], stratum: int) -> Iterator[str]:
    tests = [p.test_id for p in rule.when]
    for test in sorted({t for t in tests if tests.count(t) > 1}):
        yield f"uses the same test twice ({test}); one fact cannot fill two conditions. Write one."
    bound = {p.of for p in rule.when} | {p.bind for p in rule.when if p.bind}
    for pattern in rule.unless:
        if pattern.of != SITE and pattern.of not in bound:
            yield f"unless {pattern.fact}: {pattern.of} is not named by a condition above."
        if pattern.bind:
            yield f"unless {pattern.fact}: an absence binds nothing; remove value = {pattern.bind!r}."
        if made_in.get(pattern.fact, -1) >= stratum:
            yield f"unless {pattern.fact}: it is made in the same stratum or later; an absence needs a lower one."
    for name in {rule.about, rule.conclude.of} - {SITE}:
        if name not in bound:
            yield f"speaks of {name}, which no condition names."
    if rule.effect != "derives" and rule.about != SITE and sorts.get(rule.about, "arrangement") != "arrangement":
        yield f"effect {rule.effect} is about a {sorts[rule.about]}; it must be about an arrangement or the site."


def _derives_faults(rule: Rule, vocabulary: Mapping[str, Entry], sorts: Mapping[str, str]) -> Iterator[str]:
    entry = vocabulary.get(rule.conclude.fact)
    if entry is None or entry.made != "rule":
        yield f"derives {rule.conclude.fact}, which the vocabulary does not list as made by rules."
    elif rule.conclude.word not in entry.domain:
        yield f"derives {rule.conclude.fact} = {rule.conclude.word!r}. Allowed: {', '.join(entry.domain)}."
    elif sorts.get(rule.conclude.of, SITE) != entry.sort:
        yield f"derives {rule.conclude.fact} of {rule.conclude.of}, but it is about a {entry.sort}."


def _pattern_faults(pattern: Pattern, vocabulary: Mapping[str, Entry],
                    thresholds: Mapping[str, Threshold]) -> Iterator[str]:
    entry = vocabulary.get(pattern.fact)
    if entry is None:
        yield f"reads {pattern.fact}, which the vocabulary does not know."
        return
    if (entry.sort == SITE) != (pattern.of == SITE):
        yield f"{pattern.fact} is about a {entry.sort}; of is {pattern.of!r}."
    yield from _threshold_faults(pattern, entry, thresholds)
    if entry.kind == "words":
        if pattern.op in NUMERIC:
            yield f"{pattern.fact} is a word; {pattern.op} compares numbers."
        elif pattern.op == "is" and not isinstance(pattern.arg, tuple):
            yield f"{pattern.fact} is a word; is = {pattern.arg!r} is not."
        elif pattern.op == "is" and entry.domain and (wrong := set(pattern.arg) - set(entry.domain)):
            yield f"{pattern.fact} is never {sorted(wrong)}. Allowed: {', '.join(map(str, entry.domain))}."
    elif pattern.op == "is" and isinstance(pattern.arg, tuple):
        yield f"{pattern.fact} is a number; is = {list(pattern.arg)} is not."
    elif isinstance(pattern.arg, float) and abs(pattern.arg) >= 1e15:
        yield f"{pattern.fact}: {pattern.arg} is too large to compare with."
    if pattern.bind and entry.kind != "words":
        yield f"{pattern.fact} is a number; value = {pattern.bind!r} can bind words only."


def _threshold_faults(pattern: Pattern, entry: Entry, thresholds: Mapping[str, Threshold]) -> Iterator[str]:
    if not isinstance(pattern.arg, str):
        return
    threshold = pattern.arg.removeprefix("threshold:")
    if threshold not in thresholds:
        yield f"{pattern.fact}: threshold {threshold!r} is not in thresholds.toml."
    elif thresholds[threshold].unit != entry.unit:
        yield f"{pattern.fact} is in {entry.unit!r}; threshold {threshold} is in {thresholds[threshold].unit!r}."
    elif not all(v.single for _, v in thresholds[threshold].values):
        yield f"{pattern.fact}: threshold {threshold} is a range; only formulas may use it."


def _bind_sorts(pattern: Pattern, vocabulary: Mapping[str, Entry], sorts: dict[str, str]) -> Iterator[str]:
    entry = vocabulary.get(pattern.fact)
    if entry is None:
        return
    for name, sort in ((pattern.of, entry.sort), (pattern.bind, entry.names_a or "word")):
        if name and name != SITE:
            if not name.startswith("$"):
                yield f"{pattern.fact}: variable {name!r} must begin with $."
            elif sorts.setdefault(name, sort) != sort:
                yield f"{name} is a {sorts[name]} in one condition and a {sort} in {pattern.fact}."


def _reference_faults(rule: Rule, vocabulary: Mapping[str, Entry], remedies: Mapping[str, Remedy],
                      criteria: set[str]) -> Iterator[str]:
    for remedy in rule.remedies:
        if remedy not in remedies:
            yield f"remedy {remedy!r} is not in remedies.toml."
    if rule.effect == "needs_work" and not rule.remedies:
        yield "needs_work names no remedy. Name the work that makes it suitable first."
    if rule.effect in ("favours", "counts_against") and rule.criterion not in criteria:
        yield f"criterion is {rule.criterion!r}. Allowed: {', '.join(sorted(criteria))}."
    if rule.effect == "asks":
        entry = vocabulary.get(rule.asks)
        if entry is None or entry.made != "survey":
            yield f"asks for {rule.asks!r}, which is no survey fact."
    for shown in rule.shows:
        if shown not in vocabulary and not shown.startswith("threshold."):
            yield f"shows {shown}, which the vocabulary does not know."


def _crowding(rules: list[Rule]) -> Iterator[str] | list[str]:
    """More patterns of one kind than the engine's stack holds would abort a batch."""
    counts: dict[tuple[str, str], int] = {}
    for rule in rules:
        for pattern in rule.when:
            if pattern.fact != "nation":  # split into chunks of rules below this bound, see reasoner.durable
                counts[rule.stratum, pattern.test_id] = counts.get((rule.stratum, pattern.test_id), 0) + 1
    return [f"stratum {s}: {n} rules use the test {t}; at most {MOST_SHARING}. Derive a word once and test that."
            for (s, t), n in sorted(counts.items()) if n > MOST_SHARING]
