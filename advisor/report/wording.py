"""How a value becomes text: the only rounding and the only printing of units in the project.

Inside, facts keep full precision. Here each unit has one declared number of
decimals, a value set becomes a phrase ("12 to 14 l/min", "lead or iron", "not
known"), and a margin says in words which side it is on. Rounding never hides a
failure: where a value and its limit would print alike although they differ,
both print one more decimal.
"""

from __future__ import annotations

import itertools
import math
import re
import unicodedata
from collections.abc import Callable, Mapping
from datetime import date as Date
from decimal import ROUND_HALF_UP, Decimal
from typing import TYPE_CHECKING

from advisor.arrangements import NONE_FITS, NOT_RECORDED
from advisor.facts import ANYTHING, Fact, Span, Value, Words
from advisor.site import NOT_LISTED

if TYPE_CHECKING:
    from advisor.rulebase.model import Entry

ABSENT = "absent:"
NBSP = "\u00a0"
NOT_KNOWN = "not known"
NOT_SURVEYED = "not surveyed"
MORE_DECIMALS = 4  # at most so many more than declared, to keep a value on its side of a limit
EQUAL = 1e-9  # two sums this close are the same number

HOW = {"measured": "measured", "told": "told to us", "assumed": "assumed", "default": NOT_SURVEYED}

MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
          "December")  # not the machine's locale

# Entities that stand for what the survey does not name.
STAND_INS = {NOT_RECORDED: "a place still to be found", NONE_FITS: "no place", NOT_LISTED: "not listed"}

# Decimals by unit. l/min: one below 20, none from there on (a bucket test is no better than half a litre).
DECIMALS: Mapping[str, int] = {
    "l/min": 1, "bar": 1, "mbar": 2, "kPa": 1, "kW": 1, "W": 0, "mm": 0, "m": 1, "m2": 0, "m3": 1, "l": 0, "min": 0,
    "s": 0, "h": 1, "m3/h": 2, "A": 0, "V": 0, "kN": 1, "kN/m2": 1, "kg": 0, "%": 0, "K": 0, "C": 0, "mg/l": 0,
    "years": 0, "points": 0, "MJ/m3": 1, "p/kWh": 2, "GBP": 0, "m/s": 1, "kWh": 1, "W/K": 0, "share": 2,
}
WHOLE_FROM = {"l/min": 20.0, "kWh": 100.0}  # no decimals from there on
UNITLESS_DECIMALS = 2
PRINTED: Mapping[str, str] = {
    "m2": "m²", "m3": "m³", "m3/h": "m³/h", "kN/m2": "kN/m²", "MJ/m3": "MJ/m³", "C": "°C", "share": "", "GBP": "pounds",
}
AFTER_NAMES = frozenset({"outlet_short_after_min", "store.short_after_min", "store.bound_short_min",
                         "shower_short_after_min", "existing.stored_short_min", "existing.instant_short_min"})
NEVER_MIN = 60.0  # the busiest hour is over;
LONG_NEVER_MIN = 180.0  # and where its draws take longer than the hour
MARGIN_WORDS = re.compile(r"(^|[._])margin(_|$)")
OVER_WORDS = re.compile(r"(^|[._])over_table(_|$)")


def clean(text: object) -> str:
    """Text from outside, made safe to set in a line: no control, format or private characters, single blanks."""
    kept = (" " if c in "\t\r\n\v\f" else c for c in str(text))
    safe = "".join(c for c in kept if unicodedata.category(c)[0] != "C")
    return re.sub(r"[ \u2028\u2029]+", " ", safe).strip()


def plain_name(entity: str) -> str:
    """The name of a place, outlet or leg as a reader says it: "landing_cupboard" is "landing cupboard"."""
    return STAND_INS.get(entity) or clean(entity.replace("_", " "))


def decimals(value: float, unit: str) -> int:
    """The declared decimals of `value` in `unit`."""
    if unit in WHOLE_FROM and abs(value) >= WHOLE_FROM[unit]:
        return 0
    if unit in DECIMALS:
        return DECIMALS[unit]
    return 0 if value == round(value) else UNITLESS_DECIMALS


def number(value: float, places: int) -> str:
    """`value` to so many decimals, halves away from zero, never "-0"."""
    text = str(Decimal(repr(float(value))).quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP))
    return text.lstrip("-") if not text.strip("-0.") else text


def with_unit(text: str, unit: str) -> str:
    unit = "point" if unit == "points" and text == "1" else PRINTED.get(unit, unit)
    return f"{text}{NBSP}{unit}" if unit else text


def show(value: Value, unit: str = "", more: int = 0) -> str:
    """A value set as a phrase, with `more` decimals than declared.

    Examples
    --------
    >>> show(Span(9.76, 9.76), "l/min").replace(NBSP, " ")
    '9.8 l/min'
    >>> show(Span(12.0, 14.04), "l/min").replace(NBSP, " ")
    '12.0 to 14.0 l/min'
    """
    if isinstance(value, Words):
        return one_of(sorted(value.words))
    if value == ANYTHING:
        return NOT_KNOWN
    return _span(value, lambda x: _places(x, unit, more), unit)


def _places(x: float, unit: str, more: int) -> str:
    return number(x, decimals(x, unit) + more)


def _span(value: Span, text: Callable[[float], str], unit: str) -> str:
    if not math.isfinite(value.lo):
        return f"at most {with_unit(text(value.hi), unit)}"
    if not math.isfinite(value.hi):
        return f"at least {with_unit(text(value.lo), unit)}"
    low, high = text(value.lo), text(value.hi)
    if not unit and len(low) != len(high):  # both ends of a bare number with the same decimals
        places = max(len(t.partition(".")[2]) for t in (low, high))
        low, high = number(value.lo, places), number(value.hi, places)
    return with_unit(low if low == high else f"{low} to {high}", unit)


def one_of(options: list[str]) -> str:
    """"lead", "lead or iron", "copper, iron or lead"."""
    names = [plain_name(o) for o in options]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


def extra_decimals(value: Value, limit: Value, unit: str) -> int:
    """How many decimals beyond the declared keep `value` and `limit` apart when printed as they are apart in truth."""
    if not isinstance(value, Span) or not isinstance(limit, Span):
        return 0
    ends = itertools.product((value.lo, value.hi), (limit.lo, limit.hi))
    pairs = [(a, b) for a, b in ends if math.isfinite(a) and math.isfinite(b)]
    for more in range(MORE_DECIMALS + 1):
        if not any(_hides(a, b, unit, more) for a, b in pairs):
            return more
    return MORE_DECIMALS


def _hides(a: float, b: float, unit: str, more: int) -> bool:
    """Whether two different numbers would print as the same, or the other way round."""
    if abs(a - b) <= EQUAL:
        return False
    shown_a, shown_b = Decimal(_places(a, unit, more)), Decimal(_places(b, unit, more))
    return shown_a == shown_b or (shown_a < shown_b) != (a < b)


def show_pair(value: Value, limit: Value, unit: str) -> tuple[str, str]:
    """A value and the limit it is held against, both with as many decimals as keep them apart."""
    more = extra_decimals(value, limit, unit)
    return show(value, unit, more), show(limit, unit, more)


def show_margin(value: Value, unit: str = "", more: int | None = None) -> str:
    """A margin with its side in words: "3.2 l/min short", "1.4 l/min to spare", "nothing to spare".

    Zero is inside. A range over both sides names both ends.
    """
    return _sided(value, unit, more, "short", "to spare", "nothing to spare")


def show_over(value: Value, unit: str = "", more: int | None = None) -> str:
    """A distance beyond the end of a table: "2.4 m beyond it", "1.0 m inside it"."""
    return _sided(value, unit, more, "inside it", "beyond it", "exactly at its end")


def _sided(value: Value, unit: str, more: int | None, below: str, above: str, zero: str) -> str:
    if not isinstance(value, Span) or value == ANYTHING:
        return NOT_KNOWN if value == ANYTHING else show(value)
    if more is None:
        more = extra_decimals(value, Span(0.0, 0.0), unit)

    def end(x: float) -> str:
        if abs(x) <= EQUAL:
            return zero
        return f"{with_unit(_places(abs(x), unit, more), unit)} {below if x < 0 else above}"

    if not math.isfinite(value.lo) or not math.isfinite(value.hi):
        known = value.hi if not math.isfinite(value.lo) else value.lo
        return f"{end(known)} at {'best' if known is value.hi else 'worst'}"
    low, high = end(value.lo), end(value.hi)
    if low == high:
        return low
    side = below if value.hi < -EQUAL else above if value.lo > EQUAL else ""
    if side:  # both ends on one side, the nearer to the limit first
        near, far = sorted((value.lo, value.hi), key=abs)
        return f"{_places(abs(near), unit, more)} to {with_unit(_places(abs(far), unit, more), unit)} {side}"
    return f"between {low} and {high}"


def show_after(value: Value, unit: str = "", more: int | None = None) -> str:
    """Minutes until somebody falls short: "after 12 min", "never", or both ends of a range."""
    if not isinstance(value, Span) or value == ANYTHING or not math.isfinite(value.lo):
        return NOT_KNOWN

    def end(x: float) -> str:
        if x <= 0:
            return "at once"
        never = x == NEVER_MIN or x >= LONG_NEVER_MIN
        return "never" if never else f"after {with_unit(_places(x, unit, more or 0), unit)}"

    low, high = end(value.lo), end(value.hi)
    return low if low == high else f"{low} at worst, {high} at best"


def printer(name: str) -> Callable[..., str]:
    """How a fact of this name prints: margins and distances beyond a table say their side in words."""
    if MARGIN_WORDS.search(name):
        return show_margin
    if name in AFTER_NAMES:
        return show_after
    return show_over if OVER_WORDS.search(name) else show


def known(fact: Fact, entry: Entry | None = None) -> bool:
    """Whether the fact says anything: not "anything", not its field's whole domain left unanswered."""
    if fact.value == ANYTHING:
        return False
    if fact.how != "default" or fact.value.single:
        return True
    if fact.made_by == "survey":
        return False
    return entry is None or not _whole(fact.value, entry)


def _whole(value: Value, entry: Entry) -> bool:
    if isinstance(value, Words):
        return bool(entry.domain) and value.words >= frozenset(entry.domain)
    return len(entry.domain) == 2 and (value.lo <= entry.domain[0] and value.hi >= entry.domain[1])


def show_fact(fact: Fact, entry: Entry | None = None, more: int | None = None) -> str:
    """The declared printed form of a fact's value.

    Parameters
    ----------
    fact : the fact
    entry : its vocabulary entry, to recognise an unanswered field
    more : decimals beyond the declared; None: as many as its own kind needs (margins keep off zero)
    """
    if not known(fact, entry):
        return NOT_SURVEYED if fact.made_by == "survey" else NOT_KNOWN
    form = printer(fact.name)
    return form(fact.value, fact.unit, (more or 0) if form is show else more)


def renderings(fact: Fact, entry: Entry | None = None) -> frozenset[str]:
    """Every printed form of the fact that is true under the declared rounding (the lint's measure)."""
    forms = {show_fact(fact, entry)}
    forms.update(show_fact(fact, entry, more) for more in range(1, MORE_DECIMALS + 1))
    return frozenset(forms)


def day(date: Date | None) -> str:
    """A date as a letter has it: "18 November 2026"; nothing for none."""
    return f"{date.day} {MONTHS[date.month - 1]} {date.year}" if date else ""


def plain(name: str, vocabulary: Mapping[str, Entry]) -> str:
    """The plain name of a fact; its own name, made readable, where the vocabulary has none."""
    if name.startswith(ABSENT):
        return absence(name.removeprefix(ABSENT), vocabulary)
    entry = vocabulary.get(name)
    if entry is not None and (entry.plain or entry.meaning):
        return clean(entry.plain or entry.meaning)
    return clean(re.sub(r"[._]", " ", name))


def absence(test: str, vocabulary: Mapping[str, Entry]) -> str:
    """What an absence says: "nothing says that the supply is shared" for the test "water.shared~is yes"."""
    name, _, condition = test.partition("~")
    how, _, limit = condition.removesuffix("~value").partition(" ")
    said = {"is": "is", "below": "is below", "at_most": "is at most", "above": "is above", "at_least": "is at least"}
    if limit.startswith("threshold:"):
        limit = plain(limit.replace("threshold:", "threshold.", 1), vocabulary)
    words = f"{said[how]} {limit.replace('|', ' or ')}" if how in said else "applies"
    return clean(f"nothing says that {plain(name, vocabulary)} {words}")


def how_known(how: str) -> str:
    """"measured", "told to us", "assumed" or "not surveyed"."""
    return HOW.get(how, how)
