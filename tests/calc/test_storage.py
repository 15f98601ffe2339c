"""Stored water against the standard's cells, a printed reheat table and three independent tank simulators."""

from __future__ import annotations

import pytest

from advisor.calc import OutOfRange
from advisor.calc.instantaneous import instant_flow
from advisor.calc.storage import hot_share, mixed_volume, reheat_minutes, storage_volume, store_short_after

SITE = "householder energy site, reheat table by 40 K"
REHEAT = [
    *[pytest.param(litres, kw, 40, minutes, 1.5, id=f"{SITE}, {litres} l {kw} kW")
      for litres, row in ((50, (47, 28, 20)), (100, (94, 56, 40)), (200, (187, 112, 80)), (250, (233, 140, 100)))
      for kw, minutes in zip((3, 5, 7), row, strict=True)],
    pytest.param(1000, 85.3, 55, 45, 0.2, id="calorifier sizing note: 1000 l from 5 to 60 C in 45 min"),
    pytest.param(2200, 88.7, 52, 90, 0.3, id="calorifier sizing note: 2200 l from 10 to 62 C in 90 min"),
    pytest.param(20, 3.6, 80, 31.1, 0.3, id="science explainer, 4.2 L T / 3600: 1.867 kWh at 3.6 kW"),
    pytest.param(10, 4.5, 45, 7.0, 0.1, id="electrical engineering site: 10 l from 25 to 70 C"),
    pytest.param(125, 3, 55, 160, 1.0, id="energy advice site: 125 l from 10 to 65 C, 8.0 kWh"),
    pytest.param(160, 1, 35, 6.51 * 60, 1.2, id="German heating dictionary: 160 l from 10 to 45 C is 6.51 kWh"),
    pytest.param(100, 1, 50, 5.82 * 60, 0.8, id="DIN 4708-2 normal bath as quoted: 100 l by 50 K is 5.82 kWh"),
    pytest.param(150, 18, 45, 25, 2, id="common practice: 18 kW reheats 150 l by 45 K in roughly 25 min"),
    *[pytest.param(litres, kw, 50, minutes, 0.6, id=f"common practice, priority pause: {litres} l at {kw} kW")
      for litres, kw, minutes in ((150, 12, 44), (180, 15, 42), (210, 20, 37), (250, 20, 44), (300, 24, 44))],
]


@pytest.mark.parametrize("litres, kw, rise, minutes, tolerance", REHEAT)
def test_reheat(litres, kw, rise, minutes, tolerance):
    assert reheat_minutes(litres, kw, rise) == pytest.approx(minutes, abs=tolerance)


MIXED = [
    pytest.param(40, 60, 10, 45, 1.0, 57.1, 0.2, id="SIA 385/2 conversion: 40 l at 60 C"),
    pytest.param(55, 60, 10, 45, 1.0, 78.6, 0.5, id="SIA 385/2 table: 55 l at 60 C"),
    pytest.param(45, 60, 10, 45, 1.0, 64.3, 0.3, id="SIA 385/2 table: 45 l at 60 C"),
    pytest.param(60, 60, 10, 40, 1.0, 100, 1e-9, id="BS 6700 Annex C: 60 l of hot make a 100 l bath"),
    pytest.param(120, 60, 10, 40, 0.85, 170, 0.5, id="0.85 x 120 x 50/30"),
    pytest.param(210, 60, 10, 40, 0.85, 297.5, 0.5, id="0.85 x 210 x 50/30"),
    pytest.param(210, 50, 10, 40, 0.85, 238, 0.5, id="0.85 x 210 x 40/30"),
    pytest.param(210, 60, 5, 40, 0.85, 280.5, 0.5, id="0.85 x 210 x 55/35"),
]


@pytest.mark.parametrize("volume, store, cold, mixed, usable, litres, tolerance", MIXED)
def test_mixed_volume(volume, store, cold, mixed, usable, litres, tolerance):
    assert mixed_volume(volume, store, cold, mixed, usable) == pytest.approx(litres, abs=tolerance)


SHARES = [
    pytest.param(60, 10, 35, 0.5, id="UK heating trade magazine: 50 of 100 l for a 35 C bath"),
    pytest.param(60, 10, 40, 0.6, id="hot water industry guidance: 10.8 of 18 l/min"),
    pytest.param(50, 10, 40, 0.75, id="mixing: 30/40"), pytest.param(60, 5, 40, 0.636, id="mixing: 35/55"),
]


@pytest.mark.parametrize("store, cold, mixed, share", SHARES)
def test_hot_share(store, cold, mixed, share):
    assert hot_share(store, cold, mixed) == pytest.approx(share, abs=0.001)


CASE_2_MIXED = [pytest.param(3, 260.6, id="3 kW: (6500 - 1287)/20"),
                pytest.param(6, 196.3, id="6 kW: (6500 - 2574)/20"),
                pytest.param(10, 130.0, id="10 kW: the first draw itself")]


@pytest.mark.parametrize("kw, litres", CASE_2_MIXED)
def test_bs_6700_annex_c_case_2_stirred(kw, litres):
    got = storage_volume(130, 100, 30, 60, 10, kw, stratified=False)
    assert got == pytest.approx(litres, abs=1)


# litres, mixed l/min -> minutes of 40 C water without reheat, by three stratified-tank simulators of 12 to 60 nodes
TANKS = [(150, 9, 23.15, 25.92), (150, 18, 11.6, 13.08), (150, 25, 8.35, 9.5), (210, 12, 24.3, 27.25),
         (210, 18, 16.22, 18.25), (300, 9, 46.23, 51.67), (300, 12, 34.7, 38.83), (300, 25, 16.68, 18.75)]


@pytest.mark.parametrize("litres, draw, low, high", TANKS)
def test_a_store_without_reheat_lasts_as_long_as_the_simulators_say(litres, draw, low, high):
    mixed = mixed_volume(litres, 60, 10, 40, 0.85)
    assert low <= store_short_after(mixed, 0, 0, draw, 60) <= high


# litres, mixed l/min, kW -> simulators' span, and the bare balance of heat, which is up to twice too long
REHEATED = [(150, 9, 10, 29.33, 31.45, 59.24), (150, 12, 10, 20.65, 20.83, 34.63), (150, 18, 20, 14.5, 15.73, 29.62),
            (210, 9, 3, 34.1, 37.0, 46.26), (210, 18, 20, 20.42, 22.02, 41.47), (210, 25, 10, 12.45, 13.5, 17.31),
            (300, 18, 3, 23.72, 26.17, 30.18), (300, 25, 20, 19.58, 19.92, 32.38)]


@pytest.mark.parametrize("litres, draw, kw, low, high, balance", REHEATED)
def test_reheat_credit_brackets_the_simulators(litres, draw, kw, low, high, balance):
    recovery = instant_flow(kw, 30)
    least = store_short_after(mixed_volume(litres, 60, 10, 40, 0.80), recovery, 0.0, draw, 60)
    most = store_short_after(mixed_volume(litres, 60, 10, 40, 1.0), recovery, 1.0, draw, 60)
    assert most == pytest.approx(balance, rel=0.005)
    assert least <= low and high <= most


def test_a_store_that_outlasts_the_draw_never_falls_short():
    # 280 l at 18 l/min is 15.6 min
    assert store_short_after(280, 0, 0, 18, 15.5) == 60.0
    assert store_short_after(280, 0, 0, 18, 15.6) == pytest.approx(15.56, abs=0.01)


@pytest.mark.parametrize("call", [
    lambda: hot_share(35, 10, 40), lambda: mixed_volume(210, 60, 40, 40, 0.85), lambda: reheat_minutes(210, 0, 50),
    lambda: storage_volume(70, 100, 25, 38, 10, 3, True), lambda: storage_volume(-1, 100, 25, 60, 10, 3, True),
])
def test_refused(call):
    with pytest.raises(OutOfRange):
        call()
