"""A day of the European load profiles M, L and XL, or a week of the household's own draw-offs as generated: which draws

are served hot enough, and what they cost in heat.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import mean
from typing import TYPE_CHECKING

from advisor import tables
from advisor.calc.constants import WATER_KJ_KG_K
from advisor.calc.standing import CLASSES, loss_limit
from advisor.facts import Span, Words
from advisor.water.box import NotComputed, Reader
from advisor.water.busy_hour import FLOW_SHORT
from advisor.water.home import plant_of
from advisor.water.household import Count, DrawOff, Habits, generate, habits, statistics
from advisor.water.plants import Plant, Stored
from advisor.water.store import FEW, MANY, SECONDS_A_MINUTE

if TYPE_CHECKING:
    from advisor.facts import FactBook
    from advisor.records import Arrangement

PROFILES = tables.load("load_profiles")
NAMES = ("M", "L", "XL")
OWN, WEEK, YEAR = "own", 7, 365
DAY_MIN = 24 * 60.0
COLD_C, MIXED_C = 10.0, 40.0  # the profiles' own cold water; water without a peak is drawn as a shower is
STEP_S, REST_S = 5.0, 60.0
GIVE_UP_MIN = 30.0  # a draw that still lacks heat then is missed
LOSS_CLASS, LOSS_TEST_K = "C", 45.0  # poorest class that may be sold new, from memory; its test's difference
KJ_PER_KWH = 3600.0
CLOSE_C = 0.05


@dataclass(frozen=True, slots=True)
class Missed:
    """A draw that was not served: when, what of its heat came, how warm it got at best or stayed at worst."""

    minute: float
    wanted_kwh: float
    got_kwh: float
    coldest_c: float
    asked_c: float


@dataclass(frozen=True, slots=True)
class Wanted:
    """One draw: when, how much heat, at which flow; water is drawn at `target_c` and counts from `least_c` on."""

    minute: float
    kwh: float
    l_min: float
    target_c: float
    least_c: float


@dataclass(frozen=True)
class Day:
    """One day: heat wanted, delivered, put in and lost [kWh], the draws missed, and how many came slower than asked."""

    profile: str
    layers: int
    wanted_kwh: float
    delivered_kwh: float
    heated_kwh: float | None  # None where nothing is stored
    lost_kwh: float
    heating_lost_min: float
    missed: tuple[Missed, ...]
    slow: int = 0
    days: int = 1


def simulate_day(plant: Plant, profile: str, layers: int) -> Day:
    """Run one profile through a plant, midnight to midnight.

    Parameters
    ----------
    plant : what makes the hot water, hot through at midnight; it is used up
    profile : M, L or XL
    layers : kept with the result

    Returns
    -------
    the day

    Raises
    ------
    ValueError
        If there is no such profile.

    Limits
    ------
    Heat only: the pipes give every flow. The profiles use cold water of 10 C, not a winter's.

    Source
    ------
    Commission Regulation (EU) 814/2013, Annex III, as reprinted; its temperatures from memory.
    """
    rows = [r for r in PROFILES.rows if r["profile"] == profile]
    if not rows:
        raise ValueError(f"{profile}: no such profile. Allowed: {', '.join(NAMES)}.")
    wanted = [Wanted(r["minute"], r["kwh"], r["l_min"], r["peak_c"] or max(MIXED_C, r["least_c"]),
                     r["peak_c"] or r["least_c"]) for r in rows]
    return simulate_draws(plant, wanted, profile, layers)


def simulate_draws(plant: Plant, wanted: Sequence[Wanted], profile: str, layers: int, days: int = 1) -> Day:
    """Run draws through a plant from midnight to midnight, for one day or several without a break.

    Parameters
    ----------
    plant : what makes the hot water, hot through at the first midnight; it is used up
    wanted : the draws by the clock of the first day; draws that overlap follow each other
    profile : what they are called
    layers : kept with the result
    days : how many [-]

    Returns
    -------
    the day, or all the days as one

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Heat only: the pipes give every flow.
    """
    store = plant.store if isinstance(plant, Stored) else None
    minute, delivered, slow, missed = 0.0, 0.0, 0, []
    for draw in wanted:
        started = _rest(plant, minute, draw.minute)
        minute, got, coldest, least_l_min = _draw(plant, draw, started)
        delivered += min(got, draw.kwh)
        slow += least_l_min < FLOW_SHORT * draw.l_min
        if got < draw.kwh - 1e-9:
            missed.append(Missed(started, draw.kwh, got, coldest, draw.least_c))
    _rest(plant, minute, days * DAY_MIN)
    return Day(profile, layers, sum(w.kwh for w in wanted), delivered,
               store.heated_kj / KJ_PER_KWH if store else None, store.lost_kj / KJ_PER_KWH if store else 0.0,
               plant.heating_lost_min, tuple(missed), slow, days)


def _draw(plant: Plant, draw: Wanted, minute: float) -> tuple[float, float, float, float]:
    """One draw until its heat has come or it is given up: its end, heat [kWh], coldest [C], least flow [l/min]."""
    until, got, coldest, least_l_min = minute + GIVE_UP_MIN, 0.0, draw.target_c, draw.l_min
    while got < draw.kwh - 1e-9 and minute < until:
        given = plant.serve(STEP_S, draw.l_min, COLD_C, draw.target_c)
        minute += STEP_S / SECONDS_A_MINUTE
        coldest, least_l_min = min(coldest, given.mixed_c), min(least_l_min, given.l_min)
        if given.mixed_c >= draw.least_c - CLOSE_C:
            litres = given.l_min * STEP_S / SECONDS_A_MINUTE
            got += litres * WATER_KJ_KG_K * (given.mixed_c - COLD_C) / KJ_PER_KWH
    return minute, got, coldest, least_l_min


def _rest(plant: Plant, minute: float, until: float) -> float:
    while minute < until - 1e-9:
        step = min(REST_S / SECONDS_A_MINUTE, until - minute)
        plant.serve(step * SECONDS_A_MINUTE, 0.0, COLD_C, MIXED_C)
        minute += step
    return max(minute, until)


Days = tuple[Sequence[Day], tuple[str, ...]]  # at both ends with few and many layers, or the reasons for none


def day(book: FactBook, arrangement: Arrangement, profile: str) -> Days:
    """The day of one arrangement at both ends of what is known, with few and many layers; or the reasons for none."""
    return _both_ends(Reader(book, arrangement),
                      lambda _kind: lambda plant, layers: simulate_day(plant, profile, layers))


def own_week(book: FactBook, arrangement: Arrangement, outlets: Sequence[str], seed: int) -> Days:
    """A week of the household's own draw-offs, as generated, through one arrangement; both ends as of `day`."""
    reader = Reader(book, arrangement)

    def run(kind: bool) -> Callable[[Plant, int], Day]:
        days = week(own_habits(reader, outlets, kind), seed)
        wanted = [Wanted(n * DAY_MIN + d.minute, d.litres * WATER_KJ_KG_K * (MIXED_C - COLD_C) / KJ_PER_KWH, d.l_min,
                         MIXED_C, MIXED_C) for n, drawn in enumerate(days) for d in drawn]
        return lambda plant, layers: simulate_draws(plant, wanted, OWN, layers, len(days))

    return _both_ends(reader, run)


def week(household: Habits, seed: int) -> tuple[tuple[DrawOff, ...], ...]:
    """Seven generated days, the first by this seed, the others by those that follow it."""
    return tuple(generate(household, seed * WEEK + n) for n in range(WEEK))


def counted(book: FactBook, arrangement: Arrangement, outlets: Sequence[str]) -> tuple[Count, ...]:
    """The statistics of a year of the household's own days, at the demanding end, beside what was measured."""
    household = own_habits(Reader(book, arrangement), outlets, False)
    return statistics([generate(household, n) for n in range(YEAR)], household.people)


def own_habits(reader: Reader, outlets: Sequence[str], kind: bool) -> Habits:
    """The household's own answers at one end of what is known; the people must be known, the rest is as measured.

    Raises
    ------
    NotComputed
        If the number of people is not known.
    """
    people = reader.span("household.people")
    if not people.single or people.lo < 1:
        reader.against("how many people live in the home is not known to one", "household.people")
    reader.refuse()
    flow = {use: [f for o in outlets if _is(reader, o, use) and (f := _end(reader, "outlet.flow_l_min", kind, o))]
            for use in ("shower", "bath")}
    return habits(round(people.lo), _end(reader, "household.shower_minutes_min", kind),
                  mean(flow["shower"]) if flow["shower"] else None, _end(reader, "household.bath_fill_l", kind),
                  mean(flow["bath"]) if flow["bath"] else None)


def _is(reader: Reader, outlet: str, use: str) -> bool:
    what = reader.book.about("outlet.kind", outlet)
    return what is not None and isinstance(what.value, Words) and what.value.words == {use}


def _end(reader: Reader, name: str, kind: bool, entity: str = "site") -> float | None:
    """The kind (lesser) or the demanding end of an answer; None where there is none."""
    fact = reader.book.about(name, entity)
    if fact is None or fact.how == "default" or not isinstance(fact.value, Span):
        return None
    found = fact.value.lo if kind else fact.value.hi
    return found if math.isfinite(found) and found > 0 else None


def _both_ends(reader: Reader, run: Callable[[bool], Callable[[Plant, int], Day]]) -> Days:
    found = []
    try:
        for kind in (False, True):
            make = plant_of(reader, kind)
            reader.refuse()
            through = run(kind)
            for layers in (FEW, MANY):
                found.append(through(_ready(reader, make(layers)), layers))
    except NotComputed as refused:
        return (), tuple(refused.reasons)
    return tuple(found), ()


def _ready(reader: Reader, plant: Plant) -> Plant:
    """The plant with its standing loss; refused where its coil is not known."""
    if isinstance(plant, Stored) and plant.store.heating is None:
        reader.against("the coil of the present cylinder is not part of the survey, and a day turns on it")
        reader.refuse()
    if isinstance(plant, Stored):
        figures = CLASSES.row(**{"class": LOSS_CLASS})
        watts = loss_limit(plant.store.litres, figures["a_w"], figures["b_w"])
        plant.store.loss_kw_k = watts / LOSS_TEST_K / 1000
    return plant
