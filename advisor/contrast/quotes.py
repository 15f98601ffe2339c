"""Reads a rival's quote: the arrangement, its sizes, its price, what is included; strict, all faults at once."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from advisor import units
from advisor.records import Advice, Judged
from advisor.survey.fields import nearest

FORMAT = 1
KEYS = ("quote_format", "arrangement", "boiler_power", "cylinder", "place", "price", "included")
SIZES = {"boiler_power": ("kW", "power_kw"), "cylinder": ("l", "litres")}
MOST_BYTES = 20_000


@dataclass(frozen=True, slots=True)
class Item:
    """Something a complete quote names: the word for it, the question to put, and which layouts it concerns."""

    word: str
    ask: str
    burns: bool = False  # only where a boiler burns gas
    store: str = ""  # only with this kind of store


# What a cheaper quote leaves out most often (common practice of the trade: the quote comparison sheet).
ITEMS = (
    Item("gas pipe", "Was the gas pipe measured, and its pressure tested with the boiler at full load?", burns=True),
    Item("relief route", "Where does the boiler's pressure relief pipe end, and is that shown?", burns=True),
    Item("insulation and controls", "Are pipe insulation, radiator valves and the controls in the price?"),
    Item("cleaning", "How is the old heating circuit cleaned, and who records it?"),
    Item("filter", "Is a filter fitted on the heating return?"),
    Item("notification", "Who tells building control, and who hands over the certificates?"),
    Item("cut-out valve", "Is the cylinder's own cut-out valve shown?", store="unvented"),
    Item("cold main", "Was the cold main tested with water running, and what is promised at which pressure?",
         store="unvented"),
    Item("making good", "Who makes good walls, floors and decoration?"),
)


class QuoteError(ValueError):
    """A quote that cannot be used; `faults` holds one line a fault."""

    def __init__(self, faults: list[str]):
        self.faults = faults
        super().__init__("\n".join(faults))


@dataclass(frozen=True, slots=True)
class Quote:
    """What the file says, with the arrangement it stands for."""

    arrangement: str
    price_gbp: float | None
    included: tuple[str, ...]
    as_quoted: bool  # False where only the kind of layout was named, and our best variant of it stands in


def read(path: Path, advice: Advice) -> Quote:
    """The quote in this file.

    Raises
    ------
    QuoteError : with every fault, each `file: key: what was found. What is allowed. What to do.`
    OSError : when the file cannot be read
    """
    raw = path.read_bytes()
    if len(raw) > MOST_BYTES:
        raise QuoteError([f"{path.name}: {len(raw)} bytes. Allowed: {MOST_BYTES}. A quote is a dozen lines."])
    try:
        found = tomllib.loads(raw.decode("utf-8"))
    except (UnicodeDecodeError, tomllib.TOMLDecodeError, RecursionError) as error:
        raise QuoteError([f"{path.name}: is no TOML file ({units.shown(str(error))}). Mend that line."]) from None
    faults: list[str] = []
    made = _read(found, advice, faults)
    if faults or made is None:
        raise QuoteError([f"{path.name}: {f}" for f in faults])
    return made


def _read(found: Mapping[str, Any], advice: Advice, faults: list[str]) -> Quote | None:
    for key in found:
        if key not in KEYS:
            close = nearest(key, KEYS)
            faults.append(f'"{units.shown(key)}" is no key of a quote. Allowed: {", ".join(KEYS)}. '
                          + (f"Did you mean {close}?" if close else "Take it out."))
    if found.get("quote_format") != FORMAT:
        faults.append(f"quote_format: must be {FORMAT}. Write quote_format = {FORMAT} in the first line.")
    included = _included(found.get("included", []), faults)
    price = _number(found, "price", "GBP", faults)
    sizes = {attribute: _number(found, key, unit, faults) for key, (unit, attribute) in SIZES.items()}
    judged = _arrangement(found, sizes, advice, faults)
    exact = any(v is not None for v in sizes.values()) or (judged is not None and judged.id == found.get("arrangement"))
    return Quote(judged.id, price, included, exact) if judged is not None else None


def _included(raw: Any, faults: list[str]) -> tuple[str, ...]:
    known = [i.word for i in ITEMS]
    if not isinstance(raw, list) or not all(isinstance(w, str) for w in raw):
        faults.append(f"included: must be a list of words. Allowed: {', '.join(known)}.")
        return ()
    for word in raw:
        if word not in known:
            close = nearest(word, known)
            faults.append(f'included: "{units.shown(word)}". Allowed: {", ".join(known)}. '
                          + (f'Did you mean "{close}"?' if close else "Take it out."))
    return tuple(dict.fromkeys(raw))


def _number(found: Mapping[str, Any], key: str, unit: str, faults: list[str]) -> float | None:
    raw = found.get(key)
    if raw is None:
        return None
    try:
        text = str(raw).removesuffix("pounds").strip() if unit == "GBP" and isinstance(raw, str) else raw
        if unit == "GBP":
            value = float(text)
            if not 0 <= value < 1e6:
                raise ValueError
            return value
        if not isinstance(raw, str):
            raise ValueError
        return units.read(raw, unit).value
    except (ValueError, TypeError):
        wanted = '"2400 pounds"' if unit == "GBP" else f'a number with its unit, such as "30 {unit}"'
        faults.append(f'{key}: "{units.shown(str(raw))}". Allowed: {wanted}. Write it so, or leave the line out.')
        return None


def _arrangement(found: Mapping[str, Any], sizes: Mapping[str, float | None], advice: Advice,
                 faults: list[str]) -> Judged | None:
    """The best variant that is what the quote says; a fault that names what there is where none is."""
    name, place = found.get("arrangement"), found.get("place")
    families = sorted({j.arrangement.family for j in advice.judged})
    same = [j for j in advice.judged if name in (j.id, j.arrangement.family)]
    if not same:
        close = nearest(str(name), families)
        faults.append(f'arrangement: "{units.shown(str(name))}". Allowed: {", ".join(families)}, or an id. '
                      + (f"Did you mean {close}?" if close else "Write one of them."))
        return None
    fits = [j for j in same if place in (None, j.arrangement.place)
            and all(v is None or v == getattr(j.arrangement, a) for a, v in sizes.items())]
    if not fits:
        made = ", ".join(sorted(j.id for j in same))
        faults.append(f"arrangement: no {name} of these sizes in this place. Allowed: {made}. "
                      "Take the nearest standard size, or leave the size out.")
        return None
    return fits[0]
