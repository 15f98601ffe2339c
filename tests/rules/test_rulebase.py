"""What every rule must hold: schema, source, chapter, examples, and that the rules really build on each other."""

from __future__ import annotations

import re
import tomllib
from datetime import date

import pytest

from advisor import paths, rulebase
from advisor.facts import PROVENANCES
from advisor.report import chapters
from advisor.rulebase.model import EFFECTS, NATIONS, Rule
from advisor.upkeep import examples, linting
from tests import homes
from tests.rules import rulegraph

OTHERS = rulebase.NOT_RULES
RAW = {path.stem: tomllib.loads(path.read_text(encoding="utf-8"))["rule"]
       for path in sorted(paths.RULES.glob("*.toml")) if path.stem not in OTHERS}
TABLES = [(subject, raw) for subject, rules in RAW.items() for raw in rules]
RULES = rulegraph.written()
SECTIONS = chapters.read()
MUST = {"id", "title", "stratum", "where", "when", "shows", "mistaken_if", "added", "source", "fires", "silent",
        "unsure"}
KEYS = MUST | {"unless", "effect", "about", "derives", "asks", "criterion", "remedies", "exception_to", "changed", "safety"}
NUMERAL = re.compile(r"\d")
PRAISE = re.compile(r"\b(best|excellent|ideal|perfect|great|superb|outstanding|premium|amazing)\b", re.IGNORECASE)
BRACES = re.compile(r"\{([^{}]+)\}")
SENTENCE = re.compile(r"(?<=[.!?])\s+(?=[A-Z{])")
MOST_WORDS = 25


def texts(rule: Rule) -> dict[str, str]:
    section = SECTIONS[rule.id]
    return {"finding": section.finding, "why": section.why, "householder": section.householder,
            "rival": section.rival}


# ---------------------------------------------------------------- schema
def test_ids_are_unique_and_every_table_was_read() -> None:
    ids = [raw["id"] for _, raw in TABLES]
    assert sorted(ids) == sorted(set(ids))
    assert set(ids) == set(RULES)


def test_every_rule_has_the_keys_and_no_others() -> None:
    wrong = {raw.get("id", "?"): (sorted(MUST - set(raw)), sorted(set(raw) - KEYS)) for _, raw in TABLES
             if MUST - set(raw) or set(raw) - KEYS}
    assert not wrong
    assert not [raw["id"] for _, raw in TABLES if not raw.get("effect") and not raw.get("exception_to")]


def test_every_source_says_what_it_is() -> None:
    """The four provenance words; a published one names document, place and whether the original was seen."""
    wrong = []
    for _, raw in TABLES:
        source = raw["source"]
        located = bool(source.get("place")) and source.get("seen") in ("original", "reprint")
        named = bool(source.get("document")) or source["provenance"] == "COMMON PRACTICE"
        if source["provenance"] not in PROVENANCES or not named or (
                source["provenance"] == "PUBLISHED" and not located):
            wrong.append(raw["id"])
    assert not wrong


def test_mistaken_if_is_said_and_said_once() -> None:
    said = [raw["mistaken_if"] for _, raw in TABLES]
    vague = [s for s in said if len(s.split()) < 5 or "unknown" in s.lower()]
    assert not vague
    assert sum(said.count(s) > 1 for s in set(said)) <= 2  # a wish and its milder twin may share one


def test_every_rule_is_dated() -> None:
    assert not [raw["id"] for _, raw in TABLES if not isinstance(raw["added"], date)]


def test_thumb_and_memory_never_forbid() -> None:
    """What no published rule, no physics and no household's must says cannot rule out: it cautions or asks."""
    weak = [r.id for r in RULES.values() if r.effect == "rules_out"
            and r.source.provenance in ("COMMON PRACTICE", "FROM MEMORY")]
    assert not weak


def test_every_stratum_and_every_effect_is_in_use() -> None:
    assert {r.stratum for r in RULES.values()} == {"circumstances", "parts", "exceptions", "findings", "verdicts",
                                                   "preferences", "questions"}
    assert {r.effect for r in RULES.values() if not r.exception_to} == set(EFFECTS)
    assert [r.id for r in RULES.values() if r.unless and not r.id.startswith("unvented")]  # a real absence
    assert [r.id for r in RULES.values() if r.exception_to]
    assert [r.id for r in RULES.values() if set(r.where) != set(NATIONS)]


def test_derived_words_are_all_made_and_all_read() -> None:
    """Each word listed for rules to derive is derived by one, and every derived name is read by another rule."""
    listed = tomllib.loads((paths.RULES / "facts-derived.toml").read_text(encoding="utf-8"))
    made = {(r.conclude.fact, r.conclude.word) for r in RULES.values() if r.effect == "derives" and not r.exception_to}
    assert made == {(name, word) for name, entry in listed.items() for word in entry["domain"]}
    read = {p.fact for r in RULES.values() for p in (*r.when, *r.unless)}
    assert set(listed) <= read


def test_every_remedy_edits_survey_facts_within_their_domain() -> None:
    base = homes.base()
    wrong = []
    for remedy in base.remedies.values():
        for edit in remedy.sets:
            entry = base.vocabulary.get(edit["field"])
            if entry is None or entry.made != "survey" or (entry.kind == "words" and edit["to"] not in entry.domain):
                wrong.append((remedy.id, edit))
            elif entry.kind == "number":
                number = float(edit["to"].split()[0])
                if not entry.domain[0] <= number <= entry.domain[1]:
                    wrong.append((remedy.id, edit))
    assert not wrong
    used = {x for r in RULES.values() for x in r.remedies}
    assert used <= set(base.remedies)


def test_the_lint_command_finds_nothing() -> None:
    assert linting.faults(homes.base()) == []


# ---------------------------------------------------------------- examples
@pytest.mark.parametrize("outcome", examples.OUTCOMES)
def test_examples_do_what_they_say(outcome: str) -> None:
    base = homes.base()
    wrong = [(rule.id, dict(example), got) for rule in RULES.values() for example in getattr(rule, outcome)
             if (got := examples.run(rule, example, base)) != outcome]
    assert not wrong
    assert not [r.id for r in RULES.values() if not getattr(r, outcome)]


def test_nothing_known_is_never_silence() -> None:
    """A rule that says nothing when nothing is known would look like a pass; how a layout is built is always known."""
    base = homes.base()
    built = {name for name, entry in base.vocabulary.items() if entry.made == "structure"}
    silent = {r.id for r in RULES.values() if examples.run(r, {}, base) == "silent"}
    assert silent == {"nowhere-for-a-cylinder"}
    assert {p.fact for r in silent for p in RULES[r].when} <= built


# ---------------------------------------------------------------- chapters
def test_every_rule_has_its_section_in_its_own_chapter() -> None:
    wrong = [r.id for r in RULES.values() if r.id not in SECTIONS or SECTIONS[r.id].chapter != r.subject
             or SECTIONS[r.id].title != r.title]
    assert not wrong
    assert set(SECTIONS) == set(RULES)


def test_sections_have_their_parts() -> None:
    assert not [(r.id, label) for r in RULES.values() for label, text in texts(r).items()
                if not text and label != "rival"]


def test_braces_name_what_the_rule_shows_and_stand_once_at_least() -> None:
    wrong = [(r.id, sorted(set(BRACES.findall(" ".join(texts(r).values()))) - set(r.shows))) for r in RULES.values()]
    assert not [w for w in wrong if w[1]]
    assert not [r.id for r in RULES.values() if not BRACES.findall(texts(r)["finding"])]


def test_no_numeral_stands_in_a_section() -> None:
    wrong = [(r.id, label) for r in RULES.values() for label, text in texts(r).items()
             if NUMERAL.search(BRACES.sub("", text))]
    assert not wrong


def test_householders_are_told_in_short_sentences_without_praise() -> None:
    wrong = [(r.id, label, s) for r in RULES.values() for label, text in texts(r).items()
             for s in SENTENCE.split(text) if len(s.split()) > MOST_WORDS or PRAISE.search(s)]
    assert not wrong


def test_no_piece_stands_under_two_rules() -> None:
    pieces = [text for r in RULES.values() for text in texts(r).values() if text]
    assert len(pieces) == len(set(pieces))


@pytest.mark.parametrize("subject", sorted(RAW))
def test_chapter_opens_with_how_to_think(subject: str) -> None:
    text = (paths.EXPLANATIONS / f"{subject}.md").read_text(encoding="utf-8")
    heads = re.findall(r"^## (.+)$", text, re.MULTILINE)
    assert heads[:5] == ["How to think about it", "A worked example", "Rules of thumb",
                         "What to ask of a cheaper quote", "Limits"]


# ---------------------------------------------------------------- chaining
def test_ten_findings_stand_on_four_rules() -> None:
    """From a survey answer to the finding the longest path passes four rules, each adding a test of its own."""
    deep = {r.id: rulegraph.longest_path(r.id) for r in RULES.values() if r.stratum in ("findings", "verdicts")}
    deep = {rule: path for rule, path in deep.items() if len(path) >= 4}
    assert len(deep) >= 10, sorted(deep)
    for rule, path in deep.items():
        assert path[-1] == rule
        strata = [RULES[step].stratum for step in path]
        assert strata[0] == "circumstances", path


def test_a_chain_is_the_one_meant() -> None:
    """One chain by hand: standing pressure and flow, then outlets wanted, then the store, then what falls short."""
    assert rulegraph.longest_path("cold-pipe-is-the-limit") == (
        "supply-pressure-rich-flow-poor", "at-once-needs-more-pipe", "mains-limits-an-unvented-store",
        "cold-pipe-is-the-limit")


# ---------------------------------------------------------------- physics through the whole program
@pytest.mark.parametrize(("head", "forbidden"), [("-0.5 m", True), ("0 m", True), ("0.1 m", False), ("2 m", False)])
def test_water_does_not_run_up_to_a_shower(head: str, forbidden: bool) -> None:
    """Hydrostatics: no head, no flow. Without a pump only a cistern above the rose feeds a shower."""
    changes = {"cistern.head": head, "wishes.outlets_at_once": "none", "wishes.no_loft_tank": "none"}
    advice = homes.quick(homes.survey(homes.DEMO).with_changes(changes))
    fed = [j for j in advice.judged if j.arrangement.family == "boiler-cistern-fed-cylinder"]
    assert fed
    by_rule = [any(f.rule == "cistern-no-higher-than-the-rose" for f in j.findings) for j in fed]
    assert by_rule == [forbidden] * len(fed)
    assert not forbidden or {j.verdict for j in fed} == {"ruled_out"}
