"""Every registered formula as a calculator of its own, under the name the technical report prints: calc.NAME.

So a figure of a report can be worked again in one line, from the very inputs its trace names.
"""

from __future__ import annotations

import inspect
import math
import re
from collections.abc import Callable, Mapping
from typing import Any

from advisor.calc.constants import ARITHMETIC
from advisor.calc.formula import REGISTRY, Arg, Formula
from advisor.calc.public import Calculator, Key, Worked, n

PREFIX = "calc."
LONGEST = 240  # signs of a sum that are still readable with its figures put in
NUMBER = re.compile(r"\s*([+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?)\s*[^\d;]*")


def figures(text: str) -> tuple[float, ...]:
    """Numbers of one unit, divided by semicolons.

    Parameters
    ----------
    text : "9 l/min; 9 l/min", or without the unit

    Returns
    -------
    the numbers

    Raises
    ------
    ValueError
        With the one that cannot be read.

    Limits
    ------
    The unit is not looked at: write every number in the same.

    Source
    ------
    None: a spelling.

    Examples
    --------
    >>> figures("9 l/min; 6 l/min")
    (9.0, 6.0)
    """
    found = []
    for piece in filter(str.strip, text.split(";")):
        match = NUMBER.fullmatch(piece)
        if match is None:
            raise ValueError(f'"{piece.strip()}" is no number. Write for example "9; 6".')
        found.append(float(match[1]))
    return tuple(found)


def plain(text: str) -> float:
    """A number whose unit the formula does not fix, with or without its unit.

    Parameters
    ----------
    text : "3.4 bar" or "3.4"

    Returns
    -------
    the number

    Raises
    ------
    ValueError
        If it is not one number.

    Limits
    ------
    The unit is not looked at: write both sides of a difference in the same.

    Source
    ------
    None: a spelling.

    Examples
    --------
    >>> plain("3.4 bar")
    3.4
    """
    found = figures(text)
    if len(found) != 1:
        raise ValueError(f'"{text}" is not one number.')
    return found[0]


def _key(formula: Formula, arg: Arg) -> Key:
    if formula.variadic:
        return Key(arg.name, meaning=arg.meaning or "numbers of one unit", reader=figures)
    meaning = arg.meaning or arg.name.replace("_", " ")
    if arg.words:
        return Key(arg.name, meaning=meaning, words=arg.words)
    any_unit = not arg.unit and not formula.unit and formula.source == ARITHMETIC
    return Key(arg.name, arg.unit or "-", meaning, reader=plain if any_unit else None, signed=True)


def _put_in(text: str, values: Mapping[str, Any]) -> str:
    """A sum with its figures in place of the names."""
    def shown(match: re.Match[str]) -> str:
        value = values[match[0]]
        return f"'{value}'" if isinstance(value, str) else \
            f"[{', '.join(n(x) for x in value)}]" if isinstance(value, tuple) else n(value)

    names = "|".join(map(re.escape, sorted(values, key=len, reverse=True)))
    return re.sub(rf"\b(?:{names})\b", shown, text)


def printed(formula: Formula) -> list[str]:
    """The formula as its data sheet writes it.

    Parameters
    ----------
    formula : a registered formula

    Returns
    -------
    what stands before its parameters, line by line

    Raises
    ------
    Raises nothing.

    Limits
    ------
    For people; what is recomputed is its text.

    Source
    ------
    None: a spelling.

    Examples
    --------
    >>> printed(REGISTRY["loss_at_ten"])
    ['p10 = p (10 / q)^2']
    """
    sheet = inspect.cleandoc(formula.function.__doc__ or "").split("Parameters\n---")[0]
    return [line.strip().rstrip(":") for line in sheet.splitlines()[1:] if line.strip()]


def _work(formula: Formula) -> Callable[[Mapping[str, Any]], Worked]:
    def work(v: Mapping[str, Any]) -> Worked:
        found = formula.function(**v)
        shown = found if isinstance(found, str) else f"{n(found)} {formula.unit}".strip()
        lines = printed(formula)
        if len(formula.text) <= LONGEST:
            lines += [formula.text, f"{_put_in(formula.text, v)} = {shown}"]
        return Worked({"value": found}, tuple(lines or [shown]))

    return work


def _calculator(formula: Formula) -> Calculator:
    title = inspect.cleandoc(formula.function.__doc__ or formula.name).splitlines()[0].rstrip(".")
    unit = "text" if formula.domain else formula.unit or "-"
    return Calculator(PREFIX + formula.name, title, tuple(_key(formula, a) for a in formula.args), {"value": unit},
                      formula.source, _work(formula))


def spelled(value: float | str, unit: str) -> str:
    """A value as a key of these calculators reads it.

    Parameters
    ----------
    value : number or word
    unit : its unit, "" for none

    Returns
    -------
    its text, a number with every figure it has

    Raises
    ------
    Raises nothing.

    Limits
    ------
    For finite numbers.

    Source
    ------
    None: a spelling.

    Examples
    --------
    >>> spelled(15.0, "kW")
    '15 kW'
    """
    return value if isinstance(value, str) else f"{value:.15g} {unit}".strip() if math.isfinite(value) else str(value)


CALCULATORS = tuple(_calculator(f) for f in sorted(REGISTRY.values(), key=lambda f: f.name) if not f.trust)
