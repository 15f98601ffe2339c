"""What one pipe costs of the main's flow: against worked figures, against a pipe library and against our own network."""

from __future__ import annotations

import math

import pytest

from advisor.calc import REGISTRY
from advisor.calc.formula import OutOfRange
from advisor.calc.water_pipes import cold_pipe_loss, copper_bore, flow_without
from advisor.facts import ANYTHING, Span, exactly
from advisor.water.network import House, Outlet, Section, solve
from advisor.water.parts import Pipe, Supply


@pytest.mark.parametrize(("size", "bore"), [(15, 13.6), (22, 20.2), (28, 26.2), (35, 32.6), (42, 39.6)])
def test_bores(size: float, bore: float) -> None:
    """15, 22 and 28 mm: contents of 0.145, 0.320 and 0.539 l/m in print; 35 and 42 mm from memory of BS EN 1057."""
    assert copper_bore(size) == pytest.approx(bore, abs=0.01)
    if size <= 28:
        content = {15: 0.145, 22: 0.320, 28: 0.539}[size]
        assert math.pi * (bore / 10) ** 2 / 4 * 10 / 100 * 10 / 10 == pytest.approx(content, abs=0.001)


@pytest.mark.parametrize(("stub_m", "passes"), [(2, 49), (4, 39), (6, 34)])
def test_the_stub_costs_what_the_worked_figures_say(stub_m: float, passes: float) -> None:
    """A 25 mm service of 15 m passes 70 l/min at 1.5 bar to spare; 2, 4 and 6 m of 15 mm drop it to 49, 39 and 34.

    Worked by friction, fittings half as much again (derived, no document). The sum takes the stub out again.
    """
    loss = cold_pipe_loss(13.6, stub_m, 1.5, passes)
    assert flow_without(passes, 3.0, 1.5, loss) == pytest.approx(70, rel=0.06)


@pytest.mark.parametrize("flow", [10.0, 20.0, 39.0, 60.0])
@pytest.mark.parametrize("bore", [13.6, 20.2, 26.2])
def test_the_loss_is_that_of_a_pipe_library(bore: float, flow: float) -> None:
    """The library `fluids`, Colebrook's equation, water of 10 C: 999.7 kg/m3, 1.307 mPa s."""
    fluids = pytest.importorskip("fluids")
    v, d = flow / 60000 / (math.pi * (bore / 1000) ** 2 / 4), bore / 1000
    factor = fluids.friction_factor(Re=999.7 * v * d / 1.307e-3, eD=0.0000015 / d, Method="Colebrook")
    assert cold_pipe_loss(bore, 6.0, 1.0, flow) * 1e5 == pytest.approx(factor * 6 / d * 999.7 * v * v / 2, rel=0.02)


@pytest.mark.parametrize(("length", "bore", "static"), [(4, 13.6, 3.0), (8, 13.6, 4.0), (10, 20.2, 3.0), (3, 10.8, 2.5)])
def test_taking_a_pipe_out_agrees_with_the_network(length: float, bore: float, static: float) -> None:
    """The network holds the street's curve and the pipe apart; at 1.5 bar the flow with and without it, within 3 %."""
    street, pipe = Supply("street", static, 0.0006, 1.85, 1e9), Pipe("pipe", bore, length)
    test_point = Outlet("tap", 1e4, "inside", against_bar=1.5)

    def flow(*elements) -> float:
        return solve(House((street,), (Section("inside", "street", elements),), (test_point,)), ["tap"]).total_l_min

    with_it, without = flow(pipe), flow()
    found = flow_without(with_it, static, 1.5, cold_pipe_loss(bore, length, 1.0, with_it))
    assert found == pytest.approx(without, rel=0.03)
    assert without > with_it * 1.1


def test_what_is_not_known_is_not_computed() -> None:
    """A pipe that would lose all there is, a flow too small to be turbulent: no number."""
    with pytest.raises(OutOfRange, match="check its size and length"):
        flow_without(39.0, 3.0, 1.5, 1.45)
    with pytest.raises(OutOfRange, match="turbulent"):
        cold_pipe_loss(26.2, 4.0, 1.5, 5.0)
    unknown = REGISTRY["cold_pipe_loss"].over({"bore_mm": exactly(13.6), "length_m": Span(0, 40),
                                               "fittings": exactly(1.5), "flow_l_min": exactly(39.0)})
    assert unknown.lo == 0 and unknown.hi > 5
    assert REGISTRY["flow_without"].over({"flow_l_min": exactly(39.0), "static_bar": exactly(3.0),
                                          "at_bar": exactly(1.5), "loss_bar": unknown}) == ANYTHING
