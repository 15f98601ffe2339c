"""Heat loss of a whole house by published factors, heat over a season, and where a boiler begins to cycle."""

from __future__ import annotations

from advisor import tables
from advisor.calc.constants import NO_LIMIT
from advisor.calc.formula import Arg, formula
from advisor.facts import Source

FACTORS = tables.load("whole_house_factors")
DESIGN = Source("Building Services Engineering (5th ed.)", "Example 3.6: fabric and air, each with its factor",
                "PUBLISHED", "reprint")
DEGREE_DAYS = Source("Degree-day explainer, worked example: heat loss x degree days x 24 / 1000", "", "PUBLISHED",
                     "reprint")
PART_LOAD = Source("Heat balance: the load falls straight with the difference to outside", "", "DERIVED")
PER_AREA = Source("Loss per square metre by kind of house, UK trade custom", "", "COMMON PRACTICE")
AIR_W_M3_K = 0.25  # ventilation of the whole-house method: factor page


@formula(text="fabric_w_k * fabric_factor * difference_k + air_w_k * air_factor * difference_k", unit="W",
         source=DESIGN,
         args=(Arg("fabric_w_k", "W/K", 0, NO_LIMIT), Arg("air_w_k", "W/K", 0, NO_LIMIT),
               Arg("difference_k", "K", 0, 100), Arg("fabric_factor", "", 0.5, 2), Arg("air_factor", "", 0.5, 2)))
def design_loss(fabric_w_k: float, air_w_k: float, difference_k: float, fabric_factor: float,
                air_factor: float) -> float:
    """Heat a house loses on the design day, with the textbook's factors for radiant and warm-air heating.

    P = F1 H_fabric dT + F2 H_air dT

    Parameters
    ----------
    fabric_w_k : sum of A U [W/K], >= 0
    air_w_k : 0.33 n V [W/K], >= 0
    difference_k : inside less outside, 0 to 100 [K]
    fabric_factor : F1, 1.0 for plain air temperatures [-]
    air_factor : F2, 1.0 for plain air temperatures [-]

    Returns
    -------
    loss [W]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    Steady state; no warming-up margin.

    Source
    ------
    Building Services Engineering (5th ed.), Example 3.6.

    Examples
    --------
    >>> round(design_loss(415.6, 198.0, 25.0, 1.0, 1.1))
    15835
    """
    return fabric_w_k * fabric_factor * difference_k + air_w_k * air_factor * difference_k


@formula(text=f"floor_m2 * window_share * u_window + (perimeter_m * height_m - floor_m2 * window_share) * u_wall "
              f"+ plan_m2 * u_roof + plan_m2 * u_floor + {AIR_W_M3_K} * plan_m2 * height_m", unit="W/K",
         source=FACTORS.source,
         args=(Arg("plan_m2", "m2", 0, 1000), Arg("floor_m2", "m2", 0, 4000), Arg("perimeter_m", "m", 0, 400),
               Arg("height_m", "m", 0, 20), Arg("window_share", "", 0, 1), Arg("u_window", "W/m2K", 0, 10),
               Arg("u_wall", "W/m2K", 0, 10), Arg("u_roof", "W/m2K", 0, 10), Arg("u_floor", "W/m2K", 0, 10)),
         limits=[("floor_m2 * window_share <= perimeter_m * height_m",
                  "the windows by this factor are larger than the outside walls")])
def whole_house_loss(plan_m2: float, floor_m2: float, perimeter_m: float, height_m: float, window_share: float,
                     u_window: float, u_wall: float, u_roof: float, u_floor: float) -> float:
    """Loss a kelvin of a whole house by factors: windows are a share of the floor, walls are what is left.

    H = A_floor f U_window + (p h - A_floor f) U_wall + A_plan (U_roof + U_floor) + 0.25 A_plan h

    Parameters
    ----------
    plan_m2 : area of the plan [m2]
    floor_m2 : floor area of all storeys [m2]
    perimeter_m : outside walls along the plan, party walls left out [m]
    height_m : height of all storeys together [m]
    window_share : windows as a share of the floor area [-]
    u_window : of the windows [W/(m2 K)]
    u_wall : of the outside walls [W/(m2 K)]
    u_roof : of the roof [W/(m2 K)]
    u_floor : of the ground floor [W/(m2 K)]

    Returns
    -------
    loss a kelvin [W/K]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range, or the windows are larger than the walls.

    Limits
    ------
    A simple plan of one shape on all storeys. Not for sizing a combination boiler: its power follows the hot water.

    Source
    ------
    Whole-house boiler sizing method; its factor page seen in reprint, the form of the sum from memory.

    Examples
    --------
    >>> round(whole_house_loss(48.0, 96.0, 20.0, 4.8, 0.2, 3.0, 0.45, 0.44, 0.7), 2)
    204.48
    """
    windows = floor_m2 * window_share
    walls = perimeter_m * height_m - windows
    return windows * u_window + walls * u_wall + plan_m2 * (u_roof + u_floor) + AIR_W_M3_K * plan_m2 * height_m


@formula(text="floor_m2 * w_m2 / 1000", unit="kW", source=PER_AREA,
         args=(Arg("floor_m2", "m2", 0, 4000), Arg("w_m2", "W/m2", 0, 400)))
def loss_per_area(floor_m2: float, w_m2: float) -> float:
    """Heat loss guessed from the floor area.

    P = A w / 1000

    Parameters
    ----------
    floor_m2 : heated floor area [m2]
    w_m2 : loss of a square metre: new 25 to 35, insulated cavity about 50, solid walls 90 to 120 [W/m2]

    Returns
    -------
    loss [kW]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    A guess, a fifth out either way: it starts a talk and sizes nothing.

    Source
    ------
    Common practice.

    Examples
    --------
    >>> loss_per_area(90.0, 50.0)
    4.5
    """
    return floor_m2 * w_m2 / 1000


@formula(text="loss_w_k * degree_days * 24 / 1000", unit="kWh", source=DEGREE_DAYS,
         args=(Arg("loss_w_k", "W/K", 0, NO_LIMIT), Arg("degree_days", "K", 0, 10_000)))
def season_heat(loss_w_k: float, degree_days: float) -> float:
    """Heat a house wants over a season.

    E = 24 H DD / 1000

    Parameters
    ----------
    loss_w_k : loss a kelvin [W/K]
    degree_days : kelvin-days of the season, on a base of 15.5 C by UK habit [K day]

    Returns
    -------
    heat [kWh]

    Raises
    ------
    OutOfRange
        If an argument lies outside its range.

    Limits
    ------
    Gains stand in the base temperature only.

    Source
    ------
    Degree-day explainer, worked example.

    Examples
    --------
    >>> season_heat(180.0, 2200.0)
    9504.0
    """
    return loss_w_k * degree_days * 24 / 1000


@formula(text="inside_c - (inside_c - coldest_c) * least_kw / loss_kw", unit="C", source=PART_LOAD,
         args=(Arg("least_kw", "kW", 0, NO_LIMIT), Arg("loss_kw", "kW", 0.1, NO_LIMIT), Arg("inside_c", "C", 5, 35),
               Arg("coldest_c", "C", -30, 20)),
         limits=[("coldest_c < inside_c", "the design day must be colder than inside")])
def cycles_above(least_kw: float, loss_kw: float, inside_c: float, coldest_c: float) -> float:
    """Outside temperature above which a boiler at its least output gives more than the house loses.

    T = Ti - (Ti - Tcoldest) Pleast / Ploss

    Parameters
    ----------
    least_kw : least output the boiler turns down to [kW]
    loss_kw : heat loss on the design day [kW]
    inside_c : inside [C]
    coldest_c : outside on the design day [C]

    Returns
    -------
    outside temperature [C]; above it the burner goes on and off

    Raises
    ------
    OutOfRange
        If an argument lies outside its range, or the design day is no colder than inside.

    Limits
    ------
    Gains left out (they begin the cycling sooner); all zones open.

    Source
    ------
    Heat balance.

    Examples
    --------
    >>> cycles_above(3.0, 6.0, 20.0, -4.0)
    8.0
    """
    return inside_c - (inside_c - coldest_c) * least_kw / loss_kw
