"""Water against live engines: the network against EPANET on 200 random houses; the store against a tank engine."""

from __future__ import annotations

import pytest

from advisor.water.network import solve
from tests.proof.table import record
from tests.water import houses

pytestmark = pytest.mark.proof
HOUSES = 200
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
                                              f"{FULL_L_MIN:g} l/min within {max(near):.2%}, the others within "
                                              f"{max(off):.2f} l/min")
