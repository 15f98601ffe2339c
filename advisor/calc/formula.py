"""What a formula is: a function of plain numbers, its text, its limits and its range form.

Every function in `advisor.calc` that makes a fact is registered with
`@formula`. `text` is the closed expression a stranger can recompute (the
verifier does); `function` is what we run; a test holds the two together.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from advisor.facts import ANYTHING, Source, Span, Value, Words, exactly


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

    @property
    def unknown(self) -> Value:
        """The result when it cannot be computed: anything at all."""
        return Words(frozenset(self.domain)) if self.domain else ANYTHING

    def over(self, values: Mapping[str, Value]) -> Value:
        """The set of results over a box of arguments: exact at the corners, "anything" where not valid."""
        return _over(self.name, tuple(values.items()))

    def __call__(self, **kwargs: float | str) -> float | str:
        return self.function(**kwargs)


REGISTRY: dict[str, Formula] = {}


def formula(
    *, text: str, args: Sequence[Arg], unit: str, source: Source, name: str = "", valid: str = "",
    variadic: bool = False, trust: bool = False, domain: Sequence[str] = (),
) -> Callable[[Callable[..., float | str]], Callable[..., float | str]]:
    """Register the decorated function as a formula under `name` (its own name by default)."""

    def register(function: Callable[..., float | str]) -> Callable[..., float | str]:
        label = name or function.__name__
        if label in REGISTRY:
            raise KeyError(f"formula {label} is registered twice")
        REGISTRY[label] = Formula(label, text, tuple(args), unit, source, function, valid, variadic, trust, tuple(domain))
        return function

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
    results: list[float | str] = []
    if this.variadic:  # sums and extremes: all values rise together, so two corners are exact
        low, high = [a[0] for a in axes], [a[-1] for a in axes]
        return hull([this.function(low), this.function(high)])
    for corner in itertools.product(*axes):
        try:
            results.append(this.function(**dict(zip((k for k, _ in items), corner, strict=True))))
        except (OutOfRange, OverflowError, ZeroDivisionError):
            return this.unknown
    return hull(results)


def hull(results: Sequence[float | str]) -> Value:
    """The smallest value set that holds all these results; NaN counts as "anything"."""
    if isinstance(results[0], str):
        return Words(frozenset(str(r) for r in results))
    numbers = [float(r) for r in results]
    if any(n != n for n in numbers):
        return ANYTHING
    return exactly(numbers[0]) if len(set(numbers)) == 1 else Span(min(numbers), max(numbers))
