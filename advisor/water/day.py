"""A day of the European load profiles M, L and XL: which draws are served hot enough, and what they cost in heat."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from advisor import tables
from advisor.calc.constants import WATER_KJ_KG_K
from advisor.calc.standing import CLASSES, loss_limit
from advisor.water.box import NotComputed, Reader
from advisor.water.home import plant_of
from advisor.water.plants import Plant, Stored
from advisor.water.store import FEW, MANY, SECONDS_A_MINUTE

if TYPE_CHECKING:
    from advisor.facts import FactBook
    from advisor.records import Arrangement

PROFILES = tables.load("load_profiles")
NAMES = ("M", "L", "XL")
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


@dataclass(frozen=True)
class Day:
    """One day: heat wanted, delivered, put in and lost [kWh], and the draws missed."""

    profile: str
    layers: int
    wanted_kwh: float
    delivered_kwh: float
    heated_kwh: float | None  # None where nothing is stored
    lost_kwh: float
    heating_lost_min: float
    missed: tuple[Missed, ...]


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
    Commission Regulation (EU) 814/2013, Annex III, from memory; its totals add up.
    """
    rows = [r for r in PROFILES.rows if r["profile"] == profile]
    if not rows:
        raise ValueError(f"{profile}: no such profile. Allowed: {', '.join(NAMES)}.")
    store = plant.store if isinstance(plant, Stored) else None
    minute, delivered, missed = 0.0, 0.0, []
    for row in rows:
        minute = _rest(plant, minute, row["minute"])
        target = row["peak_c"] or max(MIXED_C, row["least_c"])
        least = row["peak_c"] or row["least_c"]
        started, got, coldest = minute, 0.0, target
        while got < row["kwh"] - 1e-9 and minute < started + GIVE_UP_MIN:
            given = plant.serve(STEP_S, row["l_min"], COLD_C, target)
            minute += STEP_S / SECONDS_A_MINUTE
            coldest = min(coldest, given.mixed_c)
            if given.mixed_c >= least - CLOSE_C:
                litres = given.l_min * STEP_S / SECONDS_A_MINUTE
                got += litres * WATER_KJ_KG_K * (given.mixed_c - COLD_C) / KJ_PER_KWH
        delivered += min(got, row["kwh"])
        if got < row["kwh"] - 1e-9:
            missed.append(Missed(started, row["kwh"], got, coldest, least))
    _rest(plant, minute, DAY_MIN)
    return Day(profile, layers, sum(r["kwh"] for r in rows), delivered,
               store.heated_kj / KJ_PER_KWH if store else None, store.lost_kj / KJ_PER_KWH if store else 0.0,
               plant.heating_lost_min, tuple(missed))


def _rest(plant: Plant, minute: float, until: float) -> float:
    while minute < until - 1e-9:
        step = min(REST_S / SECONDS_A_MINUTE, until - minute)
        plant.serve(step * SECONDS_A_MINUTE, 0.0, COLD_C, MIXED_C)
        minute += step
    return max(minute, until)


def day(book: FactBook, arrangement: Arrangement, profile: str) -> tuple[Sequence[Day], tuple[str, ...]]:
    """The day of one arrangement at both ends of what is known, with few and many layers; or the reasons for none."""
    reader = Reader(book, arrangement)
    found = []
    try:
        for kind in (False, True):
            make = plant_of(reader, kind)
            reader.refuse()
            for layers in (FEW, MANY):
                plant = make(layers)
                if isinstance(plant, Stored) and plant.store.heating is None:
                    reader.against("the coil of the present cylinder is not part of the survey, and a day turns on it")
                    reader.refuse()
                if isinstance(plant, Stored):
                    figures = CLASSES.row(**{"class": LOSS_CLASS})
                    watts = loss_limit(plant.store.litres, figures["a_w"], figures["b_w"])
                    plant.store.loss_kw_k = watts / LOSS_TEST_K / 1000
                found.append(simulate_day(plant, profile, layers))
    except NotComputed as refused:
        return (), tuple(refused.reasons)
    return tuple(found), ()
