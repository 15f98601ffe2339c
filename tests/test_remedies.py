"""Exactly the named works make an arrangement suitable: with all of them it is, with one left out it is not."""

from __future__ import annotations

import random

import pytest

from advisor.contrast.works import edits
from advisor.records import Advice, Judged
from advisor.survey import Survey, SurveyError
from tests import homes

SPOILERS = {
    "places.scullery.frost": "yes", "boiler.condensate_bore": "22 mm", "boiler.condensate_outside": "2 m",
    "boiler.relief_end": "none found", "gas.meter_capacity": "2.5 m3/h", "gas.legs.to_boiler.size": "15 mm",
    "gas.legs.under_floor.size": "22 mm", "electric.main_fuse": "60 A", "electric.demand_now": "55 A",
    "boiler.flue_to_opening": "200 mm", "water.stop_tap": "seized", "cistern.base": "none",
    "places.scullery.door": "500 mm", "heating.pressure_test": "failed", "heating.circuit": "open vented",
    "electric.spare_ways": "0", "gas.working_pressure": "17 mbar", "boiler.condensate_to": "none found",
}


def settled() -> Survey:
    """The demo with every missing and ranged answer settled, so that verdicts are words."""
    return homes.survey(homes.DEMO).with_changes({
        "electric.looped": "no", "electric.spare_ways": "2", "places.scullery.bearing": "by a bearing wall",
        "heating.pressure_test": "held", "heating.heat_loss": "7 kW", "gas.legs.under_floor.size": "28 mm",
        "boiler.condensate_bore": "32 mm"})


def certain_works(judged: Judged, advice: Advice) -> list[str]:
    return sorted({advice.rulebase.rules[f.rule].remedies[0] for f in judged.findings
                   if f.effect == "needs_work" and f.certain})


def after(survey: Survey, advice: Advice, judged: Judged, works: list[str]) -> str:
    return homes.alone(survey.with_changes(edits(advice, judged, works)), judged.id)


def check(survey: Survey) -> set[str]:
    """Every arrangement that is suitable after works; returns the remedies that were tried."""
    advice, tried = homes.quick(survey), set()
    for judged in [j for j in advice.judged if j.verdict == "suitable_after_works"][:10]:
        works = certain_works(judged, advice)
        assert works and tuple(works) == tuple(sorted(judged.works))
        assert after(survey, advice, judged, works) == "suitable", (judged.id, works, edits(advice, judged, works))
        for work in works:
            fewer = [w for w in works if w != work]
            assert after(survey, advice, judged, fewer) != "suitable", (judged.id, "without", work)
        tried |= set(works)
    return tried


def test_alone_or_together_is_the_same() -> None:
    survey = settled()
    for name, verdict in list(homes.verdicts(homes.quick(survey)).items())[::5]:
        assert homes.alone(survey, name) == verdict


def test_each_spoiled_answer_is_mended_by_its_works() -> None:
    tried = set()
    for field, text in SPOILERS.items():
        tried |= check(settled().with_changes({field: text}))
    assert len(tried) >= 8, sorted(tried)


@pytest.mark.parametrize("seed", range(8))
def test_several_spoiled_answers_at_once(seed: int) -> None:
    rng = random.Random(seed)
    for _ in range(3):
        chosen = rng.sample(sorted(SPOILERS), 3)
        try:
            check(settled().with_changes({f: SPOILERS[f] for f in chosen}))
        except SurveyError:
            continue
