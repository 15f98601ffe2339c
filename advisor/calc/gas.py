"""Natural gas: rates, and the drop from the meter through a tree of pipe legs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from advisor.calc.constants import MJ_PER_KWH
from advisor.calc.formula import Arg, OutOfRange, formula
from advisor.calc.gas_pipe import COPPER, ELBOW_M, SIZES, gas_leg_drop, table_size
from advisor.facts import Source

METER = "meter"
WIDEST_MM = float(SIZES[-1])  # of the table
RATE = Source("Gas rate = gross kW x 3.6 / calorific value (BS 6891 teaching sheet, gas-training notes)", "",
              "PUBLISHED", "reprint")
CALORIFIC = Arg("calorific_mj_m3", "MJ/m3", 1, 200)


@formula(text=f"power_kw / efficiency * {MJ_PER_KWH} / calorific_mj_m3", unit="m3/h", source=RATE,
         args=(Arg("power_kw", "kW", 0), Arg("efficiency", "", 0.1, 1.2), CALORIFIC))
def gas_rate(power_kw: float, efficiency: float, calorific_mj_m3: float) -> float:
    """Gas a boiler takes for an output.

    Q = P / eta x 3.6 / CV

    Parameters
    ----------
    power_kw : heat given to the water [kW], >= 0
    efficiency : output over gross input [-]
    calorific_mj_m3 : gross calorific value [MJ/m3]

    Returns
    -------
    gas rate [m3/h]

    Raises
    ------
    OutOfRange
        If the efficiency or the calorific value is no such thing.

    Limits
    ------
    Gross input: a plate that shows net input is multiplied by 1.11 first.

    Source
    ------
    Gas-training sources, Q = kW x 3.6 / CV.

    Examples
    --------
    >>> round(gas_rate(30.0, 0.9, 39.3), 2)
    3.05
    """
    return power_kw / efficiency * MJ_PER_KWH / calorific_mj_m3


@formula(text=f"input_kw * {MJ_PER_KWH} / calorific_mj_m3", unit="m3/h", source=RATE,
         args=(Arg("input_kw", "kW", 0), CALORIFIC))
def input_rate(input_kw: float, calorific_mj_m3: float) -> float:
    """Gas an appliance takes for a gross input.

    Q = kW x 3.6 / CV

    Parameters
    ----------
    input_kw : gross input [kW], >= 0
    calorific_mj_m3 : gross calorific value [MJ/m3]

    Returns
    -------
    gas rate [m3/h]

    Raises
    ------
    OutOfRange
        If the calorific value is no such thing.

    Limits
    ------
    Gross input.

    Source
    ------
    Gas-training sources, Q = kW x 3.6 / CV.

    Examples
    --------
    >>> round(input_rate(33.0, 39.5), 3)
    3.008
    """
    return input_kw * MJ_PER_KWH / calorific_mj_m3


@dataclass(frozen=True, slots=True)
class Leg:
    """A length of gas pipe: where it starts ("meter" or a leg), where it ends (an appliance, or "" for a tee)."""

    name: str
    start: str
    to: str
    size_mm: float
    length_m: float
    elbows: float


@dataclass(frozen=True, slots=True)
class LegDrop:
    """What one leg of the way carries and loses."""

    leg: str
    flow_m3_h: float
    equivalent_m: float
    drop_mbar: float


def tree(legs: Sequence[Leg], loads: Mapping[str, float], outlet: str, unplaced: float | None = None,
         ) -> tuple[LegDrop, ...]:
    """Walk from the meter to an appliance: each leg carries every appliance beyond it.

    Parameters
    ----------
    legs : the pipe legs
    loads : gas each appliance takes, by the name its leg ends at [m3/h]
    outlet : the appliance the drop is wanted to
    unplaced : share of the gas of appliances that no leg ends at which passes the whole way: 0 the best case, 1 the
        worst; None refuses where there are any [-]

    Returns
    -------
    the legs of the way, from the meter, with their flow and drop; the whole drop is their sum

    Raises
    ------
    OutOfRange
        If the way cannot be followed back to the meter, two legs end at one appliance, an appliance has no leg, or a
        size lies outside the table.

    Limits
    ------
    Everything on at its full rate. Tees are not counted: their allowance depends on direction and was not seen.

    Source
    ------
    BS 6891: each section loses its share of the permitted drop; published legs in series in the tests.

    Examples
    --------
    >>> legs = [Leg("main", "meter", "", 22, 6.0, 0), Leg("last", "main", "boiler", 15, 3.0, 0),
    ...         Leg("side", "main", "hob", 15, 2.0, 0)]
    >>> [round(leg.drop_mbar, 2) for leg in tree(legs, {"boiler": 1.3, "hob": 2.6}, "boiler")]
    [0.5, 0.25]
    """
    by_name = {leg.name: leg for leg in legs}
    ways = {name: _way(name, legs, by_name) for name in sorted({*loads, outlet})}
    if not ways[outlet]:
        raise OutOfRange(f"no leg ends at {outlet}")
    lost = [name for name, way in ways.items() if not way]
    if lost and unplaced is None:
        raise OutOfRange(f"no leg ends at {', '.join(lost)}")
    astray = (unplaced or 0.0) * sum(loads[name] for name in lost)
    made = []
    for leg in ways[outlet]:
        flow = astray + sum(load for name, load in loads.items() if leg in ways[name])
        run = leg.length_m + leg.elbows * ELBOW_M[table_size(leg.size_mm)]
        made.append(LegDrop(leg.name, flow, run, gas_leg_drop(size_mm=leg.size_mm, length_m=leg.length_m,
                                                              elbows=leg.elbows, flow_m3_h=flow)))
    return tuple(made)


def _way(appliance: str, legs: Iterable[Leg], by_name: Mapping[str, Leg]) -> list[Leg]:
    """The legs from the meter to an appliance; none where no leg ends there."""
    last = [leg for leg in legs if leg.to == appliance]
    if len(last) > 1:
        raise OutOfRange(f"{len(last)} legs end at {appliance}: {', '.join(leg.name for leg in last)}")
    way = list(last)
    while way and way[0].start != METER:
        before = by_name.get(way[0].start)
        if before is None or before in way:
            raise OutOfRange(f"leg {way[0].name} starts at {way[0].start or 'nothing'}, which leads to no meter")
        way.insert(0, before)
    return way


def path_drop(legs: Sequence[Leg], loads: Mapping[str, float], outlet: str, unplaced: float | None = None,
              ) -> float | None:
    """Drop from the meter to an appliance, or None where it cannot be told.

    Parameters
    ----------
    legs : the pipe legs
    loads : gas each appliance takes, by name [m3/h]
    outlet : the appliance the drop is wanted to
    unplaced : as in `tree` [-]

    Returns
    -------
    drop [mbar], or None: no way to the appliance, or a size outside the table

    Raises
    ------
    Raises nothing.

    Limits
    ------
    As `tree`.

    Source
    ------
    BS 6891.

    Examples
    --------
    >>> path_drop([Leg("main", "meter", "boiler", 22, 12.0, 0)], {"boiler": 2.3}, "boiler")
    0.4
    """
    try:
        return sum(leg.drop_mbar for leg in tree(legs, loads, outlet, unplaced))
    except OutOfRange:
        return None


formula(name="gas_tree_drop", unit="mbar", source=COPPER.source, variadic=True, trust=True,
        text="sum over the legs from meter to appliance of gas_leg_drop(size, length, elbows, gas of all beyond it)",
        args=(Arg("values", "", meaning="size, length and elbows of each leg, gas of each appliance"),))(path_drop)
