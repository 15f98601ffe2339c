"""Safety discharge pipe of an unvented store: size of the pipe below the tundish (D2)."""

from __future__ import annotations

from dataclasses import dataclass

from advisor import tables
from advisor.calc.constants import NO_LIMIT
from advisor.calc.formula import Arg, OutOfRange, formula
from advisor.tables import Table

D2 = tables.load("discharge_d2_copper")
TINY = 1e-9  # so that 4.2 m and six elbows of 0.8 m make 9 m, whatever binary fractions say
USUAL_OUTLET = "G1/2"  # relief valve outlet of a domestic unvented store; D1 15 mm
ROWS = [row for row in D2.rows if row["valve_outlet"] == USUAL_OUTLET]
LAST = ROWS[-1]
RUN = (Arg("length_m", "m", 0, NO_LIMIT, meaning="straight run from tundish to the open end"),
       Arg("elbows", "", 0, NO_LIMIT))


@dataclass(frozen=True, slots=True)
class Trial:
    """One size tried: the run with its elbows, against the longest the table allows."""

    d1_mm: int
    d2_mm: int
    equivalent_m: float
    limit_m: float

    @property
    def fits(self) -> bool:
        return self.equivalent_m <= self.limit_m + TINY


def d2_trials(valve_outlet: str, straight_m: float, elbows: float, table: Table = D2) -> tuple[Trial, ...]:
    """Try each tabulated D2 size, smallest first, stopping at the first that fits.

    An elbow costs as much as a length of straight pipe of its own size, so the run is summed anew for every size::

        equivalent_m = straight_m + elbows * elbow_m(size)

    Parameters
    ----------
    valve_outlet : thread size of the relief valve outlet, as the table spells it
    straight_m : run from tundish to the open end [m], >= 0
    elbows : number of elbows in that run [-], >= 0
    table : the table of sizes

    Returns
    -------
    the trials in the order made; the last is the answer if it fits, else the run is too long for every size

    Raises
    ------
    OutOfRange
        If a length or count is negative, or the table has no such outlet.

    Limits
    ------
    Copper only, one valve a pipe: the table says nothing of other materials, nor of shared runs.

    Source
    ------
    Approved Document G (England), Table 3.1 and the worked example under it.

    Examples
    --------
    >>> [(t.d2_mm, round(t.equivalent_m, 1), t.fits) for t in d2_trials("G1/2", 7.0, 4)]
    [(22, 10.2, False), (28, 11.0, True)]
    """
    if straight_m < 0 or elbows < 0:
        raise OutOfRange(f"the run is {straight_m} m with {elbows} elbows; neither can be negative")
    rows = [row for row in table.rows if row["valve_outlet"] == valve_outlet]
    if not rows:
        known = ", ".join(sorted({row["valve_outlet"] for row in table.rows}))
        raise OutOfRange(f"the valve outlet is {valve_outlet}; {table.id} has only {known}")
    trials: list[Trial] = []
    for row in sorted(rows, key=lambda row: row["d2_mm"]):
        run = straight_m + elbows * row["elbow_m"]
        trials.append(Trial(row["d1_mm"], row["d2_mm"], run, row["limit_m"]))
        if trials[-1].fits:
            break
    return tuple(trials)


def _run(row: dict) -> str:
    return f"length_m + {row['elbow_m']} * elbows"


def _choice(pick: str) -> str:
    """The closed expression that picks, of the smallest row that fits, its size or its run; else the last row's."""
    found = str(LAST["d2_mm"]) if pick == "d2_mm" else _run(LAST)
    for row in reversed(ROWS[:-1]):
        what = str(row["d2_mm"]) if pick == "d2_mm" else _run(row)
        found = f"{what} if {_run(row)} <= {row['limit_m']} + {TINY} else ({found})"
    return found


@formula(text=_choice("d2_mm"), unit="mm", source=D2.source, args=RUN,
         limits=[(f"{_run(LAST)} <= {LAST['limit_m']} + {TINY}",
                  f"the run with its elbows is beyond the table's {LAST['limit_m']:g} m: have it worked out")])
def discharge_d2_mm(length_m: float, elbows: float) -> float:
    """Smallest copper D2 for a G1/2 relief valve.

    Parameters
    ----------
    length_m : straight run from tundish to the open end [m]
    elbows : elbows in it [-]

    Returns
    -------
    outside size of the pipe [mm]

    Raises
    ------
    OutOfRange
        If the run is longer than the table covers: it falls silent there, it does not forbid.

    Limits
    ------
    Copper; one valve; G1/2 outlet with a 15 mm D1.

    Source
    ------
    Approved Document G (England), Table 3.1.

    Examples
    --------
    >>> discharge_d2_mm(7.0, 4)
    28.0
    """
    return float(d2_trials(USUAL_OUTLET, length_m, elbows)[-1].d2_mm)


@formula(text=_choice("run"), unit="m", source=D2.source, args=RUN)
def discharge_equivalent_m(length_m: float, elbows: float) -> float:
    """The run with its elbows, at the size chosen (the largest where none fits).

    Parameters
    ----------
    length_m : straight run from tundish to the open end [m]
    elbows : elbows in it [-]

    Returns
    -------
    equivalent run [m]

    Raises
    ------
    OutOfRange
        If either is negative.

    Limits
    ------
    As `discharge_d2_mm`.

    Source
    ------
    Approved Document G (England), Table 3.1.

    Examples
    --------
    >>> discharge_equivalent_m(7.0, 4)
    11.0
    """
    return d2_trials(USUAL_OUTLET, length_m, elbows)[-1].equivalent_m


BEYOND = f"{_run(LAST)} - {LAST['limit_m']}"


@formula(text=f"{BEYOND} if abs({BEYOND}) > {TINY} else 0", unit="m", source=D2.source, args=RUN)
def discharge_over_table_m(length_m: float, elbows: float) -> float:
    """How far the run lies beyond the last row of the table.

    Parameters
    ----------
    length_m : straight run from tundish to the open end [m]
    elbows : elbows in it [-]

    Returns
    -------
    metres beyond; at most 0 where the table covers the run [m]

    Raises
    ------
    OutOfRange
        If either is negative.

    Limits
    ------
    As `discharge_d2_mm`; elbows are counted at the last row's allowance.

    Source
    ------
    Approved Document G (England), Table 3.1.

    Examples
    --------
    >>> round(discharge_over_table_m(24.0, 4), 1)
    2.6
    """
    beyond = length_m + elbows * LAST["elbow_m"] - LAST["limit_m"]
    return beyond if abs(beyond) > TINY else 0.0
