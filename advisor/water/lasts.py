"""Does the hot water last? The busy hour with pipes that give all that is wanted, for the facts that rules compare.

What the pipes give is judged apart (`outlet_flow`); here only heat and store
have a say, so the answer rests on the household and the layout alone, is the
same wherever the cylinder stands, and a main nobody has measured yet does not
keep it open.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from advisor.calc.demand import HOUR_MIN
from advisor.facts import Span
from advisor.water.box import Facts, NotComputed, Reader
from advisor.water.busy_hour import LONGEST_MIN, first_cold
from advisor.water.demand import Plan, plans
from advisor.water.home import Home, home
from advisor.water.store import FEW, MANY

if TYPE_CHECKING:
    from advisor.records import Arrangement

MOST_COUNTS = 6  # of showers and baths tried one by one; beyond it the bounds are kept
MOST_KEPT = 4096  # answers remembered: a few numbers each


@dataclass(frozen=True, slots=True)
class Lasts:
    """Minutes until the water first comes out too cold, and until the last draw ends.

    Never is 60 where the draws end within the hour, else three hours, or their end if that is later still.
    """

    short: Span
    until: float
    used: frozenset[str]  # keys of the facts it was made from


@dataclass(frozen=True)
class _Question:
    """Two homes and what may be asked of them; equal where `about` is equal, whatever made them."""

    about: tuple[Any, ...]
    homes: tuple[Home, ...]
    counts: tuple[tuple[int, int], ...]

    def __hash__(self) -> int:
        return hash(self.about)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Question) and self.about == other.about


HOUSEHOLD = ("household.busy_showers", "household.busy_baths", "household.shower_minutes_min", "household.bath_fill_l")
LIMITS = ("winter_cold_c", "mixed_c", "store_c", "electric_shower_kw", "heating_store_c", "heating_store_lowest_c",
          "heating_store_flow_l_min")
EXISTING = ("existing.kind", "existing.boiler_power_kw", "existing.cylinder_l")
WORDS = ("store", "feed", "helper")


def reads(a: Arrangement, store: str, pauses: bool, outlets: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """(name, entity) of every fact `lasts` may read of an arrangement with such a store.

    Where the heating waits for the hot water, what the home loses does not matter.
    """
    read = [(n, "site") for n in (*HOUSEHOLD, *(f"threshold.{n}" for n in LIMITS))]
    read += [(f"outlet.{n}", o) for o in outlets for n in ("kind", "at_once", "flow_l_min")]
    read += [(f"arrangement.{n}", a.id) for n in WORDS]
    if store == "as found":
        return (*read, *((n, "site") for n in EXISTING))
    read += [("store.litres_l", a.id), ("source.hot_kw", a.source)]
    if ("store.coil_return", "source.heating_return") in a.links:
        read += [("store.coil_kw", a.id), ("arrangement.source_kind", a.id), ("arrangement.pauses_heating", a.id)]
        read += [] if pauses else [("heating.heat_loss_kw", "site")]
    return tuple(read)


def lasts(book: Facts, arrangement: Arrangement, outlets: Sequence[str]) -> Lasts | None:
    """Simulate the busiest hour of one arrangement at the flows wanted, both ends of what is known.

    Parameters
    ----------
    book : the facts
    arrangement : the layout, with a store in it
    outlets : entities of the outlets

    Returns
    -------
    the answer; None where an answer it needs is missing or ranges in a way that is not one-way

    Raises
    ------
    Raises nothing of its own.

    Limits
    ------
    See `busy_hour.simulate`; a draw that the heat cannot follow at all counts as too cold from its first minute.

    Source
    ------
    The models of this package, held against independent engines.
    """
    reader = Reader(book, arrangement)
    try:
        counts = tuple(reader.counts())
        homes = tuple(home(reader, outlets, kind, piped=False) for kind in (False, True))
        reader.no_bath_trouble(any(t.kind == "bath" and t.at_once for t in homes[0].taps))
        if len(counts) > MOST_COUNTS:
            reader.against("showers and baths range too widely to try each number", "household.busy_showers")
        reader.refuse()
        if not homes[0].layered:
            return None
        short, until = _asked(_Question(_about(reader), homes, counts))
    except (NotComputed, ValueError):
        return None
    return Lasts(Span(*short), until, frozenset(reader.used))


def _about(reader: Reader) -> tuple[Any, ...]:
    """All that the answer rests on; the arrangement's own name is left out, so that equal layouts share an answer."""
    own = (reader.arrangement.id, reader.arrangement.source)
    facts = sorted((f.name, "" if f.entity in own else f.entity, f.how == "default", str(f.value))
                   for f in reader.used.values())
    return (tuple(facts), ("store.coil_return", "source.heating_return") in reader.arrangement.links)


@lru_cache(maxsize=MOST_KEPT)
def _asked(question: _Question) -> tuple[tuple[float, float], float]:
    """Earliest minute at the demanding end, latest at the kind one, each with few and with many layers."""
    demanding, kind = question.homes
    until = max((_ends(plan) for plan in _plans(demanding, question.counts)), default=0.0)
    never = HOUR_MIN if until <= HOUR_MIN else max(LONGEST_MIN, until)
    earliest = min(_minutes(demanding, question.counts, never), default=never)
    if earliest == never:  # then the kinder ones last too
        return (never, never), until
    latest = 0.0
    for minute in _minutes(kind, question.counts, never):
        latest = max(latest, minute)
        if latest == never:
            break
    return (earliest, latest), until


def _plans(h: Home, counts: Sequence[tuple[int, int]]) -> Iterator[Plan]:
    for showers, baths in counts:
        yield from plans(h.taps, showers, h.shower_min, baths, h.bath_l)


def _minutes(h: Home, counts: Sequence[tuple[int, int]], never: float) -> Iterator[float]:
    for layers, plan in itertools.product((FEW, MANY), tuple(_plans(h, counts))):
        cold = first_cold(plan, h.plant(layers), h.flows, h.cold_c, h.mixed_c, h.electric_kw)
        yield never if cold is None else cold


def _ends(plan: Plan) -> float:
    """When the last draw ends with every flow as wanted [min]."""
    return sum(max(sum(d.litres / d.l_min if d.litres else d.minutes for d in lane) for lane in phase)
               for phase in plan.phases)
