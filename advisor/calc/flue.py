"""Flue terminal and condensate pipe."""

from __future__ import annotations

from advisor import tables
from advisor.calc.formula import Arg, OutOfRange, formula

TERMINAL = tables.load("flue_terminal")
CONDENSATE = tables.load("condensate_pipe")
FAR_MM = 1_000_000


@formula(text="min(opening_mm - opening_limit_mm, boundary_mm - boundary_limit_mm)", unit="mm", source=TERMINAL.source,
         args=(Arg("opening_mm", "mm", 0, FAR_MM), Arg("opening_limit_mm", "mm", 0, FAR_MM),
               Arg("boundary_mm", "mm", 0, FAR_MM), Arg("boundary_limit_mm", "mm", 0, FAR_MM)))
def flue_margin(opening_mm: float, opening_limit_mm: float, boundary_mm: float, boundary_limit_mm: float) -> float:
    """Distance to spare at a terminal: the worse of opening and boundary.

    Parameters
    ----------
    opening_mm : terminal to the nearest opening into a building [mm]
    opening_limit_mm : least distance for that [mm]
    boundary_mm : terminal to the facing surface or boundary [mm]
    boundary_limit_mm : least distance for that [mm]

    Returns
    -------
    the smaller margin; negative where it is too near [mm]

    Raises
    ------
    OutOfRange
        If one is negative or beyond 1 km.

    Limits
    ------
    Two of the table's distances; corners, eaves, pipes and other terminals are looked at on site, by the maker's table.

    Source
    ------
    BS 5440-1, terminal positions.

    Examples
    --------
    >>> flue_margin(450, 300, 700, 600)
    100
    """
    return min(opening_mm - opening_limit_mm, boundary_mm - boundary_limit_mm)


def condensate_faults(place: str, length_m: float, bore_mm: float) -> tuple[str, ...]:
    """What the standard's guidance finds wrong with a condensate pipe.

    Parameters
    ----------
    place : "inside", "outside" or "garage"; an unheated garage counts as outside
    length_m : length of the run there [m], >= 0
    bore_mm : inside diameter [mm], >= 0

    Returns
    -------
    what is wrong, in words; nothing where the pipe is within the guidance

    Raises
    ------
    OutOfRange
        If the place is unknown or a measure is negative.

    Limits
    ------
    Bore and length only: fall (45 mm a metre), insulation, traps and the end are looked at on site.

    Source
    ------
    BS 6798:2014, 6.3.7.1.3 and 6.3.7.1.4.

    Examples
    --------
    >>> condensate_faults("outside", 2.0, 30.0), condensate_faults("inside", 6.0, 15.0)
    ((), ('bore 15 mm is under the 19 mm wanted inside',))
    """
    rows = {row["place"]: row for row in CONDENSATE.rows}
    if place not in rows:
        raise OutOfRange(f"the place is {place}; allowed: {', '.join(rows)}")
    if length_m < 0 or bore_mm < 0:
        raise OutOfRange(f"length {length_m:g} m and bore {bore_mm:g} mm cannot be negative")
    row, found = rows[place], []
    if bore_mm < row["min_bore_mm"]:
        found.append(f"bore {bore_mm:g} mm is under the {row['min_bore_mm']} mm wanted {row['say']}")
    if row["max_m"] and length_m > row["max_m"]:
        found.append(f"{length_m:g} m is over the {row['max_m']:g} m allowed {row['say']}")
    return tuple(found)
