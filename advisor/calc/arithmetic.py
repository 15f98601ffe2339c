"""Sums, differences and extremes that checks need; formulas so that the certificate can recompute them."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.calc.constants import ARITHMETIC
from advisor.calc.formula import Arg, formula

VALUES = (Arg("values", "", meaning="any number of values of one unit"),)


@formula(text="sum(values)", args=VALUES, unit="", source=ARITHMETIC, variadic=True)
def total(values: Sequence[float]) -> float:
    """Sum of any number of values.

    Parameters
    ----------
    values : numbers of one unit; none at all sum to 0

    Returns
    -------
    their sum, in their unit

    Raises
    ------
    Raises nothing.

    Limits
    ------
    None.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> total([9.0, 9.0])
    18.0
    """
    return float(sum(values))


@formula(text="max(values) if len(values) > 0 else 0", args=VALUES, unit="", source=ARITHMETIC, variadic=True)
def largest(values: Sequence[float]) -> float:
    """The largest of any number of values.

    Parameters
    ----------
    values : numbers of one unit, >= 0; of none at all the largest is 0

    Returns
    -------
    the largest, in their unit

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Meant for quantities that cannot be negative, so that "none" may count as 0.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> largest([6.0, 9.0]), largest([])
    (9.0, 0.0)
    """
    return float(max(values)) if values else 0.0


@formula(text="value - limit", args=(Arg("value", ""), Arg("limit", "")), unit="", source=ARITHMETIC)
def difference(value: float, limit: float) -> float:
    """What a value has over its limit (the form of every margin).

    Parameters
    ----------
    value : what there is, in any unit
    limit : what it is held against, in the same unit

    Returns
    -------
    value less limit; negative where it falls short

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Both in one unit.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> difference(15.5, 18.0)
    -2.5
    """
    return value - limit


@formula(text="min(a, b)", args=(Arg("a", ""), Arg("b", "")), unit="", source=ARITHMETIC)
def lesser(a: float, b: float) -> float:
    """The smaller of two values: what a chain of two can pass.

    Parameters
    ----------
    a : one value, in any unit
    b : the other, in the same unit

    Returns
    -------
    the smaller, in their unit

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Both in one unit.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> lesser(12.3, 15.4)
    12.3
    """
    return min(a, b)


@formula(text="value / of", args=(Arg("value", ""), Arg("of", "")), unit="", source=ARITHMETIC,
         limits=[("of > 0", "a share of nothing cannot be told: the whole must be above 0")])
def ratio(value: float, of: float) -> float:
    """A value as a share of another.

    Parameters
    ----------
    value : the part, in any unit
    of : the whole, in the same unit, > 0

    Returns
    -------
    share [-]

    Raises
    ------
    OutOfRange
        If the whole is not above 0.

    Limits
    ------
    A positive whole, both in one unit.

    Source
    ------
    Arithmetic.

    Examples
    --------
    >>> ratio(4.8, 8.0)
    0.6
    """
    return value / of
