"""What a condensing boiler makes of its gas: combustion of methane, and the return that cools the flue gas."""

from __future__ import annotations

import math

from advisor.calc.formula import Arg, formula
from advisor.facts import Source

# Kilojoules and moles for one mole of methane; natural gas is taken as methane.
GROSS_KJ = 890.6  # heat of combustion, the water of the flue gas condensed, 25 C
VAPOUR_KJ = 44.0  # heat of a mole of water vapour condensing, 25 C; two moles arise
DRY, DRY_EXCESS = 8.52, 9.52  # moles of dry flue gas with just enough air, and more for each part of excess air
CO2_J, N2_J, O2_J, STEAM_J, WATER_J = 38.0, 29.1, 29.5, 33.8, 75.3  # J/(mol K), 25 to 80 C
NITROGEN = 7.52  # moles of nitrogen that come with the two of oxygen
AIR_KPA = 101.325
REFERENCE_C = 25.0
WATER_G_MOL = 18.02
SATURATED = (0.61094, 17.625, 243.04)  # kPa, -, C: pressure of saturated water vapour

COMBUSTION = Source("Combustion of methane: heat of combustion, molar heats and saturated vapour of physical tables",
                    "figures from memory", "DERIVED")
GAS = (Arg("return_c", "C", 15, 85), Arg("approach_k", "K", 0, 40), Arg("excess_air", "", 0, 1))
WARM = [("25 <= return_c + approach_k", "return_c + approach_k must be at least 25 C"),
        ("return_c + approach_k <= 90", "return_c + approach_k must be at most 90 C")]

_DRY = f"({DRY} + {DRY_EXCESS} * excess_air)"
_GAS = "(return_c + approach_k)"
_PRESSURE = f"({SATURATED[0]} * exp({SATURATED[1]} * {_GAS} / ({_GAS} + {SATURATED[2]})))"
_VAPOUR = f"min(2, {_DRY} * {_PRESSURE} / ({AIR_KPA} - {_PRESSURE}))"
_HEATS = (f"({CO2_J} + {N2_J} * {NITROGEN} * (1 + excess_air) + {O2_J} * 2 * excess_air + {STEAM_J} * {_VAPOUR} "
          f"+ {WATER_J} * (2 - {_VAPOUR}))")


@formula(text=f"{SATURATED[2]} * log(2 / (2 + {_DRY}) * {AIR_KPA} / {SATURATED[0]}) / "
              f"({SATURATED[1]} - log(2 / (2 + {_DRY}) * {AIR_KPA} / {SATURATED[0]}))",
         unit="C", source=COMBUSTION, args=(Arg("excess_air", "", 0, 1),))
def flue_dew_point(excess_air: float) -> float:
    """Temperature below which the flue gas of natural gas gives up its water.

    p = 2 / (2 + 8.52 + 9.52 e) x 101.3 kPa, and the temperature at which vapour of that pressure is saturated

    Parameters
    ----------
    excess_air : air beyond what the gas needs, as a share [-], 0 to 1

    Returns
    -------
    dew point [C]

    Raises
    ------
    OutOfRange
        If the excess lies outside its range.

    Limits
    ------
    Dry air and methane; damp air adds about a degree.

    Source
    ------
    Combustion of methane.

    Examples
    --------
    >>> round(flue_dew_point(0.25), 1)
    54.9
    """
    pressure = 2 / (2 + DRY + DRY_EXCESS * excess_air) * AIR_KPA
    log = math.log(pressure / SATURATED[0])
    return SATURATED[2] * log / (SATURATED[1] - log)


def _vapour(return_c: float, approach_k: float, excess_air: float) -> float:
    """Moles of water that stay vapour, of two."""
    gas_c = return_c + approach_k
    pressure = SATURATED[0] * math.exp(SATURATED[1] * gas_c / (gas_c + SATURATED[2]))
    return min(2.0, (DRY + DRY_EXCESS * excess_air) * pressure / (AIR_KPA - pressure))


@formula(text=f"1 - {_VAPOUR} / 2", unit="", source=COMBUSTION, args=GAS, limits=WARM)
def condensed_share(return_c: float, approach_k: float, excess_air: float) -> float:
    """Share of the water in the flue gas that condenses in the boiler.

    1 - n / 2, with n = min(2, (8.52 + 9.52 e) p / (101.3 - p)) and p the saturation pressure at return + approach

    Parameters
    ----------
    return_c : water coming back to the boiler [C], 15 to 85
    approach_k : how much warmer than it the flue gas leaves [K], 0 to 40
    excess_air : air beyond what the gas needs, as a share [-], 0 to 1

    Returns
    -------
    share [-], 0 to 1

    Raises
    ------
    OutOfRange
        If an argument lies outside its range, or the flue gas leaves below 25 or above 90 C.

    Limits
    ------
    Gas and film of water at one temperature; 5 K of approach at part load to 10 K at full load are common practice.

    Source
    ------
    Combustion of methane.

    Examples
    --------
    >>> [round(condensed_share(t, 5.0, 0.25), 2) for t in (30.0, 40.0, 55.0)]
    [0.68, 0.43, 0.0]
    """
    return 1 - _vapour(return_c, approach_k, excess_air) / 2


@formula(text=f"1 - casing - (({_GAS} - {REFERENCE_C}) / 1000 * {_HEATS} + {VAPOUR_KJ} * {_VAPOUR}) / {GROSS_KJ}",
         unit="", source=COMBUSTION, args=(*GAS, Arg("casing", "", 0, 0.2)), limits=WARM)
def condensing_efficiency(return_c: float, approach_k: float, excess_air: float, casing: float) -> float:
    """Heat to the water as a share of the gross heat of the gas, by the temperature of the return.

    1 - casing - (heat of the warm flue gas + 44.0 kJ for each mole of vapour that leaves) / 890.6 kJ

    Parameters
    ----------
    return_c : water coming back to the boiler [C], 15 to 85
    approach_k : how much warmer than it the flue gas leaves [K], 0 to 40
    excess_air : air beyond what the gas needs, as a share [-], 0 to 1
    casing : share lost through the casing [-], 0 to 0.2

    Returns
    -------
    efficiency on gross value [-]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range, or the flue gas leaves below 25 or above 90 C.

    Limits
    ------
    While it burns steadily: going on and off, pump and standby come on top.

    Source
    ------
    Combustion of methane.

    Examples
    --------
    >>> [round(condensing_efficiency(t, 5.0, 0.25, 0.01), 3) for t in (30.0, 40.0, 50.0, 60.0)]
    [0.953, 0.924, 0.878, 0.873]
    """
    vapour = _vapour(return_c, approach_k, excess_air)
    heats = (CO2_J + N2_J * NITROGEN * (1 + excess_air) + O2_J * 2 * excess_air + STEAM_J * vapour
             + WATER_J * (2 - vapour))
    warm = (return_c + approach_k - REFERENCE_C) / 1000 * heats
    return 1 - casing - (warm + VAPOUR_KJ * vapour) / GROSS_KJ


@formula(text=f"2 * condensed * {WATER_G_MOL} / 1000 * 3600 / {GROSS_KJ}", unit="l/kWh", source=COMBUSTION,
         args=(Arg("condensed", "", 0, 1),))
def condensate(condensed: float) -> float:
    """Water that runs off a boiler for each kilowatt hour of gas, gross.

    2 moles x 18.02 g x share x 3600 / 890.6 kJ

    Parameters
    ----------
    condensed : share of the water that condenses [-], 0 to 1

    Returns
    -------
    condensate [l] per kWh of gas

    Raises
    ------
    OutOfRange
        If the share lies outside 0 to 1.

    Limits
    ------
    Methane; 1 kg/l.

    Source
    ------
    Combustion of methane.

    Examples
    --------
    >>> round(condensate(0.7), 3)
    0.102
    """
    return 2 * condensed * WATER_G_MOL / 1000 * 3600 / GROSS_KJ
