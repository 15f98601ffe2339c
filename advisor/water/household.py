"""A day's draw-offs as a household might make them: showers, baths, basins and kitchen, from its habits and a seed.

How often and how much is what was measured in UK homes (`measured_draws`), with the household's own answers put in
their place where it gave them; what taps take is the measured hot water of a day less what washing takes, shared
between short and medium draws as the IEA task shares it (`draw_classes`). `statistics` counts what was generated, so
that it can be set beside the measurements again.
"""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from statistics import mean, median

from advisor import tables
from advisor.facts import Source
from advisor.water.measured import DAYS_A_WEEK, measured, washing_l_day

CLASSES = tables.load("draw_classes")
DAY_MIN = 24 * 60.0
MEASURED_HOT_C, MEASURED_COLD_C, MIXED_C = 51.9, 15.2, 40.0  # in the homes of the 122 l a day; at the shower
MEASURED_PEOPLE = 2.4  # in a mean UK home
SHOWER_SIGMA = 0.515  # of the logarithm of a shower's length
LITRES_SIGMA = 0.1  # of the litres of a bath, as a share
# Share of each use in the two peaks of the day; the rest falls between `UP` and `TO_BED`.
MORNING, EVENING, UP, TO_BED = (6 * 60.0, 8 * 60.0), (17 * 60.0, 19 * 60.0), 6 * 60.0, 23 * 60.0
PEAKS = {"shower": (0.55, 0.15), "bath": (0.05, 0.35), "basin": (0.25, 0.25), "kitchen": (0.15, 0.40)}
USES = tuple(PEAKS)
LEAST_L_MIN = 0.2  # of the flow wanted: nobody showers under a drip

PEAKS_OF_THE_DAY = Source("Domestic hot water use in the UK, Department for Energy Security and Net Zero, 2024",
                          "peaks at 06 to 08 and 17 to 19 o'clock; the shares in them are common practice", "PUBLISHED",
                          "reprint")
LENGTHS = Source("289 showers logged by the second in one flat in Naples, 2019 to 2020 (Di Mauro and others)",
                 "10th and 90th percentile 2.03 and 7.6 min: ln(7.6/2.03) / (2 x 1.2816)", "DERIVED")
MEAN_HOME = Source("People in a mean UK home; temperatures of the 2008 study", "", "FROM MEMORY")


@dataclass(frozen=True, slots=True)
class Habits:
    """What a household does: its own answers, or the measured means.

    people : in the home [-]
    shower_min, shower_l_min : length and flow of a shower [min], [l/min]
    bath_l, bath_l_min : water of one bath, and how fast it runs [l], [l/min]
    showers_week, baths_week : each person's [1/week]
    taps_l_day : what one person takes at basin and sink, as water at 40 C [l/day]
    """

    people: int
    shower_min: float
    shower_l_min: float
    bath_l: float
    bath_l_min: float
    showers_week: float
    baths_week: float
    taps_l_day: float


@dataclass(frozen=True, slots=True)
class DrawOff:
    """One use of mixed water at 40 C: when it begins [min of the day], its flow [l/min] and length [min]."""

    minute: float
    use: str
    l_min: float
    minutes: float

    @property
    def litres(self) -> float:
        return self.l_min * self.minutes


def hot_share() -> float:
    """Hot water in a litre at 40 C, at the temperatures of the homes measured [-]."""
    return (MIXED_C - MEASURED_COLD_C) / (MEASURED_HOT_C - MEASURED_COLD_C)


def taps_l_day() -> float:
    """What one person takes at basin and sink, as water at 40 C [l/day]: the measured day less washing by the habits.

    (122 - 2.4 x 36.4) / 2.4 / 0.676 = 21.4 l
    """
    washing = washing_l_day(MEASURED_PEOPLE, MEASURED_HOT_C, MEASURED_COLD_C, MIXED_C)
    return (measured("day_l") - washing) / MEASURED_PEOPLE / hot_share()


def habits(people: int, shower_min: float | None = None, shower_l_min: float | None = None,
           bath_l: float | None = None, bath_l_min: float | None = None) -> Habits:
    """Habits by the household's answers, each missing one by the measured mean.

    Parameters
    ----------
    people : people in the home [-]
    shower_min : length of a shower [min]
    shower_l_min : its flow [l/min]
    bath_l : water of a bath [l]
    bath_l_min : how fast it runs [l/min]

    Returns
    -------
    the habits

    Raises
    ------
    Raises nothing.

    Limits
    ------
    How often people shower and bathe, and what taps take, is not asked in the survey: always as measured.

    Source
    ------
    The tables `measured_draws` and `draw_classes`.

    Examples
    --------
    >>> round(habits(3).taps_l_day, 1)
    21.4
    """
    flow = measured("shower_l") / measured("shower_min")
    return Habits(people, shower_min or measured("shower_min"), shower_l_min or flow, bath_l or measured("bath_l"),
                  bath_l_min or float(CLASSES.row(**{"class": "bath"})["l_min"]), measured("showers_person_week"),
                  measured("baths_person_week"), taps_l_day())


def generate(household: Habits, seed: int) -> tuple[DrawOff, ...]:
    """One day's draw-offs in the order of the clock; the same for the same habits and seed.

    Parameters
    ----------
    household : what it does
    seed : a whole number; another one, another day

    Returns
    -------
    the draw-offs

    Raises
    ------
    Raises nothing.

    Limits
    ------
    No weekends, holidays or seasons; each person decides alone, so nobody queues or waits for another.

    Source
    ------
    Habits as measured; peaks and spreads as named in this module.
    """
    rng = random.Random(seed)
    made = [*_showers(household, rng), *_baths(household, rng), *_taps(household, rng)]
    return tuple(sorted(made, key=lambda d: (d.minute, d.use)))


def _showers(h: Habits, rng: random.Random) -> Iterator[DrawOff]:
    sigma = float(CLASSES.row(**{"class": "shower"})["sigma_l_min"])
    for _ in range(_times(h.people, h.showers_week / DAYS_A_WEEK, rng)):
        minutes = h.shower_min * math.exp(rng.gauss(0.0, SHOWER_SIGMA) - SHOWER_SIGMA**2 / 2)
        flow = max(LEAST_L_MIN * h.shower_l_min, rng.gauss(h.shower_l_min, sigma))
        yield DrawOff(_when("shower", rng), "shower", flow, minutes)


def _baths(h: Habits, rng: random.Random) -> Iterator[DrawOff]:
    for _ in range(_times(h.people, h.baths_week / DAYS_A_WEEK, rng)):
        litres = h.bath_l * max(LEAST_L_MIN, rng.gauss(1.0, LITRES_SIGMA))
        yield DrawOff(_when("bath", rng), "bath", h.bath_l_min, litres / h.bath_l_min)


def _taps(h: Habits, rng: random.Random) -> Iterator[DrawOff]:
    """Short draws at the basin, medium ones at the sink; flows spread by a gamma law, which knows none below 0."""
    short, medium = (CLASSES.row(**{"class": c}) for c in ("short", "medium"))
    for use, row in (("basin", short), ("kitchen", medium)):
        litres = h.taps_l_day * row["share"] / (short["share"] + medium["share"])
        spread = min(row["sigma_l_min"], row["l_min"])  # a short draw's published spread is wider than its mean
        shape = (row["l_min"] / spread) ** 2
        for _ in range(_arrivals(h.people * litres / (row["l_min"] * row["minutes"]), rng)):
            yield DrawOff(_when(use, rng), use, rng.gammavariate(shape, row["l_min"] / shape), row["minutes"])


def _times(people: int, rate: float, rng: random.Random) -> int:
    """How often something is done today, each person once or not at all (or, beyond once a day, once more or not)."""
    whole, part = divmod(rate, 1.0)
    return sum(int(whole) + (rng.random() < part) for _ in range(people))


def _arrivals(expected: float, rng: random.Random) -> int:
    """How many come in a day when they come independently of each other (a Poisson number)."""
    count, at = 0, rng.expovariate(1.0)
    while at < expected:
        count, at = count + 1, at + rng.expovariate(1.0)
    return count


def _when(use: str, rng: random.Random) -> float:
    morning, evening = PEAKS[use]
    drawn = rng.random()
    if drawn < morning:
        return rng.uniform(*MORNING)
    return rng.uniform(*EVENING) if drawn < morning + evening else rng.uniform(UP, TO_BED)


# ---------------------------------------------------------------- counted again
@dataclass(frozen=True, slots=True)
class Count:
    """One statistic of generated days beside what was measured (or assumed) elsewhere.

    measured : None where nothing was published
    within : by how much the two may differ when the habits are the measured ones, as a share
    document : where the other figure is from
    """

    what: str
    unit: str
    generated: float
    measured: float | None
    within: float
    document: str


LOGGED, HABITS_OF, HOMES, TASK = (
    "2,600 UK showers, 2011", "At Home with Water, 2013", "120 English homes, 2008", "IEA task 26 (assumed)")


def statistics(days: Sequence[Sequence[DrawOff]], people: int) -> tuple[Count, ...]:
    """What many generated days amount to, beside the published figures.

    Parameters
    ----------
    days : generated days, some hundred of them for steady means
    people : people in the home [-]

    Returns
    -------
    the statistics; shares and litres of hot water at the temperatures of the homes measured

    Raises
    ------
    ValueError
        If there are no days, or no showers or baths in them.

    Limits
    ------
    The 122 l a day were measured in homes of every size; for another number of people they are taken by the head.

    Source
    ------
    The documents named in each row.
    """
    drawn = list(itertools.chain.from_iterable(days))
    by_use = {u: [d for d in drawn if d.use == u] for u in USES}
    if not by_use["shower"] or not by_use["bath"]:
        raise ValueError("too few days to count from: no shower or no bath in them. Generate more.")
    person_days, showers = len(days) * people, by_use["shower"]
    hot = hot_share() * sum(d.litres for d in drawn)
    per_person = measured("day_l") / MEASURED_PEOPLE
    return (
        Count("length of a shower", "min", mean(d.minutes for d in showers), measured("shower_min"), 0.05, LOGGED),
        Count("flow of a shower", "l/min", mean(d.l_min for d in showers),
              measured("shower_l") / measured("shower_min"), 0.05, LOGGED),
        Count("water of a shower", "l", mean(d.litres for d in showers), measured("shower_l"), 0.05, LOGGED),
        Count("water of a bath", "l", mean(d.litres for d in by_use["bath"]), measured("bath_l"), 0.05, LOGGED),
        Count("showers a person", "a week", DAYS_A_WEEK * len(showers) / person_days,
              measured("showers_person_week"), 0.05, HABITS_OF),
        Count("baths a person", "a week", DAYS_A_WEEK * len(by_use["bath"]) / person_days,
              measured("baths_person_week"), 0.1, HABITS_OF),
        Count("hot water a person", "l/day", hot / person_days, per_person, 0.05, HOMES),
        *_shares(by_use, drawn),
        Count("draw-offs for 100 l of hot water", "", 100 * len(drawn) / hot, draws_of_the_task(), 0.2, TASK),
        Count("busiest hour of a middling day", "l hot", hot_share() * median(map(busiest_hour_l, days)), None, 0.0,
              ""),
    )


def _shares(by_use: dict[str, list[DrawOff]], drawn: Sequence[DrawOff]) -> Iterator[Count]:
    """Each use's share of the water, beside what the UK figures leave for it, and beside the task's assumption."""
    litres = sum(d.litres for d in drawn)
    for what, uses, document in (("showers' share", ("shower",), "the three UK studies"),
                                 ("baths' share", ("bath",), "the three UK studies"),
                                 ("taps' share", ("basin", "kitchen"), "the three UK studies")):
        mine = sum(d.litres for u in uses for d in by_use[u]) / litres
        yield Count(what, "%", 100 * mine, 100 * _uk_share(uses[0]), 0.1, document)
        yield Count(what, "%", 100 * mine, 100 * _task_share(uses[0]), 1.0, TASK)


def _uk_share(use: str) -> float:
    """Share of the measured 122 l that the measured habits give a use; taps have the rest."""
    weekly = {"shower": measured("showers_person_week") * measured("shower_l"),
              "bath": measured("baths_person_week") * measured("bath_l")}
    mixed_day_l = measured("day_l") / hot_share()
    share = {u: MEASURED_PEOPLE * litres / DAYS_A_WEEK / mixed_day_l for u, litres in weekly.items()}
    return share.get(use, 1.0 - sum(share.values()))


def _task_share(use: str) -> float:
    classes = {"shower": ("shower",), "bath": ("bath",)}.get(use, ("short", "medium"))
    return sum(float(CLASSES.row(**{"class": c})["share"]) for c in classes)


def draws_of_the_task() -> float:
    """How many draw-offs the task's classes make of 100 l: 100 x sum of share / litres of a draw."""
    return 100 * sum(r["share"] / (r["l_min"] * r["minutes"]) for r in CLASSES.rows)


def busiest_hour_l(day: Sequence[DrawOff]) -> float:
    """The most water at 40 C drawn within an hour [l]; each draw counts where it begins."""
    return max((sum(d.litres for d in day if 0 <= d.minute - first.minute < 60.0) for first in day), default=0.0)
