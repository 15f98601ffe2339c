"""The band of the busy hour: it holds every home the answers allow, and says why where there is none."""

from __future__ import annotations

import math
import random

import pytest

from advisor import paths
from advisor.report import busy
from advisor.water.outcome import busy_hour
from tests import homes

RANGED = {  # the terrace with two showers, its answers widened
    'busy_showers = 4': 'busy_showers = { between = [3, 5] }',
    'shower_minutes = "6 min"': 'shower_minutes = { between = ["5 min", "9 min"] }',
    '[outlets.main_shower]\nkind = "shower"\nflow = "9 l/min"': '[outlets.main_shower]\nkind = "shower"\nflow = { between = ["8 l/min", "12 l/min"] }',
    'static_pressure = { value = "3.4 bar", when = "07:35" }': 'static_pressure = { between = ["3.0 bar", "3.6 bar"] }',
    'flow_pressure = { value = "1.4 bar", when = "07:40", instead_of = "0.9 bar" }': 'flow_pressure = { between = ["1.1 bar", "1.6 bar"] }',
    'head = "1.2 m"': 'head = { between = ["0.8 m", "2.5 m"] }',
    'tested_at = "busy time"': 'tested_at = { one_of = ["busy time", "quiet time"] }',
    'cylinder = "117 l"': 'cylinder = { between = ["100 l", "140 l"] }',
}


def ranged(tmp_path):
    text = (paths.SURVEYS / f"{homes.DEMO}.toml").read_text(encoding="utf-8")
    for old, new in RANGED.items():
        assert old in text, old
        text = text.replace(old, new)
    return homes.written(tmp_path, text)


def outcomes(survey):
    advice = homes.quick(survey)
    return {j.id: o for j, o in zip(advice.families(), busy.simulate(advice, advice.families()), strict=True)}


def inner_points(survey, points: int, seed: int) -> tuple[int, list]:
    """Random homes inside the ranges, each layout simulated; returns how many bands were tried and those left."""
    wide = homes.quick(survey)
    chosen = [j for j in wide.families()]
    outlets = sorted(wide.book.of("outlet.kind"))
    bands = {j.id: busy_hour(wide.book, j.arrangement, outlets) for j in chosen}
    rng, tried, outside = random.Random(seed), 0, []
    for _ in range(points):
        point = homes.completion(survey, rng)
        if point is None:
            continue
        book = homes.quick(point).book
        for j in chosen:
            inner = busy_hour(book, j.arrangement, outlets)
            band = bands[j.id]
            if not band.computed or not inner.computed:
                continue
            tried += 1
            if inner.first_short.lo < band.first_short.lo - 1e-6 or inner.first_short.hi > band.first_short.hi + 1e-6:
                outside.append((j.id, band.first_short, inner.first_short))
    return tried, outside


def test_no_home_inside_the_ranges_leaves_the_band(tmp_path) -> None:
    tried, outside = inner_points(ranged(tmp_path), 5, 1)
    assert tried > 60 and not outside, outside[:5]


def test_ranges_widen_the_band(tmp_path) -> None:
    point, wide = outcomes(homes.survey(homes.DEMO)), outcomes(ranged(tmp_path))
    family = "boiler-unvented-cylinder"
    a, b = (next(o for i, o in found.items() if i.startswith(f"{family}:")) for found in (point, wide))
    assert b.first_short.lo <= a.first_short.lo and b.first_short.hi >= a.first_short.hi
    assert b.first_short.lo < 30.0  # five showers of nine minutes at 12 l/min do empty it


def test_nothing_known_is_asked_for_and_never_filled_in() -> None:
    for outcome in outcomes(homes.survey(homes.EMPTY)).values():
        assert not outcome.computed and outcome.first_short.lo == -math.inf
        assert {"household.busy_showers", "household.busy_baths", "outlets"} <= set(outcome.fields)


@pytest.mark.parametrize("field", ["household.busy_showers", "household.shower_minutes", "household.busy_baths",
                                   "outlets.main_shower.flow", "water.static_pressure", "water.flow"])
def test_an_answer_taken_away_leaves_no_number(field: str) -> None:
    survey = homes.survey(homes.DEMO).with_changes({field: "unknown"})
    advice = homes.quick(survey)
    judged = next(j for j in advice.judged if j.id.startswith("boiler-unvented-cylinder:scullery-180l-18kw"))
    (outcome,) = busy.simulate(advice, [judged])
    assert not outcome.computed and field in outcome.fields


def test_a_cistern_needs_no_main() -> None:
    survey = homes.survey(homes.DEMO).with_changes({"water.static_pressure": "unknown", "water.flow": "unknown"})
    advice = homes.quick(survey)
    judged = next(j for j in advice.judged if j.arrangement.family == "boiler-cistern-fed-cylinder")
    assert busy.simulate(advice, [judged])[0].computed


def test_the_pipe_below_the_cistern_counts_and_unknown_it_is_a_band() -> None:
    """15 mm all the way gives less than 22 mm; not known, both ends are tried."""
    found = {}
    for size in ("15 mm", "22 mm", "unknown"):
        advice = homes.quick(homes.survey(homes.DEMO).with_changes({"cistern.pipe": size}))
        judged = next(j for j in advice.judged if j.arrangement.family == "boiler-cistern-fed-cylinder")
        (outcome,) = busy.simulate(advice, [judged])
        found[size] = [c.run.curves["loft_shower"].least_l_min for c in (outcome.worst, outcome.best)]
    assert found["15 mm"][0] < found["22 mm"][0] - 1.0
    assert found["unknown"][0] == found["15 mm"][0] and found["unknown"][1] >= found["22 mm"][0]


def test_longer_showers_beside_a_bath_are_not_one_way(tmp_path) -> None:
    """With a bath in the same hour a longer shower also puts the bath off: the result is "anything", with the reason."""
    text = (paths.SURVEYS / f"{homes.DEMO}.toml").read_text(encoding="utf-8")
    text = text.replace("busy_baths = 0", "busy_baths = 1").replace(
        'shower_minutes = "6 min"', 'shower_minutes = { between = ["5 min", "9 min"] }')
    found = outcomes(homes.written(tmp_path, text))
    assert all("can help or hurt" in o.reasons[-1] for o in found.values() if not o.computed)
    assert not next(o for i, o in found.items() if i.startswith("boiler-unvented-cylinder:")).computed


def test_the_demo_home_by_hand() -> None:
    """Two showers of 9 l/min, twice 6 min: 216 l at 40 C = 216 x 35/55 = 137 l hot of 180 l: 43 l hot, 67 l mixed, left at most.

    30 kW as it flows: 60 x 30 / (4.187 x 35) = 12.28 l/min, 6.14 each. The cistern's head of 1.2 m drives one rose at
    about 6.8 l/min (6.22 x 1.2^0.52) and two at less each.
    """
    advice = homes.quick(homes.survey(homes.DEMO))
    names = ("boiler-unvented-cylinder:scullery-180l-18kw", "combination-boiler:30kw", "boiler-cistern-fed-cylinder:scullery-210l-18kw")
    store, instant, cistern = busy.simulate(advice, [advice[n] for n in names])
    assert store.first_short.lo == math.inf
    assert 0 < min(c.run.left_l for c in store.cases) < max(c.run.left_l for c in store.cases) < 67
    assert instant.worst.run.curves["loft_shower"].least_l_min == pytest.approx(6.14, abs=0.01)
    each = cistern.worst.run.curves["loft_shower"].least_l_min
    assert 3.4 < each < 6.8
