"""One end of what is known of a home, made ready to run: its taps, what its pipes give, what warms the water."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from advisor.facts import Span
from advisor.water.box import NOT_LISTED, Reader
from advisor.water.busy_hour import Flows, Reserve
from advisor.water.demand import Tap
from advisor.water.piped import LOFT, MAINS, Houses, Pipes, pipes
from advisor.water.plants import Assisted, HeatingStore, Instant, Plant, Stored, exchanger_kw_k
from advisor.water.store import Heating, Store, coil_kw_per_k

# Common practice, no document: where a coil lies, where its thermostat sits, how far it lets the water cool, how hot
# a boiler's water comes, how far above the set point a heat pump or electric boiler goes.
COIL_COVERS, SENSOR_AT, DIFFERENTIAL_K = 1 / 3, 1 / 3, 5.0
BOILER_FLOW_C, MILD_FLOW_OVER_K = 80.0, 5.0
MILD = ("heat pump", "electric boiler")


@dataclass(frozen=True, slots=True)
class Home:
    """Everything a run needs but the plan: `plant(layers)` makes a fresh one, and so does `reserve()`.

    flows, most : the least and the most each outlet gets of what it wants, whichever end this home is
    worst_pipes : the network worst for one outlet, where there is a main
    """

    taps: tuple[Tap, ...]
    shower_min: float
    bath_l: float
    cold_c: float
    mixed_c: float
    plant: Callable[[int], Plant]
    flows: Flows
    most: Flows
    worst_pipes: Houses | None
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
    Pipes beyond the place where the main was measured are not surveyed and lose nothing here; what a mains-fed layout
    itself puts in the water's way does (`fittings`).

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
    electric = _electric(reader, taps, helper)
    given = (pipes(reader, taps, store, feed, helper, frozenset(electric), kind) if piped
             else Pipes(dict, dict, lambda: None))
    plant = _plant(reader, store, kind)
    showers, baths = (reader.span(f"household.{n}").hi > 0 for n in ("busy_showers", "busy_baths"))
    shower_min = reader.end("household.shower_minutes_min", kind, asked=showers or any(t.at_once for t in taps))
    bath_l = reader.end("household.bath_fill_l", kind, asked=baths)
    reader.refuse()
    assert given is not None
    layered = store not in ("none", "existing instant")
    return Home(taps, shower_min, bath_l, cold_c, mixed_c, plant, given.least, given.most, given.worst, given.reserve,
                electric, layered, feed)


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
