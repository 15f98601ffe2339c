"""Two showers on one cistern: each gets less than alone; against the network runs and against EPANET."""

from __future__ import annotations

import pytest

from advisor.calc.pipes import bore
from advisor.calc.water_supply import gravity_flow
from advisor.facts import Span
from advisor.water.gravity import by_gravity, together
from tests import homes


@pytest.mark.parametrize("head", [0.5, 1.0, 1.5, 2.0, 3.0])
def test_one_alone_gets_what_the_closed_formula_says(head: float) -> None:
    """6.22 h^0.52, fitted to network runs of 8 m of 22 mm and 4 m of 15 mm with a rose of 9 l/min at 0.1 bar."""
    assert by_gravity(head, {"rose": 9.0})["rose"] == pytest.approx(min(9.0, gravity_flow(head)), rel=0.02)


def test_two_share_the_pipe_below_the_cistern() -> None:
    """Worked by hand at 1 m head (0.0979 bar), 40 C, 6.2 l/min each: the rose takes 0.1 (6.2 / 9)^2 = 0.0475 bar.

    4 m of 15 mm with K 8: v = 0.711 m/s, f = 0.0286, (0.0286 x 4 / 0.0136 + 8) x 992 x 0.711^2 / 2 = 4,114 Pa = 0.0411.
    8 m of 22 mm with K 4 at 12.4: v = 0.645, f = 0.0264, (0.0264 x 8 / 0.0202 + 4) x 992 x 0.645^2 / 2 = 2,983 Pa = 0.0298.
    Together 0.1184 bar, more than there is; at 5.6 l/min each the same three are 0.0387 + 0.0341 + 0.0248 = 0.0976.
    """
    flows = by_gravity(1.0, {"a": 9.0, "b": 9.0})
    assert flows["a"] == pytest.approx(5.6, rel=0.02) and flows["b"] == pytest.approx(flows["a"], rel=1e-6)
    assert flows["a"] < 0.93 * gravity_flow(1.0)


@pytest.mark.parametrize(("head", "wanted"), [(0.8, (9.0, 9.0)), (1.5, (9.0, 6.0)), (2.5, (9.0, 9.0, 12.0))])
def test_together_against_epanet(head: float, wanted: tuple[float, ...]) -> None:
    """EPANET 2.2 on the same pipes; outlets that get all they want are throttled, so only wide-open ones are compared."""
    pytest.importorskip("wntr")
    from advisor.water.gravity import (
        MIXED_C,
        OWN_K,
        OWN_M,
        OWN_MM,
        ROSE_BAR,
        SHARED_K,
        SHARED_M,
        SHARED_MM,
    )
    from advisor.water.network import House, Outlet, Section, solve
    from advisor.water.parts import Cistern, Pipe
    from tests.water import epanet

    shared = Section("shared", "cistern", (Pipe("shared", bore(SHARED_MM)[0], SHARED_M, SHARED_K),), 0.0, MIXED_C)
    own = tuple(Section(f"o{i}", "shared", (Pipe("own", bore(OWN_MM)[0], OWN_M, OWN_K),), 0.0, MIXED_C)
                for i in range(len(wanted)))
    house = House((Cistern("cistern", head),), (shared, *own),
                  tuple(Outlet(f"o{i}", max(9.0, q) / ROSE_BAR ** 0.5, f"o{i}") for i, q in enumerate(wanted)))
    theirs = sum(epanet.run(house).values())
    ours = sum(solve(house, [o.name for o in house.outlets]).flows.values())
    assert ours == pytest.approx(theirs, rel=0.01)
    assert together(head, wanted) <= ours + 1e-6


def test_more_head_and_more_wanted_only_give_more() -> None:
    last = 0.0
    for head in (0.2, 0.6, 1.2, 2.4):
        for second in (0.0, 3.0, 6.0, 9.0):
            found = together(head, (9.0, second))
            assert found >= together(head, (9.0, max(0.0, second - 3.0))) - 1e-9
        assert found > last
        last = found
    assert together(-0.5, (9.0,)) == 0.0


def test_two_showers_by_gravity_are_judged_by_what_they_share() -> None:
    """The terrace with its cistern 1.2 m up: 9 l/min at each of two showers; alone one would get 6.22 x 1.2^0.52 = 6.84."""
    book = homes.quick(homes.survey(homes.DEMO)).book
    (fact,) = book.of("served.by_gravity_l_min")["site"]
    assert fact.trust and isinstance(fact.value, Span) and fact.value.single
    assert 11.0 < fact.value.lo < 2 * 6.84 * 0.95
