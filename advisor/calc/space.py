"""Room and weight of a cylinder."""

from __future__ import annotations

from advisor.calc.constants import ARITHMETIC, GRAVITY
from advisor.calc.formula import Arg, formula
from advisor.facts import Source

WEIGHT = Source("Weight = mass x 9.81 m/s2; water 1 kg/l", "", "DERIVED")
FAR_MM = 100_000
MM = {name: Arg(name, "mm", 0, FAR_MM) for name in
      ("width_mm", "depth_mm", "height_mm", "diameter_mm", "tall_mm", "around_mm", "above_mm")}


@formula(text="volume_l + empty_kg", unit="kg", source=WEIGHT, args=(Arg("volume_l", "l", 0), Arg("empty_kg", "kg", 0)))
def full_mass(volume_l: float, empty_kg: float) -> float:
    """Mass of a store full of water, at 1 kg a litre.

    Parameters
    ----------
    volume_l : water in it [l]
    empty_kg : mass of the empty store [kg]

    Returns
    -------
    mass [kg]

    Raises
    ------
    OutOfRange
        If either is negative.

    Limits
    ------
    Pipes and a vessel beside it are left out.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> full_mass(210.0, 50.0)
    260.0
    """
    return volume_l + empty_kg


@formula(text=f"mass_kg * {GRAVITY} / 1000", unit="kN", source=WEIGHT, args=(Arg("mass_kg", "kg", 0),))
def floor_load(mass_kg: float) -> float:
    """Weight of a mass on the floor.

    F = 9.81 m / 1000

    Parameters
    ----------
    mass_kg : mass [kg], >= 0

    Returns
    -------
    force [kN]

    Raises
    ------
    OutOfRange
        If the mass is negative.

    Limits
    ------
    A still load. Whether joists carry it depends on span, place and bearing: that is for a competent person.

    Source
    ------
    Mechanics.

    Examples
    --------
    >>> round(floor_load(260.0), 2)
    2.55
    """
    return mass_kg * GRAVITY / 1000


@formula(text="min(width_mm - diameter_mm - around_mm, depth_mm - diameter_mm - around_mm, "
              "height_mm - tall_mm - above_mm)",
         unit="mm", source=ARITHMETIC, args=tuple(MM.values()))
def space_margin(width_mm: float, depth_mm: float, height_mm: float, diameter_mm: float, tall_mm: float,
                 around_mm: float, above_mm: float) -> float:
    """Room left around a cylinder: the worst of width, depth and height.

    Parameters
    ----------
    width_mm : clear width of the place [mm]
    depth_mm : clear depth [mm]
    height_mm : clear height [mm]
    diameter_mm : outside diameter of the cylinder [mm]
    tall_mm : its height [mm]
    around_mm : extra width, and extra depth, that fittings and hands need in all [mm]
    above_mm : extra height needed above it [mm]

    Returns
    -------
    the smallest spare length; negative where it does not fit [mm]

    Raises
    ------
    OutOfRange
        If one is negative or beyond 100 m.

    Limits
    ------
    A box-shaped place and an upright cylinder; tilting it into place needs its diagonal besides.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> space_margin(800, 750, 2200, 550, 1500, 150, 300)
    50
    """
    return min(width_mm - diameter_mm - around_mm, depth_mm - diameter_mm - around_mm, height_mm - tall_mm - above_mm)


@formula(text=f"mass_kg * {GRAVITY} / 1000 / footprint_m2", unit="kN/m2", source=WEIGHT,
         args=(Arg("mass_kg", "kg", 0), Arg("footprint_m2", "m2", 0)),
         limits=[("footprint_m2 > 0", "the footprint must be above 0 m2")])
def floor_pressure(mass_kg: float, footprint_m2: float) -> float:
    """Weight spread over the footprint.

    p = 9.81 m / (1000 A)

    Parameters
    ----------
    mass_kg : mass [kg], >= 0
    footprint_m2 : area it stands on [m2], > 0

    Returns
    -------
    pressure [kN/m2]

    Raises
    ------
    OutOfRange
        If the mass is negative or there is no footprint.

    Limits
    ------
    Local pressure, not the load on a joist.

    Source
    ------
    Mechanics.

    Examples
    --------
    >>> round(floor_pressure(260.0, 0.24), 1)
    10.6
    """
    return mass_kg * GRAVITY / 1000 / footprint_m2
