"""A heating season month by month: load, return temperature, what the boiler makes of its gas."""

from __future__ import annotations

from dataclasses import dataclass

from advisor import tables
from advisor.calc.condensing import condensed_share, condensing_efficiency
from advisor.calc.energy import flow_temperature
from advisor.calc.formula import OutOfRange

OUTSIDE = tables.load("outside_monthly")
BASE_C = 15.5  # outside temperature above which a British house is taken to need no heating (degree days to 15.5 C)


@dataclass(frozen=True, slots=True)
class Boiler:
    """How it burns: flue gas over the return [K], excess air and loss through the casing as shares [-]."""

    approach_k: float = 5.0
    excess_air: float = 0.25
    casing: float = 0.01


@dataclass(frozen=True, slots=True)
class House:
    """What it loses on the coldest day [kW], its radiators at 50 K [kW], and the water's fall at full load [K]."""

    loss_kw: float
    emitters_kw: float
    coldest_c: float
    inside_c: float = 20.0
    drop_k: float = 20.0


@dataclass(frozen=True, slots=True)
class Month:
    """One month: days [-], outside [C], heat [kWh], return [C], efficiency on gross value [-], fuel [kWh]."""

    name: str
    days: int
    outside_c: float
    heat_kwh: float
    return_c: float
    condensed: float
    efficiency: float

    @property
    def fuel_kwh(self) -> float:
        return self.heat_kwh / self.efficiency


def months(house: House, boiler: Boiler, flow_c: float | None = None) -> tuple[Month, ...]:
    """The months that need heat.

    load = loss (15.5 - outside) / (inside - coldest); with a controlled flow the mean water temperature is
    room + 50 (load / radiators)^(1/1.3) and the return half the fall below it, the fall shrinking with the load;
    with a fixed flow the return is the whole fall below it whenever the boiler burns

    Parameters
    ----------
    house : the house and its radiators
    boiler : how it burns
    flow_c : flow temperature held all season; None for one that follows the weather [C]

    Returns
    -------
    months with a load, in the year's order

    Raises
    ------
    OutOfRange
        If the coldest day is not below 15.5 C and the room, a figure is not above 0, the flow held is too cool for
        the radiators, or the boiler cannot burn so.

    Limits
    ------
    Monthly means: mild days of a cold month and the other way round are not seen. Going on and off costs nothing here.

    Source
    ------
    EN 442, degree days to 15.5 C, monthly means of SAP 2012 (from memory), combustion of methane.

    Examples
    --------
    >>> found = months(House(8.0, 12.0, -3.0), Boiler())
    >>> [(m.name, round(m.return_c)) for m in found][:2]
    [('Jan', 36), ('Feb', 36)]
    """
    if min(house.loss_kw, house.emitters_kw, house.drop_k) <= 0:
        raise OutOfRange("loss, radiators and fall of temperature must be above 0")
    if not house.coldest_c < min(BASE_C, house.inside_c):
        raise OutOfRange(f"the coldest day must be below {BASE_C} C and below the room")
    if flow_c is not None and flow_c < (least := _flow(house.loss_kw, house)):
        raise OutOfRange(f"with {flow_c:g} C these radiators do not make good the loss: they need {least:.1f} C of "
                         "flow on the coldest day")
    return tuple(_month(row["month"], row["days"], row["mean_c"], house, boiler, flow_c)
                 for row in OUTSIDE.rows if row["mean_c"] < BASE_C)


def _month(name: str, days: int, outside_c: float, house: House, boiler: Boiler, flow_c: float | None) -> Month:
    load = house.loss_kw * (BASE_C - outside_c) / (house.inside_c - house.coldest_c)
    back = _return(load, house) if flow_c is None else flow_c - house.drop_k
    burn = {"return_c": back, "approach_k": boiler.approach_k, "excess_air": boiler.excess_air}
    return Month(name, days, outside_c, 24 * days * load, back, condensed_share(**burn),
                 condensing_efficiency(**burn, casing=boiler.casing))


def _flow(load_kw: float, house: House) -> float:
    """Flow temperature at which the radiators give just the load with the whole fall [C]."""
    return flow_temperature(loss_kw=load_kw, emitters_kw=house.emitters_kw, room_c=house.inside_c, drop_k=house.drop_k)


def _return(load_kw: float, house: House) -> float:
    """Return with a flow that follows the load: half the fall below the mean, the fall shrinking with it [C]."""
    mean = _flow(load_kw, house) - house.drop_k / 2
    return mean - house.drop_k * load_kw / house.loss_kw / 2
