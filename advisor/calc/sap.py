"""The yearly convention of the national energy rating: hot water by month, cylinder, primary pipe and boiler loss."""

from __future__ import annotations

from advisor import tables
from advisor.calc.formula import Arg, formula
from advisor.facts import Source

MONTHS = tables.load("sap_monthly").rows
SAP_WATER = 4.190  # kJ/(kg K) as the convention writes it
SUMMER = ("Jun", "Jul", "Aug", "Sep")
HOT_WATER = Source("SAP 2012", "Tables 1b, 1c and 1d, E = 4.190 V n dT / 3600", "PUBLISHED", "reprint")
CYLINDER = Source("SAP", "Tables 2, 2a and 2b", "PUBLISHED", "reprint")
PRIMARY = Source("SAP 10.2", "Table 3", "PUBLISHED", "reprint")
COMBINATION = Source("SAP 10.2", "Table 3a, first row: no keep-hot facility", "PUBLISHED", "reprint")


@formula(text="volume_l * factor * 4.19 * days * rise_k / 3600", unit="kWh", source=HOT_WATER,
         args=(Arg("volume_l", "l", 0, 5000), Arg("factor", "", 0, 2), Arg("days", "", 0, 366),
               Arg("rise_k", "K", 0, 90)))
def month_hot_water(volume_l: float, factor: float, days: float, rise_k: float) -> float:
    """Heat in a month's hot water.

    E = 4.190 V f n dT / 3600

    Parameters
    ----------
    volume_l : mean litres a day of the year [l]
    factor : the month's factor [-]
    days : days of the month [-]
    rise_k : the month's rise [K]

    Returns
    -------
    heat [kWh]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    Content of the water drawn; the convention adds 15 % for distribution.

    Source
    ------
    SAP 2012, Tables 1b to 1d.

    Examples
    --------
    >>> round(month_hot_water(111.0, 1.1, 31.0, 41.2), 1)
    181.5
    """
    return volume_l * factor * SAP_WATER * days * rise_k / 3600


@formula(text="days * 14 * ((0.0091 * insulated + 0.0245 * (1 - insulated)) * hours + 0.0263)", unit="kWh",
         source=PRIMARY,
         args=(Arg("days", "", 0, 366), Arg("insulated", "", 0, 1), Arg("hours", "h", 0, 24)))
def primary_loss(days: float, insulated: float, hours: float) -> float:
    """Heat lost by the pipes between boiler and cylinder.

    E = 14 n ((0.0091 p + 0.0245 (1 - p)) h + 0.0263)

    Parameters
    ----------
    days : days [-]
    insulated : share of the pipes insulated, p, 0 to 1 [-]
    hours : hours of circulation a day, h [h]: 3 timed apart, 5 with thermostat only, 11 without (summer 3)

    Returns
    -------
    heat [kWh]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    A convention for one dwelling, not a measured pipe.

    Source
    ------
    SAP 10.2, Table 3.

    Examples
    --------
    >>> round(primary_loss(31.0, 0.0, 3.0), 4)
    43.3132
    """
    return days * 14 * ((0.0091 * insulated + 0.0245 * (1 - insulated)) * hours + 0.0263)


@formula(text="volume_l * (0.005 + 0.55 / (foam_mm + 4)) * (120 / volume_l) ** (1 / 3) * temperature_factor",
         unit="kWh/day", source=CYLINDER,
         args=(Arg("volume_l", "l", 1, 2000), Arg("foam_mm", "mm", 0, 200), Arg("temperature_factor", "", 0.1, 2)))
def cylinder_loss(volume_l: float, foam_mm: float, temperature_factor: float) -> float:
    """Heat a foamed cylinder loses a day by the yearly convention.

    E = V (0.005 + 0.55/(t + 4)) (120/V)^(1/3) Ft

    Parameters
    ----------
    volume_l : volume [l]
    foam_mm : foam [mm]
    temperature_factor : 0.60 with thermostat; x 0.9 if timed apart from the heating, x 1.3 without thermostat [-]

    Returns
    -------
    heat [kWh a day]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    Where the maker declares a loss, that counts.

    Source
    ------
    SAP, Tables 2, 2a and 2b.

    Examples
    --------
    >>> round(cylinder_loss(150.0, 50.0, 0.6), 3)
    1.269
    """
    return volume_l * (0.005 + 0.55 / (foam_mm + 4)) * (120 / volume_l) ** (1 / 3) * temperature_factor


@formula(text="600 * min(1, daily_l / 100) * days / 365", unit="kWh", source=COMBINATION,
         args=(Arg("daily_l", "l", 0, 5000, turns=(100,)), Arg("days", "", 0, 366)))
def combination_loss(daily_l: float, days: float) -> float:
    """Heat a combination boiler without a keep-hot facility wastes before the water runs hot.

    E = 600 min(1, V/100) n / 365

    Parameters
    ----------
    daily_l : hot water a day [l]
    days : days [-]

    Returns
    -------
    heat [kWh]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    A convention.

    Source
    ------
    SAP 10.2, Table 3a.

    Examples
    --------
    >>> round(combination_loss(77.8795, 31.0), 2)
    39.69
    """
    return 600 * min(1, daily_l / 100) * days / 365
