"""Supply curve, head, gravity shower and accumulator against sums and runs made elsewhere."""

from __future__ import annotations

import pytest

from advisor.calc import OutOfRange
from advisor.calc.water_supply import accumulator_usable, busy_supply_flow, gravity_flow, head_pressure, supply_flow_at

# static, flow, residual, wanted -> flow; the sums are by hand
CURVE = [
    pytest.param(3.0, 18.0, 1.0, 1.5, 15.4, id="turbulent pipe law: 18 x (1.5/2)^0.5405 = 18 x 0.856"),
    pytest.param(3.0, 18.0, 1.0, 2.0, 12.4, id="turbulent pipe law: 18 x (1/2)^0.5405 = 18 x 0.6875"),
    pytest.param(4.0, 14.0, 1.0, 2.0, 11.2, id="turbulent pipe law: 14 x (2/3)^0.5405 = 14 x 0.803"),
    pytest.param(3.0, 8.0, 1.0, 1.5, 6.85, id="common practice example: 3 bar static with 8 l/min at 1 bar"),
    pytest.param(0.8, 6.0, 0.3, 1.0, 0.0, id="hydrostatics: nothing flows at a pressure above static"),
    pytest.param(0.8, 6.0, 0.8, 1.0, 0.0, id="hydrostatics: nor where the residual is not known apart from static"),
]


@pytest.mark.parametrize("static, flow, residual, at, expected", CURVE)
def test_supply_curve(static, flow, residual, at, expected):
    got = supply_flow_at(static_bar=static, flow_l_min=flow, residual_bar=residual, at_bar=at)
    assert got == pytest.approx(expected, abs=0.05)


def test_the_measured_pair_lies_on_the_curve():
    assert supply_flow_at(3.0, 18.0, 1.0, 1.0) == pytest.approx(18.0)


@pytest.mark.parametrize("static, residual, at, words", [
    (1.0, 1.0, 0.5, "below the static"),
    (3.5, 2.5, 1.0, "1.5 times the flow"),  # (2.5/1)^0.5405 = 1.64
])
def test_the_curve_is_not_followed_too_far(static, residual, at, words):
    with pytest.raises(OutOfRange, match=words):
        supply_flow_at(static, 18.0, residual, at)


def test_common_practice_shares_multiply():
    # 20 x 0.8 (quiet test) x 0.5 (shared pipe) = 8
    assert busy_supply_flow(20.0, "quiet time", "yes", 0.8, 0.5) == pytest.approx(8.0)
    assert busy_supply_flow(20.0, "busy time", "no", 0.8, 0.5) == 20.0


HEADS = [
    pytest.param(1.0, 0.098, id="hydrostatics, several sources: 1 m"),
    pytest.param(3.0, 0.294, id="hydrostatics, several sources: 3 m"),
    pytest.param(6.096, 0.598, id="International Plumbing Code Appendix E, E103.2.2: 20 ft is 59.8 kPa"),
]


@pytest.mark.parametrize("height, pressure", HEADS)
def test_head(height, pressure):
    assert head_pressure(height) == pytest.approx(pressure, abs=0.001)


# head -> l/min of a low-pressure rose, 8 m of 22 mm and 4 m of 15 mm copper, by a public-domain network solver
ROSE = [pytest.param(0.5, 4.34, id="network solver, 0.5 m"), pytest.param(1.5, 7.69, id="network solver, 1.5 m"),
        pytest.param(3.0, 10.99, id="network solver, 3 m")]


@pytest.mark.parametrize("head, flow", ROSE)
def test_gravity_shower_reproduces_the_network_runs(head, flow):
    assert gravity_flow(head) == pytest.approx(flow, rel=0.03)


@pytest.mark.parametrize("head, flow", [(0.5, 5.44), (1.0, 7.75), (3.0, 13.55)])
def test_gravity_shower_stays_below_the_runs_in_larger_pipe(head, flow):
    """22 mm throughout gives more: the formula must not promise it."""
    assert 0.75 * flow < gravity_flow(head) < flow


def test_no_head_gives_no_flow():
    assert gravity_flow(0.0) == gravity_flow(-1.0) == 0.0


PSI = 0.0689476
VESSELS = [
    pytest.param(85, 28 * PSI, 30 * PSI, 50 * PSI, 25.1, 0.1,
                 id="pump trade journals, two articles: 85 at 28, 30 to 50 psi"),
    pytest.param(84.7, 50 * PSI, 50 * PSI, 70 * PSI, 20.0, 0.4,
                 id="pump manual appendix, Boyle table: 20 gallons, 50 to 70 psi"),
    pytest.param(300, 1.5, 1.5, 3.0, 112.1, 0.3, id="Boyle: 300 x (1 - 2.513/4.013)"),
    pytest.param(300, 1.5, 1.7, 3.5, 110.8, 0.3, id="Boyle: 300 x 2.513 x (1/2.713 - 1/4.513)"),
    pytest.param(300, 2.0, 2.2, 4.0, 101.0, 0.3, id="Boyle: 300 x 3.013 x (1/3.213 - 1/5.013)"),
    pytest.param(300, 1.5, 1.7, 3.0, 90.0, 0.3, id="Boyle: 300 x 2.513 x (1/2.713 - 1/4.013)"),
    pytest.param(300, 1.5, 1.5, 1.2, 0.0, 0.0, id="Boyle: a main of 1.2 bar never fills it above 1.5 bar"),
]


@pytest.mark.parametrize("volume, charge, low, high, usable, tolerance", VESSELS)
def test_accumulator(volume, charge, low, high, usable, tolerance):
    assert accumulator_usable(volume, charge, low, high) == pytest.approx(usable, abs=tolerance)


def test_a_charge_above_the_low_pressure_is_refused():
    with pytest.raises(OutOfRange, match="charge"):
        accumulator_usable(300, 2.0, 1.5, 3.0)
