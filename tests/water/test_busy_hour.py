"""The busy hour on cases whose answer can be written by hand, and the properties a simulation owes."""

from __future__ import annotations

import math

import pytest

from advisor.water.busy_hour import Reserve, simulate
from advisor.water.demand import BATH_FIRST, SHOWERS_FIRST, Draw, Plan, Tap, plans
from advisor.water.outcome import busy_hour
from advisor.water.plants import HeatingStore, Instant, Stored, exchanger_kw_k
from advisor.water.store import FEW, MANY, Heating, Store, coil_kw_per_k
from tests import homes
from tests.water import engines

COLD, WARM = 5.0, 40.0
PARENTS, LOFT = Tap("parents", "shower", 9.0, True), Tap("loft", "shower", 9.0, True)
BATH, KITCHEN = Tap("bath", "bath", 14.0, False), Tap("kitchen", "kitchen tap", 6.0, False)


def free(wanted):
    """Pipes that give whatever is wanted."""
    return dict(wanted)


def cylinder(litres: float = 150, layers: int = MANY, kw: float = 0.0, **how) -> Stored:
    heating = Heating(kw, 60.0, 80.0, coil_kw_per_k(kw), 0.33, 0.33, 5.0) if kw else None
    return Stored(Store(litres, layers, 60.0, heating), **how)


def steady(l_min: float, minutes: float) -> Plan:
    return Plan((((Draw("shower", l_min, minutes),),),), "")


def test_a_boiler_that_heats_as_it_flows_gives_what_its_power_warms() -> None:
    """30 kW through 35 K: 60 x 30 / (4.187 x 35) = 12.28 l/min. Two showers of 9 want 18: each gets 6.14, from the start."""
    plan = plans([PARENTS, LOFT], 4, 6.0, 0, 100.0)[0]
    run = simulate(plan, Instant(30.0), free, COLD, WARM)
    assert run.first_short_min == 0.0 and {c.kind for c in run.curves.values()} == {"flow"}
    assert run.curves["loft"].least_l_min == pytest.approx(6.14, abs=0.005)
    assert run.heating_lost_min == pytest.approx(12.0, abs=0.1)  # two showers of 6 min on each of two lanes
    one = simulate(steady(9.0, 12.0), Instant(30.0), free, COLD, WARM)
    assert one.first_short_min is None and one.curves["shower"].litres == pytest.approx(108.0)


def test_pipes_that_give_less_are_short_of_flow_and_not_of_heat() -> None:
    run = simulate(steady(9.0, 6.0), cylinder(), lambda w: {n: 6.0 for n in w}, COLD, WARM)
    shower = run.curves["shower"]
    assert (run.first_short_min, shower.kind, shower.least_l_min, shower.coldest_c) == (0.0, "flow", 6.0, WARM)


@pytest.mark.parametrize("case", [c for c in engines.MIXED if c[2] == 0], ids=lambda c: f"{c[0]}l-{c[1]}")
@pytest.mark.parametrize("layers", [FEW, MANY])
def test_a_steady_draw_agrees_with_the_engines(case, layers: int) -> None:
    """The whole machine on the engines' own case: 60 C store, 10 C cold, no reheat."""
    litres, flow, _, (least, most), _ = case
    run = simulate(steady(flow, 100.0), cylinder(litres, layers), free, 10.0, WARM)
    assert least * 0.97 <= run.first_short_min <= most * 1.03
    assert run.curves["shower"].kind == "cold" and run.left_l < 0.05 * litres


def test_only_the_order_changes_and_the_minute_moves() -> None:
    """A bath of 14 l/min before the showers empties the store sooner than after them: same litres, another minute."""
    first, last = plans([PARENTS, BATH], 3, 8.0, 1, 120.0)
    assert (first.order, last.order) == (BATH_FIRST, SHOWERS_FIRST)
    assert sorted(d.outlet for d in first.draws) == sorted(d.outlet for d in last.draws)
    cold = {p.order: simulate(p, cylinder(150), free, COLD, WARM).first_short_min for p in (first, last)}
    # hot litres by hand: (40-5)/(60-5) = 0.636 of each litre; 150 l x about 0.93 = 140 l hot = 219 l mixed.
    # bath first: 120 l by 8.6 min, then 9 l/min: 8.6 + (219 - 120)/9 = 19.6 min; showers first: 219/9 = 24.3 min
    assert cold[BATH_FIRST] == pytest.approx(19.6, abs=0.7)
    assert cold[SHOWERS_FIRST] == pytest.approx(24.3, abs=0.7)


def test_swapping_two_draws_in_one_lane_moves_the_minute() -> None:
    a, b = Draw("strong", 16.0, 8.0), Draw("gentle", 6.0, 20.0)
    minutes = [simulate(Plan(((lane,),), ""), cylinder(120), free, COLD, WARM).first_short_min for lane in ((a, b), (b, a))]
    assert abs(minutes[0] - minutes[1]) > 1.0


@pytest.mark.parametrize("layers", [FEW, MANY])
@pytest.mark.parametrize("kw", [0.0, 12.0, 20.0])
def test_halving_the_step_moves_the_minute_less_than_two_percent(layers: int, kw: float) -> None:
    plan = plans([PARENTS, LOFT, BATH], 6, 7.0, 1, 100.0)[1]
    whole, half = (simulate(plan, cylinder(150, layers, kw), free, COLD, WARM, step_s=s).first_short_min
                   for s in (5.0, 2.5))
    assert half == pytest.approx(whole, rel=0.02)


def test_priority_makes_the_heating_wait_and_times_out() -> None:
    plan = plans([PARENTS], 3, 8.0, 0, 0.0)[0]
    waits = simulate(plan, cylinder(150, MANY, 12.0, pauses=True), free, COLD, WARM)
    shares = simulate(plan, cylinder(150, MANY, 12.0, shared_kw=4.0), free, COLD, WARM)
    gives_up = simulate(plan, cylinder(150, MANY, 12.0, pauses=True, shared_kw=4.0, timeout_min=10.0), free, COLD, WARM)
    assert waits.heating_lost_min > 20.0 and shares.heating_lost_min == 0.0
    assert gives_up.heating_lost_min == pytest.approx(10.0, abs=0.2)


def test_more_reheat_lasts_longer() -> None:
    plan = plans([PARENTS], 7, 8.0, 0, 0.0)[0]
    cold = [simulate(plan, cylinder(150, MANY, kw), free, COLD, WARM).first_short_min for kw in (0.0, 6.0, 12.0)]
    assert cold == sorted(cold) and cold[0] < cold[2]


def test_a_store_of_heating_water_fades() -> None:
    """210 l at 75 C, exchanger made for 18 l/min at 50 C: at 9 l/min it still serves when the store is cooler than that.

    UA = 0.778/0.222 x 18 x 4.187 / 60 = 4.40 kW/K, in litres 4.40 x 60 / 4.187 = 63 l/min. At 9 l/min it must take
    (40-5)/(T-5) x 9 = q 63/(q + 63) with q = 9: 7.875 = 315/(T-5), so T = 45.0 C; at 18 l/min 14 = 630/(T-5), T = 50 C.
    """
    ua = exchanger_kw_k(18.0, 50.0, WARM, COLD)
    assert ua == pytest.approx(4.396, abs=0.001)
    for flow, lowest in ((9.0, 45.0), (18.0, 50.0)):
        store = Store(210, MANY, lowest + 0.05)
        assert HeatingStore(store, ua).serve(5.0, flow, COLD, WARM).mixed_c == pytest.approx(WARM, abs=1e-6)
        store = Store(210, MANY, lowest - 1.0)
        assert HeatingStore(store, ua).serve(5.0, flow, COLD, WARM).mixed_c < WARM
    gentle, strong = (simulate(steady(q, 120.0), HeatingStore(Store(210, MANY, 75.0), ua), free, COLD, WARM) for q in (9.0, 18.0))
    # litres to the first cold minute: slower draws use the store further down
    assert gentle.first_short_min * 9 > strong.first_short_min * 18


def test_heating_store_keeps_its_heat_account() -> None:
    """Heat that leaves the store is the heat the mixed water took: litres x 4.187 x 35 K, while it is warm enough."""
    store = Store(210, MANY, 75.0)
    run = simulate(steady(9.0, 10.0), HeatingStore(store, exchanger_kw_k(18.0, 50.0, WARM, COLD)), free, COLD, WARM)
    assert run.first_short_min is None
    taken = 90.0 * 4.187 * 35.0
    assert store.given_kj - store.brought_kj == pytest.approx(taken, rel=0.005)


def test_a_vessel_helps_until_it_is_empty() -> None:
    """Main 12 l/min, wanted 18, vessel 60 l: 60 / (18 - 12) = 10 min, then short."""
    run = simulate(steady(18.0, 20.0), cylinder(600), lambda w: {n: 12.0 for n in w}, COLD, WARM, reserve=Reserve(60.0, 12.0))
    assert run.first_short_min == pytest.approx(10.0, abs=0.1) and run.curves["shower"].least_l_min == 12.0


def test_an_electric_shower_draws_no_hot_water() -> None:
    """8.72 kW through 35 K: 3.57 l/min."""
    plan = plans([PARENTS, LOFT], 2, 6.0, 0, 0.0)[0]
    run = simulate(plan, Instant(24.0), free, COLD, WARM, {"loft": 8.72})
    assert run.curves["loft"].least_l_min == pytest.approx(3.57, abs=0.005)
    assert run.curves["parents"].first_short_min is None


def test_a_bath_that_never_fills_is_short_and_one_that_fills_slowly_is_slow() -> None:
    """100 l at 4 l/min take 25 min instead of 100/14 = 7.1; at 1 l/min it is not full after an hour: short from its start."""
    plan = plans([BATH], 0, 0.0, 1, 100.0)[0]
    slow, never = (simulate(plan, Instant(24.0), lambda w, q=q: {n: q for n in w}, COLD, WARM) for q in (4.0, 1.0))
    assert slow.first_short_min is None and slow.curves["bath"].slow
    assert slow.curves["bath"].ran_min == pytest.approx(25.0, abs=0.1)
    assert (never.first_short_min, never.curves["bath"].kind) == (pytest.approx(0.0, abs=0.1), "flow")
    assert never.decided is not None and never.decided.by == "pipes"


def test_who_showers_where() -> None:
    both = plans([PARENTS, LOFT, KITCHEN], 5, 6.0, 0, 0.0)[0]
    assert [len(lane) for lane in both.phases[0]] == [3, 2]
    alone = plans([Tap("a", "shower", 8.0, False), Tap("b", "shower", 9.0, False)], 2, 6.0, 0, 0.0)[0]
    assert [d.outlet for d in alone.draws] == ["b", "b"]  # one after another in the strongest
    beside = plans([PARENTS, Tap("bath", "bath", 14.0, True)], 2, 6.0, 1, 100.0)
    assert len(beside) == 1 and len(beside[0].phases[0]) == 2
    with pytest.raises(ValueError, match="no shower is among"):
        plans([BATH], 1, 6.0, 0, 0.0)
    with pytest.raises(ValueError, match="no bath is among"):
        plans([PARENTS], 1, 6.0, 1, 100.0)


@pytest.mark.parametrize("name", [n for n in homes.SURVEYS if n != homes.EMPTY])
def test_halving_the_step_in_every_kind_of_layout_of_the_shipped_homes(name: str) -> None:
    """Each plan, both ends, few and many layers: who falls short stays the same, when moves by less than 2 %."""
    advice = homes.quick(homes.survey(name))
    outlets = sorted(advice.book.of("outlet.kind"))
    short = 0
    for judged in advice.families():
        whole, half = (busy_hour(advice.book, judged.arrangement, outlets, step_s=s) for s in (5.0, 2.5))
        for a, b in zip(whole.cases, half.cases, strict=True):
            # water that turns in the last seconds of the last draw, or just not: then the draw's end is what is compared
            first, again = (min(c.minute, c.run.drawn_until_min) for c in (a, b))
            assert again == pytest.approx(first, rel=0.02), (judged.id, a.layers)
            if math.isfinite(a.minute) == math.isfinite(b.minute):
                assert b.run.first_short_outlet == a.run.first_short_outlet
            short += a.run.first_short_min is not None
    assert short


@pytest.mark.parametrize("layers", [FEW, MANY])
@pytest.mark.parametrize("kw", [0.0, 12.0])
def test_what_comes_out_at_the_taps_went_out_of_the_store(layers: int, kw: float) -> None:
    """Counted at the taps, litres x 35 K x 4.187 kJ while nobody is short; at the store, content before and heat put in less
    content after. Within 0.1 %, in an hour of two showers side by side and a bath.
    """
    plant = cylinder(300, layers, kw)
    before = plant.store.content_kj()
    run = simulate(plans([PARENTS, LOFT, BATH], 4, 6.0, 1, 80.0)[0], plant, free, COLD, WARM)
    assert run.first_short_min is None
    at_taps = sum(c.litres for c in run.curves.values()) * 35 * 4.187
    assert at_taps == pytest.approx(before + plant.store.heated_kj - plant.store.content_kj(), rel=1e-3)
    assert at_taps == pytest.approx((2 * 2 * 6 * 9 + 80) * 35 * 4.187, rel=0.02)
