"""Water against live engines: the network against EPANET on 200 random houses; the store against a tank engine."""

from __future__ import annotations

import pytest

from advisor.water.network import solve
from tests import homes
from tests.proof.table import record
from tests.water import houses
from tests.water.test_outcome import inner_points, ranged

pytestmark = pytest.mark.proof
HOUSES, POINTS = 200, 60
FULL_L_MIN, SHARE, LITTLE_L_MIN = 3.0, 0.01, 0.05  # below 3 l/min a pipe may be neither laminar nor turbulent


def test_two_hundred_random_houses_against_epanet() -> None:
    pytest.importorskip("wntr", reason="the EPANET binding is not installed")
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
