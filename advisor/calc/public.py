"""The calculators an outsider may call by name: keys as texts with units in, a worked answer out.

`answer` gathers every fault of a call before it refuses it. Beyond a formula's limits there is no result but a
reason: that is an answer too. The calculators themselves stand in the `public_*` modules beside it.
"""

from __future__ import annotations

import difflib
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from advisor.calc.formula import OutOfRange
from advisor.facts import Source
from advisor.units import UnitError, parse


class CalcError(ValueError):
    """A call that cannot be understood; `faults` holds every one, a line each."""

    def __init__(self, faults: list[str]):
        super().__init__("\n".join(faults))
        self.faults = faults


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a calculator: a quantity in a unit, one of some words, or a text its reader understands."""

    name: str
    unit: str = ""
    meaning: str = ""
    default: str = ""  # the text taken where the key is not given
    optional: bool = False
    words: tuple[str, ...] = ()
    reader: Callable[[str], Any] | None = None  # raises ValueError with a sentence
    signed: bool = False  # may be below 0; a temperature always may

    def read(self, text: str) -> Any:
        """The value a text stands for; ValueError says what is wanted."""
        if self.reader:
            return self.reader(text)
        if not self.words:
            return parse(text, self.unit)
        word = " ".join(text.lower().split())
        if word not in self.words:
            raise ValueError(f'"{text}" is not allowed. Allowed: {", ".join(self.words)}.')
        return word

    def wanted(self) -> str:
        """The key as a list of calculators prints it."""
        number = "number" if self.unit in ("", "-") else self.unit
        what = "|".join(self.words) if self.words else "text" if self.reader else number
        return f"{self.name}={what}" if not (self.default or self.optional) else f"[{self.name}={self.default or what}]"


@dataclass(frozen=True, slots=True)
class Worked:
    """What a calculator found: its results, its working line by line, a source of its own where it chose one."""

    result: Mapping[str, float | str]
    lines: tuple[str, ...]
    source: Source | None = None


@dataclass(frozen=True, slots=True)
class Calculator:
    """One named sum: its keys, the units of its results, its source, and the work itself."""

    name: str
    title: str
    keys: tuple[Key, ...]
    results: Mapping[str, str]  # result key -> unit
    source: Source
    work: Callable[[Mapping[str, Any]], Worked]
    one_of: tuple[str, ...] = ()  # keys of which exactly one is given


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer to one call; `reason` says why there is no result."""

    calculator: Calculator
    inputs: Mapping[str, Mapping[str, Any]]
    result: Mapping[str, float | str] | None
    working: tuple[str, ...]
    source: Source
    reason: str = ""

    def as_json(self) -> dict[str, Any]:
        """The document of the command line; no `result` where the formula does not hold."""
        head = {"calc": self.calculator.name, "inputs": dict(self.inputs)}
        tail = {"working": list(self.working), "source": self.source.as_json(), "valid": self.result is not None}
        if self.result is None:
            return head | tail | {"reason": self.reason}
        units = self.calculator.results
        return head | {"result": {k: {"value": v, "unit": units[k]} for k, v in self.result.items()}} | tail


def n(value: float) -> str:
    """A number as the working shows it; the result itself is not rounded.

    Parameters
    ----------
    value : any number

    Returns
    -------
    its text with four figures

    Raises
    ------
    Raises nothing.

    Limits
    ------
    For people only.

    Source
    ------
    None: a spelling.

    Examples
    --------
    >>> n(36.6363), n(15340.2)
    ('36.64', '15340')
    """
    return f"{value:.0f}" if abs(value) >= 1000 else f"{value:.4g}"


def calculators() -> dict[str, Calculator]:
    """Every calculator by name, in the order of the list.

    Parameters
    ----------
    None.

    Returns
    -------
    name -> calculator

    Raises
    ------
    Raises nothing.

    Limits
    ------
    The modules are read on first use, so that whoever only needs formulas does not pay for them.

    Source
    ------
    Each calculator carries its own.

    Examples
    --------
    >>> "reheat-time" in calculators()
    True
    """
    from advisor.calc import (
        public_formulas,
        public_heat,
        public_house,
        public_more,
        public_season,
        public_services,
        public_sums,
        public_water,
        public_year,
    )

    found = [*public_water.CALCULATORS, *public_heat.CALCULATORS, *public_services.CALCULATORS,
             *public_more.CALCULATORS, *public_house.CALCULATORS, *public_sums.CALCULATORS,
             *public_year.CALCULATORS, *public_season.CALCULATORS, *public_formulas.CALCULATORS]
    return {c.name: c for c in found}


def answer(name: str, texts: Mapping[str, str], more: Iterable[Calculator] = ()) -> Answer:
    """Read the keys, do the sum, keep the working.

    Parameters
    ----------
    name : the calculator's name
    texts : key -> text with unit, as an installer writes it
    more : calculators of higher layers, which this one may not know

    Returns
    -------
    the answer, or the reason why the formula does not hold for these figures

    Raises
    ------
    CalcError
        With every fault: unknown name, unknown key, missing key, text that cannot be read.

    Limits
    ------
    Those of the formula called.

    Source
    ------
    The calculator's own.

    Examples
    --------
    >>> round(answer("reheat-time", {"volume": "210 l", "power": "20 kW", "rise": "50 K"}).result["time"])
    37
    """
    known = calculators() | {c.name: c for c in more}
    if name not in known:
        near = difflib.get_close_matches(name, known, 1)
        raise CalcError([f"{name}: no such calculator.{f' Did you mean {near[0]}?' if near else ''} "
                         f"Known: {', '.join(k for k in known if '.' not in k)}, and calc.NAME for every formula that "
                         "a report names."])
    calculator = known[name]
    values, read, faults = _read(calculator, texts)
    if faults:
        raise CalcError([f"{name}: {fault}" for fault in faults])
    try:
        _refuse_negative(calculator, values)
        worked = calculator.work(values)
        if not all(isinstance(r, str) or math.isfinite(r) for r in worked.result.values()):
            raise OverflowError
    except (OutOfRange, OverflowError, ZeroDivisionError) as error:
        reason = str(error) if isinstance(error, OutOfRange) else "the figures lie beyond anything the formula is for"
        return Answer(calculator, read, None, (), calculator.source, reason)
    return Answer(calculator, read, worked.result, worked.lines, worked.source or calculator.source)


def _refuse_negative(calculator: Calculator, values: Mapping[str, Any]) -> None:
    """No formula here holds for less than nothing of a thing."""
    below = [f"{k.name} is {n(values[k.name])}{f' {k.unit}' if k.unit else ''}; it cannot be negative"
             for k in calculator.keys if not (k.signed or k.unit == "C")
             and isinstance(values[k.name], float) and values[k.name] < 0]
    if below:
        raise OutOfRange("; ".join(below))


def _read(calculator: Calculator, texts: Mapping[str, str]) -> tuple[dict[str, Any], dict[str, Any], list[str]]:
    """Values by key, the inputs as they are echoed, and every fault."""
    allowed = {key.name: key for key in calculator.keys}
    faults = [f"{k} is not a key.{_near(k, allowed)} Allowed: {', '.join(allowed)}." for k in texts if k not in allowed]
    values: dict[str, Any] = {}
    read: dict[str, Any] = {}
    for key in calculator.keys:
        text = texts.get(key.name, key.default)
        if key.name not in texts and not text:
            values[key.name] = None
            if not key.optional and key.name not in calculator.one_of:
                faults.append(f"{key.name} is missing. Give {key.wanted()} ({key.meaning}).")
            continue
        try:
            values[key.name] = key.read(text)
        except (UnitError, ValueError) as error:
            faults.append(f"{key.name}: {error}")
            continue
        shown = values[key.name] if isinstance(values[key.name], float | str) else text
        read[key.name] = {"read": text, "value": shown, "unit": key.unit}
    given = [k for k in calculator.one_of if k in texts]
    if calculator.one_of and len(given) != 1:
        faults.append(f"give exactly one of {', '.join(calculator.one_of)}; {len(given)} given.")
    return values, read, faults


def _near(word: str, allowed: Mapping[str, Any]) -> str:
    near = difflib.get_close_matches(word, allowed, 1)
    return f" Did you mean {near[0]}?" if near else ""
