"""Instantaneous heating against published sums."""

from __future__ import annotations

import pytest

from advisor.calc import OutOfRange
from advisor.calc.electric import current
from advisor.calc.instantaneous import instant_flow, instant_power, instant_short_after

FLOWS = [
    pytest.param(8.5, 30, 4.06, 0.05, id="heat balance, 8.5 kW electric shower: 60 x 8.5 / (4.187 x 30)"),
    pytest.param(9.5, 30, 4.54, 0.05, id="heat balance, 9.5 kW electric shower"),
    pytest.param(10.5, 30, 5.02, 0.05, id="heat balance, 10.5 kW electric shower"),
    pytest.param(28.45, 30, 13.6, 0.1, id="boiler data page, pure heat figure beside 13.3 l/min declared"),
    pytest.param(24, 37, 9.3, 0.05, id="common practice: 24 kW with 2 K for the mixer"),
]
POWERS = [
    pytest.param(18, 35, 44.0, 0.1, id="common practice: two 9 l/min showers need 44 kW at 35 K"),
    pytest.param(12.3, 39, 33.4, 0.7, id="US Department of Energy guidance: 3.25 gpm by 70 F"),
    pytest.param(10, 30, 20.95, 0.21, id="tapping profile L: a bath at 10 l/min and 30 K"),
    pytest.param(16, 30, 33.5, 0.34, id="tapping profile XXL: a bath at 16 l/min and 30 K"),
    pytest.param(9, 50, 31.5, 0.2, id="boiler-flow explainer, worked example at 4.2 kJ"),
]
AMPS = [
    pytest.param(8.5, 230, 37.0, id="I = P/V, 8.5 kW"), pytest.param(10.5, 230, 45.7, id="I = P/V, 10.5 kW"),
    pytest.param(9.5, 240, 39.6, id="I = P/V at the plate's 240 V: 9500/240"),
    pytest.param(3, 240, 12.5, id="electrical trade journal, 3 kW at 240 V"),
]


@pytest.mark.parametrize("power, rise, flow, tolerance", FLOWS)
def test_flow(power, rise, flow, tolerance):
    assert instant_flow(power, rise) == pytest.approx(flow, abs=tolerance)


@pytest.mark.parametrize("flow, rise, power, tolerance", POWERS)
def test_power(flow, rise, power, tolerance):
    assert instant_power(flow, rise) == pytest.approx(power, abs=tolerance)


@pytest.mark.parametrize("power, voltage, amps", AMPS)
def test_current(power, voltage, amps):
    assert current(power, voltage) == pytest.approx(amps, abs=0.1)


def test_common_practice_two_showers_on_30_kw():
    """30 kW gives 12.3 l/min at 35 K: two 9 l/min showers fail, two 6 l/min ones just pass."""
    flow = instant_flow(30, 35)
    assert instant_short_after(flow, 2 * 9.0) == 0.0
    assert instant_short_after(flow, 2 * 6.0) == 60.0


def test_no_rise_is_refused_not_infinite():
    with pytest.raises(OutOfRange, match="rise_k must be at least"):
        instant_flow(24, 0)
