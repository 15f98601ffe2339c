"""Reducing valve, heat exchanger and mixer in the network: hand sums, EPANET, and the range that holds every home."""

from __future__ import annotations

import pytest

from advisor.water import fittings
from advisor.water.network import House, Outlet, Section, solve
from advisor.water.parts import Pipe, ReducingValve, Resistance, by_kv
from tests.water import houses


def behind_valve(static_bar: float, valve: ReducingValve, k: float) -> float:
    house = House((houses.still("main", static_bar),), (Section("set", "main", (valve,)),), (Outlet("bath", k, "set"),))
    return solve(house, ["bath"]).flows["bath"]


def test_a_flow_coefficient_is_the_flow_at_one_bar() -> None:
    """Kv 2.4 m3/h (the definition of Kv; IEC 60534-1, from memory): 2400 / 60 = 40 l/min lose 1 bar, 20 l/min a quarter of it."""
    assert by_kv("valve", 2.4).loss_bar(40.0, 10.0) == pytest.approx(1.0)
    assert by_kv("valve", 2.4).loss_bar(20.0, 10.0) == pytest.approx(0.25)


@pytest.mark.parametrize("static, l_min", [(6.0, 17.32), (3.4, 17.32), (2.5, 14.91)])
def test_the_set_point_caps_the_pressure_and_below_it_the_valve_is_a_loss(static: float, l_min: float) -> None:
    """Outlet of 10 l/min at 1 bar behind a valve set to 3 bar with 0.5 bar at 20 l/min: (q/10)2 bar left at the outlet.

    A main of 6 bar: capped, q = 10 sqrt 3 = 17.32. 3.4 bar: 3.4 - 0.5 (q/20)2 = (q/10)2 gives q2 = 3.4 / 0.01125,
    17.38 l/min, 3.02 bar behind it: capped too, 17.32. 2.5 bar: wide open, q2 = 2.5 / 0.01125 = 222.2, q = 14.91.
    """
    assert behind_valve(static, ReducingValve("set", 3.0, 0.5, 20.0), 10.0) == pytest.approx(l_min, abs=0.01)


def test_a_valve_whose_pressure_falls_off_gives_less_from_a_strong_main() -> None:
    """Falls off by 0.5 bar at 20 l/min: 3 - 0.5 (q/20)2 = (q/10)2, q2 = 3 / 0.01125 = 266.7, q = 16.33 l/min."""
    assert behind_valve(6.0, ReducingValve("set", 3.0, 0.5, 20.0, 0.5), 10.0) == pytest.approx(16.33, abs=0.01)


def test_both_ends_of_an_inlet_set() -> None:
    """At 20 l/min from 4 bar: at worst 3.0 - 0.5 = 2.5 bar, at best 3.5; from 2 bar 1.5, and 2 - 0.2 (20/25)2 = 1.872."""
    for bar, worst, best in ((4.0, 2.5, 3.5), (2.0, 1.5, 1.872)):
        left = [Section("set", "main", (fittings.inlet_set(least),)).leaves_bar(bar, 20.0) for least in (True, False)]
        assert left == pytest.approx([worst, best])


@pytest.mark.parametrize("mixed, hot, cold, share", [(40, 60, 10, 0.6), (45, 60, 10, 0.7), (40, 60, 5, 35 / 55)])
def test_share_of_hot_water(mixed: float, hot: float, cold: float, share: float) -> None:
    """100 l at 40 C from 60 and 10 C: 60 l hot, 40 l cold (BS 6700, Annex C); 57.1 l at 45 C from 40 l at 60 C (SIA 385/2)."""
    assert fittings.hot_share(mixed, hot, cold) == pytest.approx(share)


def mixed_house(static_bar: float, balanced: bool = True, falls: float = 0.0) -> House:
    """A main, an inlet set of 3 bar with its check valve to the cylinder, two mixers upstairs with their own pipes."""
    share = 0.6
    return House((houses.still("main", static_bar),), (
        Section("service", "main", (Pipe("service", 20.4, 15, 5),)),
        Section("set", "service", (Resistance("strainer", 0.1, 30.0), ReducingValve("valve", 3.0, 0.4, 20.0, falls))),
        Section("hot", "set", (by_kv("check valve", 3.0), Pipe("hot_main", 20.2, 6, 6))),
        Section("hot_1", "hot", (Pipe("hot_1", 13.6, 6, 8),), 2.0), Section("hot_2", "hot", (Pipe("hot_2", 13.6, 9, 8),), 4.8),
        Section("cold_1", "set" if balanced else "service", (Pipe("cold_1", 13.6, 6, 8),), 2.0),
        Section("cold_2", "set", (Pipe("cold_2", 10.8, 9, 8),), 4.8), Section("kitchen", "service", (Pipe("k", 13.6, 5, 6),))),
        (Outlet("shower", 9.0, "cold_1", "hot_1", share), Outlet("loft", 9.0, "cold_2", "hot_2", share),
         Outlet("sink", 6.0, "kitchen")))


@pytest.mark.parametrize("static", [2.0, 3.3, 6.0])
@pytest.mark.parametrize("balanced, falls", [(True, 0.0), (False, 0.0), (True, 0.4)])
def test_inlet_set_and_mixers_against_epanet(static: float, balanced: bool, falls: float) -> None:
    """EPANET 2.2: its own PRV, throttle valves, pipes and emitters; a mixer's other side as a demand in proportion."""
    from tests.water import epanet

    house = mixed_house(static, balanced, falls)
    wanted, found = epanet.run(house), solve(house, [o.name for o in house.outlets])
    assert found.flows == pytest.approx(wanted, rel=0.01)
    if static == 6.0 and not falls:
        assert found.end_bar["set"] == pytest.approx(3.0)


@pytest.mark.parametrize("block", range(3))
def test_random_mixers_against_epanet(block: int) -> None:
    from tests.water import epanet

    for seed in range(block * 8, block * 8 + 8):
        house = houses.random_mixers(seed)
        wanted, found = epanet.run(house), solve(house, [o.name for o in house.outlets]).flows
        assert found == pytest.approx(wanted, rel=0.01), seed
