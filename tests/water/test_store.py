"""The layered store against engines that share no code with it, its heat account, its step, and its three limits."""

from __future__ import annotations

import math

import pytest

from advisor.water.store import FEW, MANY, Heating, Store, coil_kw_per_k, minutes_to
from tests.water import engines

KJ = 4.187
TOLERANCE = 0.03  # "strong pass: inside the envelope +/-3 %"


def bottom(kw: float) -> Heating | None:
    return Heating(kw, 60.0) if kw else None


def loss(litres: float, height: float) -> float:
    """0.5 W/(m2 K) over the wall of an upright cylinder: sides pi d h, ends pi d2 / 2, d2 = 4 V / (pi h)."""
    d = math.sqrt(4 * litres / 1000 / (math.pi * height))
    return 0.5 * (math.pi * d * height + math.pi * d * d / 2)


def inside(minutes: float | None, ends: tuple[float, float] | None) -> bool:
    if ends is None or minutes is None:
        return ends is None and minutes is None
    return ends[0] * (1 - TOLERANCE) <= minutes <= ends[1] * (1 + TOLERANCE)


@pytest.mark.parametrize("case", engines.RAW, ids=lambda c: f"{c[0]}l-{c[1]}-{c[2]}kW")
@pytest.mark.parametrize("layers", [FEW, MANY])
def test_hot_water_drawn_as_it_comes_lies_inside_the_envelope(case, layers: int) -> None:
    litres, flow, kw, height, to_45, to_40 = case
    for below, ends in ((45.0, to_45), (40.0, to_40)):
        got = minutes_to(litres, layers, 60.0, 10.0, flow, below, bottom(kw), loss_w_k=loss(litres, height))
        assert inside(got, ends), (below, got, ends)


@pytest.mark.parametrize("case", engines.MIXED, ids=lambda c: f"{c[0]}l-{c[1]}-{c[2]}kW")
@pytest.mark.parametrize("layers", [FEW, MANY])
def test_shower_water_from_a_store_lies_inside_the_envelope(case, layers: int) -> None:
    litres, flow, kw, ends, _ = case
    assert inside(minutes_to(litres, layers, 60.0, 10.0, flow, 40.0, bottom(kw), mixed_c=40.0), ends)


def test_the_envelope_tells_right_from_wrong() -> None:
    """A single stirred tank and a bare heat balance must fail it."""
    one_tank = [inside(minutes_to(litres, 1, 60.0, 10.0, flow, 45.0, bottom(kw)), to_45)
                for litres, flow, kw, _, to_45, _ in engines.RAW]
    assert not any(one_tank)
    balance = [inside(minutes, ends) for _, _, kw, ends, minutes in engines.MIXED if ends and kw >= 3]
    assert not any(balance)


def test_bare_heat_balance_typed_there_is_one() -> None:
    """210 l, 18 l/min at 40 C, 10 kW: 210 x 50 K against 18 x 30 K less 10 kW x 60 / 4.187 a minute, near 26.48."""
    assert pytest.approx(26.48, rel=0.001) == 210 * 50 / (18 * 30 - 10 * 60 / KJ)


def test_a_published_trajectory_is_followed() -> None:
    """Within 0.3 K at every one of its fourteen points, as the source asks."""
    store, got = Store(100, 7, 40.0), []
    for _ in engines.UNLOADING:
        got.append(store.top_c)
        for _ in range(144):
            store.step(1.0, 250 / 60, 20.0)
    assert got == pytest.approx(engines.UNLOADING, abs=0.3)


@pytest.mark.parametrize("layers", engines.SERIES)
def test_tanks_in_series(layers: int) -> None:
    minutes = minutes_to(100, layers, 60.0, 10.0, 10.0, 45.0, step_s=1.0)
    assert minutes == pytest.approx(10 * engines.SERIES[layers], rel=0.005)


def test_fully_mixed_limit() -> None:
    """One layer, 150 l, 9 l/min, no heat: 60 -> 45 C in V/q ln(50/35) = 16.667 x 0.35667 = 5.945 min.

    With 10 kW it tends to 10 + 10 x 60 / (9 x 4.187) = 25.92 C, and reaches 45 C in V/q ln(34.08/19.08) = 9.669 min.
    """
    assert minutes_to(150, 1, 60.0, 10.0, 9.0, 45.0) == pytest.approx(5.945, rel=0.002)
    assert minutes_to(150, 1, 60.0, 10.0, 9.0, 45.0, bottom(10)) == pytest.approx(9.669, rel=0.004)


def test_plug_flow_limit() -> None:
    """150 l at 9 l/min last 150/9 = 16.667 min in a store that keeps its layers; the gap closes as 1/sqrt(layers)."""
    gaps = [16.667 - minutes_to(150, n, 60.0, 10.0, 9.0, 45.0, step_s=2.0) for n in (100, 400)]
    assert 0 < gaps[1] < 0.03 * 16.667
    assert gaps[0] / gaps[1] == pytest.approx(2.0, rel=0.15)


def test_reheat_alone() -> None:
    """No draw, no loss: 150 l through 50 K with 10 kW take 150 x 4.187 x 50 / 10 / 60 = 52.34 min."""
    store, minutes = Store(150, MANY, 10.0, Heating(10.0, 60.0)), 0.0
    while store.top_c < 60.0:
        store.step(5.0, 0.0, 10.0)
        minutes += 5 / 60
    assert minutes == pytest.approx(52.34, abs=0.1)


def test_cooling_alone() -> None:
    """No draw, no heat: 2 W/K on 150 l halve 60 over 20 C in ln 2 x 150 x 4187 / 2 / 3600 = 60.46 h."""
    store = Store(150, FEW, 60.0, loss_w_k=2.0)
    for _ in range(round(60.46 * 60)):
        store.step(60.0, 0.0, 10.0)
    assert store.top_c == pytest.approx(40.0, abs=0.05)


@pytest.mark.parametrize("layers", [1, FEW, MANY])
@pytest.mark.parametrize("heating", [None, Heating(10, 60), Heating(18, 60, 80, coil_kw_per_k(15), 0.3, 0.3, 5)])
def test_heat_account_closes(layers: int, heating: Heating | None) -> None:
    """What was there, came with the cold, was heated in, less what was drawn and lost, is there: within 0.1 %."""
    store = Store(180, layers, 60.0, heating, loss_w_k=1.5)
    before = store.content_kj()
    for i in range(720):
        store.step(5.0, (0.0, 7.0, 14.0)[i // 60 % 3], 5.0)
    account = before + store.brought_kj + store.heated_kj - store.given_kj - store.lost_kj
    assert store.content_kj() == pytest.approx(account, rel=1e-3)
    assert store.content_kj() == pytest.approx(account, rel=1e-9)  # it does better: nothing leaks at all


@pytest.mark.parametrize("layers", [FEW, MANY])
def test_halving_the_step_hardly_moves_the_minute(layers: int) -> None:
    for litres, flow, kw, ends, _ in engines.MIXED:
        if ends:
            whole, half = (minutes_to(litres, layers, 60.0, 10.0, flow, 40.0, bottom(kw), 40.0, step_s=s)
                           for s in (5.0, 2.5))
            assert half == pytest.approx(whole, rel=0.02)


def test_layers_never_stand_upside_down() -> None:
    store = Store(150, MANY, 60.0, Heating(20.0, 60.0))
    for i in range(400):
        store.step(5.0, 12.0 if i < 200 else 0.0, 5.0)
        assert all(a <= b + 1e-9 for a, b in zip(store.temperatures, store.temperatures[1:], strict=False))


def test_a_coil_fades() -> None:
    """20 kW coil, 80 C: mean over 15 to 60 C is 20 kW by its own definition; near the set point it passes 10.5 kW.

    UA = 20 x 1.1787 / 45 = 0.5239 kW/K; at 60 C 0.5239 x 20 = 10.48 kW.
    """
    coil = Heating(30.0, 60.0, 80.0, coil_kw_per_k(20.0))
    assert coil.kw_at(60.0) == pytest.approx(10.48, abs=0.01)
    assert coil.kw_at(10.0) == 30.0  # the boiler limits
    assert Heating(8.0, 60.0, 65.0, coil_kw_per_k(20.0)).kw_at(66.0) == 0.0
    minutes, store = 0, Store(100, 1, 15.0, Heating(99.0, 60.0, 80.0, coil_kw_per_k(20.0)))
    while store.top_c < 60.0:
        store.step(1.0, 0.0, 10.0)
        minutes += 1 / 60
    assert minutes == pytest.approx(100 * KJ * 45 / 20 / 60, rel=0.005)


def test_thermostat_waits_for_its_differential() -> None:
    store = Store(150, FEW, 60.0, Heating(10.0, 60.0, sensor=0.34, differential_k=5.0))
    while store.temperatures[store.sensor] > 55.0:
        store.step(5.0, 6.0, 10.0)
        if store.temperatures[store.sensor] > 55.0:
            assert store.heated_kj == 0.0
    store.step(5.0, 6.0, 10.0)
    assert store.heated_kj > 0.0


def test_an_empty_store_is_refused() -> None:
    with pytest.raises(ValueError, match="must be above 0"):
        Store(0, 12, 60.0)


def test_blended_from_one_stirred_layer() -> None:
    """Fully mixed, drawn as 40 C water: hot flow q (40-10)/(T-10) takes q x 30 K out whatever T is, so T falls in a straight line.

    150 l, 9 l/min, 60 -> 40 C: 150 x 20 / (9 x 30) = 11.11 min; with 3 kW, 42.99 K l/min come back: 150 x 20 / (270 - 42.99)
    = 13.22 min.
    """
    assert minutes_to(150, 1, 60.0, 10.0, 9.0, 40.0, None, 40.0) == pytest.approx(11.11, rel=0.005)
    assert minutes_to(150, 1, 60.0, 10.0, 9.0, 40.0, bottom(3), 40.0) == pytest.approx(13.22, rel=0.01)


def test_blended_from_a_store_that_keeps_its_layers() -> None:
    """Plug flow without reheat: every litre at 60 C makes 50/30 litres at 40 C: 150 x 50 / 30 / 9 = 27.78 min, reached from below."""
    gaps = [27.78 - minutes_to(150, n, 60.0, 10.0, 9.0, 40.0, None, 40.0, step_s=2.0) for n in (100, 400)]
    assert 0 < gaps[1] < gaps[0] and gaps[1] < 0.03 * 27.78
