"""A year of hot water: what the store loses, what is burnt or drawn, what it costs as a band."""

from __future__ import annotations

from advisor.calc.constants import ARITHMETIC
from advisor.calc.formula import Arg, formula
from advisor.calc.standing import CLASSES

YEAR_H = 8760
CLASS_B, CLASS_C = ((r["a_w"], r["b_w"]) for c in "BC" for r in (CLASSES.row(**{"class": c}),))
GAS_WORDS = ("mains gas", "lpg", "none")


@formula(text=f"{YEAR_H} / 1000 * ({CLASS_B[0]} + {CLASS_B[1]} * volume_l ** 0.4 + share * "
              f"({CLASS_C[0]} + {CLASS_C[1]} * volume_l ** 0.4 - ({CLASS_B[0]} + {CLASS_B[1]} * volume_l ** 0.4)))",
         unit="kWh", source=CLASSES.source, args=(Arg("volume_l", "l", 1, 2000), Arg("share", "", 0, 1)))
def store_year(volume_l: float, share: float) -> float:
    """Heat a new store loses in a year, between the limits of label classes B and C.

    E = 8.76 (S_B + share (S_C - S_B)), with S = a + b V^0.4

    Parameters
    ----------
    volume_l : volume [l], 1 to 2000
    share : 0 for the limit of class B, 1 for that of class C; both where the label is not known [-]

    Returns
    -------
    heat [kWh] a year

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    Kept at 65 C in a room of 20 C all the year; a cooler store loses less, bare pipes beside it lose more.

    Source
    ------
    Regulation (EU) 812/2013, Annex II.

    Examples
    --------
    >>> [round(store_year(210.0, share)) for share in (0.0, 1.0)]
    [546, 765]
    """
    low, high = (a + b * volume_l**0.4 for a, b in (CLASS_B, CLASS_C))
    return YEAR_H / 1000 * (low + share * (high - low))


@formula(text="(drawn_kwh + store_kwh + pipes_kwh) / efficiency", unit="kWh", source=ARITHMETIC,
         args=(Arg("drawn_kwh", "kWh", 0), Arg("store_kwh", "kWh", 0), Arg("pipes_kwh", "kWh", 0),
               Arg("efficiency", "", 0.3, 8)))
def year_fuel(drawn_kwh: float, store_kwh: float, pipes_kwh: float, efficiency: float) -> float:
    """Gas or electricity of a year's hot water: drawn, lost by the store, lost on the way, over the efficiency.

    Parameters
    ----------
    drawn_kwh : heat in the water drawn [kWh]
    store_kwh : heat the store loses [kWh]
    pipes_kwh : heat lost by pipes, or wasted before the water runs hot [kWh]
    efficiency : heat for each unit of fuel, of a heat pump too [-], 0.3 to 8

    Returns
    -------
    fuel [kWh] a year

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    Part of the losses warms the home in the heating season and is not taken off.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> year_fuel(2000.0, 600.0, 200.0, 0.875)
    3200.0
    """
    return (drawn_kwh + store_kwh + pipes_kwh) / efficiency


@formula(text="lpg_p if supply == 'lpg' else natural_p", unit="p/kWh", source=ARITHMETIC,
         args=(Arg("supply", "", words=GAS_WORDS), Arg("natural_p", "p/kWh", 0), Arg("lpg_p", "p/kWh", 0)),
         limits=[("supply != 'none'", "where there is no gas there is no price")])
def gas_price(supply: str, natural_p: float, lpg_p: float) -> float:
    """Price of the gas there is.

    Parameters
    ----------
    supply : mains gas or lpg
    natural_p : price of mains gas [p/kWh]
    lpg_p : price of LPG [p/kWh]

    Returns
    -------
    price [p/kWh]

    Raises
    ------
    OutOfRange
        If there is no gas, or a price is below 0.

    Limits
    ------
    Unit price only: no standing charge.

    Source
    ------
    A choice between two prices.

    Examples
    --------
    >>> gas_price("mains gas", 7.0, 9.0), gas_price("lpg", 7.0, 9.0)
    (7.0, 9.0)
    """
    return lpg_p if supply == "lpg" else natural_p


@formula(text="fuel_kwh * price_p / 100 * (1 + spread * (2 * share - 1))", unit="GBP", source=ARITHMETIC,
         args=(Arg("fuel_kwh", "kWh", 0), Arg("price_p", "p/kWh", 0), Arg("spread", "", 0, 1), Arg("share", "", 0, 1)))
def year_cost(fuel_kwh: float, price_p: float, spread: float, share: float) -> float:
    """Cost of a year's fuel, as a band.

    Parameters
    ----------
    fuel_kwh : fuel [kWh]
    price_p : price [p/kWh]
    spread : how far real homes lie either way, as a share [-], 0 to 1
    share : 0 for the lower end of the band, 1 for the upper; both for the band [-]

    Returns
    -------
    cost [pounds] a year

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    Unit price only: no standing charge.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> [round(year_cost(3000.0, 7.0, 0.2, share)) for share in (0.0, 1.0)]
    [168, 252]
    """
    return fuel_kwh * price_p / 100 * (1 + spread * (2 * share - 1))


@formula(text="gas_p / efficiency - export_p", unit="p/kWh", source=ARITHMETIC,
         args=(Arg("gas_p", "p/kWh", 0), Arg("efficiency", "", 0.3, 1.1), Arg("export_p", "p/kWh", 0)))
def diverted_gain(gas_p: float, efficiency: float, export_p: float) -> float:
    """What a unit of solar power gains when it heats water in place of gas, over selling it.

    g = p_gas / efficiency - p_export

    Parameters
    ----------
    gas_p : price of gas [p/kWh]
    efficiency : of the boiler it spares [-], 0.3 to 1.1
    export_p : price paid for power sold [p/kWh]

    Returns
    -------
    gain [p/kWh]; below 0 selling pays more

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    Unit prices only: the diverter's own cost and its standby are left out.

    Source
    ------
    Arithmetic of prices.

    Examples
    --------
    >>> round(diverted_gain(7.33, 0.90, 15.0), 2)
    -6.86
    """
    return gas_p / efficiency - export_p
