"""Pipes, fittings and outlets as an installer writes them in a line -> elements of the network.

An element is read as a pair, at the worst and at the best: alike where a figure was given, the two ends of `fittings`
where "usual" was.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from advisor.calc.formula import OutOfRange
from advisor.calc.pipes import bore
from advisor.water import fittings
from advisor.water.network import ALL, Outlet
from advisor.water.parts import Element, Pipe, ReducingValve, Resistance, by_kv

NUMBER = r"([0-9]+(?:\.[0-9]+)?)"
PIPE = re.compile(rf"(?P<name>.*?)\s*{NUMBER}\s*m\s+(?:of\s+)?{NUMBER}\s*mm\s+(?P<what>copper|bore)(?P<rest>.*)", re.I)
LOSS = re.compile(rf"\bk\s*{NUMBER}", re.I)
RISE = re.compile(r"\b(rise|fall)\s+([0-9.]+)\s*m\b", re.I)
ROSE = re.compile(rf"{NUMBER}\s*l/min\s+at\s+{NUMBER}\s*bar", re.I)
MOST = re.compile(rf",?\s*at\s+most\s+{NUMBER}\s*l/min\s*$", re.I)
LEAVING = re.compile(rf"leaving\s+{NUMBER}\s*bar", re.I)
READING = re.compile(rf"\s*{NUMBER}\s*l/min\s+(?:at\s+)?{NUMBER}\s*bar\s*", re.I)
KV = re.compile(rf"(?P<name>.*?),?\s*\bkv\s*{NUMBER}(?:\s*m3/h)?", re.I)
POINT = re.compile(rf"(?P<name>.*?),?\s*{NUMBER}\s*bar\s+at\s+{NUMBER}\s*l/min", re.I)
MIXER = re.compile(rf",?\s*mixer\s+kv\s*{NUMBER}\s*$", re.I)
SET = re.compile(rf"{NUMBER}\s*bar\s*,?\s*(?P<loss>.+)", re.I)
PIPE_AS = '"service pipe 15 m 20.4 mm bore K5" or "4 m of 15 mm copper K6 rise 2 m"'
ELEMENT_AS = (f'{PIPE_AS}; a fitting as "check valve Kv 3" or "meter 0.2 bar at 25 l/min", or '
              '"usual boiler exchanger" or "usual store exchanger"')
OUTLET_AS = ('"shower: 6 m of 15 mm copper K8 rise 4.8 m, 9 l/min at 1 bar", with "mixer Kv 1.2" before the flow where '
             'the mixer is apart and "at most 9 l/min" after it where the user opens it no further, or '
             '"test point: leaving 1.5 bar"')
INLET_AS = '"3 bar Kv 2.5", "3 bar, 0.4 bar at 20 l/min", or "usual"'
USUAL: dict[str, Callable[[bool], Element]] = {
    "usual boiler exchanger": lambda least: fittings.exchanger(fittings.BOILER_EXCHANGER, fittings.usual().boiler,
                                                               least),
    "usual store exchanger": lambda least: fittings.exchanger(fittings.STORE_EXCHANGER, fittings.usual().store, least),
}
WIDE_OPEN = 1e4  # l/min at 1 bar: an open end that costs nothing itself

Pair = tuple[Element, Element]  # at the worst, at the best


@dataclass(frozen=True, slots=True)
class Written:
    """An outlet as written: its own pipe with its rise, its mixer's ways, what it passes."""

    name: str
    pipe: tuple[Pipe, float] | None
    mixer_kv: float | None
    outlet: Outlet


def pipe(text: str) -> tuple[Pipe, float]:
    """One length of pipe and how far it rises [m]; ValueError says how to write it."""
    found = PIPE.fullmatch(" ".join(text.split()))
    if found is None:
        raise ValueError(f'"{text.strip()}" is no pipe. Write {PIPE_AS}.')
    length, size = float(found[2]), float(found[3])
    try:
        inside = bore(size)[0] if found["what"].lower() == "copper" else size
    except OutOfRange as error:
        raise ValueError(f"{error}. Or give the inside diameter: 20.4 mm bore.") from error
    if inside <= 0:
        raise ValueError(f'"{text.strip()}" has no bore. Write {PIPE_AS}.')
    k, rise = LOSS.search(found["rest"]), RISE.search(found["rest"])
    plain = f"{length:g} m of {size:g} mm {found['what'].lower()}"
    name = f"the {found['name']} ({plain})" if found["name"] else f"the {plain}"
    height = 0.0 if rise is None else float(rise[2]) * (1 if rise[1].lower() == "rise" else -1)
    return Pipe(name, inside, length, float(k[1]) if k else 0.0), height


def _fitting(text: str) -> Resistance | None:
    """A fitting by its Kv or by one point; None where the text is neither."""
    kv, point = KV.fullmatch(text), POINT.fullmatch(text)
    found = kv or point
    if found is None:
        return None
    name = f"the {found['name']}" if found["name"] else "the fitting"
    if float(found[found.re.groups]) <= 0:
        raise ValueError(f'"{text}": a Kv, or the flow of a loss, must be above 0.')
    return by_kv(name, float(found[2])) if kv else Resistance(name, float(found[2]), float(found[3]))


def element(text: str) -> tuple[Pair, float]:
    """A pipe or a fitting at both ends, and how far it rises [m]; ValueError says how to write it."""
    plain = " ".join(text.split())
    if made := USUAL.get(plain.lower()):
        return (made(True), made(False)), 0.0
    if PIPE.fullmatch(plain):
        found, rise = pipe(plain)
        return (found, found), rise
    fitting = _fitting(plain)
    if fitting is None:
        raise ValueError(f'"{plain}" is no pipe and no fitting. Write {ELEMENT_AS}.')
    return (fitting, fitting), 0.0


def elements(text: str) -> tuple[tuple[Pair, float], ...]:
    """Pipes and fittings one after another, divided by semicolons."""
    return tuple(element(piece) for piece in text.split(";") if piece.strip())


def inlet(text: str) -> Pair:
    """An inlet control set: what it holds and what it loses; "usual" for both ends of what is common."""
    plain = " ".join(text.split())
    if plain.lower() == "usual":
        return fittings.inlet_set(True), fittings.inlet_set(False)
    found = SET.fullmatch(plain)
    loss = _fitting(found["loss"]) if found else None
    if found is None or loss is None or float(found[1]) <= 0:
        raise ValueError(f'"{plain}" is no inlet set. Write {INLET_AS}.')
    valve = ReducingValve(fittings.INLET_SET, float(found[1]), loss.bar, loss.at_l_min)
    return valve, valve


def readings(text: str) -> tuple[tuple[float, float], ...]:
    """"25 l/min 1.4 bar; 12 l/min 2.6 bar" -> pairs of flow and running pressure."""
    found = []
    for piece in filter(str.strip, text.split(";")):
        match = READING.fullmatch(piece)
        if match is None:
            raise ValueError(f'"{piece.strip()}" is no reading. Write flow and pressure: "25 l/min 1.4 bar".')
        found.append((float(match[1]), float(match[2])))
    return tuple(found)


def outlets(text: str) -> tuple[Written, ...]:
    """Outlets open together: name, own pipe, mixer, and what the outlet passes."""
    found = [_outlet(piece) for piece in filter(str.strip, text.split(";"))]
    if not found:
        raise ValueError(f"no outlet given. Write {OUTLET_AS}.")
    return tuple(found)


def _outlet(piece: str) -> Written:
    name, colon, rest = piece.partition(":")
    most = MOST.search(rest)
    rest = rest[:most.start()] if most else rest
    rose, leaving = ROSE.search(rest), LEAVING.search(rest)
    if not colon or not name.strip() or (rose is None) == (leaving is None):
        raise ValueError(f'"{piece.strip()}" is no outlet. Write {OUTLET_AS}.')
    mark = rose or leaving
    assert mark is not None
    own = rest[:mark.start()].strip().rstrip(",")
    mixer = MIXER.search(own)
    own = own[:mixer.start()].strip() if mixer else own
    if rose is not None and float(rose[2]) <= 0:
        raise ValueError(f'"{piece.strip()}": the pressure an outlet is made for must be above 0 bar.')
    if mixer and float(mixer[1]) <= 0:
        raise ValueError(f'"{piece.strip()}": the Kv of a mixer must be above 0.')
    k = WIDE_OPEN if rose is None else float(rose[1]) / float(rose[2]) ** 0.5
    back = 0.0 if leaving is None else float(leaving[1])
    return Written(name.strip(), pipe(own) if own else None, float(mixer[1]) if mixer else None,
                   Outlet(name.strip(), k, name.strip(), at_most=float(most[1]) if most else ALL, against_bar=back))
