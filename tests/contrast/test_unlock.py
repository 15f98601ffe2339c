"""Unlock against brute force: every minimal set of remedies and no other, never a fixed fact, each confirmed by what-if."""

from __future__ import annotations

import itertools

import pytest

from advisor.contrast.unlock import UP_TO, Unlock, unlock
from advisor.contrast.whatif import whatif
from advisor.contrast.works import edits
from advisor.records import Advice
from advisor.report.lint import lint
from advisor.report.plain import printed
from advisor.report.unlocking import unlock_document, unlock_json
from advisor.survey import SurveyError
from tests import corpus, homes

SEEDS = (3, 11, 18)


def ruled_out(advice: Advice, every: int = 1) -> list[str]:
    return [j.id for j in advice.families() if j.verdict == "ruled_out"][::every]


def forbids(advice: Advice, arrangement: str, remedies: tuple[str, ...]) -> bool | None:
    """Whether anything certainly forbids it after these remedies, by the whole run of `advise`; None: contradictory."""
    judged = advice[arrangement]
    try:
        changed = advice.survey.with_changes(
            {f: t for r in sorted(remedies) for f, t in edits(advice, judged, [r]).items() if better(advice, f, t)})
    except SurveyError:
        return None
    return homes.quick(changed, (arrangement,)).judged[0].possible == ("ruled_out",)


def better(advice: Advice, field: str, text: str) -> bool:
    """A work does not make an answer worse (nor gives up a wish nobody has)."""
    entry = advice.survey.fields.entry(field)
    now = advice.survey.value(field)
    if entry.kind == "words":
        return not (field.startswith("wishes.") and now.words == {"none"})
    aim = float(text.split()[0])
    return not (now.lo >= aim if entry.better == "more" else now.hi <= aim)


def brute_force(advice: Advice, arrangement: str, remedies: tuple[str, ...]) -> set[frozenset[str]]:
    found: set[frozenset[str]] = set()
    for size in range(1, UP_TO + 1):
        for chosen in itertools.combinations(remedies, size):
            if not any(f < set(chosen) for f in found) and forbids(advice, arrangement, chosen) is False:
                found.add(frozenset(chosen))
    return found


def touching(advice: Advice, arrangement: str) -> tuple[str, ...]:
    """Remedies that change a field some certain reason against it rests on, none of them a fixed field."""
    judged = advice[arrangement]
    fields = {f for x in judged.findings if x.effect == "rules_out" and x.certain for f in advice.book[x.key].rests_on}
    return tuple(r for r in sorted(advice.rulebase.remedies)
                 if fields & {f for f, t in edits(advice, judged, [r]).items() if "not-listed" not in f and better(advice, f, t)})


def faults(advice: Advice, answer: Unlock) -> list[str]:
    """What is wrong with an answer, held against brute force and against every proper subset."""
    wrong = []
    brute = brute_force(advice, answer.arrangement, touching(advice, answer.arrangement))
    found = {frozenset(r.remedies) for r in answer.repairs}
    if found != brute:
        wrong.append(f"{answer.arrangement}: found {sorted(map(sorted, found))}, brute force {sorted(map(sorted, brute))}")
    for repair in answer.repairs:
        if any(advice.survey.fields.entry(e.field).may_change == "fixed" for e in repair.edits):
            wrong.append(f"{answer.arrangement}: {repair.remedies} touches a fixed field")
        for part in itertools.combinations(repair.remedies, len(repair.remedies) - 1):
            if forbids(advice, answer.arrangement, part) is False:
                wrong.append(f"{answer.arrangement}: {part} alone is enough")
    return wrong


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_equals_brute_force_on_the_demos(name: str) -> None:
    advice = homes.advice(name)
    assert [f for i in ruled_out(advice, 3) for f in faults(advice, unlock(advice, i))] == []


@pytest.mark.parametrize("seed", SEEDS)
def test_equals_brute_force_on_invented_homes(seed: int) -> None:
    advice = homes.quick(corpus.survey(seed))
    assert [f for i in ruled_out(advice, 4)[:4] for f in faults(advice, unlock(advice, i))] == []


def test_whatif_confirms_each_repair_and_accepts_its_texts() -> None:
    advice = homes.advice("large_family_house")
    answer = unlock(advice, next(i for i in ruled_out(advice) if i.startswith("boiler-cistern-fed-cylinder")))
    assert any(len(r.remedies) == 2 for r in answer.repairs), "this home has a repair that needs two changes"
    for repair in answer.repairs:
        after, moved = whatif(advice, repair.answers, "plain")
        assert after[answer.arrangement].verdict == repair.becomes != "ruled_out"
        assert after.recommended == repair.recommended
        assert {(m.arrangement, m.after) for m in moved} >= {(i, now) for i, _, now in repair.moved}
        whatif(advice, {e.field: e.before for e in repair.edits}, "plain")


def test_repairs_of_two_changes_and_arrangements_nothing_saves() -> None:
    """Two homes as shipped. The terrace keeps what it has only with a higher tank and one shower at a time less."""
    for name, family in (("large_family_house", "boiler-cistern-fed-cylinder"), (homes.DEMO, "keep-what-is-there")):
        advice = homes.advice(name)
        tried = [unlock(advice, i) for i in ruled_out(advice) if i.startswith(family)]
        pairs = [r for a in tried for r in a.repairs if len(r.remedies) == 2]
        assert pairs, name
        for part in pairs[0].remedies:
            assert forbids(advice, tried[0].arrangement, (part,)) is not False, "one change alone is not enough"
        assert any(unlock(advice, i).fixed for i in ruled_out(advice))


def test_the_three_endings_are_worded_differently() -> None:
    advice = homes.advice(homes.DEMO)
    pump = next(i for i in ruled_out(advice) if i.startswith("heat-pump"))
    stuck = printed(unlock_document(advice, unlock(advice, pump)), advice)
    assert "Fixed facts of this home forbid it" in stuck
    none_found = Unlock(pump, "ruled_out", ("smaller-shower-heads",), (), ())
    text = " ".join(s.text for b in unlock_document(advice, none_found).blocks for s in getattr(b, "sentences", ()))
    assert "No repair was found among" in text and "Fixed facts" not in text
    solar = next(i for i in ruled_out(advice) if i.startswith("boiler-unvented-solar"))
    assert "No work and no wish in our rules changes this" in printed(unlock_document(advice, unlock(advice, solar)), advice)


@pytest.mark.parametrize("name", homes.SURVEYS)
def test_what_is_printed_holds_and_the_json_is_as_agreed(name: str) -> None:
    advice = homes.advice(name)
    for i in ruled_out(advice, 4):
        answer = unlock(advice, i)
        assert lint(unlock_document(advice, answer), advice) == []
        found = unlock_json(advice, answer)
        assert found["possible"] == bool(found["changes"])
        assert all(c["minimal"] and c["set"] for c in found["changes"])
        bands = [("none", "small", "medium", "large").index(c["band"]) for c in found["changes"]]
        assert bands == sorted(bands)
        assert not (found["changes"] and found["impossible_because"])
