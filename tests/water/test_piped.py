"""What the pipes of a mains-fed layout give: hand sums, and no home inside the ends gives an outlet more or less."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping

import pytest

from advisor.report import busy
from advisor.report.wording import NBSP
from advisor.water import fittings
from advisor.water.busy_hour import STEP_S, Flows, simulate
from advisor.water.costly import costs
from advisor.water.demand import Plan, Tap, plans
from advisor.water.network import House, Outlet, Section, solve
from advisor.water.outcome import _corners
from advisor.water.parts import ReducingValve, Resistance, WeakestOf, fit_supply
from advisor.water.piped import Layout, _passed
from advisor.water.plants import Assisted, Instant
from advisor.water.store import FEW, MANY, Heating, Store
from tests import homes
from tests.water.test_busy_hour import BATH, COLD, PARENTS, WARM, cylinder

WEAK, STRONG = fit_supply(2.4, [(16.0, 1.3)], "the main"), fit_supply(2.6, [(18.0, 1.4)], "the main")
KINDS = {"a": "shower", "b": "shower", "bath": "bath", "sink": "kitchen tap"}
STEP_MIN = STEP_S / 60  # a draw ends with a whole step
USUAL = fittings.usual()
STORES = ("unvented", "none", "heating store", "built-in")


def layout(store: str, apart: frozenset[str] = frozenset(), weak=WEAK, strong=STRONG) -> Layout:
    mains = tuple(WeakestOf("the main", (fit.supply,), best) for fit, best in ((weak, False), (strong, True)))
    return Layout(mains, KINDS, apart, *_passed(store, USUAL), 35 / 55, (1.5, 1.0))


def flow(plan: Layout, wanted: Mapping[str, float], asked: str, least: bool) -> float:
    return solve(plan.house(wanted, asked, least), wanted).flows[asked]


def test_an_inlet_set_by_hand() -> None:
    """One shower of 9 l/min behind the worst set: 2.4 - c q^1.85 - 0.5 (q/20)2 = 1.5 (q/9)2, c = 1.1 / 16^1.85 = 0.006512.

    At q = 9 the left side is 2.4 - 0.3793 - 0.1013 = 1.919: more than 1.5, so it is full. A main of 1.9 bar with 1.1 bar
    at 16 l/min (c = 0.8 / 168.9 = 0.004736): at 9 l/min 1.9 - 0.2759 - 0.1013 = 1.523, full; two of them, 18 l/min:
    1.9 - 0.9946 - 0.405 = 0.500. At 7.15 each, 14.3: 1.9 - 0.6499 - 0.2556 = 0.9945, needed 1.5 (7.15/9)2 = 0.947; at 7.3
    each, 14.6: 1.9 - 0.6753 - 0.2665 = 0.958 against 0.987: so 7.24 l/min, if both mixers want 1.5 bar.
    """
    weak = fit_supply(1.9, [(16.0, 1.1)], "the main")
    plan = layout("unvented", weak=weak, strong=weak)
    assert flow(layout("unvented"), {"a": 9.0}, "a", True) == 9.0
    assert flow(plan, {"a": 9.0}, "a", True) == 9.0
    both = solve(plan.house({"a": 9.0, "b": 9.0}, None, True), ["a", "b"]).flows
    assert both["a"] == both["b"] == pytest.approx(7.24, abs=0.02)
    # were the other content with 1.0 bar it would draw more, and leave this one less
    assert flow(plan, {"a": 9.0, "b": 9.0}, "a", True) < both["a"] - 0.2


def test_a_heat_exchanger_by_hand() -> None:
    """0.5 bar at 10 l/min: 2.4 - c q^1.85 - 0.005 q2 = 1.5 (q/12)2 with c = 1.1 / 16^1.85 = 0.006512.

    At 11 l/min: 2.4 - 0.5498 - 0.605 = 1.245 against 1.260; at 10.9: 2.4 - 0.5406 - 0.594 = 1.265 against 1.238: 10.96.
    """
    assert flow(layout("none"), {"a": 12.0}, "a", True) == pytest.approx(10.96, abs=0.02)


def test_a_strong_main_is_capped_and_the_exchanger_is_not() -> None:
    """6 bar that hardly falls; a bath of 40 l/min at 1.5 bar: behind a set of 3 bar that falls off 0.5 bar at 20 l/min

    3 - 0.00125 q2 = 1.5 (q/40)2 = 0.0009375 q2, q = 37.0 l/min. Through no set it is full: 40.
    """
    main = fit_supply(6.0, [(40.0, 5.9)], "the main")
    assert flow(layout("unvented", weak=main, strong=main), {"bath": 40.0}, "bath", True) == pytest.approx(37.0, abs=0.05)
    assert flow(layout("heating store", weak=main, strong=main), {"bath": 40.0}, "bath", False) == 40.0


def test_an_outlet_that_heats_its_own_water_passes_no_exchanger() -> None:
    """It gets more than beside the same mixers behind one, and is worst off where the others' way is good."""
    plan, wanted = layout("none", frozenset({"b"})), {"a": 14.0, "b": 14.0}
    assert flow(plan, wanted, "b", True) > flow(plan, wanted, "a", True)
    poor_way = plan.house(wanted, "a", True)
    assert poor_way.way("street")[0].name == "the main" and poor_way.outlets[1].ways() == (("street", 1.0),)


def inner(store: str, apart: frozenset[str], wanted: Mapping[str, float], r: random.Random) -> House:
    """A home somewhere inside: every figure drawn by itself, each mixer with its own need, the kitchen's cold anywhere."""
    def between(ends: fittings.Ends, name: str) -> Resistance:
        u, at = r.random(), ends.worst[1]
        worst, best = (bar * (at / l_min) ** 2 for bar, l_min in (ends.worst, ends.best))
        return Resistance(name, worst + u * (best - worst), at)

    static, at, left = (a + r.random() * (b - a) for a, b in ((2.4, 2.6), (16.0, 18.0), (1.3, 1.4)))
    main = fit_supply(static, [(at, left)], "the main").supply
    loss = between(USUAL.inlet, "set")
    valve = ReducingValve("set", r.uniform(*USUAL.set_bar), loss.bar, loss.at_l_min, loss.bar * r.random())
    plate = {"none": USUAL.boiler, "heating store": USUAL.store}.get(store)
    hot = (between(plate, "plate"),) if plate else ()
    if store == "built-in" and r.random() < 0.5:
        hot = (between(USUAL.built_in, "plate"),)
    inlet = () if store in ("none", "heating store") else (valve,)
    share = r.uniform(35 / 55, 1.0)
    outlets = []
    for n, q in wanted.items():
        k = q / math.sqrt(r.uniform(1.0, 1.5))
        cold = "street" if KINDS[n] == "kitchen tap" and r.random() < 0.5 else "inlet"
        outlets.append(Outlet(n, k, "street", at_most=q) if n in apart else Outlet(n, k, cold, "hot", share, q))
    return House((main,), (Section("street", "the main"), Section("inlet", "street", inlet), Section("hot", "inlet", hot)),
                 tuple(outlets))


def corner_mains() -> tuple[WeakestOf, WeakestOf]:
    fits = [fit_supply(s, [(q, p)], "the main").supply for s in (2.4, 2.6) for q in (16.0, 18.0) for p in (1.3, 1.4)]
    return WeakestOf("the main", tuple(fits)), WeakestOf("the main", tuple(fits), best=True)


@pytest.mark.parametrize("store", STORES)
@pytest.mark.parametrize("apart", [frozenset(), frozenset({"b"})], ids=["mixers", "one of its own"])
def test_no_home_inside_gives_less_or_more(store: str, apart: frozenset[str]) -> None:
    plan = Layout(corner_mains(), KINDS, apart, *_passed(store, USUAL), 35 / 55, (1.5, 1.0))
    r, throttled, tight = random.Random(5), 0, 0
    for wanted in ({"a": 12.0, "b": 9.0}, {"a": 9.0, "b": 8.0, "bath": 14.0}, {"b": 11.0, "sink": 9.0}):
        ends = {n: (flow(plan, wanted, n, True), flow(plan, wanted, n, False)) for n in wanted}
        for _ in range(60):
            found = solve(inner(store, apart, wanted, r), wanted).flows
            for n, (least, most) in ends.items():
                assert least - 1e-5 <= found[n] <= most + 1e-5, (n, least, found[n], most)
                throttled += found[n] < wanted[n] - 0.05
                tight += found[n] < least + 0.3 * (most - least)
    assert throttled > 50 and tight > 5


def test_a_bath_that_fills_fast_brings_the_next_shortfall_nearer() -> None:
    """120 l at 14 l/min take 8.6 min, at 7 l/min 17.1: a shower after it that is short of flow is so that much sooner. So

    the earliest minute needs the bath at its most and the shower at its least: baths at two ends, all else at three.
    """
    plan = plans([PARENTS, BATH], 1, 6.0, 1, 120.0)[0]

    def least(wanted: Mapping[str, float]) -> Mapping[str, float]:
        return {n: 0.5 * q for n, q in wanted.items()}

    minutes = [simulate(plan, cylinder(400, MANY), flows, COLD, WARM).first_short_min for flows in _corners(plan, least, dict)]
    short = [m for m in minutes if m is not None]
    assert len(minutes) == 6 and min(short) == pytest.approx(8.6, abs=0.1) and max(short) == pytest.approx(17.1, abs=0.1)


BESIDE = Tap("bath", "bath", 14.0, True)
LOFT_TOO = Tap("loft", "shower", 9.0, True)


PLANTS = {
    "coil": lambda: cylinder(150, MANY, 12.0), "hot water first": lambda: cylinder(210, FEW, 6.0, pauses=True),
    "strong boiler": lambda: Instant(45.0), "store built in": lambda: Assisted(Store(45, MANY, 60.0, Heating(28.0, 60.0)), 28.0),
}


@pytest.mark.parametrize("plant, bath", [(p, BATH) for p in PLANTS] + [("coil", BESIDE), ("store built in", BESIDE)])
def test_pipes_between_their_ends_leave_no_band(plant: str, bath: Tap) -> None:
    """Each outlet gets anything between its least and its most, by itself: the first minute stays between the ends' own."""
    def first(plan: Plan, flows: Flows) -> float:
        found = simulate(plan, PLANTS[plant](), flows, COLD, WARM).first_short_min
        return math.inf if found is None else found

    def giving(shares: Mapping[str, float]) -> Flows:
        return lambda wanted: {n: shares[n] * q for n, q in wanted.items()}

    r, wide, names = random.Random(9), 0, ("parents", "loft", "bath")
    for _ in range(12):
        floor = r.choice((0.3, 0.97, 0.985))
        low = {n: r.uniform(0.3 if n == "bath" else floor, 1.0) for n in names}
        high = {n: r.uniform(low[n], 1.0) if r.random() < 0.5 else 1.0 for n in names}
        for plan in plans([PARENTS, LOFT_TOO, bath], r.randint(1, 5), r.uniform(4, 9), r.randint(0, 1), r.uniform(70, 140)):
            minutes = [first(plan, f) for f in _corners(plan, giving(low), giving(high))]
            for _ in range(4):
                found = first(plan, giving({n: r.uniform(low[n], high[n]) for n in names}))
                assert min(minutes) - STEP_MIN <= found <= max(minutes) + STEP_MIN, (low, high, plan.order)
            wide += min(minutes) < max(minutes)
    assert wide > 3


def outcome(changes: Mapping[str, str], family: str):
    advice = homes.quick(homes.survey(homes.DEMO).with_changes(dict(changes)))
    judged = next(j for j in (*advice.families(), *advice.judged) if family in (j.arrangement.family, j.id))
    (found,) = busy.simulate(advice, [judged])
    return advice, found


def test_the_exchanger_that_decides_is_named_with_what_it_costs() -> None:
    """2.8 bar, 1.0 left at 25 l/min; two showers of 9 l/min; an exchanger that takes 1.0 bar at 18 l/min at the worst, and

    mixers that want 1.0 bar there: 2.8 - 1.8 (q/25)^1.85 - 2 (q/18)2 is 0 at 17.43 l/min (0.924 + 1.875). Without it
    2.8 - 1.8 (18/25)^1.85 = 1.82 bar are left at 18 l/min: both get their 9.0.
    """
    _, found = outcome({"water.static_pressure": "2.8 bar", "water.flow_pressure": "1 bar"}, "boiler-heating-store")
    first = costs(found)[0]
    assert first.element == fittings.STORE_EXCHANGER and first.without_l_min == pytest.approx(9.0)
    said = busy.sentence(found).replace(NBSP, " ")
    assert "At worst the store's heat exchanger costs 0.3 l/min; without it 9.0 l/min would come." in said
    assert busy.decider(found).startswith("What decides: the store's heat exchanger (17.")


def test_a_boiler_s_exchanger_is_named() -> None:
    """One shower of 12 l/min, 30 kW (12.28 l/min warm), a main of 2.2 bar that leaves 1.1 at 16 l/min: 0.006512 q^1.85.

    An exchanger of 0.5 bar at 10 l/min, a mixer that wants 1.0 bar at 12: 0.006512 q^1.85 + 0.005 q2 + (q/12)2 is 2.2 at
    11.56 l/min (0.603 + 0.668 + 0.928). Without it 2.2 - 0.646 = 1.554 bar are left at 12 l/min, more than wanted: full.
    """
    main = {"water.static_pressure": "2.2 bar", "water.flow": "16 l/min", "water.flow_pressure": "1.1 bar"}
    _, found = outcome(main | {"household.busy_showers": "1", "outlets.main_shower.flow": "12 l/min"}, "combination-boiler:30kw")
    first, said = costs(found)[0], busy.sentence(found).replace(NBSP, " ")
    assert (first.element, first.with_l_min, first.without_l_min) == (
        fittings.BOILER_EXCHANGER, pytest.approx(11.56, abs=0.02), pytest.approx(12.0))
    assert said.startswith("The main shower gets 11.6 l/min of the 12.0 l/min wanted, from the start, at worst. At worst the "
                           "boiler's heat exchanger costs 0.4 l/min; without it 12.0 l/min would come.")
    assert busy.decider(found).startswith("What decides: the boiler's heat exchanger (")


def test_an_inlet_set_is_named() -> None:
    """Two showers of 12 l/min, once each, on a main of 3.0 bar that leaves 1.6 at 24 l/min: as custom asks, more than 1.5.

    Through the worst set 0.5 (24/20)2 = 0.72 bar less: 0.88 of the 1.0 a mixer wants. Through the best 0.18: 1.42, enough.
    """
    flows = {f"outlets.{n}.flow": "12 l/min" for n in ("main_shower", "loft_shower")} | {"household.busy_showers": "2"}
    main = {"water.static_pressure": "3 bar", "water.flow": "24 l/min", "water.flow_pressure": "1.6 bar"}
    advice, found = outcome(main | flows, "boiler-unvented-cylinder")
    first = costs(found)[0]
    assert first.element == fittings.INLET_SET and first.without_l_min == pytest.approx(12.0)
    assert found.first_short.lo == 0.0 and found.first_short.hi == math.inf
    # the rules say the same: short at the worst, enough at the best, and enough were nothing in the way
    margin, bare = (advice.fact(f"{n}_margin_l_min", found.arrangement).value for n in ("outlet_flow", "bare"))
    assert margin.lo < 0 < margin.hi and bare.lo > 0
    said = {f.rule: f.certain for f in advice[found.arrangement].findings}
    assert said["inlet-set-costs-what-is-missing"] is False


def test_a_mixer_that_wants_much_is_named_where_nothing_else_costs_as_much() -> None:
    """The flat on a weaker main: 2.2 bar, 8 l/min at the worst with 1.1 left, c = 1.1 / 8^1.85 = 0.02348. Its shower wants

    1.0 bar at 9.09 l/min: 2.2 - 0.02348 q^1.85 - 0.00125 q2 - (q/9.09)2 is 0 at 8.41 l/min (1.206 + 0.088 + 0.856 = 2.15,
    at 8.5 2.197). A mixer content with 0.5 bar gets its 9.09 l/min: 2.2 - 1.393 - 0.103 = 0.70 bar are there.
    """
    changes = {"water.static_pressure": "2.2 bar", "water.flow_pressure": "1.1 bar"}
    advice = homes.quick(homes.survey("flat_no_gas").with_changes(changes))
    judged = next(j for j in advice.families() if j.arrangement.family == "direct-electric-cylinder")
    (found,) = busy.simulate(advice, [judged])
    assert costs(found)[0].element == fittings.MIXER
    assert "At worst the mixer wants 1.0 bar; were all content with 0.5 bar, it would get 9.1 l/min." in busy.sentence(found).replace(NBSP, " ")


def test_where_heat_or_a_cistern_decides_nothing_of_the_main_s_is_blamed() -> None:
    for family in ("combination-boiler", "boiler-cistern-fed-cylinder"):
        _, found = outcome({}, family)
        assert found.first_short.lo == 0.0 and costs(found) == ()
