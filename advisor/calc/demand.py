"""What a household draws: flow wanted at once, litres of the busiest hour, people and litres a day."""

from __future__ import annotations

import math

from advisor.calc.constants import ARITHMETIC, NO_LIMIT
from advisor.calc.formula import Arg, formula
from advisor.facts import Source

HOUR_MIN = 60.0
SMALLEST_M2 = 13.9
SAP_PEOPLE = Source("SAP 2012", "Table 1b, assumed occupancy, as documented in open programs", "PUBLISHED", "reprint")
SAP_LITRES = Source("SAP 2009 and 2012", "25 N + 36 litres a day, as quoted", "PUBLISHED", "reprint")


@formula(text="flow_l_min if at_once == 'yes' else 0", unit="l/min", source=ARITHMETIC,
         args=(Arg("flow_l_min", "l/min"), Arg("at_once", "", words=("yes", "no"))))
def wanted_flow(flow_l_min: float, at_once: str) -> float:
    """What an outlet adds to the flow wanted at once.

    Parameters
    ----------
    flow_l_min : mixed flow of the outlet [l/min]
    at_once : "yes" where the household wants it together with others

    Returns
    -------
    its flow, or 0 [l/min]

    Raises
    ------
    OutOfRange
        If at_once is another word.

    Limits
    ------
    Real flows added up: right for a few outlets, where loading units overrate.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> wanted_flow(9.0, "yes"), wanted_flow(9.0, "no")
    (9.0, 0.0)
    """
    return flow_l_min if at_once == "yes" else 0.0


@formula(text="people * (bath_l if baths > 0 else shower_l)", unit="l",
         source=Source("Heating trade magazine", "35 to 45 litres a person at 60 C", "PUBLISHED", "reprint"),
         args=(Arg("people", "", 0), Arg("baths", "", 0), Arg("shower_l", "l", 0), Arg("bath_l", "l", 0)))
def people_litres(people: float, baths: float, shower_l: float, bath_l: float) -> float:
    """Store the trade's rule of thumb gives a household, by litres a person.

    litres = people x (bath_l where baths are taken, else shower_l)

    Parameters
    ----------
    people : people living in the home
    baths : baths in the busiest hour
    shower_l : litres a person where only showers are taken, stored at 60 C [l]
    bath_l : litres a person where baths are taken too, stored at 60 C [l]

    Returns
    -------
    stored litres [l]

    Raises
    ------
    OutOfRange
        If an argument is below nought.

    Limits
    ------
    A rule of thumb: it knows neither minutes, nor flow, nor reheat.

    Source
    ------
    Heating trade magazine: 35 to 45 litres a person at 60 C.

    Examples
    --------
    >>> people_litres(4, 0, 35.0, 45.0), people_litres(4, 1, 35.0, 45.0)
    (140.0, 180.0)
    """
    return float(people * (bath_l if baths > 0 else shower_l))


@formula(text="showers * minutes * flow_l_min + baths * bath_fill_l", unit="l", source=ARITHMETIC,
         args=(Arg("showers", "", 0), Arg("minutes", "min", 0), Arg("flow_l_min", "l/min", 0), Arg("baths", "", 0),
               Arg("bath_fill_l", "l", 0)))
def busy_litres(showers: float, minutes: float, flow_l_min: float, baths: float, bath_fill_l: float) -> float:
    """Mixed water drawn in the busiest hour.

    litres = showers x minutes x flow + baths x fill

    Parameters
    ----------
    showers : showers taken in that hour [-]
    minutes : length of one shower [min]
    flow_l_min : mixed flow of a shower [l/min]
    baths : baths run in that hour [-]
    bath_fill_l : mixed water of one bath [l]

    Returns
    -------
    litres at the mixed temperature [l]

    Raises
    ------
    OutOfRange
        If any of them is negative.

    Limits
    ------
    Basins and kitchen taps are left out: short draws that a shower's end makes room for.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> busy_litres(showers=4, minutes=7, flow_l_min=9.0, baths=0, bath_fill_l=100.0)
    252.0
    """
    return showers * minutes * flow_l_min + baths * bath_fill_l


@formula(text="showers * minutes * flow_l_min + baths * bath_fill_l + beside_l_min * minutes", unit="l",
         source=ARITHMETIC,
         args=(Arg("showers", "", 0, NO_LIMIT), Arg("minutes", "min", 0, NO_LIMIT),
               Arg("flow_l_min", "l/min", 0, NO_LIMIT), Arg("baths", "", 0, NO_LIMIT),
               Arg("bath_fill_l", "l", 0, NO_LIMIT), Arg("beside_l_min", "l/min", 0, NO_LIMIT)))
def planned_litres(showers: float, minutes: float, flow_l_min: float, baths: float, bath_fill_l: float,
                   beside_l_min: float) -> float:
    """Mixed water of the busiest hour with what runs beside the first shower: as much as it can be.

    L = n t q + b F + q' t

    Parameters
    ----------
    showers : showers taken in that hour [-]
    minutes : length of one shower [min]
    flow_l_min : mixed flow of the strongest shower [l/min]
    baths : baths run in that hour [-]
    bath_fill_l : mixed water of one bath [l]
    beside_l_min : flow of the outlets that may run beside the first shower [l/min]

    Returns
    -------
    litres at the mixed temperature [l]

    Raises
    ------
    OutOfRange
        If any of them is negative.

    Limits
    ------
    Every shower counts as the strongest.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> planned_litres(showers=4, minutes=7, flow_l_min=9.0, baths=0, bath_fill_l=100.0, beside_l_min=6.0)
    294.0
    """
    return showers * minutes * flow_l_min + baths * bath_fill_l + beside_l_min * minutes


@formula(text="0 if litres_l <= 0 else (litres_l / draw_l_min if litres_l < 60 * draw_l_min else 60)", unit="min",
         source=ARITHMETIC, args=(Arg("litres_l", "l", 0, NO_LIMIT), Arg("draw_l_min", "l/min", 0, NO_LIMIT)))
def drawn_minutes(litres_l: float, draw_l_min: float) -> float:
    """How long the busiest hour's water runs at the flow wanted at once, at most the hour itself.

    Parameters
    ----------
    litres_l : mixed water drawn in that hour [l]
    draw_l_min : flow drawn [l/min]

    Returns
    -------
    minutes of drawing, 0 to 60 [min]

    Raises
    ------
    OutOfRange
        If either is negative or without end.

    Limits
    ------
    One steady draw; pauses between showers would only help a store.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> drawn_minutes(252.0, 18.0), drawn_minutes(900.0, 9.0)
    (14.0, 60.0)
    """
    if litres_l <= 0:
        return 0.0
    return litres_l / draw_l_min if litres_l < HOUR_MIN * draw_l_min else HOUR_MIN


@formula(text=f"1 + 1.76 * (1 - exp(-0.000349 * (floor_area_m2 - {SMALLEST_M2}) ** 2)) "
              f"+ 0.0013 * (floor_area_m2 - {SMALLEST_M2})",
         unit="", source=SAP_PEOPLE, args=(Arg("floor_area_m2", "m2", SMALLEST_M2, 10_000),))
def occupancy(floor_area_m2: float) -> float:
    """People assumed in a dwelling of a floor area.

    N = 1 + 1.76 (1 - exp(-0.000349 (A - 13.9)^2)) + 0.0013 (A - 13.9)

    Parameters
    ----------
    floor_area_m2 : total floor area, 13.9 or more [m2]

    Returns
    -------
    people [-]

    Raises
    ------
    OutOfRange
        Below 13.9 m2.

    Limits
    ------
    A mean over many homes; never used for a real household, which can be asked.

    Source
    ------
    SAP 2012, Table 1b.

    Examples
    --------
    >>> round(occupancy(70.0), 4)
    2.2461
    """
    over = floor_area_m2 - SMALLEST_M2
    return 1 + 1.76 * (1 - math.exp(-0.000349 * over**2)) + 0.0013 * over


@formula(text="25 * people + 36", unit="l", source=SAP_LITRES, args=(Arg("people", "", 0, 1000),))
def daily_hot_water(people: float) -> float:
    """Hot water a dwelling uses in a day, on average.

    V = 25 N + 36

    Parameters
    ----------
    people : people in it [-]

    Returns
    -------
    litres a day [l]

    Raises
    ------
    OutOfRange
        If the number is negative.

    Limits
    ------
    A mean over many homes; real ones spread widely, around 4 kWh a day.

    Source
    ------
    SAP 2009 and 2012, as quoted.

    Examples
    --------
    >>> daily_hot_water(3)
    111
    """
    return 25 * people + 36
