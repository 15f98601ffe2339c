"""Water against live engines: the network against EPANET on 200 random houses; the store against a tank engine."""

from __future__ import annotations

import pytest

from advisor.water.measured import beside, measured, washing_l_day
from advisor.water.network import solve
from advisor.water.store import FEW, MANY, Heating, minutes_to
from tests import homes
from tests.proof.table import record
from tests.water import engines, houses
from tests.water.test_outcome import inner_points, ranged

pytestmark = pytest.mark.proof
HOUSES, POINTS = 200, 60
FULL_L_MIN, SHARE, LITTLE_L_MIN = 3.0, 0.01, 0.05  # below 3 l/min a pipe may be neither laminar nor turbulent


def test_two_hundred_random_houses_against_epanet() -> None:
    from tests.water import epanet

    off, near = [], []
    for seed in range(HOUSES):
        house = houses.random_house(seed)
        wanted, found = epanet.run(house), solve(house, [o.name for o in house.outlets]).flows
        for name, flow in wanted.items():
            difference = abs(found[name] - flow)
            off.append(difference)
            near.append(difference / flow if flow > FULL_L_MIN else 0.0)
            assert difference < max(SHARE * flow, LITTLE_L_MIN), (seed, name, flow, found[name])
    record("pipe network against EPANET 2.2", f"{HOUSES} random houses, {len(off)} open outlets: flows above "
                                              f"{FULL_L_MIN:g} l/min within {max(near):.2%}, all within "
                                              f"{max(off):.2f} l/min")


@pytest.mark.parametrize("seed", [11, 12])
def test_the_band_holds_every_home_inside_it(tmp_path, seed: int) -> None:
    tried, outside = inner_points(ranged(tmp_path), POINTS, seed)
    assert tried > 10 * POINTS and not outside, outside[:5]
    record(f"busy hour band, seed {seed}", f"{POINTS} homes inside a widened survey, {tried} busy hours, "
                                           f"{len(outside)} outside the band")


@pytest.mark.parametrize("name", [n for n in homes.SURVEYS if n != homes.EMPTY])
def test_the_bands_of_the_shipped_homes_hold(name: str) -> None:
    tried, outside = inner_points(homes.survey(name), POINTS // 4, 7)
    assert not outside, outside[:5]
    record(f"busy hour band of {name}", f"{tried} busy hours of random completions, {len(outside)} outside the band")


def test_the_store_beside_a_live_tank_engine() -> None:
    """Every case of the outside material, both ways of drawing, both numbers of layers, the other engine run here."""
    pytest.importorskip("mosaik_components", reason="the tank engine is not installed: the extra `engines`")
    from tests.water import live_tank

    cases = [(v, q, kw, h, 45.0, None) for v, q, kw, h, _, _ in engines.RAW]
    cases += [(v, q, kw, 1.5, 40.0, 40.0) for v, q, kw, ends, _ in engines.MIXED if ends]
    worst, done = 0.0, 0
    for litres, flow, kw, height, below, mixed in cases:
        for layers in (FEW, MANY):
            theirs = live_tank.minutes(litres, layers, flow, kw, height, below, mixed)
            ours = minutes_to(litres, layers, 60.0, 10.0, flow, below, Heating(kw, 60.0) if kw else None, mixed)
            assert ours is not None and theirs is not None, (litres, flow, kw, layers)
            worst, done = max(worst, abs(ours / theirs - 1)), done + 1
    assert worst < 0.02
    record("store beside a live tank engine", f"{done} stores, 12 and 60 layers: the minute differs by at most {worst:.2%}")


def test_draw_offs_beside_measured_statistics() -> None:
    """62 l and 8 min a shower, 80 l a bath, 122 l of hot water a day: typed from the published studies."""
    entries = homes.base().survey_entries()
    minutes, flow, bath = (entries[n].typical for n in ("household.shower_minutes_min", "outlet.flow_l_min",
                                                        "household.bath_fill_l"))
    pairs = {(b.what, b.unit): b for b in beside(minutes, flow, 1, bath)}
    assert [pairs[k].measured for k in (("one shower", "min"), ("one shower", "l"), ("one bath", "l"))] == [8, 62, 80]
    washing = washing_l_day(2.4, 51.9, 15.2, 40.0)
    record("draw-offs beside measured homes",
           f"typical shower {minutes:g} min, {minutes * flow:g} l (measured 8 min, 62 l); typical bath {bath:g} l (80 l); "
           f"showers and baths of 2.4 people by the measured habits {washing:.0f} l hot a day, of "
           f"{measured('day_l'):g} l measured for everything: taps are not generated")
