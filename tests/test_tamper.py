"""A re-sealed certificate with one thing changed is refused; the kinds that are accepted are listed with the reason.

Every edit below is followed by new digests, as a consistent forger would make them: the seal alone proves nothing.
"""

from __future__ import annotations

import copy
import pickle
from collections.abc import Callable
from functools import lru_cache
from typing import Any

import pytest

from advisor import rulebase, verifier
from advisor.certificate import certificate
from tests import homes

Edit = Callable[[dict[str, Any]], object]


@lru_cache(maxsize=1)
def original() -> dict[str, Any]:
    return certificate(homes.advice(homes.DEMO))


@lru_cache(maxsize=1)
def _written() -> bytes:
    return pickle.dumps(original())


def resealed(edit: Edit) -> dict[str, Any]:
    document = pickle.loads(_written())
    edit(document)
    part = {k: document[k] for k in ("rules", "needs", "slots", "absences", "formulas", "thresholds")}
    document["advisor"]["rulebase"] = rulebase.digest(part)
    document["seal"] = rulebase.digest({k: v for k, v in document.items() if k not in ("run", "seal")})
    return document


def fact(d: dict[str, Any], name: str, about: str = "") -> dict[str, Any]:
    return next(f for f in d["facts"].values() if f["name"] == name and (not about or about in f["about"].values()))


def fact_id(d: dict[str, Any], wanted: dict[str, Any]) -> str:
    return next(i for i, f in d["facts"].items() if f is wanted)


def first(d: dict[str, Any]) -> dict[str, Any]:
    return d["arrangements"][0]


def ruled_out(d: dict[str, Any]) -> dict[str, Any]:
    return next(a for a in d["arrangements"] if a["verdict"] == "ruled_out")


def step(d: dict[str, Any], effect: str = "rules_out") -> dict[str, Any]:
    rules = {r for r, form in d["rules"].items() if form["effect"] == effect}
    return next(s for s in d["derivation"] if s["rule"] in rules and s["certain"])


def drop_rule_and_its_firings(d: dict[str, Any]) -> None:
    name = step(d)["rule"]
    d["rules"].pop(name)


def drop_finding(d: dict[str, Any]) -> None:
    a = ruled_out(d)
    a["findings"] = [f for f in a["findings"] if f["effect"] != "rules_out"]
    a["verdict"], a["possible_verdicts"] = "suitable", ["suitable"]


def swap_ranks(d: dict[str, Any]) -> None:
    a, b = d["arrangements"][:2]
    a["rank"], b["rank"] = b["rank"], a["rank"]


def drop_candidate(d: dict[str, Any]) -> None:
    gone = d["arrangements"].pop()
    d["entities"]["arrangement"].remove(gone["id"])
    d["facts"] = {i: f for i, f in d["facts"].items() if gone["id"] not in f["about"].values()}


def drop_owed_fact(d: dict[str, Any]) -> None:
    d["facts"].pop(fact_id(d, fact(d, "fit.door_margin_mm")))


def better_door(d: dict[str, Any]) -> None:
    d["survey"]["places.landing_cupboard.door"]["value"] = 900.0


def set_in(path: str, value: Any) -> Edit:
    def edit(d: dict[str, Any]) -> None:
        *way, last = path.split("/")
        at: Any = d
        for key in way:
            at = at[int(key)] if isinstance(at, list) else at[key]
        at[last] = value

    return edit


REFUSED: list[tuple[str, Edit]] = [
    ("a survey answer, its fact left", better_door),
    ("a survey fact, the answer left", lambda d: fact(d, "water.static_pressure_bar").update(value=9.0)),
    ("an unanswered field given a value", lambda d: fact(d, "electric.looped").update(value="no", how="measured")),
    ("an answer without its fact", lambda d: d["facts"].pop(fact_id(d, fact(d, "water.hardness_mg_l")))),
    ("an answer added", set_in("survey/electric.looped", {"read": "no", "value": "no", "how": "measured"})),
    ("how an answer is known", lambda d: fact(d, "water.shared").update(how="measured")),
    ("a threshold fact", lambda d: fact(d, "threshold.winter_rise_k").update(value=20.0)),
    ("a threshold, its fact left", set_in("thresholds/winter_rise_k/value", 20.0)),
    ("a calculated figure", lambda d: fact(d, "outlet_flow_l_min").update(value=30.0)),
    ("a calculated figure widened", lambda d: fact(d, "outlet_flow_l_min").update(value={"between": [1.0, 99.0]})),
    ("an input exchanged", lambda d: fact(d, "outlet_flow_margin_l_min").update(
        inputs={"value": "f1", "limit": "f1"})),
    ("a formula's text", set_in("formulas/instant_flow/text", "power_kw")),
    ("a sum taken on trust", lambda d: fact(d, "store.mixed_l").update(trust=True)),
    ("a fact about nobody", lambda d: fact(d, "store.mixed_l").update(about={"arrangement": "nobody"})),
    ("a fact twice", lambda d: d["facts"].update(f999999=copy.deepcopy(fact(d, "store.mixed_l")))),
    ("a step left out", lambda d: d["derivation"].remove(step(d))),
    ("a step twice", lambda d: d["derivation"].append(copy.deepcopy(step(d)))),
    ("a step's certain mark", lambda d: step(d).update(certain=False)),
    ("a step's rule", lambda d: step(d).update(rule=step(d, "requires")["rule"])),
    ("a step's premises exchanged", lambda d: step(d).update(premises=["f1"])),
    ("a step's conclusion", lambda d: step(d).update(conclusion=step(d, "requires")["conclusion"])),
    ("a step's stratum", lambda d: step(d).update(stratum="questions")),
    ("steps before their premises", lambda d: d["derivation"].reverse()),
    ("a rule left out", drop_rule_and_its_firings),
    ("a rule's condition turned round", lambda d: d["rules"][step(d)["rule"]]["when"][0].update(op="applies", arg=None)
        or d["rules"][step(d)["rule"]].update(when=d["rules"][step(d)["rule"]]["when"][:1])),
    ("a rule's effect", lambda d: d["rules"][step(d)["rule"]].update(effect="caution")),
    ("a derived fact left out", lambda d: d["facts"].pop(step(d)["conclusion"])),
    ("a derived fact made certain", lambda d: next(
        f for f in d["facts"].values() if f["made_by"].startswith("rule.") and not f["certain"]).update(certain=True)),
    ("a derived fact's because", lambda d: d["facts"][step(d)["conclusion"]].update(because=["f1"])),
    ("an absence made certain", lambda d: next(
        f for f in d["facts"].values() if f["made_by"] == "absence").update(
            certain=not next(f for f in d["facts"].values() if f["made_by"] == "absence")["certain"])),
    ("a finding left out and the verdict mended", drop_finding),
    ("a verdict", lambda d: ruled_out(d).update(verdict="suitable")),
    ("possible verdicts", lambda d: ruled_out(d).update(possible_verdicts=["suitable", "ruled_out"])),
    ("works", lambda d: first(d).update(works=["larger-meter"])),
    ("requirements left out", lambda d: first(d).update(requires=[])),
    ("a check's figure", lambda d: first(d)["checks"][0].update(value=12345.0)),
    ("whether a check passes", lambda d: first(d)["checks"][0].update(passes=not first(d)["checks"][0]["passes"])),
    ("ranks exchanged", swap_ranks),
    ("another recommendation", lambda d: d.update(recommended=d["arrangements"][1]["id"])),
    ("no recommendation", lambda d: d.update(recommended=None)),
    ("the deciding criterion", lambda d: d["comparison"][0].update(criterion="verdict")),
    ("a comparison left out", lambda d: d["comparison"].pop()),
    ("a candidate left out", drop_candidate),
    ("a part exchanged", lambda d: first(d)["parts"].update(source="immersion-3")),
    ("a title", lambda d: first(d).update(title="A better one")),
    ("a link left out", lambda d: first(d)["links"].pop()),
    ("an owed fact left out", drop_owed_fact),
    ("a recipe left out", lambda d: d["slots"]["recipes"].pop()),
    ("a wish left out of the ranking", lambda d: d["ranking"]["wishes"].pop(0)),
    ("a ranking edge", lambda d: d["ranking"]["criteria"][0].update(edges=[-99.0, -98.0, -97.0])),
    ("a question left out", lambda d: d["questions"].pop(0)),
]


@pytest.mark.parametrize("edit", [pytest.param(e, id=n) for n, e in REFUSED])
def test_a_resealed_edit_is_refused(edit: Edit) -> None:
    document = resealed(edit)
    assert document != original(), "the edit must change something"
    report = verifier.verify(document)
    assert not report.passed
    assert all(": " in refusal for refusal in report.refusals), "a refusal names its place"


# What a self-contained file cannot refuse, and why that is borne.
ACCEPTED: list[tuple[str, str, Edit]] = [
    ("the words of an answer as read", "only its value decides; --replay reads the words again",
     lambda d: d["survey"]["water.flow"].update(read="26 l/min")),
    ("when an answer was taken", "decides nothing", lambda d: d["survey"]["water.flow"].update(when="noon")),
    ("the wording of a question", "decides nothing", lambda d: d["questions"][0].update(ask="Why?")),
    ("a source's words", "decides nothing; the rule-base digest changes, so --rulebase refuses it",
     lambda d: d["formulas"]["instant_flow"]["source"].update(document="A friend told me")),
    ("what would be recommended if typical", "a second run; --replay repeats it",
     lambda d: d.update(if_typical=None)),
    ("a rule that could never fire", "changes no firing; the rule-base digest changes, so --rulebase refuses it",
     lambda d: d["rules"].update({"extra": {**d["rules"][step(d)["rule"]], "id": "extra", "when": [
         {"fact": "water.static_pressure_bar", "of": "site", "op": "above", "arg": 1e9, "bind": ""},
         *d["rules"][step(d)["rule"]]["when"]]}})),
    ("a remedy's title", "words only", lambda d: next(iter(d["remedies"].values())).update(title="x")),
]


@pytest.mark.parametrize("edit", [pytest.param(e, id=n) for n, _, e in ACCEPTED])
def test_the_kinds_accepted_are_these(edit: Edit) -> None:
    """A later verifier that refuses one of these is welcome; then the list gets shorter, knowingly."""
    document = resealed(edit)
    assert document != original()
    assert verifier.verify(document).passed


def test_a_changed_rule_base_is_refused_where_its_digest_is_known() -> None:
    known = original()["advisor"]["rulebase"]
    for name, _, edit in ACCEPTED:
        if name in ("a source's words", "a rule that could never fire"):
            assert not verifier.verify(resealed(edit), known).passed


def test_the_original_passes_and_says_what_it_did() -> None:
    report = verifier.verify(original())
    assert report.passed, report.refusals
    assert report.did["facts"] > 1000 and report.did["instances replayed"] > 100


@pytest.mark.parametrize("broken", [{}, {"seal": 1}, [], None, {"facts": {}}, {"seal": "x", "run": {}, "facts": None}])
def test_rubbish_is_refused_not_crashed_on(broken: Any) -> None:
    assert not verifier.verify(broken).passed
