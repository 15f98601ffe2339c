"""Does the hot water last? The busy hour with pipes that give all that is wanted, for the facts that rules compare.

What the pipes give is judged apart (`outlet_flow`); here only heat and store
have a say, so the answer rests on the household and the layout alone, is the
same wherever the cylinder stands, and a main nobody has measured yet does not
keep it open.
"""

from __future__ import annotations

import itertools
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor.calc.demand import HOUR_MIN
from advisor.facts import Span, key_of
from advisor.water.box import Facts, NotComputed, Reader
from advisor.water.busy_hour import LONGEST_MIN
from advisor.water.cold import Drawn
from advisor.water.demand import Plan, plans
from advisor.water.home import Home, home
from advisor.water.store import FEW, MANY

if TYPE_CHECKING:
    from advisor.records import Arrangement

Ref = tuple[str, str]  # fact name, entity
MOST_COUNTS = 6  # of showers and baths tried one by one; beyond it the bounds are kept
MOST_KEPT = 20_000  # answers remembered: a few numbers each, and what they rest on
COIL_ON_HEATING = ("store.coil_return", "source.heating_return")


@dataclass(frozen=True, slots=True)
class Lasts:
    """Minutes until the water first comes out too cold, and until the last draw ends; `together`: with one shower each.

    Never is 60 where the draws end within the hour, else three hours, or their end if that is later still.
    """

    short: Span
    until: float
    together: Span


_known: dict[Hashable, Lasts | None] = {}

HOUSEHOLD = ("household.busy_showers", "household.busy_baths", "household.shower_minutes_min", "household.bath_fill_l")
LIMITS = ("winter_cold_c", "mixed_c", "store_c")
OF_HEATING = ("heating_store_c", "heating_store_lowest_c", "heating_store_flow_l_min")  # a store of heating water
OF_ELECTRIC = ("electric_shower_kw",)  # an electric shower beside it
EXISTING = ("existing.kind", "existing.boiler_power_kw", "existing.cylinder_l")
WORDS = ("store", "feed", "helper")


def reads(a: Arrangement, store: str, helper: str, pauses: bool, outlets: Sequence[str]) -> tuple[Ref, ...]:
    """(name, entity) of every fact `lasts` may read of an arrangement with such a store and such a helper.

    Where the heating waits for the hot water, what the home loses does not matter.
    """
    limits = (*LIMITS, *(OF_HEATING if store == "heating store" else ()),
              *(OF_ELECTRIC if helper == "electric shower" else ()))
    read = [(n, "site") for n in (*HOUSEHOLD, *(f"threshold.{n}" for n in limits))]
    read += [(f"outlet.{n}", o) for o in outlets for n in ("kind", "at_once", "flow_l_min")]
    read += [(f"arrangement.{n}", a.id) for n in WORDS]
    if store == "as found":
        return (*read, *((n, "site") for n in EXISTING))
    read += [("store.litres_l", a.id), ("source.hot_kw", a.source)]
    if COIL_ON_HEATING in a.links:
        read += [("store.coil_kw", a.id), ("arrangement.source_kind", a.id), ("arrangement.pauses_heating", a.id)]
        read += [] if pauses else [("heating.heat_loss_kw", "site")]
    return tuple(read)


def lasts(book: Facts, arrangement: Arrangement, outlets: Sequence[str], read: Sequence[Ref] = ()) -> Lasts | None:
    """Simulate the busiest hour of one arrangement at the flows wanted, both ends of what is known.

    Parameters
    ----------
    book : the facts
    arrangement : the layout, with a store in it
    outlets : entities of the outlets
    read : (name, entity) of every fact it may read, as `reads` names them; worked out where none are given

    Returns
    -------
    the answer; None where an answer it needs is missing or ranges in a way that is not one-way

    Raises
    ------
    AssertionError
        If it read a fact that `read` does not name: the answer is remembered by what that names.

    Limits
    ------
    See `busy_hour.simulate`; a draw that the heat cannot follow at all counts as too cold from its first minute.

    Source
    ------
    The models of this package, held against independent engines.
    """
    read = read or _reads_of(book, arrangement, outlets)
    key = _key(book, arrangement, read)
    if key not in _known:
        if len(_known) >= MOST_KEPT:
            _known.clear()
        _known[key] = _simulated(book, arrangement, outlets, frozenset(key_of(*ref) for ref in read))
    return _known[key]


def _reads_of(book: Facts, a: Arrangement, outlets: Sequence[str]) -> tuple[Ref, ...]:
    reader = Reader(book, a)
    store, helper, pauses = (reader.word(f"arrangement.{n}", a.id) for n in ("store", "helper", "pauses_heating"))
    return reads(a, store, helper, pauses == "yes", outlets)


def _key(book: Facts, a: Arrangement, read: Sequence[Ref]) -> Hashable:
    """What is known of all an answer may read; the arrangement's own name is left out, so equal layouts share one."""
    own = {a.id: "it", a.source: "its source"}
    known = [(name, own.get(entity, entity), fact.value, fact.how == "default")
             for name, entity in read if (fact := book.about(name, entity)) is not None]
    return tuple(known), COIL_ON_HEATING in a.links


def _simulated(book: Facts, arrangement: Arrangement, outlets: Sequence[str], read: frozenset[str]) -> Lasts | None:
    reader = Reader(book, arrangement)
    try:
        counts = tuple(reader.counts())
        homes = tuple(home(reader, outlets, kind, piped=False) for kind in (False, True))
        reader.no_bath_trouble(any(t.kind == "bath" and t.at_once for t in homes[0].taps))
        if len(counts) > MOST_COUNTS:
            reader.against("showers and baths range too widely to try each number", "household.busy_showers")
        reader.refuse()
        found = _lasts(*homes, counts) if homes[0].layered else None
    except (NotComputed, ValueError):
        found = None
    if undeclared := reader.used.keys() - read:
        raise AssertionError(f"the busy hour of {arrangement.id} read what it does not name: {sorted(undeclared)}")
    return found


def _lasts(demanding: Home, kind: Home, counts: Sequence[tuple[int, int]]) -> Lasts:
    hour = _both_ends(demanding, kind, _plans(demanding, counts), _plans(kind, counts))
    together, _ = _both_ends(demanding, kind, _plans(demanding, (_once(demanding),)), _plans(kind, (_once(kind),)))
    return Lasts(*hour, together)


def _once(h: Home) -> tuple[int, int]:
    """Showers and baths where everything wanted at once runs together, each for the length of one shower."""
    showers = sum(t.kind == "shower" and t.at_once for t in h.taps) or any(t.kind == "shower" for t in h.taps)
    return int(showers), int(any(t.kind == "bath" and t.at_once for t in h.taps))


def _both_ends(demanding: Home, kind: Home, hard: Sequence[Plan], easy: Sequence[Plan]) -> tuple[Span, float]:
    """Earliest minute at the demanding end, latest at the kind one, each with few and with many layers."""
    until = max(map(_ends, hard), default=0.0)
    never = HOUR_MIN if until <= HOUR_MIN else max(LONGEST_MIN, until)
    earliest, latest = never, 0.0
    for drawn, layers, plan in _runs(demanding, hard[::-1]):  # the hardest first: others need look no farther
        cold = drawn.first_cold(plan, layers, earliest)
        earliest = earliest if cold is None else min(earliest, cold)
    if earliest == never:  # then the kinder ones last too
        return Span(never, never), until
    for drawn, layers, plan in _runs(kind, easy):
        cold = drawn.first_cold(plan, layers)
        latest = never if cold is None else max(latest, cold)
        if latest == never:
            break
    return Span(earliest, latest), until


def _plans(h: Home, counts: Sequence[tuple[int, int]]) -> tuple[Plan, ...]:
    return tuple(p for showers, baths in counts for p in plans(h.taps, showers, h.shower_min, baths, h.bath_l))


def _runs(h: Home, drawn_up: tuple[Plan, ...]) -> Iterator[tuple[Drawn, int, Plan]]:
    return itertools.product((Drawn(h.plant, h.cold_c, h.mixed_c, h.electric_kw),), (FEW, MANY), drawn_up)


def _ends(plan: Plan) -> float:
    """When the last draw ends with every flow as wanted [min]."""
    return sum(max(sum(d.litres / d.l_min if d.litres else d.minutes for d in lane) for lane in phase)
               for phase in plan.phases)


def forget() -> None:
    """Start afresh (for tests and measurements)."""
    _known.clear()
