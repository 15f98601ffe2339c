"""Heat loss of a building and output of radiators."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.calc.constants import AIR_WH_M3_K, RADIATOR_EXPONENT, RATED_DIFFERENCE_K
from advisor.calc.formula import Arg, OutOfRange, formula
from advisor.facts import Source

EN_442 = Source("EN 442 panel radiators, rated at 75/65/20; correction table in trade print", "(dT/50)^1.3",
                "PUBLISHED", "reprint")
LOSS = Source("Simplified heat loss after BS EN 12831: sum of U A dT, and 0.33 n V dT", "", "PUBLISHED", "reprint")
COLDEST_K, HOTTEST_K = 5, 75  # the rows of the correction table


def fabric_loss(parts: Sequence[tuple[float, float]]) -> float:
    """Heat the fabric loses a kelvin.

    H = sum of A U

    Parameters
    ----------
    parts : (area [m2], transmittance U [W/(m2 K)]) of each part

    Returns
    -------
    loss a kelvin [W/K]

    Raises
    ------
    OutOfRange
        If an area or a transmittance is negative.

    Limits
    ------
    Thermal bridges only where a part stands for them.

    Source
    ------
    BS EN 12831, simplified.

    Examples
    --------
    >>> fabric_loss([(12.0, 0.5), (4.5, 2.0)])
    15.0
    """
    if any(area < 0 or u < 0 for area, u in parts):
        raise OutOfRange("an area or a transmittance is negative")
    return float(sum(area * u for area, u in parts))


@formula(text=f"{AIR_WH_M3_K} * air_changes * volume_m3", unit="W/K", source=LOSS,
         args=(Arg("air_changes", "", 0, 100), Arg("volume_m3", "m3", 0)))
def ventilation_loss(air_changes: float, volume_m3: float) -> float:
    """Heat the air carries off a kelvin.

    H = 0.33 n V

    Parameters
    ----------
    air_changes : air changes an hour [-]
    volume_m3 : volume of the room or house [m3]

    Returns
    -------
    loss a kelvin [W/K]

    Raises
    ------
    OutOfRange
        If one is negative, or beyond 100 air changes.

    Limits
    ------
    No heat recovery.

    Source
    ------
    BS EN 12831, simplified; two textbooks.

    Examples
    --------
    >>> ventilation_loss(1.0, 600.0)
    198.0
    """
    return AIR_WH_M3_K * air_changes * volume_m3


@formula(text="(flow_c + return_c) / 2 - room_c", unit="K", source=EN_442,
         args=(Arg("flow_c", "C", 0, 110), Arg("return_c", "C", 0, 110), Arg("room_c", "C", -20, 50)),
         limits=[("return_c <= flow_c", "the return cannot be hotter than the flow")])
def mean_difference(flow_c: float, return_c: float, room_c: float) -> float:
    """Mean of flow and return above the room.

    Parameters
    ----------
    flow_c : flow temperature [C]
    return_c : return temperature [C]
    room_c : room temperature [C]

    Returns
    -------
    difference [K]

    Raises
    ------
    OutOfRange
        If the return is hotter than the flow.

    Limits
    ------
    The plain mean; with a large drop the logarithmic one is a little less.

    Source
    ------
    EN 442: 75/65/20 is 50 K.

    Examples
    --------
    >>> mean_difference(75.0, 65.0, 20.0)
    50.0
    """
    return (flow_c + return_c) / 2 - room_c


@formula(text=f"(difference_k / {RATED_DIFFERENCE_K}) ** {RADIATOR_EXPONENT}", unit="", source=EN_442,
         args=(Arg("difference_k", "K", COLDEST_K, HOTTEST_K),))
def radiator_factor(difference_k: float) -> float:
    """Output of a radiator as a share of its rated one.

    f = (dT / 50)^1.3

    Parameters
    ----------
    difference_k : mean difference to the room, 5 to 75 [K]

    Returns
    -------
    share [-]

    Raises
    ------
    OutOfRange
        Outside the rows of the correction table.

    Limits
    ------
    Panel radiators; fan convectors and floors follow other laws.

    Source
    ------
    EN 442; the printed correction table.

    Examples
    --------
    >>> round(radiator_factor(30.0), 3)
    0.515
    """
    return (difference_k / RATED_DIFFERENCE_K) ** RADIATOR_EXPONENT
