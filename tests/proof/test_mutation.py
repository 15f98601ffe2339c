"""Each rule switched off in turn: something a reader sees must change somewhere, or the rule says nothing.

A rule that decides (rules out, needs work, requires, asks) must change a verdict, a work or a question; any other the
text of a report. Tried on the shipped homes and invented ones, on those few where the rule spoke.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from functools import cache, lru_cache

import pytest

from advisor import advise, reasoner
from advisor.contrast.why import why
from advisor.records import Advice
from advisor.report import explaining
from advisor.report.claims import Claim, sentences
from advisor.report.letter import letter
from advisor.report.technical import technical
from advisor.rulebase import Rulebase
from advisor.rulebase.model import Rule
from advisor.survey import Survey
from tests import corpus, homes
from tests.proof.table import record
from tests.rules import rulegraph

pytestmark = pytest.mark.proof
RULES = [rulegraph.written()[r] for r in sorted(rulegraph.written())]
SEEDS = range(1000, 1080)
HALVES = 2  # one test each, so that two processors share them
TRIES = 20  # surveys a rule is tried on at most
REPORTS = 4  # of them, how many are searched for a changed report once the reasons of a layout have changed
LAYOUTS = 6  # that a fate is looked at on
ALONE = {"rules_out", "needs_work", "requires"}  # what they change shows in the fate of a layout by itself
DECIDES = {"rules_out", "needs_work", "requires", "asks"}
COUNTS = ("count:", "text:sha", "token:")  # a count, a hash and a mark move with any rule: they are no sentence about it
# Rules that may be switched off unseen, each with its reason.
SURVIVORS = {
    "cistern-no-higher-than-the-rose": "without height nothing flows, so the rule of the least shower accepted forbids "
                                       "the same layouts; this one says why",
    "lpg-pipe-sized-by-its-own-tables": "without it the rule of the refused design still waits for the same answer; this "
                                        "one says why it is asked",
    "measure-gas-pressure-at-the-survey": "an unread pressure leaves the rules of low and high pressure open, which ask "
                                          "for the same reading; this one says when",
}
# The demo home with what invented homes seldom have.
MADE = {
    "long pipe, design accepted": {"places.scullery.discharge_length": "40 m", "places.scullery.worked_design": "accepted"},
    "long pipe, design refused": {"places.scullery.discharge_length": "40 m", "places.scullery.worked_design": "refused",
                                  "places.landing_cupboard.worked_design": "refused"},
    "no cylinder": {"wishes.no_cylinder": "must", "wishes.outlets_at_once": "none", "wishes.no_pumps": "none"},
    "a second way to heat": {"wishes.backup_heat": "must", "wishes.outlets_at_once": "none", "wishes.no_pumps": "none"},
    "cold scullery": {"places.scullery.frost": "yes", "places.landing_cupboard.frost": "yes"},
}


@lru_cache(maxsize=1)
def surveys() -> dict[str, Survey]:
    shipped = {name: homes.survey(name) for name in homes.SURVEYS}
    made = {name: homes.survey(homes.DEMO).with_changes(changes) for name, changes in MADE.items()}
    return shipped | made | {f"seed {s}": corpus.survey(s) for s in SEEDS}


@lru_cache(maxsize=1)
def spoken() -> dict[str, list[str]]:
    """Rule (twins with it) -> surveys it spoke on, those first where it was most likely to matter."""
    found: dict[str, dict[str, int]] = defaultdict(dict)
    for name in surveys():
        for rule, weight in weights(usual(name)).items():
            found[rule][name] = weight
    return {r.id: sorted(found[r.id], key=lambda n: -found[r.id][n]) for r in RULES}


def weights(advice: Advice) -> dict[str, int]:
    """How likely each rule is to matter here: alone in a fate 3, about the layout shown first 2, certain 1, else 0."""
    told: dict[str, int] = {}
    for firing in advice.derivation:
        rule = firing.rule.partition("@")[0]
        told[rule] = max(told.get(rule, 0), int(firing.certain))
    told |= {f.rule.partition("@")[0]: 2 for f in advice.judged[0].findings}
    for judged in advice.judged:
        for effect in ("rules_out", "needs_work", "asks"):
            alone = {f.rule for f in judged.findings if f.effect == effect}
            if len(alone) == 1 and not any(f.effect == "rules_out" and f.certain and f.rule not in alone
                                           for f in judged.findings):
                told[alone.pop().partition("@")[0]] = 3
    for firing in advice.derivation:  # what a decisive finding stands on matters as it does
        rule, below = firing.rule.partition("@")[0], [advice.book[p].made_by for p in firing.premises]
        for made in below:
            if made.startswith("rule."):
                under = made.removeprefix("rule.").partition("@")[0]
                told[under] = max(told.get(under, 0), told[rule])
    return told


def without(base: Rulebase, rule: Rule) -> Rulebase:
    """The rule base without a rule and its twin."""
    kept = {i: r for i, r in base.rules.items() if rule.id not in (i, r.twin_of)}
    return replace(base, rules=kept, sha=f"{base.sha} without {rule.id}")


def run(survey: Survey, base: Rulebase, only: list[str] | None = None) -> Advice:
    return advise.run(survey, base, reasoner.matcher("plain"), only=only)


@cache
def usual(name: str) -> Advice:
    return homes.quick(surveys()[name])


def decided(advice: Advice) -> tuple:
    """Verdicts, works, requirements and questions."""
    return ({j.id: (j.verdict, j.possible, j.works, j.requires) for j in advice.judged},
            {(q.field, q.decides) for q in advice.questions}, advice.recommended)


def said(advice: Advice) -> list[str]:
    """The sentences of letter and technical report, without counts, hashes and marks."""
    return [s.text for document in (letter(advice), technical(advice)) for s in sentences(document)
            if not (isinstance(s, Claim) and any(k.startswith(COUNTS) for _, k in s.quantities))]


@cache
def usually_said(name: str) -> list[str]:
    return said(usual(name))


def whys(before: Advice, after: Advice) -> bool:
    """Whether the full answer to "why this layout" differs, for the first layout whose findings do."""
    for one in (j.id for j in before.judged):
        if {(f.rule, f.certain) for f in before[one].findings} != {(f.rule, f.certain) for f in after[one].findings}:
            texts = [explaining.why_text(a, why(a, one, True), with_tree=False) for a in (before, after)]
            return texts[0] != texts[1]
    return False


def fates(advice: Advice, only: list[str]) -> dict[str, tuple]:
    return {i: (advice[i].verdict, advice[i].possible, advice[i].works, advice[i].requires) for i in only}


def fate_changes(rule: Rule, name: str) -> bool:
    """Whether a layout's fate changes without the rule, looked at on a few layouts it speaks of: a fate stands alone."""
    before = usual(name)
    spoke = [j for j in before.judged if any(f.rule == rule.id for f in j.findings)]
    spoke.sort(key=lambda j: sum(f.effect == rule.effect for f in j.findings))
    only = [j.id for j in spoke[:LAYOUTS]]
    return bool(only) and fates(before, only) != fates(run(surveys()[name], without(homes.base(), rule), only), only)


def seen(rule: Rule) -> str:
    """Where switching it off shows: "decision", "report", "why", or "" for nowhere."""
    found = ""
    for nth, name in enumerate(spoken()[rule.id][:TRIES]):
        if found and nth >= REPORTS:
            break
        if rule.effect in ALONE and fate_changes(rule, name):
            return "decision"
        if rule.effect in ALONE:
            continue
        before, after = usual(name), run(surveys()[name], without(homes.base(), rule))
        if decided(before) != decided(after):
            return "decision"
        if rule.effect in DECIDES:
            continue
        if usually_said(name) != said(after):
            return "report"
        if not found and whys(before, after):
            found = "why"
    return found


@pytest.mark.parametrize("half", range(HALVES))
def test_every_rule_switched_off_is_missed(half: int) -> None:
    mine = RULES[half::HALVES]
    where = {rule.id: seen(rule) for rule in mine}
    survivors = {r for r, found in where.items() if not found}
    assert survivors == {r for r in SURVIVORS if r in where}, survivors
    told = {kind: sum(found == kind for found in where.values()) for kind in ("decision", "report", "why")}
    record(f"rules switched off, half {half + 1}",
           f"{len(mine)} rules, each off in turn on up to {TRIES} of {len(surveys())} homes: {told['decision']} change a "
           f"verdict, work or question, {told['report']} the letter or the technical report, {told['why']} only the full "
           f"reasons of a layout; {len(survivors)} unseen" + "".join(f"; {r}: {SURVIVORS[r]}" for r in sorted(survivors)))


def test_a_rule_that_says_nothing_would_be_found() -> None:
    """The proof can fail: a rule base and itself differ in nothing."""
    name = homes.DEMO
    again = run(surveys()[name], replace(homes.base(), sha="the same rules"))
    assert decided(usual(name)) == decided(again)
    assert usually_said(name) == said(again)
