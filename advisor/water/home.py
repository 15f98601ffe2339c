"""One end of what is known of a home, made ready to run: its taps, what its pipes give, what warms the water."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from advisor.facts import Span, Words
from advisor.water.box import NOT_LISTED, Reader
from advisor.water.busy_hour import Flows, Reserve
from advisor.water.demand import Tap
from advisor.water.gravity import SHARED_MM, by_gravity
from advisor.water.network import House, Outlet, Section, solve
from advisor.water.parts import WeakestOf, fit_supply
from advisor.water.plants import Assisted, HeatingStore, Instant, Plant, Stored, exchanger_kw_k
from advisor.water.store import Heating, Store, coil_kw_per_k

# Common practice, no document: where a coil lies, where its thermostat sits, how far it lets the water cool, how hot
# a boiler's water comes, how far above the set point a heat pump or electric boiler goes.
COIL_COVERS, SENSOR_AT, DIFFERENTIAL_K = 1 / 3, 1 / 3, 5.0
BOILER_FLOW_C, MILD_FLOW_OVER_K = 80.0, 5.0
SIZES_MM = (15.0, 22.0, 28.0, 35.0)
MILD = ("heat pump", "electric boiler")
MAINS, LOFT, OWN, TANK = "mains", "loft cistern", "own cistern", "break tank"


@dataclass(frozen=True, slots=True)
class Home:
    """Everything a run needs but the plan: `plant(layers)` makes a fresh one, and so does `reserve()`."""

    taps: tuple[Tap, ...]
    shower_min: float
    bath_l: float
    cold_c: float
    mixed_c: float
    plant: Callable[[int], Plant]
    flows: Flows
    reserve: Callable[[], Reserve | None]
    electric_kw: Mapping[str, float]
    layered: bool  # whether the number of layers matters
    feed: str  # where its water comes from: "mains", "loft cistern", "own cistern", "break tank"


def home(reader: Reader, outlets: Sequence[str], kind: bool, piped: bool = True) -> Home:
    """The kind or the demanding end of the home with this arrangement in it.

    Parameters
    ----------
    reader : the facts, which gathers what stands against a result
    outlets : entities of the outlets
    kind : True for the end at which the first shortfall comes last
    piped : whether the pipes have a say; else every outlet gets the flow wanted of it

    Returns
    -------
    the home, ready to run

    Raises
    ------
    NotComputed
        If an answer it needs is missing, or is a range that is not one-way; every reason at once.

    Limits
    ------
    Pipes beyond the place where the main was measured are not surveyed and lose nothing here.

    Source
    ------
    The survey; the figures marked common practice above.
    """
    taps = _taps(reader, outlets, kind)
    a = reader.arrangement.id
    store, feed, helper = (str(reader.word(f"arrangement.{n}", a)) for n in ("store", "feed", "helper"))
    if store == "as found":
        store, feed = _as_found(reader)
    cold_c, mixed_c = (reader.span(f"threshold.{n}", asked=False).lo for n in ("winter_cold_c", "mixed_c"))
    flows, reserve = _supply(reader, taps, feed, helper, kind) if piped else (dict, lambda: None)
    plant = _plant(reader, store, kind)
    electric = _electric(reader, taps, helper)
    showers, baths = (reader.span(f"household.{n}").hi > 0 for n in ("busy_showers", "busy_baths"))
    shower_min = reader.end("household.shower_minutes_min", kind, asked=showers or any(t.at_once for t in taps))
    bath_l = reader.end("household.bath_fill_l", kind, asked=baths)
    reader.refuse()
    assert flows is not None
    layered = store not in ("none", "existing instant")
    return Home(taps, shower_min, bath_l, cold_c, mixed_c, plant, flows, reserve, electric, layered, feed)


def _taps(reader: Reader, outlets: Sequence[str], kind: bool) -> tuple[Tap, ...]:
    if list(outlets) == [NOT_LISTED]:
        reader.against("no outlet is listed", "outlets")
        reader.refuse()
    baths = reader.span("household.busy_baths").hi > 0
    found = []
    for o in outlets:
        what = reader.word("outlet.kind", o)
        at_once = reader.word("outlet.at_once", o) == "yes"
        used = what == "shower" or at_once or (what == "bath" and baths)
        found.append(Tap(o, what, reader.end("outlet.flow_l_min", kind, o) if used else 0.0, at_once))
    return tuple(found)


def _as_found(reader: Reader) -> tuple[str, str]:
    what = reader.word("existing.kind")
    if what == "electric cylinder":
        reader.against("the power of the electric heater that is there is not part of the survey")
    if what == "none":
        reader.against("nothing makes hot water today")
    return {"combination boiler": ("existing instant", MAINS),
            "boiler with unvented cylinder": ("existing cylinder", MAINS)}.get(what, ("existing cylinder", LOFT))


# ---------------------------------------------------------------- what the pipes give

def _supply(reader: Reader, taps: Sequence[Tap], feed: str, helper: str,
            kind: bool) -> tuple[Flows | None, Callable[[], Reserve | None]]:
    def nothing() -> None:
        return None

    if feed in (LOFT, OWN):
        head = (reader.end("cistern.head_m", kind) if feed == LOFT
                else reader.span("threshold.own_cistern_head_m", asked=False).lo)
        pumped = reader.span("threshold.pumped_shower_l_min", asked=False).lo if helper == "shower pump" else 0.0
        size = _cistern_pipe(reader, kind) if feed == LOFT else SHARED_MM
        return _gravity(taps, head, pumped, size), nothing
    if feed == TANK:
        most = reader.span("threshold.booster_l_min", asked=False).lo

        def boosted(wanted: Mapping[str, float]) -> Mapping[str, float]:
            part = min(1.0, most / sum(wanted.values()))
            return {n: part * q for n, q in wanted.items()}

        return boosted, nothing
    useful = reader.end("supply.useful_bar", kind)
    source = _main(reader, kind)
    if source is None:
        return None, nothing
    if helper == "mains accumulator":
        litres = reader.span("accumulator.usable_l", asked=False)
        usable = litres.hi if kind else litres.lo
        if not math.isfinite(usable):
            reader.against("what the accumulator holds between its pressures cannot be told", "water.static_pressure")
        gives = _flow_at(source, useful)
        return _mains(reader, source, useful), lambda: Reserve(max(0.0, usable), gives)
    return _mains(reader, source, useful), nothing


def _cistern_pipe(reader: Reader, kind: bool) -> float:
    """The tabulated size at this end of what is known of the pipe below the cistern [mm]; unknown: the whole range."""
    size = reader.end("cistern.pipe_mm", kind, asked=False)
    if kind:
        return next((s for s in SIZES_MM if s >= size), SIZES_MM[-1])
    return next((s for s in reversed(SIZES_MM) if s <= size), SIZES_MM[0])


def _main(reader: Reader, kind: bool) -> WeakestOf | None:
    """The main's curve at every corner of its readings; the weakest (or strongest) of them at each flow."""
    static, flow, left = (reader.span(f"water.{n}") for n in ("static_pressure_bar", "flow_l_min",
                                                             "flow_pressure_bar"))
    if reader.reasons:
        return None
    share = _share(reader, kind)
    fits = []
    for s, q, p in itertools.product(*((x.lo, x.hi) for x in (static, flow, left))):
        if p < s:
            fits.append(fit_supply(s, [(q * share, p)]))
    if not fits:
        reader.against("the pressure left while the main ran is not below the pressure with nothing running",
                       "water.flow_pressure")
        return None
    return WeakestOf("the main", tuple(f.supply for f in fits), best=kind)


def _share(reader: Reader, kind: bool) -> float:
    """What is left of a measured flow at the busy time and beside a neighbour, at this end."""
    share = 1.0
    for name, word, threshold in (("water.tested_at", "quiet time", "threshold.quiet_share"),
                                  ("water.shared", "yes", "threshold.shared_share")):
        fact, part = reader.fact(name), reader.span(threshold, asked=False)
        words = fact.value.words if isinstance(fact.value, Words) else frozenset()
        cut = part.hi if kind else part.lo
        ends = ([cut] if word in words else []) + ([1.0] if words - {word} else [])
        share *= max(ends) if kind else min(ends)
    return share


def _flow_at(source: WeakestOf, bar: float) -> float:
    """Flow the main gives at a pressure [l/min], by halving."""
    low, high = 0.0, max(s.furthest_l_min for s in source.supplies)
    for _ in range(50):
        mid = (low + high) / 2
        low, high = (mid, high) if source.bar(mid) > bar else (low, mid)
    return low


def _mains(reader: Reader, source: WeakestOf, useful_bar: float) -> Flows:
    """Each outlet passes what is wanted of it at the useful pressure, and less below it; the user opens it no more."""
    def flows(wanted: Mapping[str, float]) -> Mapping[str, float]:
        house = House((source,), (Section("house", source.name),),
                      tuple(Outlet(n, q / math.sqrt(useful_bar), "house", at_most=q) for n, q in wanted.items()))
        found = solve(house, wanted)
        if found.beyond:
            reader.against("the main would have to give more than 1.5 times the flow it was measured at; measure it at "
                           "a lower pressure", "water.flow")
            reader.refuse()
        return found.flows

    return flows


def _gravity(taps: Sequence[Tap], head_m: float, pumped_l_min: float, size_mm: float) -> Flows:
    """A cistern through the pipe behind the closed formula; outlets made for low pressure; a pump for the showers."""
    kinds = {t.name: t.kind for t in taps}

    def flows(wanted: Mapping[str, float]) -> Mapping[str, float]:
        pumped = {n: min(q, pumped_l_min) for n, q in wanted.items() if pumped_l_min and kinds[n] == "shower"}
        others = {n: q for n, q in wanted.items() if n not in pumped}
        return pumped | dict(by_gravity(head_m, others, size_mm)) if others else pumped

    return flows


# ---------------------------------------------------------------- what warms the water

def _plant(reader: Reader, store: str, kind: bool) -> Callable[[int], Plant]:
    a, source = reader.arrangement, reader.arrangement.source
    set_c = reader.span("threshold.store_c", asked=False).lo
    if store.startswith("existing"):
        return _existing(reader, store, set_c, kind)
    power = reader.span("source.hot_kw", source).lo
    if store == "none":
        return lambda layers: Instant(power)
    litres = reader.span("store.litres_l", a.id).lo
    if store == "built-in":  # makers either warm the draw on its way and top it up from the store, or heat its bottom
        if kind:
            return lambda layers: Assisted(Store(litres, layers, set_c, Heating(power, set_c)), power)
        return lambda layers: Stored(Store(litres, layers, set_c, Heating(power, set_c)), pauses=True)
    if ("store.coil_return", "source.heating_return") not in a.links:
        return lambda layers: Stored(Store(litres, layers, set_c, _element(power, set_c)))
    of_heating = store == "heating store"
    set_c = reader.span("threshold.heating_store_c", asked=False).lo if of_heating else set_c
    mild = str(reader.word("arrangement.source_kind", a.id)) in MILD
    heating = Heating(power, set_c, set_c + MILD_FLOW_OVER_K if mild else BOILER_FLOW_C,
                      coil_kw_per_k(reader.span("store.coil_kw", a.id).lo), COIL_COVERS, SENSOR_AT, DIFFERENTIAL_K)
    pauses = reader.word("arrangement.pauses_heating", a.id) == "yes"
    shared = None
    if not pauses and not kind:  # the heating calls, and takes the heat the home loses on a cold day first
        shared = max(0.0, power - reader.end("heating.heat_loss_kw", kind, asked=False))
    if not of_heating:
        return lambda layers: Stored(Store(litres, layers, set_c, heating), pauses, shared)
    lowest, mixed, cold, flow = (reader.span(f"threshold.{n}", asked=False).lo for n in (
        "heating_store_lowest_c", "mixed_c", "winter_cold_c", "heating_store_flow_l_min"))
    ua = exchanger_kw_k(flow, lowest, mixed, cold)
    return lambda layers: HeatingStore(Store(litres, layers, set_c, heating), ua, pauses=pauses, shared_kw=shared)


def plant_of(reader: Reader, kind: bool) -> Callable[[int], Plant]:
    """What warms the water, alone; `reader.refuse` says what stands against it."""
    store = str(reader.word("arrangement.store", reader.arrangement.id))
    if store == "as found":
        store, _ = _as_found(reader)
        reader.refuse()
    return _plant(reader, store, kind)


def _element(power: float, set_c: float) -> Heating:
    return Heating(power, set_c, sensor=SENSOR_AT, differential_k=DIFFERENTIAL_K)


def _existing(reader: Reader, store: str, set_c: float, kind: bool) -> Callable[[int], Plant]:
    power = reader.end("existing.boiler_power_kw", kind)
    if store == "existing instant":
        return lambda layers: Instant(power)
    litres = reader.end("existing.cylinder_l", kind)
    if litres <= 0:
        reader.against("the present cylinder's size is 0 litres", "existing.cylinder")
    heating = _element(power, set_c) if kind else None  # its coil is not surveyed: anything from nothing to the boiler
    return lambda layers: Stored(Store(litres, layers, set_c, heating))


def _electric(reader: Reader, taps: Sequence[Tap], helper: str) -> dict[str, float]:
    """The electric shower stands in the second bathroom: the weakest of the showers wanted at once, or of all."""
    if helper != "electric shower":
        return {}
    showers = [t for t in taps if t.kind == "shower" and t.at_once] or [t for t in taps if t.kind == "shower"]
    power = reader.span("threshold.electric_shower_kw", asked=False)
    return {min(showers, key=lambda t: (t.l_min, t.name)).name: power.lo} if showers and isinstance(power, Span) else {}
