"""What small pipes carry: the trade's corrected microbore figures, and the edge between laminar and turbulent flow."""

from __future__ import annotations

import pytest

from advisor.calc import OutOfRange, pipes
from advisor.calc.circuits import flow_at_loss
from advisor.calc.public import answer

# derived in the trade's corrections: kW at 11, 20 and 5 K at 1.0 m/s, and at 1.5 kPa/m, water lighter when hot (2 %)
BY_SPEED = [(8, (1.6, 3.0, 0.75)), (10, (2.8, 5.0, 1.25))]
BY_LOSS = [(8, (1.4, 2.5, 0.6)), (10, (2.8, 5.0, 1.3))]


@pytest.mark.parametrize("size, heats", BY_SPEED)
def test_microbore_at_one_metre_a_second(size: int, heats: tuple[float, ...]) -> None:
    for drop, kw in zip((11, 20, 5), heats, strict=True):
        assert answer("pipe-by-speed", {"size": f"{size} mm", "drop": f"{drop} K"}).result["heat"] == pytest.approx(kw, rel=0.05)


@pytest.mark.parametrize("size, heats", BY_LOSS)
def test_microbore_with_the_head_there_is(size: int, heats: tuple[float, ...]) -> None:
    for drop, kw in zip((11, 20, 5), heats, strict=True):  # 15 kPa over 10 m with nothing added for fittings
        found = answer("pipe-by-head", {"size": f"{size} mm", "head": "15 kPa", "length": "10 m", "fittings": "0",
                                        "drop": f"{drop} K"}).result
        assert found["gradient"] == pytest.approx(1500) and found["heat"] == pytest.approx(kw, rel=0.08)


@pytest.mark.parametrize("size", [8, 10, 15, 22])
def test_more_loss_never_carries_less_and_never_loses_more_than_allowed(size: int) -> None:
    flows = [flow_at_loss(size, kpa, 60.0) for kpa in (0.001, 0.01, 0.05, 0.1, 0.2, 0.3, 0.5, 1.0, 2.0)]
    assert flows == sorted(flows)
    for kpa, flow in zip((0.001, 0.01, 0.05, 0.1, 0.2, 0.3, 0.5, 1.0, 2.0), flows, strict=True):
        assert pipes.water_drop(size, flow, 1.0, 60.0) <= kpa * (1 + 1e-9)


def test_no_loss_carries_nothing_to_speak_of() -> None:
    with pytest.raises(OutOfRange, match="above 0"):
        flow_at_loss(15, 0.0, 60.0)


def test_too_fast_or_too_slow_is_said() -> None:
    said = [" ".join(answer("pipe-by-speed", {"size": "15 mm", "speed": f"{v} m/s"}).working) for v in (0.3, 1.0, 1.9)]
    assert "where dirt settles" in said[0] and "within 0.5 to 1.5" in said[1] and "where pipes are heard" in said[2]
