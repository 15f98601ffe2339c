"""The household's answers beside what was measured in other homes: to notice an odd one, never to fill one in."""

from __future__ import annotations

from dataclasses import dataclass

from advisor import tables

MEASURED = tables.load("measured_draws")
DAYS_A_WEEK = 7.0


def measured(what: str) -> float:
    """One measured mean; its unit is the suffix of its name."""
    return float(MEASURED.row(what=what)["value"])


@dataclass(frozen=True, slots=True)
class Beside:
    """One quantity here and as measured."""

    what: str
    unit: str
    here: float
    measured: float

    @property
    def ratio(self) -> float:
        return self.here / self.measured


def beside(shower_min: float, shower_l_min: float, baths: int, bath_l: float) -> tuple[Beside, ...]:
    """Shower length, litres of a shower, and of a bath where one is taken, beside the measured means.

    Parameters
    ----------
    shower_min : length of a shower here [min]
    shower_l_min : its mixed flow [l/min]
    baths : baths in the busiest hour [-]
    bath_l : mixed water of one bath [l]

    Returns
    -------
    the pairs

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Means over many homes: a single home may lie far from them and be right.

    Source
    ------
    The table `measured_draws`.

    Examples
    --------
    >>> [round(b.ratio, 2) for b in beside(8.0, 7.75, 0, 0.0)]
    [1.0, 1.0]
    """
    found = [Beside("one shower", "min", shower_min, measured("shower_min")),
             Beside("one shower", "l", shower_min * shower_l_min, measured("shower_l"))]
    return (*found, Beside("one bath", "l", bath_l, measured("bath_l"))) if baths else tuple(found)


def washing_l_day(people: float, hot_c: float, cold_c: float, mixed_c: float) -> float:
    """Hot water a day for showers and baths at the measured habits.

    N (4.4 x 62 + 1.3 x 80) / 7 litres of mixed water, times the hot share (Tm - Tc) / (Th - Tc)

    Parameters
    ----------
    people : people in the home [-]
    hot_c, cold_c, mixed_c : hot water as drawn, cold water, water at the shower [C]

    Returns
    -------
    hot water [l/day], without basins and kitchen

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Every shower is taken to draw on the hot-water plant; many a home has an electric shower that does not.

    Source
    ------
    The table `measured_draws`.

    Examples
    --------
    >>> round(washing_l_day(1.0, 51.9, 15.2, 40.0), 1)
    36.4
    """
    mixed = people * (measured("showers_person_week") * measured("shower_l")
                      + measured("baths_person_week") * measured("bath_l")) / DAYS_A_WEEK
    return mixed * (mixed_c - cold_c) / (hot_c - cold_c)
