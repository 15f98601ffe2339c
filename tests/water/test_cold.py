"""The short way to the first cold minute against the whole simulated hour (held against EPANET and tank engines)."""

from __future__ import annotations

import random

import pytest

from advisor.water import cold
from advisor.water.busy_hour import simulate
from advisor.water.cold import Drawn
from advisor.water.demand import Tap, plans
from advisor.water.plants import Assisted, HeatingStore, Stored
from advisor.water.store import FEW, MANY, Heating, Store, coil_kw_per_k

COLD, WARM = 5.0, 40.0
KINDS = ("stored", "paused", "shared", "element", "none", "assisted", "heating store")


def plant_of(kind: str, rng: random.Random):
    """A way to make one plant again and again."""
    litres, kw = rng.choice((50, 90, 150, 250)), rng.choice((3.0, 12.0, 24.0))
    coil = Heating(kw, 60.0, 80.0, coil_kw_per_k(kw), 1 / 3, 1 / 3, 5.0)
    element = Heating(kw, 60.0, sensor=1 / 3, differential_k=5.0)
    hot = Heating(kw, 75.0, 80.0, coil_kw_per_k(kw), 1 / 3, 1 / 3, 5.0)
    return {
        "stored": lambda layers: Stored(Store(litres, layers, 60.0, coil)),
        "paused": lambda layers: Stored(Store(litres, layers, 60.0, coil), pauses=True, timeout_min=20.0),
        "shared": lambda layers: Stored(Store(litres, layers, 60.0, coil), False, kw / 3),
        "element": lambda layers: Stored(Store(litres, layers, 60.0, element, 2.0)),
        "none": lambda layers: Stored(Store(litres, layers, 60.0, None)),
        "assisted": lambda layers: Assisted(Store(litres, layers, 60.0, Heating(kw, 60.0)), kw),
        "heating store": lambda layers: HeatingStore(Store(litres, layers, 75.0, hot), 4.4, pauses=True),
    }[kind]


def plan_of(rng: random.Random):
    taps = (Tap("a", "shower", rng.choice((7.0, 9.0, 12.0)), True), Tap("b", "shower", 8.0, rng.random() < 0.5),
            Tap("tub", "bath", 12.0, rng.random() < 0.3), Tap("sink", "kitchen tap", 5.0, rng.random() < 0.3))
    return rng.choice(plans(taps, rng.randrange(6), rng.choice((4.0, 7.5, 12.0)), rng.randrange(3), 110.0))


@pytest.mark.parametrize("kind", KINDS)
def test_the_minute_is_that_of_the_whole_hour(kind: str) -> None:
    """Figure for figure, with runs remembered from one plan to the next; both answers must come up."""
    rng, seen = random.Random(kind), set()
    cold.forget()
    for _ in range(25):
        make, plan, layers = plant_of(kind, rng), plan_of(rng), rng.choice((FEW, MANY))
        electric = {"b": 9.0} if rng.random() < 0.3 else {}
        whole = simulate(plan, make(layers), dict, COLD, WARM, electric).first_cold_min
        assert Drawn(make, COLD, WARM, electric).first_cold(plan, layers) == whole
        seen.add(whole is None)
    assert seen == {True, False}


def test_a_run_is_cut_short_only_after_the_minute_asked_about() -> None:
    """Six showers of 8 min at 12 l/min from 90 l at 60 degrees: 12 l/min take 7.6 l/min of them, gone in some 12 min."""
    make = plant_of("none", random.Random(0))
    plan = plans((Tap("a", "shower", 12.0, True),), 6, 8.0, 0, 0.0)[0]
    minute = simulate(plan, make(FEW), dict, COLD, WARM).first_cold_min
    for within in (minute - 0.5, minute - 1e-6, minute, minute + 1e-6, minute + 0.5, 100.0):
        cold.forget()
        found = Drawn(make, COLD, WARM, {}).first_cold(plan, FEW, within)
        assert found == minute if minute < within else found is None or found >= within


def test_what_is_drawn_later_is_not_run_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """The fourth shower cools nothing that the first three drew; another flow is another run."""
    runs = []
    run = Drawn._run
    monkeypatch.setattr(Drawn, "_run", lambda self, asked, layers: runs.append(asked) or run(self, asked, layers))
    cold.forget()
    drawn = Drawn(plant_of("none", random.Random(0)), COLD, WARM, {})
    for showers, flow in ((6, 12.0), (5, 12.0), (7, 12.0), (6, 11.0)):
        drawn.first_cold(plans((Tap("a", "shower", flow, True),), showers, 8.0, 0, 0.0)[0], FEW)
    assert len(runs) == 2
