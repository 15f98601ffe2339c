"""Text to number: reads what installers write, in the project's unit for that quantity.

A table of our own reads the usual spellings; anything it does not know goes to pint (loaded only then), whose
gallon is made the imperial one. A text that could be read in two ways is refused with the spelling wanted:
a decimal comma, two numbers, no unit, an unknown word, the wrong kind of quantity.
Rounding and printing do not live here.

Sources of the factors: Units of Measurement Regulations 1995 (imperial gallon 4.54609 l, foot 0.3048 m, pound
0.45359237 kg); NIST Special Publication 811 (2008), Appendix B, for the rest (psi 6.894757 kPa, conventional water
9.80665 kPa a metre, Btu IT 1055.056 J). Thread sizes to copper pipe sizes: common practice.
"""

from __future__ import annotations

import math
import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

GALLON_L = 4.54609
LONGEST_TEXT = 60
YEAR_MIN = 365.25 * 24 * 60
NUMBER = r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:e[+-]?[0-9]{1,3}(?![0-9a-z]))?"
LEADING = re.compile(rf"({NUMBER})\s*(.*)", re.IGNORECASE | re.DOTALL)
SECOND_NUMBER = re.compile(r"^(?:[-–—+/x×.]|to|or|and)?\s*[.0-9]|(?:\s|[-–—])[0-9]")
PINT_TEXT = re.compile(r"[A-Za-z_µ]+(\^?-?[0-9])?([*/ ][A-Za-z_µ]+(\^?-?[0-9])?){0,5}")
TWO_MEANINGS = re.compile(r"\b(us[_ ]|ton|cup|fl|gill|barrel|bushel|hundredweight|cwt)", re.IGNORECASE)  # not the UK's
FACTOR_LIMITS = (1e-9, 1e9)  # a prefix read by accident ("7 am" as attometres) lies outside

# kind of quantity -> lines "factor: spelling | spelling"; the factor turns one of it into the first line's unit
TABLE: dict[str, str] = {
    "a count": """
        1: | - | people | persons | no | off""",
    "a share": """
        1: fraction
        0.01: % | per cent | percent""",
    "a pressure": """
        1: bar | bars | barg | bar g | bar gauge
        0.001: mbar | mbars | mb | millibar | millibars | mbarg
        0.01: kpa | kilopascal | kilopascals | kn/m2
        0.00001: pa | pascal | pascals | n/m2
        0.06894757: psi | psig | lb/in2 | lbf/in2 | lb/sq in | lbs/sq in | pounds/square inch
        0.0024908891: in wg | inwg | in w.g. | in wc | inch wg | inches wg | inches water gauge | inh2o
        0.0000980665: mm wg | mmwg | mmh2o
        0.0980665: m head | metre head | metres head | m of head | metres of head | m wg | mwg | mh2o | m h2o
        0.0298906692: ft head | foot head | feet head | ft of head | feet of head | ft wg | fth2o""",
    "a flow": f"""
        1: l/min | lpm | lt/min | ltr/min | ltrs/min | litre/min | litres/min | litre/minute | litres/minute
        1: liters/minute | litre/mins
        60: l/s | lps | ltr/s | ltr/sec | ltrs/sec | l/sec | litres/second | litres/sec
        {1 / 60}: l/h | l/hr | ltr/h | ltr/hr | litres/h | litres/hour
        {1000 / 60}: m3/h | m3/hr | cubic metres/hour | cubic meters/hour | cu m/h | cu m/hr
        60000: m3/s
        {GALLON_L}: gpm | gal/min | gallon/minute | gallons/minute | gallons/min | igpm
        {GALLON_L / 60}: gph | gal/h | gal/hr | gallons/hour
        {28.316846592 / 60}: ft3/h | ft3/hr | cu ft/h | cu ft/hr | cubic feet/hour | cfh""",
    "a power": f"""
        1: kw | kilowatt | kilowatts
        0.001: w | watt | watts
        0.00029307107: btu/h | btu/hr | btuh | btus/h | btus/hr | btu/hour
        0.001163: kcal/h | kcal/hr
        {1 / 24}: kwh/day | kwh/d | kwh/24h | kwh/24 h""",
    "an energy": """
        1: kwh | kilowatt hours | unit | units
        0.001: wh
        0.2777777778: mj
        29.3071: therm | therms""",
    "a calorific value": """
        1: mj/m3 | mj/cubic metre
        3.6: kwh/m3
        0.0372589: btu/ft3 | btu/cu ft""",
    "a temperature": """
        1: c | °c | deg c | degc | degree c | degrees c | celsius | degrees celsius | centigrade""",
    "a temperature difference": """
        1: k | kelvin | kelvins | deg k""",
    "a length": """
        1: m | metre | metres | meter | meters | mtr | mtrs
        0.001: mm | millimetre | millimetres | millimeter | millimeters | mm od | mm id
        0.01: cm | centimetre | centimetres | cms
        0.0254: in | inch | inches | ins | "
        0.3048: ft | foot | feet | '
        0.9144: yd | yard | yards""",
    "an area": """
        1: m2 | sqm | sq m | sq metre | sq metres | square metre | square metres | square meters
        0.000001: mm2 | sq mm
        0.0001: cm2 | sq cm
        0.09290304: ft2 | sqft | sq ft | square feet | square foot""",
    "a volume": f"""
        1: l | lt | ltr | ltrs | lts | litre | litres | liter | liters
        0.001: ml
        1000: m3 | cubic metre | cubic metres | cu m
        {GALLON_L}: gal | gals | gall | gallon | gallons | imperial gallon | imperial gallons
        28.316846592: ft3 | cu ft | cubic feet""",
    "a time": f"""
        1: min | mins | minute | minutes
        {1 / 60}: s | sec | secs | second | seconds
        60: h | hr | hrs | hour | hours
        1440: day | days
        10080: week | weeks
        {YEAR_MIN / 12}: month | months
        {YEAR_MIN}: years | year | yr | yrs""",
    "a current": """
        1: a | amp | amps | ampere | amperes
        0.001: ma | milliamp | milliamps""",
    "a voltage": """
        1: v | volt | volts
        1000: kv""",
    "a hardness": """
        1: mg/l | ppm | mg/litre | mg/l caco3 | ppm caco3
        1000: g/l
        14.25377: clark | degrees clark | °clark | deg clark
        17.848: °dh | dh""",
    "a mass": """
        1: kg | kilo | kilos | kilogram | kilograms
        0.001: g | gram | grams
        1000: t | tonne | tonnes
        0.45359237: lb | lbs""",
    "a force": """
        1: kn
        0.001: n
        0.00980665: kgf""",
    "money": """
        1: gbp | £ | pounds | pound
        0.01: p | pence""",
    "an energy price": """
        1: p/kwh | pence/kwh | p/unit | pence/unit
        100: £/kwh | gbp/kwh""",
    "a heat transmittance": """
        1: w/m2k | w/(m2 k) | w/(m2k) | w/m2.k | w/m2 k""",
    "a heat loss a square metre": """
        1: w/m2""",
    "a heat loss a metre": """
        1: w/m""",
    "a conductivity": """
        1: w/mk | w/(m k) | w/(mk) | w/m.k | w/m k""",
    "a heat loss a kelvin": """
        1: w/k
        1000: kw/k""",
    "a speed": """
        1: m/s | m/sec | metres/second""",
}
# copper outside size that carries the same thread (common practice)
THREADS = {"1/4": 8.0, "3/8": 12.0, "1/2": 15.0, "3/4": 22.0, "1": 28.0, "1 1/4": 35.0, "1 1/2": 42.0, "2": 54.0}
THREAD = re.compile(r'(1 1/4|1 1/2|[0-9]/[0-9]|[12])\s*(in|inch|inches|")?\s*(bsp|bspt|bspp)?', re.IGNORECASE)
EXAMPLES = {"": "3", "-": "0.8", "bar": "3.1 bar", "mbar": "21 mbar", "l/min": "15 l/min", "m3/h": "6 m3/h",
            "kW": "24 kW", "mm": "600 mm", "m": "4.5 m", "m2": "90 m2", "l": "210 l", "min": "7 min",
            "years": "15 years", "A": "80 A", "mg/l": "200 mg/l", "C": "60 C", "K": "35 K", "s": "30 s", "V": "230 V"}
PINT_NAMES = {"C": "degC", "K": "delta_degC", "years": "year", "m2": "m^2", "m3": "m^3", "m3/h": "m^3/h", "h": "hour",
              "MJ/m3": "MJ/m^3", "kN/m2": "kN/m^2", "A": "ampere", "min": "minute", "V": "volt"}


class UnitError(ValueError):
    """A text that cannot be read as the quantity wanted; the message says what is wanted."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A number in the project's unit, and what has to be said about how it was read (else "")."""

    value: float
    note: str = ""


def _normal(spelling: str) -> str:
    """A spelling as the table writes it: small letters, `per` as `/`, no `^`, no closing point."""
    low = spelling.casefold().replace("^", "").replace("**", "").removesuffix(".")
    return re.sub(r"\s*/\s*", "/", re.sub(r"\s+(?:per|an?)\s+", "/", low)).strip()


def _spellings() -> dict[str, tuple[str, float]]:
    """Spelling -> (kind of quantity, factor); a spelling under two kinds is a programming error."""
    known: dict[str, tuple[str, float]] = {}
    for kind, lines in TABLE.items():
        for line in lines.strip().splitlines():
            factor, _, names = line.partition(":")
            for name in map(str.strip, names.split("|")):
                if known.setdefault(_normal(name), (kind, float(factor))) != (kind, float(factor)):
                    raise ValueError(f"the spelling {name!r} stands under two quantities")
    return known


SPELLINGS = _spellings()


def parse(text: str, unit: str) -> float:
    """The number a text stands for, in `unit`.

    Parameters
    ----------
    text : what the installer wrote, such as "36 psi" or "1/2 in BSP"
    unit : the project's unit, in any spelling of the table; "" for a count

    Raises
    ------
    UnitError : with the spelling wanted, when the text is not certainly one quantity of that kind

    Examples
    --------
    >>> round(parse("36 psi", "bar"), 3)
    2.482
    >>> parse("1/2\\" BSP", "mm")
    15.0
    >>> parse("3,1 bar", "bar")
    Traceback (most recent call last):
    ...
    advisor.units.UnitError: "3,1 bar" has a comma. Write the number with a point and one unit, for example "3.1 bar".
    """
    return read(text, unit).value


def read(text: str, unit: str) -> Reading:
    """As `parse`, with a note where the reading must be shown (gallons, thread sizes)."""
    clean = _clean(text, unit)
    if unit == "mm" and (thread := THREAD.fullmatch(clean)) and ("/" in thread[1] or thread[3]):
        return _thread(thread[1], text, unit)
    number, spelling = _split(clean, text, unit)
    kind, factor = _lookup(unit)
    found = SPELLINGS.get(_normal(spelling))
    if kind == "a count" and found is not None and found[0] == "a share" and unit == "-":
        return Reading(number * found[1])
    if kind == "a temperature difference" and found == SPELLINGS["c"]:
        found = SPELLINGS["k"]  # a rise of 35 °C is a rise of 35 K
    if spelling == "" and kind != "a count":
        raise UnitError(f'"{shown(text)}" has no unit. {wanted(unit)}')
    value = number * found[1] / factor if found and found[0] == kind else _other(number, spelling, found, text, unit)
    if not math.isfinite(value):
        raise UnitError(f'"{shown(text)}" is not a finite number. {wanted(unit)}')
    return Reading(value, _gallon_note(spelling, value, unit))


def wanted(unit: str) -> str:
    """The sentence that ends a refusal: how to write it."""
    if unit == "":
        return 'Write a plain number, for example "3".'
    example = EXAMPLES.get(unit, f"1 {unit}")
    return f'Write the number with a point and one unit, for example "{example}".'


def shown(text: object, longest: int = LONGEST_TEXT) -> str:
    """A text as it may safely stand in a message: control characters escaped, the middle of a long one left out."""
    line = "".join(c if c.isprintable() else f"\\x{ord(c):02x}" for c in str(text)[: 4 * longest])
    return line if len(line) <= longest else line[: longest - 4] + " ..."


def _clean(text: str, unit: str) -> str:
    """The text without odd spaces and typographic signs; refuses what is empty, too long or holds a comma."""
    if not isinstance(text, str) or not text.strip():
        raise UnitError(f"the text is empty. {wanted(unit)}")
    if len(text) > LONGEST_TEXT:
        raise UnitError(f'"{shown(text)}" is {len(text)} characters long. {wanted(unit)}')
    raised = text.replace("²", "^2").replace("³", "^3").replace("⁻¹", "^-1").replace("−", "-")
    plain = unicodedata.normalize("NFKC", raised).replace("″", '"').replace("”", '"').replace("⁄", "/")
    clean = " ".join(plain.split())
    if "," in clean:
        raise UnitError(f'"{shown(text)}" has a comma. {wanted(unit)}')
    if clean.startswith("£"):
        tail = LEADING.fullmatch(clean[1:].strip())
        clean = f"{tail[1]} £{tail[2]}" if tail else clean
    return clean


def _split(clean: str, text: str, unit: str) -> tuple[float, str]:
    """One number and the spelling of its unit."""
    match = LEADING.fullmatch(clean)
    if match is None or clean.casefold() in ("nan", "inf"):
        raise UnitError(f'"{shown(text)}" does not start with a number. {wanted(unit)}')
    rest = match[2].strip()
    if SECOND_NUMBER.search(rest.removesuffix("24 h")):
        raise UnitError(f'"{shown(text)}" holds two numbers. {wanted(unit)}')
    return float(match[1]), rest


def _lookup(unit: str) -> tuple[str, float]:
    known = SPELLINGS.get(_normal(unit))
    if known is None:
        raise ValueError(f"{unit!r} is no unit of the project. Add it to the table in units.py.")
    return known


def _thread(size: str, text: str, unit: str) -> Reading:
    if size not in THREADS:
        raise UnitError(f'"{shown(text)}" is no pipe thread size. Known: {", ".join(THREADS)} in BSP. {wanted(unit)}')
    return Reading(THREADS[size], f"{size} in read as a pipe thread: {THREADS[size]:g} mm pipe")


def _gallon_note(spelling: str, value: float, unit: str) -> str:
    return f"imperial gallons: {value:.4g} {unit}" if re.match(r"i?(gal|gp)|imperial", _normal(spelling)) else ""


def _other(number: float, spelling: str, found: tuple[str, float] | None, text: str, unit: str) -> float:
    """What the table does not settle: another kind of quantity is refused, an unknown spelling goes to pint."""
    if found is not None:
        raise UnitError(f'"{shown(text)}" is {found[0]}; {_lookup(unit)[0]} is wanted. {wanted(unit)}')
    if unit in ("", "-") or not PINT_TEXT.fullmatch(spelling) or TWO_MEANINGS.search(spelling):
        raise UnitError(f'"{shown(text)}": {shown(spelling)} is no unit known here. {wanted(unit)}')
    return _by_pint(number, spelling, text, unit)


def _by_pint(number: float, spelling: str, text: str, unit: str) -> float:
    import pint

    registry = _registry()
    try:
        given, target = registry.parse_units(spelling), registry.parse_units(PINT_NAMES.get(unit, unit))
        factor = registry.Quantity(1.0, given).to(target).magnitude
        value = registry.Quantity(number, given).to(target).magnitude
    except pint.DimensionalityError:
        raise UnitError(f'"{shown(text)}" is not {_lookup(unit)[0]}. {wanted(unit)}') from None
    except Exception:  # pint raises its own, tokenizer and arithmetic errors for words it cannot read
        raise UnitError(f'"{shown(text)}": {shown(spelling)} is no unit known here. {wanted(unit)}') from None
    if not FACTOR_LIMITS[0] < abs(factor) < FACTOR_LIMITS[1]:
        raise UnitError(f'"{shown(text)}": {shown(spelling)} is no unit known here. {wanted(unit)}')
    return float(value)


@lru_cache(maxsize=1)
def _registry():
    """pint's registry with imperial gallons, pints and quarts; built on first need, for it is slow to build."""
    import pint

    registry = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
    for line in ("gallon = imperial_gallon", "gal = imperial_gallon", "pint = imperial_pint", "quart = imperial_quart"):
        registry.define(line)
    return registry
