"""What a formula is: a function of plain numbers, its text, its limits and its range form.

Every function in `advisor.calc` that makes a fact is registered with
`@formula`. `text` is the closed expression a stranger can recompute (the
verifier does); `function` is what we run; a test holds the two together.
Its limits are closed expressions too: the decorated function looks at them
first, so "out of range" and `valid` cannot say different things.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache, wraps

from advisor.facts import ANYTHING, Source, Span, Value, Words, exactly

FUNCTIONS = {"min": min, "max": max, "abs": abs, "sum": sum, "len": len, "sqrt": math.sqrt, "exp": math.exp,
             "log": math.log, "log10": math.log10, "floor": math.floor, "ceil": math.ceil, "__builtins__": {}}


class OutOfRange(ValueError):
    """The inputs lie outside what the formula is valid for: the answer is "not computed"."""


@dataclass(frozen=True, slots=True)
class Arg:
    """One argument: its unit, the range it is meant for, and where the result can turn in it.

    `turns` empty says one-way: with the other arguments held still the result
    only rises or only falls (the direction may depend on them), so the corners
    of a box are exact. Otherwise the listed points are tried as well.
    """

    name: str
    unit: str
    lo: float = float("-inf")
    hi: float = float("inf")
    turns: tuple[float, ...] = ()
    words: tuple[str, ...] = ()  # for an argument that is a word
    meaning: str = ""

    def limits(self) -> list[tuple[str, str]]:
        """The range as closed expressions, each with the sentence for who breaks it."""
        ends = ((self.lo, ">=", "at least"), (self.hi, "<=", "at most"))
        return [(f"{self.name} {sign} {end:g}", f"{self.name} must be {words} {end:g} {self.unit}".strip())
                for end, sign, words in ends if math.isfinite(end)]


@dataclass(frozen=True, slots=True)
class Formula:
    """A registered formula; `variadic` ones take any number of values of one argument."""

    name: str
    text: str
    args: tuple[Arg, ...]
    unit: str
    source: Source
    function: Callable[..., float | str]
    valid: str = ""  # closed expression that must be true at every corner
    variadic: bool = False
    trust: bool = False
    domain: tuple[str, ...] = ()  # the words it may answer, for a formula that answers a word
    limits: tuple[tuple[str, str], ...] = ()  # the parts of `valid`, each with its reason in words

    @property
    def unknown(self) -> Value:
        """The result when it cannot be computed: anything at all."""
        return Words(frozenset(self.domain)) if self.domain else ANYTHING

    def faults(self, values: Mapping[str, object]) -> list[str]:
        """Every limit these arguments break, in words; none where the formula holds."""
        broken = [why for test, why in self.limits if not holds(test, values)]
        return broken + [f"{a.name} must be one of: {', '.join(a.words)}" for a in self.args
                         if a.words and values[a.name] not in a.words]

    def over(self, values: Mapping[str, Value]) -> Value:
        """The set of results over a box of arguments: exact at the corners, "anything" where not valid."""
        return _over(self.name, tuple(values.items()))

    def __call__(self, **kwargs: float | str) -> float | str:
        return self.function(**kwargs)


REGISTRY: dict[str, Formula] = {}


@lru_cache(maxsize=1000)
def _compiled(test: str):
    return compile(test, "<limit of a formula>", "eval")


def holds(test: str, values: Mapping[str, object]) -> bool:
    """Whether a limit holds for these arguments.

    Parameters
    ----------
    test : a closed expression of ours, never a user's; it reaches no name but the arguments and FUNCTIONS
    values : the arguments by name

    Returns
    -------
    True or False

    Raises
    ------
    NameError
        If the expression names something that is no argument.

    Limits
    ------
    NaN breaks every comparison, so every limit that looks at it.

    Source
    ------
    None: machinery.

    Examples
    --------
    >>> holds("power_kw > 0", {"power_kw": 3.0})
    True
    """
    return bool(eval(_compiled(test), FUNCTIONS, dict(values)))


def formula(
    *, text: str, args: Sequence[Arg], unit: str, source: Source, name: str = "",
    valid: str = "", limits: Sequence[tuple[str, str]] = (), variadic: bool = False, trust: bool = False,
    domain: Sequence[str] = (),
) -> Callable[[Callable[..., float | str]], Callable[..., float | str]]:
    """Register the decorated function as a formula.

    Parameters
    ----------
    text : the sum as a closed expression of the arguments
    args : the arguments, in the function's order, with units and ranges
    unit : unit of the result
    source : where the sum comes from
    name : its name; the function's own by default
    valid : a limit as a closed expression, without words
    limits : more limits: (closed expression, reason in words)
    variadic : whether it takes a list of any length, called `values`
    trust : whether the text cannot be recomputed (a solver, a walk through a tree)
    domain : the words it may answer, if it answers a word

    Returns
    -------
    the function behind its limits: it raises OutOfRange with every reason where one does not hold

    Raises
    ------
    KeyError
        If the name is taken.

    Limits
    ------
    `text` must be one-way in each argument but for its `turns`, or ranges come out wrong; a test tries it.

    Source
    ------
    None: machinery.

    Examples
    --------
    >>> REGISTRY["difference"].text if "difference" in REGISTRY else "value - limit"
    'value - limit'
    """
    ranges = [] if variadic else [limit for a in args for limit in a.limits()]
    bounds = (*ranges, *limits, *([(valid, f"this must hold: {valid}")] if valid else []))
    names = tuple(a.name for a in args)

    def register(function: Callable[..., float | str]) -> Callable[..., float | str]:
        label = name or function.__name__
        if label in REGISTRY:
            raise KeyError(f"formula {label} is registered twice")

        @wraps(function)
        def guarded(*given: object, **named: object) -> float | str:
            values = dict(zip(names, given, strict=False)) | named
            if len(values) == len(names) and (faults := made.faults(values)):
                raise OutOfRange("; ".join(faults))
            return function(**values)

        made = Formula(label, text, tuple(args), unit, source, guarded, " and ".join(f"({t})" for t, _ in bounds),
                       variadic, trust, tuple(domain), tuple(bounds))
        REGISTRY[label] = made
        return guarded

    return register


def _candidates(value: Value, turns: tuple[float, ...]) -> list[float | str]:
    if isinstance(value, Words):
        return sorted(value.words)
    if value.single:
        return [value.lo]
    return [value.lo, value.hi, *(t for t in turns if value.lo < t < value.hi)]


@lru_cache(maxsize=20_000)
def _over(name: str, items: tuple[tuple[str, Value], ...]) -> Value:
    this = REGISTRY[name]
    turns = {a.name: a.turns for a in this.args}
    axes = [_candidates(v, turns.get(k, ())) for k, v in items]
    names = [k for k, _ in items]
    corners: list[dict[str, object]] = [dict(zip(names, c, strict=True)) for c in itertools.product(*axes)] \
        if not this.variadic else [{"values": [a[0] for a in axes]}, {"values": [a[-1] for a in axes]}]
    try:  # of a sum or an extreme all values rise together, so two corners are exact
        return hull([this.function(**corner) for corner in corners])
    except (OutOfRange, OverflowError, ZeroDivisionError):
        return this.unknown


def hull(results: Sequence[float | str]) -> Value:
    """The smallest value set that holds all these results.

    Parameters
    ----------
    results : numbers, or words; at least one

    Returns
    -------
    a span of numbers or a set of words; "anything" where one of them is NaN

    Raises
    ------
    IndexError
        If there is none.

    Limits
    ------
    None.

    Source
    ------
    None: machinery.

    Examples
    --------
    >>> hull([3.0, 1.0, 2.0])
    Span(lo=1.0, hi=3.0)
    """
    if isinstance(results[0], str):
        return Words(frozenset(str(r) for r in results))
    numbers = [float(r) for r in results]
    if any(n != n for n in numbers):
        return ANYTHING
    return exactly(numbers[0]) if len(set(numbers)) == 1 else Span(min(numbers), max(numbers))
