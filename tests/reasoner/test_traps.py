"""Each trap of the engine is refused before a rule reaches it; undeclared conflicts are errors that name both rules."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from advisor.facts import Fact, Source, Span, exactly, key_of
from advisor.reasoner import ConflictError, Session, durable, matcher
from advisor.rulebase import lint, twins
from advisor.rulebase.model import NATIONS, Conclusion, Entry, Pattern, Remedy, Rule, Threshold
from tests.reasoner.naive import ENTITIES, base_of, book_of, vocabulary

SOURCE = Source("made up for a test", "", "COMMON PRACTICE")
A = "$a"
LIMIT = Threshold("limit", "", "a limit", SOURCE, ((date(2026, 1, 1), Span(5.0, 5.0)),))
RANGE = Threshold("range", "", "a range", SOURCE, ((date(2026, 1, 1), Span(4.0, 5.0)),))
WORK = Remedy("work", "some work", (), "anybody", "small", "hours", {}, SOURCE)
WORDS = vocabulary() | {"wish.x": Entry("wish.x", "site", "words", domain=("must", "none"))}


def rule(**changes: object) -> Rule:
    made = Rule("r", "A rule", "findings", NATIONS, (Pattern("arrangement.n0", A, "above", 3.0),), (), "derives", A,
                Conclusion("arrangement.d2", A, "u"), SOURCE)
    return replace(made, **changes)


def faults(*rules: Rule) -> str:
    return "\n".join(lint.lint(list(rules), WORDS, {"limit": LIMIT, "range": RANGE}, {"work": WORK}, {"price"}))


def test_a_sound_rule_has_no_fault() -> None:
    assert faults(rule()) == ""


TRAPS = [
    ("misspelt fact", {"when": (Pattern("arrangement.nO", A, "above", 3.0),)}, "does not know"),
    ("variable nobody names", {"conclude": Conclusion("arrangement.d2", "$b", "u")}, "speaks of $b"),
    ("variable without a dollar", {"when": (Pattern("arrangement.n0", "a", "above", 3.0),)}, "must begin with $"),
    ("one variable, two sorts", {"when": (Pattern("arrangement.n0", A), Pattern("place.n0", A))},
     "a arrangement in one"),
    ("the same test twice", {"when": (Pattern("arrangement.n0", A, "above", 3.0),) * 2}, "same test twice"),
    ("17 conditions", {"when": tuple(Pattern("arrangement.n0", A, "above", float(i)) for i in range(17))},
     "at most 16"),
    ("a word compared as a number", {"when": (Pattern("arrangement.w0", A, "above", 3.0),)}, "is a word"),
    ("a number compared as a word", {"when": (Pattern("arrangement.n0", A, "is", ("x",)),)}, "is a number"),
    ("a word outside its domain", {"when": (Pattern("arrangement.w0", A, "is", ("q",)),)}, "is never ['q']"),
    ("a number too large", {"when": (Pattern("arrangement.n0", A, "above", 1e16),)}, "too large"),
    ("an unknown threshold", {"when": (Pattern("arrangement.n0", A, "above", "threshold:no"),)}, "not in thresholds"),
    ("a threshold that is a range", {"when": (Pattern("arrangement.n0", A, "above", "threshold:range"),)},
     "is a range"),
    ("site fact with a variable", {"when": (Pattern("site.n0", A, "above", 3.0),)}, "is about a site"),
    ("bound number", {"when": (Pattern("arrangement.n0", A, bind="$p"),)}, "can bind words only"),
    ("no condition", {"when": ()}, "no condition"),
    ("absence of what is made in the same stratum",
     {"unless": (Pattern("arrangement.d2", A, "is", ("v",)),)}, "an absence needs a lower one"),
    ("absence about somebody new", {"unless": (Pattern("place.n0", "$q", "above", 1.0),)}, "not named by a condition"),
    ("absence that binds", {"unless": (Pattern("arrangement.place", A, bind="$p"),)}, "an absence binds nothing"),
    ("reads what a later stratum makes",
     {"stratum": "circumstances", "when": (Pattern("arrangement.d2", A, "is", ("u",)),),
      "conclude": Conclusion("arrangement.d0", A, "u")}, "later stratum"),
    ("derives a word outside the domain", {"conclude": Conclusion("arrangement.d2", A, "w")}, "Allowed: u, v"),
    ("derives a surveyed fact", {"conclude": Conclusion("arrangement.w0", A, "x")}, "made by rules"),
    ("works without a remedy", {"effect": "needs_work"}, "names no remedy"),
    ("an unknown remedy", {"effect": "needs_work", "remedies": ("nothing",)}, "not in remedies.toml"),
    ("an unknown criterion", {"effect": "favours", "criterion": "beauty"}, "Allowed: price"),
    ("asks for a derived word", {"effect": "asks", "asks": "arrangement.d0"}, "no survey fact"),
    ("derives in one nation only", {"where": ("england",)}, "all four nations"),
    ("exception to nothing", {"exception_to": "nobody", "stratum": "exceptions",
                              "conclude": Conclusion("exception.nobody", A, "yes")}, "which is no rule"),
]


@pytest.mark.parametrize("changes, words", [pytest.param(c, w, id=name) for name, c, w in TRAPS])
def test_loader_refuses(changes: dict[str, object], words: str) -> None:
    later = rule(id="later", when=(Pattern("arrangement.n1", A, "above", 1.0),))
    assert words in faults(rule(**changes), later)


def test_two_faults_are_both_reported() -> None:
    bad = rule(when=(Pattern("arrangement.nO", A, "above", 3.0), Pattern("arrangement.w0", A, "above", 3.0)))
    assert "does not know" in faults(bad) and "is a word" in faults(bad)


def test_too_many_rules_on_one_test() -> None:
    assert "at most 60" in faults(*(rule(id=f"r{i}") for i in range(61)))
    assert faults(*(rule(id=f"r{i}") for i in range(60))) == ""


def test_id_used_twice() -> None:
    assert "used twice" in faults(rule(), rule())


def run(rules: list[Rule], facts: list[Fact], engine: str = "plain") -> Session:
    session = Session(base_of(rules, repr(rules)), book_of(facts), {}, ENTITIES)
    session.judge(["circumstances", "parts", "exceptions", "findings", "verdicts"], matcher(engine))
    return session


def fact(name: str, entity: str, value: float | str) -> Fact:
    return Fact(key_of(name, entity), name, name.split(".")[0], entity, exactly(value))


def test_undeclared_conflict_names_both_rules() -> None:
    one = replace(WORDS["arrangement.d2"], single=True)
    rules = [rule(id="first"), rule(id="second", conclude=Conclusion("arrangement.d2", A, "v"))]
    base = base_of(rules, "conflict")
    base.vocabulary["arrangement.d2"] = one
    session = Session(base, book_of([fact("arrangement.n0", "a1", 4.0)]), {}, ENTITIES)
    with pytest.raises(ConflictError, match="'first' and 'second' both decide"):
        session.judge(["findings"], matcher("plain"))


def test_declared_exception_silences_the_base_rule() -> None:
    base_rule = rule(id="base")
    narrower = rule(id="narrow", stratum="exceptions", exception_to="base",
                    when=(Pattern("arrangement.w0", A, "is", ("x",)),),
                    conclude=Conclusion("exception.base", A, "yes"))
    rules = twins.expand([base_rule, narrower])
    extra = twins.entries(rules)
    facts = [fact("arrangement.n0", a, 4.0) for a in ("a1", "a2")]
    facts += [fact("arrangement.w0", "a1", "x"), fact("arrangement.w0", "a2", "y")]
    base = base_of(rules, "exception")
    base.vocabulary.update(extra)
    session = Session(base, book_of(facts), {}, ENTITIES)
    session.judge(["exceptions", "findings"], matcher("plain"))
    derived = {f.entity for f in session.book if f.name == "arrangement.d2"}
    assert derived == {"a2"}


@pytest.mark.skipif(not durable.AVAILABLE, reason="durable-rules is not installed here")
def test_more_rules_than_one_ruleset_holds() -> None:
    """120 rules of a stratum are split into chunks and still all fire once for each entity."""
    rules = [rule(id=f"r{i:03}", when=(Pattern("arrangement.n0", A, "above", float(i % 7)),)) for i in range(120)]
    facts = [fact("arrangement.n0", a, 9.0) for a in ("a1", "a2", "a3")]
    assert len(run(rules, facts, "durable").firings) == 360 == len(run(rules, facts).firings)


@pytest.mark.skipif(not durable.AVAILABLE, reason="durable-rules is not installed here")
@pytest.mark.parametrize("name", ["1", "1.0", "True", "é ü", 'a "quoted" {name}', "x\\y", "e" * 3000])
def test_entity_names_the_engine_could_misread(name: str) -> None:
    entities = {"site": ["site"], "place": [name], "arrangement": ["a1"]}
    join = rule(when=(Pattern("arrangement.place", A, bind="$p"), Pattern("place.w0", "$p", "is", ("x",))))
    facts = [fact("arrangement.place", "a1", name), fact("place.w0", name, "x"), fact("place.w0", "other", "x")]
    session = Session(base_of([join], f"names {name}"), book_of(facts), {}, entities)
    session.judge(["findings"], matcher("durable"))
    assert [f.premises for f in session.firings] == [("arrangement.place@a1", f"place.w0@{name}")]
