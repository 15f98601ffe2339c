"""The gas tree: what it carries, and which leg to enlarge, held against the published table and hand sums."""

from __future__ import annotations

import pytest

from advisor.calc.formula import OutOfRange
from advisor.calc.gas import Leg, path_drop
from advisor.calc.gas_advice import drops, enlarge_first, enlarge_for_all, largest_flow

# BS 6891 copper discharge table (reprint on a teaching sheet): flow at 1 mbar over an equivalent length
TABLE = [(15, 3, 2.9), (15, 6, 1.9), (15, 9, 1.5), (22, 3, 8.7), (22, 6, 5.8), (22, 12, 3.9), (22, 30, 2.3),
         (28, 3, 18), (28, 12, 8.0), (28, 30, 4.8)]


@pytest.mark.parametrize("size, length, flow", TABLE)
def test_a_single_pipe_carries_its_table_flow(size: int, length: float, flow: float) -> None:
    carried = largest_flow([Leg("one", "meter", "boiler", size, length, 0)], {}, "boiler", 1.0)
    assert carried == pytest.approx(flow, abs=0.011)  # found to a hundredth


def test_two_legs_in_series_add_as_in_the_published_proportional_method() -> None:
    # 6 m of 22 mm at 3.9 m3/h loses 6/12 = 0.5 mbar; 3 m of 15 mm at 1.3 m3/h loses 3/12 = 0.25; together 0.75
    legs = [Leg("main", "meter", "", 22, 6, 0), Leg("boiler", "main", "boiler", 15, 3, 0),
            Leg("rest", "main", "fire", 15, 1, 0)]
    assert path_drop(legs, {"boiler": 1.3, "fire": 2.6}, "boiler") == pytest.approx(0.75, abs=0.02)


def test_a_hob_on_the_same_leg_leaves_less_for_the_boiler() -> None:
    legs = [Leg("main", "meter", "", 22, 9, 0), Leg("b", "main", "boiler", 22, 3, 0), Leg("h", "main", "hob", 15, 2, 0)]
    alone, beside = (largest_flow(legs, {"hob": f}, "boiler", 1.0) for f in (0.0, 1.0))
    # hand check: at 12 m of 22 mm the table gives 3.9 alone; the hob's 1.0 passes 9 of the 12 m
    assert alone == pytest.approx(3.9, abs=0.01)
    assert 3.0 < beside < 3.3


def test_enlarging_starts_where_it_saves_most_and_ends_within_the_limit() -> None:
    legs = [Leg("main", "meter", "", 22, 3, 0), Leg("last", "main", "boiler", 15, 6, 0)]
    # 15 mm at 2.9 m3/h over 6 m loses 2 mbar (table: 3 m for 1 mbar); in 22 mm it loses 6/20 or so
    steps = enlarge_first(legs, {"boiler": 2.9}, "boiler", 1.0)
    assert [(s.leg, s.to_mm) for s in steps] == [("last", 22)]
    assert steps[-1].drop_mbar <= 1.0


def test_a_tree_that_does_needs_nothing() -> None:
    assert enlarge_first([Leg("one", "meter", "boiler", 28, 3, 0)], {"boiler": 3.0}, "boiler", 1.0) == ()


def test_a_way_that_cannot_be_followed_is_refused() -> None:
    with pytest.raises(OutOfRange):
        largest_flow([Leg("one", "nowhere", "boiler", 22, 3, 0)], {}, "boiler", 1.0)


def test_the_largest_boiler_leaves_the_hob_its_pressure() -> None:
    # 22 mm 6 m: 5.8 m3/h lose 1 mbar; the boiler on a leg of no length, the hob behind 3 m of 15 mm with 1.9 m3/h,
    # which lose 3/6 = 0.5 mbar: so the main may lose 0.5 mbar, 12 m a mbar, 3.9 m3/h in all, 2.0 for the boiler
    legs = [Leg("main", "meter", "", 22, 6, 0), Leg("b", "main", "boiler", 22, 0, 0), Leg("h", "main", "hob", 15, 3, 0)]
    assert largest_flow(legs, {"hob": 1.9}, "boiler", 1.0) == pytest.approx(2.0, abs=0.011)


def test_every_appliance_is_served_the_worst_first() -> None:
    # main 22 mm 6 m at 5.8 m3/h loses 1 mbar; the hob's 3 m of 15 mm at 2.9 m3/h another 1: the hob is worst at 2 mbar
    legs = [Leg("main", "meter", "", 22, 6, 0), Leg("b", "main", "boiler", 22, 1, 0), Leg("h", "main", "hob", 15, 3, 0)]
    loads = {"boiler": 2.9, "hob": 2.9}
    assert drops(legs, loads)["hob"] == pytest.approx(2.0, abs=0.01)
    steps = enlarge_for_all(legs, loads, 1.0)
    assert steps[0][0] == "hob" and {e.leg for _, e in steps} == {"main", "h"}
    sizes = {e.leg: e.to_mm for _, e in steps}
    after = [Leg(leg.name, leg.start, leg.to, sizes.get(leg.name, leg.size_mm), leg.length_m, 0) for leg in legs]
    assert max(drops(after, loads).values()) <= 1.0
