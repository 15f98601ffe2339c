"""Both matchers against an evaluator that tries every combination: the same instances, the same marks."""

from __future__ import annotations

import pytest

from advisor.reasoner import Session, durable, matcher
from tests.reasoner.naive import ENTITIES, STRATA, base_of, book_of, evaluate, random_case

ENGINES = ["plain", pytest.param("durable", marks=pytest.mark.skipif(
    not durable.AVAILABLE, reason="durable-rules is not installed here"))]


def run(seed: int, engine: str, backwards: bool = False) -> tuple[set[tuple], dict[str, bool]]:
    rules, facts = random_case(seed)
    if backwards:
        rules, facts = rules[::-1], facts[::-1]
    session = Session(base_of(rules, f"random {seed} {backwards}"), book_of(facts), {}, ENTITIES)
    session.judge(STRATA, matcher(engine))
    derived = {f.key: f.certain for f in session.book if f.made_by.startswith("rule.")}
    return {(f.rule, f.premises, f.conclusion, f.certain) for f in session.firings}, derived


@pytest.mark.parametrize("engine", ENGINES)
@pytest.mark.parametrize("block", range(6))
def test_chained_random_rules(engine: str, block: int) -> None:
    fired = 0
    for seed in range(block * 50, block * 50 + 50):
        rules, facts = random_case(seed)
        wanted, derived = evaluate(rules, facts)
        got, made = run(seed, engine)
        assert got == wanted, f"seed {seed}"
        assert made == derived, f"seed {seed}"
        fired += len(got)
    assert fired > 250, "the cases must fire often enough to mean something"


@pytest.mark.parametrize("engine", ENGINES)
def test_order_of_rules_and_facts_changes_nothing(engine: str) -> None:
    for seed in range(400, 430):
        assert run(seed, engine) == run(seed, engine, backwards=True), f"seed {seed}"


def test_certain_and_possible_differ_somewhere() -> None:
    """Marks are worth comparing only if both kinds occur."""
    marks = [certain for seed in range(60) for *_, certain in evaluate(*random_case(seed))[0]]
    assert 0.2 < sum(marks) / len(marks) < 0.98


@pytest.mark.parametrize("engine", ENGINES)
def test_a_rule_that_could_support_itself_is_never_the_proof_shown(engine: str) -> None:
    """Case 11410 holds a rule from a word to the same word; its conclusion is proved by another rule."""
    rules, facts = random_case(11410)
    session = Session(base_of(rules, f"circle {engine}"), book_of(facts), {}, ENTITIES)
    session.judge(STRATA, matcher(engine))
    for fact in session.book:
        if fact.made_by.startswith("rule."):
            assert all(int(session.book[p].id[1:]) < int(fact.id[1:]) for p in fact.because), fact.key
