"""The verifier against a certificate typed by hand: it passes, and every planted fault is refused at its place.

Each fault is sealed anew after the edit, so that no refusal comes from the seal alone. What is expected of a formula, a
mark or a step is typed here from the definitions of the certificate, with the sum beside it.
"""

from __future__ import annotations

import ast
import json
import math
import random
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from advisor import verifier
from tests import certificates as c
from tests.certificates import COMBI, LANDING, LOFT, STRONG

Document = dict[str, Any]
Edit = Callable[[Document], object]
SOURCE = Path(verifier.__file__)


def named(document: Document, arrangement: str) -> Document:
    return next(a for a in document["arrangements"] if a["id"] == arrangement)


def step(document: Document, conclusion: str) -> Document:
    return next(s for s in document["derivation"] if s["conclusion"] == conclusion)


def at(path: str, value: Any) -> Edit:
    """Set the value that stands at a path of keys and positions."""

    def edit(document: Document) -> None:
        *way, last = path.split("/")
        here: Any = document
        for key in way:
            here = here[int(key)] if isinstance(here, list) else here[key]
        here[int(last) if isinstance(here, list) else last] = value

    return edit


def fact(key: str, **changes: Any) -> Edit:
    return lambda d: d["facts"][key].update(changes)


def arrangement(name: str, **changes: Any) -> Edit:
    return lambda d: named(d, name).update(changes)


def without_fact(key: str) -> Edit:
    return lambda d: d["facts"].pop(key)


def silence(*conclusions: str) -> Edit:
    """Steps, facts and findings of some conclusions all left out, as by one who hides a rule's firing."""

    def edit(d: Document) -> None:
        d["derivation"] = [s for s in d["derivation"] if s["conclusion"] not in conclusions]
        hidden = [d["facts"].pop(key)["name"].removeprefix("finding.") for key in conclusions]
        for a in d["arrangements"]:
            a["findings"] = [f for f in a["findings"] if f["rule"] not in hidden]

    return edit


def pardon(d: Document) -> None:
    """The rule that certainly forbids the strong boiler is hidden, and all that follows from it is mended."""
    silence("strong.out")(d)
    named(d, STRONG).update(verdict="suitable", possible_verdicts=["suitable"])


def drop_candidate(d: Document) -> None:
    """A whole candidate left out with everything about it."""
    silence("loft.out", "loft.work", "loft.ask", "loft.dear", "loft.exception")(d)
    d["arrangements"] = [a for a in d["arrangements"] if a["id"] != LOFT]
    d["entities"]["arrangement"].remove(LOFT)
    d["facts"] = {k: f for k, f in d["facts"].items() if LOFT not in f["about"].values()}


def no_places(d: Document) -> None:
    """The places taken from the list of entities with all that stands in them."""
    d["entities"]["place"] = []
    d["survey"].pop(c.LAND)
    gone = {"landing", "loft", LANDING, LOFT}
    d["facts"] = {k: f for k, f in d["facts"].items() if not gone & {*f["about"].values()}}
    d["derivation"] = [s for s in d["derivation"] if s["conclusion"] in d["facts"]]
    d["arrangements"] = [a for a in d["arrangements"] if a["family"] == "combi"]
    d["entities"]["arrangement"] = [COMBI, STRONG]
    named(d, STRONG)["rank"] = 2
    d["comparison"], d["questions"] = [], [q for q in d["questions"] if q["field"] == c.SHARED]


def circular(d: Document) -> None:
    """Two sums that vouch for each other."""
    d["facts"]["spare"] = c.calc("supply.spare_l_min", c.SITE, 7.0, "total", [], values=["total"])
    d["facts"]["total"] = c.calc("supply.total_l_min", c.SITE, 7.0, "total", [], values=["spare"])


def two_kinds(d: Document) -> None:
    """A second rule that certainly gives a single-valued name another word."""
    other = c.rule("supply-poor", 0, "derives", "site", c.when("supply.spare_l_min", op="below", arg=5.0),
                   conclude=("supply.kind", "poor"))
    d["rules"]["supply-poor"] = other
    d["facts"]["kind.poor"] = c.derived("supply.kind", c.SITE, "poor", "supply-poor", ["spare"], [c.FLOW])
    d["derivation"].insert(0, {"stratum": "circumstances", "rule": "supply-poor", "premises": ["spare"],
                               "conclusion": "kind.poor", "certain": True})


def extra_rule(d: Document) -> None:
    d["rules"]["forbid-all"] = c.rule("forbid-all", 4, "rules_out", "$a", c.when("arrangement.store", "$a"))


def late_absence(d: Document) -> None:
    d["rules"]["shallow"]["stratum"] = 2
    step(d, "loft.out")["stratum"] = "exceptions"


def self_proved(d: Document) -> None:
    """A rule whose conclusion is its own condition, used as its own proof."""
    d["rules"]["ring"] = c.rule("ring", 0, "derives", "site", c.when("supply.kind", op="is", arg=["good"]),
                                conclude=("supply.kind", "good"))
    d["rules"]["supply-good"]["when"][0]["arg"] = 99.0
    d["derivation"][0] = {"stratum": "circumstances", "rule": "ring", "premises": ["kind"], "conclusion": "kind",
                          "certain": True}
    d["facts"]["kind"].update(made_by="rule.ring", because=["kind"])


# name, edit, where the refusal must be
FAULTS: list[tuple[str, Edit, str]] = [
    # facts
    ("a fact about somebody unknown", fact("landing.margin", about={"arrangement": "nobody"}), "facts, landing.margin"),
    ("a fact of the wrong sort", fact("spare", about={"place": "loft"}), "facts, spare"),
    ("a fact made by the wrong maker", fact("flow", made_by="structure"), "facts, flow"),
    ("a fact in another unit", fact("flow", unit="m3/h"), "facts, flow"),
    ("a given fact that is not certain", fact("flow", certain=False), "facts, flow"),
    ("a fact twice", lambda d: d["facts"].update(again=d["facts"]["spare"]), "facts, again supply.spare_l_min"),
    ("a fact that cannot be read", fact("flow", value=None), "facts, flow: cannot be read"),
    # the survey and what is stated
    ("a survey fact", fact("flow", value=20.0), "given,  ('water.flow_l_min', 'site')"),
    ("an answer", at(f"survey/{c.FLOW}/value", 20.0), "given,  ('water.flow_l_min', 'site')"),
    ("an unanswered field narrowed", fact("loft.depth", value={"between": [700.0, 4000.0]}),
     "given,  ('place.depth_mm', 'loft')"),
    ("an unanswered word settled", fact("shared", value="no"), "given,  ('water.shared', 'site')"),
    ("how an answer is known", fact("landing.depth", how="told"), "given,  ('place.depth_mm', 'landing')"),
    ("the field of an answer", fact("landing.depth", field=c.DEEP, rests_on=[c.DEEP]),
     "given,  ('place.depth_mm', 'landing')"),
    ("a wish nobody stated", fact("no.wish", value="must"), "given,  ('wishes.low_price', 'site')"),
    ("a survey fact left out", without_fact("shared"), "given,  ('water.shared', 'site')"),
    ("an answer without a fact", at("survey/places.cellar.depth", {"value": 900.0, "how": "measured"}),
     "given, answers without a fact"),
    ("a threshold fact", fact("t.depth", value=600.0), "given,  ('threshold.store_depth_mm', 'site')"),
    ("a threshold", at("thresholds/store_depth_mm/value", 600.0), "given,  ('threshold.store_depth_mm', 'site')"),
    ("a structure word", fact("land.store", value="none"), "given,  ('arrangement.store', 'cylinder:landing-150l')"),
    ("a structure sum", fact("a24.points", value=1.0), "given,  ('cost.installed_points', 'combi:24kw')"),
    ("a figure of the heat source", fact("combi-35.kw", value=30.0), "given,  ('source.hot_kw', 'combi-35')"),
    # the candidates
    ("a candidate left out", drop_candidate, f"arrangements,  {LOFT}"),
    ("a family without a candidate", no_places, "arrangements, families without a candidate"),
    ("a candidate twice", lambda d: d["arrangements"].append(named(d, LOFT)), "arrangements, number of candidates"),
    ("a part", lambda d: named(d, COMBI)["parts"].update(source="combi-35"), f"arrangements,  {COMBI} parts"),
    ("a family", arrangement(COMBI, family="cylinder"), f"arrangements,  {COMBI} family"),
    ("a title", arrangement(COMBI, title="The best boiler"), f"arrangements,  {COMBI} title"),
    ("a link left out", arrangement(LOFT, links=[]), f"arrangements,  {LOFT} links"),
    ("a recipe left out", lambda d: d["slots"]["recipes"].pop(), f"arrangements,  {LANDING}"),
    ("an owed fact of an arrangement left out", without_fact("landing.margin"), f"arrangements, {LANDING} owes"),
    ("an owed fact of a place left out", without_fact("loft.bend"), f"arrangements, {LOFT} owes"),
    ("an owed fact of the source left out", without_fact("combi-24.drop"), f"arrangements, {COMBI} owes"),
    ("an owed fact of the site left out", without_fact("spare"), f"arrangements, {COMBI} owes"),
    # sums
    ("a sum", fact("spare", value=2.1), "calc, spare supply.spare_l_min"),
    ("a sum that is a little off", fact("spare", value=2.00001), "calc, spare supply.spare_l_min"),
    ("a sum narrowed at one end", fact("loft.margin", value={"between": [0.0, 3350.0]}), "calc, loft.margin"),
    ("a turn forgotten", fact("loft.bend", value={"between": [800.0, 3000.0]}), "calc, loft.bend"),
    ("a number where nothing is valid", fact("share", value=1.2), "calc, share supply.share"),
    ("a word a formula does not give", fact("word", value="short"), "calc, word supply.word"),
    ("a value left out of a total", fact("total", inputs={"values": ["flow"]}), "calc, total supply.total_l_min"),
    ("an argument left out", fact("spare", inputs={"value": "flow"}), "calc, spare"),
    ("a sum said to be taken on trust", fact("spare", trust=True), "calc, spare"),
    ("a sum known better than its inputs", fact("loft.margin", how="measured"), "support, loft.margin"),
    ("a sum that hides a field", fact("spare", rests_on=[]), "support, spare"),
    ("a sum that hides an input", fact("spare", because=["flow"]), "support, spare"),
    ("an answer that rests on another", fact("flow", rests_on=[c.LAND]), "support, flow"),
    ("a derived fact known better than its premises", fact("alarm", how="measured"), "support, alarm"),
    ("an unknown formula", fact("spare", made_by="calc.guess"), "calc, spare"),
    ("an input that is no fact", fact("spare", inputs={"value": "flow", "limit": "f0"}), "calc, "),
    ("a formula's text", at("formulas/difference/text", "value + limit"), "calc, spare supply.spare_l_min"),
    ("a formula that reaches out", at("formulas/difference/text", "value.__class__"), "calc, spare: cannot be read"),
    ("a formula that calls what is not listed", at("formulas/bend/text", "eval('1')"), "calc, "),
    ("sums that vouch for each other", circular, "calc, start: cannot be read (CycleError"),
    # the derivation
    ("a firing hidden with all its traces", pardon, "replay,  ('too-strong', ('a35.source', 'combi-35.kw'))"),
    ("a step left out", lambda d: d["derivation"].remove(step(d, "alarm")), 
     "replay,  ('fit-alarm', ('nation',), 'alarm')"),
    ("a step twice", lambda d: d["derivation"].append(step(d, "alarm")), "replay, number of steps"),
    ("a step of another rule", lambda d: step(d, "land.ask").update(rule="shallow"), "replay,  ('shallow',"),
    ("a step's premises", lambda d: step(d, "land.work").update(premises=["loft.place", "landing.depth"]),
     "replay,  ('stiffen', ('loft.place', 'landing.depth'), 'land.work')"),
    ("a step's conclusion", lambda d: step(d, "land.work").update(conclusion="loft.work"), "replay,  ('stiffen',"),
    ("a step's certain mark", lambda d: step(d, "loft.work").update(certain=True),
     "replay,  ('stiffen', ('loft.place', 'loft.depth'), 'loft.work')"),
    ("a step's stratum", lambda d: step(d, "alarm").update(stratum="verdicts"), "replay,  ('fit-alarm',"),
    ("steps before their premises", lambda d: d["derivation"].reverse(), "replay, ('likes-combi',"),
    ("a fact that proves itself", self_proved, "replay, ('ring', ('kind',), 'kind') stands before"),
    ("a derived fact left out", without_fact("strong.out"), "replay,  ('too-strong',"),
    ("a derived fact made certain", fact("loft.out", certain=True), "replay, loft.out finding.shallow"),
    ("a derived fact made doubtful", fact("strong.out", certain=False), "replay, strong.out finding.too-strong"),
    ("what a derived fact follows from", fact("land.work", because=["land.place"]),
     "replay, land.work finding.stiffen"),
    ("which rule made a derived fact", fact("land.work", made_by="rule.shallow"), "replay, land.work finding.stiffen"),
    ("a derived fact that hides a field", fact("land.work", rests_on=[]), "support, land.work finding.stiffen"),
    ("an absence made certain", fact("loft.no.exception", certain=True), "replay, certain mark of loft.no.exception"),
    ("an absence left out", without_fact("loft.no.exception"), "replay, "),
    ("an absence of what certainly is", at("rules/exception-shallow/when",
                                           [c.when("arrangement.place", "$a", bind="$p")]), "replay, "),
    ("a rule added", extra_rule, "replay,  ('forbid-all', ('a24.store',))"),
    ("a rule left out", lambda d: d["rules"].pop("too-strong"), "replay, "),
    ("a rule's limit", at("rules/too-strong/when/1/arg", 20.0),
     "replay,  ('too-strong', ('a24.source', 'combi-24.kw'))"),
    ("a rule that reads an absence too early", late_absence, "replay, rules that read what is made too late"),
    ("two certain values of one name", two_kinds, "replay, two certain values"),
    # verdicts
    ("a finding left out", lambda d: named(d, LOFT)["findings"].pop(), f"verdicts, {LOFT} findings"),
    ("a finding made up", lambda d: named(d, COMBI)["findings"].append(
        {"rule": "shallow", "effect": "rules_out", "certain": True, "because": []}), f"verdicts, {COMBI} findings"),
    ("a site finding left out", lambda d: named(d, COMBI)["findings"].pop(0), f"verdicts, {COMBI} findings"),
    ("a finding's effect", lambda d: named(d, STRONG)["findings"][-2].update(effect="caution"),
     f"verdicts, {STRONG} findings"),
    ("a verdict", arrangement(STRONG, verdict="suitable"), f"verdicts, {STRONG} verdict"),
    ("an open verdict settled",
     arrangement(LANDING, verdict="suitable_after_works", possible_verdicts=["suitable_after_works"]),
     f"verdicts, {LANDING} verdict"),
    ("a verdict that is possible left out", arrangement(LOFT, possible_verdicts=["ruled_out", "suitable"]),
     f"verdicts, {LOFT} possible_verdicts"),
    ("works left out", arrangement(LANDING, works=[]), f"verdicts, {LANDING} works"),
    ("requirements left out", arrangement(COMBI, requires=[]), f"verdicts, {COMBI} requires"),
    ("a check's value", lambda d: named(d, LANDING)["checks"][0].update(value=900.0),
     f"verdicts, {LANDING} check fit.depth_margin_mm value"),
    ("a check's limit", lambda d: named(d, LANDING)["checks"][0].update(limit=600.0),
     f"verdicts, {LANDING} check fit.depth_margin_mm limit"),
    ("a check's margin", lambda d: named(d, LANDING)["checks"][0].update(margin=90.0),
     f"verdicts, {LANDING} check fit.depth_margin_mm margin"),
    ("a check of something else", lambda d: named(d, LANDING)["checks"][0].update(fact="flow", value=12.0),
     f"verdicts, {LANDING} check fit.depth_margin_mm from"),
    ("a check said to pass", lambda d: named(d, LOFT)["checks"][0].update(passes=True),
     f"verdicts, {LOFT} check fit.depth_margin_mm passes"),
    # the order
    ("ranks exchanged", lambda d: (named(d, COMBI).update(rank=2), named(d, LANDING).update(rank=1)), "ranking, rank"),
    ("another recommendation", at("recommended", LANDING), "ranking, recommended"),
    ("no recommendation", at("recommended", None), "ranking, recommended"),
    ("the criterion that decides", at("comparison/0/criterion", "low_price"), "ranking, comparison"),
    ("a comparison left out", lambda d: d["comparison"].pop(), "ranking, comparison"),
    ("a wish left out", at("ranking/wishes", []), "ranking, wishes"),
    ("a wish made up", at("ranking/wishes", ["no_cylinder", "low_price"]), "ranking, wishes"),
    # questions
    ("a question left out", lambda d: d["questions"].pop(), "questions, left out"),
    ("a question about what is answered", at("questions/2/field", c.LAND), "questions, "),
    ("what a question decides", at("questions/2/decides", []), "questions, decides"),
    ("a question that decides what is settled", at("questions/3/decides", [COMBI]), "questions, decides"),
    ("why a question is asked", at("questions/3/because", "agree-design"), "questions, without a reason"),
]


def test_the_certificate_typed_by_hand_passes_and_says_what_was_done() -> None:
    report = verifier.verify(c.certificate())
    assert report.refusals == []
    assert report.passed
    # 8 sums; 2 solver facts and the recommendation with typical values; 16 steps typed in `derivation`
    assert report.did == {"facts": 71, "arrangements": 4, "formulas recomputed": 8, "taken on trust": 3,
                          "instances replayed": 16}


def test_a_second_certificate_in_which_a_wish_decides_passes() -> None:
    assert verifier.verify(c.agreed()).refusals == []


@pytest.mark.parametrize(("edit", "place"), [
    (at("comparison/0/criterion", "low_price"), "ranking, comparison"),
    (at("ranking/criteria/0/words", {"none": 2, "unvented": 0}), "ranking, rank"),  # the cylinder would come first
    (lambda d: d["facts"].update({"land.no.exception": c.certificate()["facts"]["land.no.exception"]}),
     "replay, certain mark of land.no.exception"),  # an absence of what certainly is
    (arrangement(LANDING, verdict="open", possible_verdicts=["ruled_out", "suitable_after_works"]),
     f"verdicts, {LANDING} possible_verdicts")])
def test_its_faults_are_refused_too(edit: Edit, place: str) -> None:
    document = c.agreed()
    edit(document)
    assert any(r.startswith(place) for r in verifier.verify(c.sealed(document)).refusals)


@pytest.mark.parametrize(("criterion", "steps"), [
    # 3, 4, 5 and 5 points; 1 for each edge passed, then -1 liked, +1 the pipe, +1 the boards
    ({"edges": [1.0, 3.0, 5.0], "better": "less"}, (0, 1, 4, 4)),
    ({"edges": [3.0, 4.0, 4.5], "better": "less"}, (0, 0, 4, 4)),  # 0 - 1 is 0; 1 - 1; 3 + 2 is 4 at most
    ({"edges": [4.0, 6.0], "better": "more"}, (1, 0, 3, 3)),  # below 4 and 6: 2 - 1; below 6: 1 - 1; 1 + 2
    # 50 mm, and -450 mm at the worst; without the fact nothing is lost; +2 as before
    ({"fact": "fit.depth_margin_mm", "edges": [0.0, 100.0], "better": "more"}, (0, 0, 3, 4)),
    ({"id": "other", "fact": "arrangement.store", "words": {"none": 1, "unvented": 3}}, (1, 1, 3, 3)),
    ({"id": "other", "fact": "water.shared", "words": {"no": 0, "yes": 2}}, (2, 2, 2, 2)),  # either word: the worse
])
def test_the_worst_step(criterion: Document, steps: tuple[int, ...]) -> None:
    document = c.certificate()
    case = verifier.SimpleNamespace(advice=document, expected=None, did=verifier.Counter(), at="")
    for section in (verifier.facts, verifier.arrangements, verifier.given, verifier.verdicts):
        list(section(case))
    form = {"id": "low_price", "fact": "cost.installed_points"} | criterion
    assert tuple(verifier.worst_step(case, form, a) for a in (COMBI, STRONG, LANDING, LOFT)) == steps


@pytest.mark.parametrize(("edit", "place"), [pytest.param(e, p, id=n) for n, e, p in FAULTS])
def test_a_planted_fault_is_refused_at_its_place(edit: Edit, place: str) -> None:
    document = c.certificate()
    edit(document)
    report = verifier.verify(c.sealed(json.loads(json.dumps(document))))
    assert not report.passed
    assert any(refusal.startswith(place) for refusal in report.refusals), report.refusals


def test_an_edit_without_a_new_seal_is_refused_by_the_seal() -> None:
    for edit, place in ((at("arrangements/0/title", "Another"), "seal, seal"),
                        (at("survey/nation/read", "x"), "seal, seal"),
                        (at("advisor/rulebase", "sha256 0"), "seal, advisor.rulebase"),
                        (at("formulas/bend/source", {"document": "x"}), "seal, advisor.rulebase"),
                        (at("seal", ""), "seal, seal")):
        document = c.certificate()
        edit(document)
        assert any(r.startswith(place) for r in verifier.verify(document).refusals), place


def test_run_is_outside_the_seal() -> None:
    document = c.certificate()
    document["run"] = {"engine": "another", "checked": True}
    assert verifier.verify(document).passed


def test_the_rule_base_expected_is_held_against_the_file() -> None:
    document = c.certificate()
    known = document["advisor"]["rulebase"]
    assert verifier.verify(document, known).passed
    assert verifier.verify(document, known.removeprefix("sha256 ")).passed
    document["rules"]["shallow"]["title"] = "a change that fires nothing"
    refusals = verifier.verify(c.sealed(document), known).refusals
    assert len(refusals) == 1 and refusals[0].startswith("seal, rule base expected")


def test_the_digest_is_of_sorted_unspaced_unescaped_json() -> None:
    # printf '{"a":"\u00e9","b":[1,2.5]}' | sha256sum
    assert verifier.digest({"b": [1, 2.5], "a": "é"}) == (
        "sha256 123b424b7606d08d0756074e1f76051117423e1a66a03e02f56fd334de63705b")


@pytest.mark.parametrize("rubbish", [None, [], 3, "text", {}, {"facts": 1}, {"facts": {"f1": None}, "seal": []}])
def test_what_is_no_certificate_is_refused_without_a_traceback(rubbish: Any) -> None:
    report = verifier.verify(rubbish)
    assert not report.passed and all("," in refusal and ":" in refusal for refusal in report.refusals)


def test_no_part_may_be_missing_or_of_another_kind() -> None:
    """Every top-level part but what stands outside the seal, deleted and then replaced by nonsense."""
    for part in c.certificate().keys() - {"run", "if_typical"}:
        for nonsense in (None, 7, [], {}, ["x"], {"x": {}}):
            document = c.certificate()
            document[part] = nonsense
            assert not verifier.verify(document).passed, (part, nonsense)
        document.pop(part)
        assert not verifier.verify(document).passed, part


def leaves(value: Any, way: str = "") -> list[str]:
    """The paths of everything in a document that is no further table or list."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    if not items:
        return [way]
    return [path for key, inner in items for path in leaves(inner, f"{way}/{key}" if way else str(key))]


# What may be changed in the parts swept below without a refusal: words that decide nothing, figures taken on trust,
# the order of wishes where only one is stated.
FREE = re.compile(r"facts/combi-\d\d\.drop/value|facts/(t|kind|alarm|\w+\.\w+|\w+\.no\.exception)[.\w]*/unit|"
                  r"arrangements/\d/links/0/2|questions/\d/ask|comparison/0/(values/\d|step)|survey/[^/]+/(read|unit)|"
                  r"survey/works_date/value|facts/\w+\.no\.exception/value|survey/wishes\.order/value/0")


@pytest.mark.parametrize("part", ["facts", "derivation", "arrangements", "questions", "comparison", "survey",
                                  "entities"])
def test_no_leaf_of_what_the_advice_says_can_be_changed(part: str) -> None:
    """Each number, word and mark changed and sealed anew: all refused but those listed above, and none raises."""
    rng, original = random.Random(4), c.certificate()
    free = set()
    for path in leaves(original[part], part):
        document = c.certificate()
        at(path, rng.choice([None, -1.0, "x", {"one_of": ["x"]}, {"between": [0.0, 1.0]}]))(document)
        assert document != original
        if verifier.verify(c.sealed(document)).passed:
            free.add(path)
    assert {path for path in free if not FREE.fullmatch(path)} == set()


def test_random_edits_anywhere_never_raise() -> None:
    rng, paths = random.Random(5), leaves(c.certificate())
    for _ in range(200):
        document = c.certificate()
        for path in rng.sample(paths, 3):
            at(path, rng.choice([None, -1.0, "x", True, [], {}, 10**400]))(document)
        report = verifier.verify(document)
        assert not report.passed, "the seal is not made anew"


# ------------------------------------------------------------------ sums on ranges
INF = math.inf


def formula(text: str, **more: Any) -> Document:
    return {"text": text, "valid": "", "variadic": False, "turns": {}, "domain": []} | more


@pytest.mark.parametrize(("form", "inputs", "result"), [
    (formula("a - b"), {"a": (2.0, 3.0), "b": (1.0, 5.0)}, (-3.0, 2.0)),  # 2 - 5, 3 - 1
    (formula("a * b"), {"a": (-2.0, 3.0), "b": (-1.0, 4.0)}, (-8.0, 12.0)),  # -2 x 4, 3 x 4
    (formula("(x - 2) ** 2", turns={"x": [2.0]}), {"x": (0.0, 3.0)}, (0.0, 4.0)),  # 0 at the turn, 4 at 0
    (formula("(x - 2) ** 2", turns={"x": [2.0]}), {"x": (3.0, 4.0)}, (1.0, 4.0)),  # the turn lies outside
    (formula("max(values)", variadic=True), {"values": [(1.0, 2.0), (0.0, 5.0)]}, (1.0, 5.0)),
    (formula("len(values)", variadic=True), {"values": [(1.0, 2.0), (0.0, 5.0)]}, (2.0, 2.0)),
    (formula("sum(values)", variadic=True), {"values": []}, (0.0, 0.0)),
    (formula("'a' if x > 1 else 'b'", domain=["a", "b"]), {"x": (0.0, 2.0)}, frozenset("ab")),
    (formula("1 if w == 'busy time' else x"), {"w": frozenset(["busy time", "quiet time"]), "x": (3.0, 3.0)},
     (1.0, 3.0)),
    (formula("sqrt(x) + floor(2.7) - ceil(2.2) + abs(-1)"), {"x": (9.0, 9.0)}, (3.0, 3.0)),  # 3 + 2 - 3 + 1
    (formula("log10(x) + exp(0) + log(1)"), {"x": (100.0, 100.0)}, (3.0, 3.0)),  # 2 + 1 + 0
    (formula("1 if 0 < x <= 2 and not x == 1 else -1"), {"x": (1.0, 2.0)}, (-1.0, 1.0)),
    # outside its validity at one corner, a division by nothing, a root of less than nothing, infinity less infinity
    (formula("x", valid="x > 0"), {"x": (0.0, 2.0)}, (-INF, INF)),
    (formula("1 / x"), {"x": (0.0, 2.0)}, (-INF, INF)),
    (formula("sqrt(x)"), {"x": (-1.0, 2.0)}, (-INF, INF)),
    (formula("x - x"), {"x": (0.0, INF)}, (-INF, INF)),
    (formula("10.0 ** x"), {"x": (0.0, 400.0)}, (-INF, INF)),  # too large for a number
    (formula("'a' if 1 / x > 1 else 'b'", domain=["a", "b"]), {"x": (0.0, 0.0)}, frozenset("ab")),
])
def test_a_formula_over_a_box(form: Document, inputs: Document, result: Any) -> None:
    assert verifier.over(form, inputs) == result


@pytest.mark.parametrize("text", [
    "().__class__", "x.real", "[y for y in (1, 2)]", "(lambda: 1)()", "open('f')", "__import__('os')", "f'{x}'", "x[0]",
    "eval('1')", "x if True else y := 2", "y", "x; x", "x @ x", "x << 3", "{1: 2}", "print(x)", "x is x"])
def test_a_formula_holds_nothing_but_the_listed(text: str) -> None:
    with pytest.raises((KeyError, SyntaxError, AttributeError)):
        verifier.over(formula(text), {"x": (1.0, 1.0)})


def test_powers_of_whole_numbers_do_not_grow_for_ever() -> None:
    assert verifier.over(formula("9 ** 9 ** 9"), {}) == (-INF, INF)  # a float overflows at once


# ------------------------------------------------------------------ marks, typed from the definitions of a test
@pytest.mark.parametrize(("values", "op", "limit", "mark"), [
    ((1.0, 2.0), "below", (2.0, 2.0), (True, False)), ((1.0, 1.9), "below", (2.0, 2.0), (True, True)),
    ((2.0, 3.0), "below", (2.0, 2.0), (False, False)), ((1.0, 2.0), "at_most", (2.0, 2.0), (True, True)),
    ((2.0, 3.0), "at_most", (2.0, 2.0), (True, False)), ((2.1, 3.0), "at_most", (2.0, 2.0), (False, False)),
    ((2.0, 3.0), "above", (2.0, 2.0), (True, False)), ((2.1, 3.0), "above", (2.0, 2.0), (True, True)),
    ((1.0, 2.0), "above", (2.0, 2.0), (False, False)), ((2.0, 3.0), "at_least", (2.0, 2.0), (True, True)),
    ((1.0, 2.0), "at_least", (2.0, 2.0), (True, False)), ((1.0, 1.9), "at_least", (2.0, 2.0), (False, False)),
    ((2.0, 2.0), "is", (2.0, 2.0), (True, True)), ((1.0, 3.0), "is", (2.0, 2.0), (True, False)),
    ((3.0, 4.0), "is", (2.0, 2.0), (False, False)), ((-INF, INF), "below", (0.0, 0.0), (True, False)),
    (frozenset("a"), "is", frozenset("ab"), (True, True)), (frozenset("ac"), "is", frozenset("ab"), (True, False)),
    (frozenset("c"), "is", frozenset("ab"), (False, False)), (frozenset("ac"), "applies", None, (True, True)),
    # a limit that is itself a range: certain only when it holds against every limit in it
    ((1.0, 1.0), "below", (1.0, 2.0), (True, False)), ((0.5, 0.9), "below", (1.0, 2.0), (True, True)),
    ((2.0, 2.0), "at_least", (1.0, 2.0), (True, True)), ((1.5, 1.5), "at_least", (1.0, 2.0), (True, False)),
])
def test_possible_and_certain(values: Any, op: str, limit: Any, mark: tuple[bool, bool]) -> None:
    assert verifier.test(values, op, limit) == mark


# ------------------------------------------------------------------ the file itself
def test_it_stands_alone() -> None:
    tree = ast.parse(SOURCE.read_text(encoding="utf-8"))
    plain = [alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names]
    out_of = [node for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    assert not any(node.level for node in out_of)
    assert {name.split(".")[0] for name in (*plain, *(node.module for node in out_of))} <= sys.stdlib_module_names
    calls = [node.func for node in ast.walk(tree) if isinstance(node, ast.Call)]
    called = {function.id for function in calls if isinstance(function, ast.Name)}
    assert not called & {"eval", "exec", "compile", "__import__"}


def test_it_runs_as_a_file_on_its_own(tmp_path: Path) -> None:
    """Copied away from the project, with the interpreter told to see nothing else."""
    alone, good, bad, broken = (tmp_path / n for n in ("verifier.py", "good.json", "bad.json", "broken.json"))
    alone.write_text(SOURCE.read_text(encoding="utf-8"), encoding="utf-8")
    document = c.certificate()
    good.write_text(json.dumps(document), encoding="utf-8")
    bad.write_text(json.dumps(document | {"recommended": LOFT}), encoding="utf-8")
    broken.write_text('{"facts": ', encoding="utf-8")

    def run(*arguments: str) -> tuple[int, str]:
        done = subprocess.run([sys.executable, "-I", str(alone), *arguments], capture_output=True, text=True,
                              timeout=30)
        assert "Traceback" not in done.stderr
        return done.returncode, done.stdout + done.stderr

    code, text = run(str(good))
    assert code == 0 and document["advisor"]["rulebase"] in text and "instances replayed: 16" in text
    assert run(str(good), "--rulebase", document["advisor"]["rulebase"])[0] == 0
    code, text = run(str(good), "--rulebase", "0" * 64)
    assert code == 1 and "rule base expected" in text
    code, text = run(str(bad))
    assert code == 1 and "ranking, recommended" in text
    assert run(str(broken))[0] == 1 and run(str(tmp_path / "none.json"))[0] == 1
    assert run()[0] == 2 and run(str(good), "--other", "x")[0] == 2
