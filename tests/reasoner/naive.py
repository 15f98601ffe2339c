"""A second opinion on the reasoner, as plain as can be: try every combination of facts for every rule, again and again.

Random rule bases too. Nothing here is shared with the matchers; only the records are.
"""

from __future__ import annotations

import itertools
import random
from dataclasses import replace
from datetime import date

from advisor.facts import Fact, FactBook, Source, Span, Value, Words, exactly, key_of
from advisor.rulebase import Rulebase
from advisor.rulebase.families import Families
from advisor.rulebase.model import NATIONS, Conclusion, Entry, Pattern, Rule

SOURCE = Source("made up for a test", "", "COMMON PRACTICE")
STRATA = ("circumstances", "parts", "findings", "verdicts")
ENTITIES = {"site": ["site"], "place": ["p1", "p2"], "arrangement": ["a1", "a2", "a3"]}


def _passes(op: str, arg: object, value: Value) -> tuple[bool, bool]:
    """(possible, certain), from the definition: is there a member that passes; do all of them."""
    if op == "applies":
        return True, True
    if isinstance(value, Words):
        marks = [w in arg for w in value.words]
        return any(marks), all(marks)
    points = [value.lo, value.hi, *([arg] if value.lo <= arg <= value.hi else [])]
    test = {"below": lambda x: x < arg, "at_most": lambda x: x <= arg, "above": lambda x: x > arg,
            "at_least": lambda x: x >= arg, "is": lambda x: x == arg}[op]
    return any(map(test, points)), all(map(test, points)) and (op != "is" or value.single)


def evaluate(rules: list[Rule], facts: list[Fact]) -> tuple[set[tuple], dict[str, bool]]:
    """(instances with their certain mark, derived fact key -> certain), stratum by stratum to the fixed point."""
    known = {f.key: f for f in facts}
    found: set[tuple] = set()
    for stratum in STRATA:
        mine = [r for r in rules if r.stratum == stratum]
        gone = {(p.test_id, e): mark for r in mine for p in r.unless for e in _all_entities()
                if (mark := _absent(p, e, known)) is not None}
        instances: dict[tuple, tuple[Rule, list]] = {}
        while True:
            before = len(instances)
            for rule in mine:
                for premises, entity, certain_now in _instances(rule, known, gone):
                    key = key_of(rule.conclude.fact, entity, rule.conclude.word)
                    instances[rule.id, premises, key] = (rule, certain_now)
                    known.setdefault(key, Fact(key, rule.conclude.fact, "", entity, exactly(rule.conclude.word),
                                               certain=False, made_by="rule"))
            if len(instances) == before:
                break
        while True:
            sure = {k for (_, premises, k), (_, tests) in instances.items()
                    if tests and all(_certain(p, known, gone) for p in premises)}
            fresh = [k for k in sure if not known[k].certain]
            for k in fresh:
                known[k] = replace(known[k], certain=True)
            if not fresh:
                break
        for (rule_id, premises, key), (_, tests) in instances.items():
            found.add((rule_id, premises, key, tests and all(_certain(p, known, gone) for p in premises)))
        for (test_id, entity), mark in gone.items():
            known[key_of("absent:" + test_id, entity)] = Fact(key_of("absent:" + test_id, entity), "absent:" + test_id,
                                                              "", entity, exactly("yes"), certain=mark)
    return found, {k: f.certain for k, f in known.items() if f.made_by == "rule"}


def _all_entities() -> list[str]:
    return [e for es in ENTITIES.values() for e in es]


def _absent(pattern: Pattern, entity: str, known: dict[str, Fact]) -> bool | None:
    here = [f for f in known.values() if f.name == pattern.fact and f.entity == entity]
    marks = [(_passes(pattern.op, pattern.arg, f.value), f.certain) for f in here]
    if any(must and sure for (_, must), sure in marks):
        return None
    return not any(may for (may, _), _ in marks)


def _certain(key: str, known: dict[str, Fact], gone: dict) -> bool:
    if key in known:
        return known[key].certain
    test, entity = key.removeprefix("absent:").rsplit("@", 1)
    return gone[test, entity]


def _instances(rule: Rule, known: dict[str, Fact], gone: dict):
    pools = [[f for f in known.values() if f.name == p.fact and _passes(p.op, p.arg, f.value)[0]] for p in rule.when]
    for chosen in itertools.product(*pools):
        options = [sorted(f.value.words) if p.bind else [""] for p, f in zip(rule.when, chosen, strict=True)]
        for bound_words in itertools.product(*options):
            env = {"site": "site"}
            if not all(_agree(env, p, f, w) for p, f, w in zip(rule.when, chosen, bound_words, strict=True)):
                continue
            absences = [(p.test_id, env[p.of]) for p in rule.unless]
            if any(a not in gone for a in absences):
                continue
            tests = all(_passes(p.op, p.arg, f.value)[1] and (not p.bind or f.value.single)
                        for p, f in zip(rule.when, chosen, strict=True))
            premises = (*(f.key for f in chosen), *(key_of("absent:" + t, e) for t, e in absences))
            yield premises, env[rule.conclude.of], tests


def _agree(env: dict[str, str], pattern: Pattern, fact: Fact, word: str) -> bool:
    if env.setdefault(pattern.of, fact.entity) != fact.entity:
        return False
    return not pattern.bind or env.setdefault(pattern.bind, word) == word


# ------------------------------------------------------------------ random rule bases
def vocabulary() -> dict[str, Entry]:
    """A small world: numbers and words about places and arrangements, derived words on four levels."""
    made = {}
    for sort in ("site", "place", "arrangement"):
        for i in range(2):
            made[f"{sort}.n{i}"] = Entry(f"{sort}.n{i}", sort, "number", domain=(0.0, 10.0))
            made[f"{sort}.w{i}"] = Entry(f"{sort}.w{i}", sort, "words", domain=("x", "y", "z"))
        for level in range(len(STRATA)):
            made[f"{sort}.d{level}"] = Entry(f"{sort}.d{level}", sort, "words", domain=("u", "v"), made="rule",
                                             single=False)
    made["arrangement.place"] = Entry("arrangement.place", "arrangement", "words", names_a="place", made="structure")
    return made


def base_of(rules: list[Rule], tag: str) -> Rulebase:
    return Rulebase({r.id: r for r in rules}, {}, {}, vocabulary(), Families({}, (), (), (), SOURCE),
                    {"criterion": [], "default_order": []}, date(2026, 11, 25), tag)


def random_case(seed: int) -> tuple[list[Rule], list[Fact]]:
    """A chained, stratified rule base and facts, some of them ranged; the same for the same seed."""
    rng = random.Random(seed)
    rules = [_rule(rng, f"r{i}") for i in range(rng.randint(8, 16))]
    facts = []
    for name, entry in vocabulary().items():
        if entry.made == "rule":
            continue
        for entity in ENTITIES[entry.sort]:
            if name == "arrangement.place":
                either = Words(frozenset(["p1", "p2"]))
                value: Value = exactly(rng.choice(["p1", "p2"])) if rng.random() < 0.8 else either
            elif rng.random() < 0.1:
                continue
            elif entry.kind == "number":
                low = float(rng.randint(0, 9))
                value = Span(low, low + rng.choice([0, 0, 2, 5]))
            else:
                value = Words(frozenset(rng.sample("xyz", rng.choice([1, 1, 1, 2, 3]))))
            facts.append(Fact(key_of(name, entity), name, entry.sort, entity, value, how="told"))
    return rules, facts


def _rule(rng: random.Random, name: str) -> Rule:
    level = rng.randrange(len(STRATA))
    sort = rng.choice(["place", "arrangement", "arrangement"])
    var = {"place": "$p", "arrangement": "$a"}[sort]
    when, seen = [], set()
    if sort == "arrangement" and rng.random() < 0.5:
        when.append(Pattern("arrangement.place", "$a", bind="$p"))
    scopes = ["site", sort] + (["place"] if when else [])
    for _ in range(rng.randint(1, 2)):
        pattern = _pattern(rng, rng.choice(scopes), level)
        if pattern.test_id not in seen:
            seen.add(pattern.test_id)
            when.append(pattern)
    if not any(p.of == var for p in when):
        when.append(Pattern(f"{sort}.n0", var, "at_least", 0.0))
    unless = []
    if level and rng.random() < 0.4:
        unless.append(_pattern(rng, rng.choice(["site", sort]), level, below=True))
    head = Conclusion(f"{sort}.d{level}", var, rng.choice("uv"))
    return Rule(name, name, STRATA[level], NATIONS, tuple(when), tuple(unless), "derives", var, head, SOURCE)


def _pattern(rng: random.Random, sort: str, level: int, below: bool = False) -> Pattern:
    var = {"site": "site", "place": "$p", "arrangement": "$a"}[sort]
    top = level if below else level + 1
    if top and rng.random() < 0.4:
        return Pattern(f"{sort}.d{rng.randrange(top)}", var, "is", (rng.choice("uv"),))
    if rng.random() < 0.5:
        op = rng.choice(["below", "at_most", "above", "at_least", "is"])
        return Pattern(f"{sort}.n{rng.randrange(2)}", var, op, float(rng.randint(0, 10)))
    return Pattern(f"{sort}.w{rng.randrange(2)}", var, "is", tuple(sorted(rng.sample("xyz", rng.randint(1, 2)))))


def book_of(facts: list[Fact]) -> FactBook:
    book = FactBook()
    for fact in facts:
        book.add(fact)
    return book
