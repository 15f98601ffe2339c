"""What must hold of every verdict: silence is no pass, a verdict outlives every completion, order changes nothing."""

from __future__ import annotations

import json
import os
import random
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
import tomlkit

from advisor import advise, paths, reasoner
from advisor.certificate import certificate
from advisor.survey import SurveyError, read
from tests import homes

COMPLETIONS = 30  # hundreds in tests/proof


@pytest.mark.parametrize("name", [n for n in homes.SURVEYS if n != homes.EMPTY])
def test_deleting_an_answer_changes_a_verdict_only_to_open(name: str) -> None:
    survey = homes.survey(name)
    looked_at = homes.sample(name)
    before = homes.verdicts(homes.quick(survey, looked_at))
    for field in homes.free_fields(survey):
        if field == "nation":
            continue
        after = homes.verdicts(homes.quick(survey.with_changes({field: None}), looked_at))
        moved = {a: (before[a], after[a]) for a in before if after.get(a) not in (before[a], "open")}
        assert not moved, f"without {field}"


@pytest.mark.parametrize("name", [n for n in homes.SURVEYS if n != homes.EMPTY])
def test_widening_a_number_changes_a_verdict_only_to_open(name: str) -> None:
    survey = homes.survey(name)
    looked_at = homes.sample(name)
    before = homes.verdicts(homes.quick(survey, looked_at))
    tried = 0
    for field, entry, _ in survey.every_field():
        answer = survey.answers.get(field)
        if answer is None or entry.kind != "number" or not answer.value.single or not entry.unit:
            continue
        low, high = max(answer.value.lo * 0.85, entry.domain[0]), min(answer.value.lo * 1.15, entry.domain[1])
        text = f"between {homes.text_of(entry.unit, low)} and {homes.text_of(entry.unit, high)}"
        try:
            wider = survey.with_changes({field: text})
        except SurveyError:
            continue  # a cross-field check forbids part of the range
        tried += 1
        after = homes.verdicts(homes.quick(wider, looked_at))
        moved = {a: (before[a], after[a]) for a in before if after[a] not in (before[a], "open")}
        assert not moved, f"{field} {text}"
    assert tried > 10


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_a_verdict_that_is_not_open_outlives_completions(name: str) -> None:
    outlives(name, COMPLETIONS)


def outlives(name: str, times: int) -> int:
    """Complete the survey at random so many times; every verdict but "open" must stand. Returns how many were tried."""
    survey, rng = homes.survey(name), random.Random(f"complete {name}")
    before = homes.quick(survey)
    possible = {j.id: set(j.possible) for j in before.judged}
    done = 0
    for _ in range(times * 20):
        full = homes.completion(survey, rng)
        if full is None:
            continue
        after = homes.verdicts(homes.quick(full))
        wrong = {a: (possible[a], after[a]) for a in possible if after[a] != "open" and after[a] not in possible[a]}
        assert not wrong, {f: full.answers[f].read for f in full.answers if f not in survey.answers}
        done += 1
        if done == times:
            return done
    raise AssertionError(f"only {done} of {times} completions of {name} passed the cross-field checks")


def test_nothing_known_nothing_suitable_every_family_there() -> None:
    advice = homes.advice(homes.EMPTY)
    assert not [j.id for j in advice.judged if j.verdict in ("suitable", "suitable_after_works")]
    families = {n.family for n in homes.base().families.naming}
    assert {j.arrangement.family for j in advice.judged} == families
    assert advice.recommended is None
    assert advice.if_typical is not None


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_every_family_has_candidates_and_every_candidate_a_fate(name: str) -> None:
    advice = homes.advice(name)
    assert {j.arrangement.family for j in advice.families()} == {n.family for n in homes.base().families.naming}
    assert [j.rank for j in advice.judged] == list(range(1, len(advice.judged) + 1))
    for judged in advice.judged:
        assert judged.possible
        if judged.verdict == "ruled_out":
            assert [f for f in judged.findings if f.effect == "rules_out" and f.certain]
        if judged.verdict == "open" and "ruled_out" in judged.possible:
            assert judged.decided_by, f"{judged.id} is open but nothing would decide it"


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_run_is_checked_and_did_not_fall_back(name: str) -> None:
    advice = homes.advice(name)
    assert advice.run["checked"] and not advice.run["fell_back"], advice.run
    if reasoner.durable.AVAILABLE:
        assert advice.run["engine"].startswith("durable-rules")


def _bytes(document: dict) -> str:
    return json.dumps({k: v for k, v in document.items() if k != "run"}, sort_keys=False)


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_both_engines_are_byte_identical_but_for_run(name: str) -> None:
    if not reasoner.durable.AVAILABLE:
        pytest.skip("durable-rules is not installed here")
    by_engine = [_bytes(certificate(advise.advise(homes.survey(name), homes.base(), e))) for e in ("durable", "plain")]
    assert by_engine[0] == by_engine[1]


def _shuffled(table: dict, rng: random.Random) -> dict:
    keys = list(table)
    rng.shuffle(keys)
    return {k: _shuffled(table[k], rng) if isinstance(table[k], dict) else table[k] for k in keys}


def test_order_of_keys_changes_nothing(tmp_path: Path) -> None:
    raw = tomllib.loads((paths.SURVEYS / f"{homes.DEMO}.toml").read_text(encoding="utf-8"))
    wanted = _bytes(certificate(homes.advice(homes.DEMO)))
    for seed in range(3):
        path = tmp_path / f"{homes.DEMO}.toml"
        path.write_text(tomlkit.dumps(_shuffled(raw, random.Random(seed))), encoding="utf-8")
        advice = advise.advise(read(path, homes.base().survey_entries()), homes.base())
        assert _bytes(certificate(advice)) == wanted


def test_three_hash_seeds_are_byte_identical() -> None:
    code = ("import json,sys;from advisor.advise import load_and_advise;from advisor.certificate import certificate;"
            "d=certificate(load_and_advise(sys.argv[1]));d.pop('run');sys.stdout.write(json.dumps(d))")
    outputs = set()
    for seed in ("0", "1", "4242"):
        done = subprocess.run([sys.executable, "-c", code, str(paths.SURVEYS / f"{homes.DEMO}.toml")],
                              env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, text=True, check=True)
        outputs.add(done.stdout)
    assert len(outputs) == 1


def test_one_of_whose_words_are_all_acceptable_is_not_open() -> None:
    """Either pipe material will do: not knowing which must not open a verdict that both would give."""
    survey = homes.survey(homes.DEMO)
    before = homes.verdicts(homes.quick(survey.with_changes({"water.service_material": "copper"})))
    either = homes.quick(survey.with_changes({"water.service_material": "one of copper, plastic"}))
    assert homes.verdicts(either) == before


def test_a_wish_taken_away_never_rules_anything_out() -> None:
    survey = homes.survey(homes.DEMO)
    before = homes.verdicts(homes.quick(survey))
    for wish in survey.wishes:
        after = homes.verdicts(homes.quick(survey.with_changes({f"wishes.{wish}": None})))
        worse = {a for a in before if before[a] != "ruled_out" and after[a] == "ruled_out"}
        assert not worse, wish


def test_changing_one_answer_changes_the_advice_for_a_printed_reason() -> None:
    from advisor.contrast.whatif import whatif

    advice = homes.advice(homes.DEMO)
    after, moved = whatif(advice, {"outlets.loft_shower.flow": "4 l/min", "outlets.main_shower.flow": "4 l/min"}) \
        if "loft_shower" in advice.survey.lists["outlets"] else whatif(advice, {"wishes.outlets_at_once": "none"})
    assert moved and all(m.because for m in moved)
    assert {m.arrangement for m in moved if m.before == "ruled_out"}
    assert after.recommended is not None


def test_order_of_rules_and_files_changes_nothing(tmp_path: Path) -> None:
    """The same rules, each file's turned back to front: the same certificate, digest included."""
    from advisor import rulebase

    shutil.copytree(paths.RULES, tmp_path / "rules")
    for path in (tmp_path / "rules").glob("*.toml"):
        head, *rules = path.read_text(encoding="utf-8").split("[[rule]]\n")
        if rules:
            path.write_text(head + "".join(f"[[rule]]\n{r.rstrip()}\n\n" for r in reversed(rules)), encoding="utf-8")
    turned = rulebase.load_from(tmp_path / "rules", paths.SHARED / "remedies.toml")
    assert turned.sha == homes.base().sha
    survey = homes.survey(homes.DEMO)
    assert _bytes(certificate(advise.advise(survey, turned))) == _bytes(certificate(homes.advice(homes.DEMO)))


def test_a_place_taken_out_takes_its_arrangements_and_nothing_else(tmp_path: Path) -> None:
    text = (paths.SURVEYS / f"{homes.DEMO}.toml").read_text(encoding="utf-8")
    raw = tomllib.loads(text)
    raw["places"].pop("landing_cupboard")
    fewer = homes.verdicts(homes.quick(homes.written(tmp_path, tomlkit.dumps(raw))))
    before = homes.verdicts(homes.quick(homes.survey(homes.DEMO)))
    assert fewer == {a: v for a, v in before.items() if "landing_cupboard" not in a}
    assert len(fewer) < len(before)


def test_an_outlet_no_longer_wanted_rules_nothing_out() -> None:
    survey = homes.survey(homes.DEMO)
    before = homes.verdicts(homes.quick(survey))
    after = homes.verdicts(homes.quick(survey.with_changes({"outlets.loft_shower.at_once": "no"})))
    assert not {a for a in before if before[a] != "ruled_out" and after[a] == "ruled_out"}
    assert {a for a in before if before[a] == "ruled_out" and after[a] != "ruled_out"}


@pytest.mark.parametrize("field, better", [("water.flow", "30 l/min"), ("gas.meter_capacity", "10 m3/h"),
                                           ("electric.main_fuse", "100 A"), ("places.scullery.door", "900 mm"),
                                           ("places.scullery.discharge_length", "2 m"), ("cistern.head", "3 m"),
                                           ("household.busy_showers", "2"), ("heating.heat_loss", "5 kW")])
def test_a_better_second_reading_never_forbids(field: str, better: str) -> None:
    """In the direction in which the vocabulary says more (or less) is better, a re-test rules nothing out."""
    survey = homes.survey(homes.DEMO)
    entry, old = survey.fields.entry(field), survey.answers[field].value
    new = survey.with_changes({field: better})
    moved = new.answers[field].value
    assert (moved.lo > old.hi) == (entry.better == "more"), "the example must go the better way"
    before, after = homes.verdicts(homes.quick(survey)), homes.verdicts(homes.quick(new))
    assert not {a for a in before if before[a] != "ruled_out" and after[a] == "ruled_out"}
