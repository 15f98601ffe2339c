"""`advisor calc water-network`: a house's pipes in a line, every open outlet solved together, what throttles."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from advisor.calc.formula import OutOfRange
from advisor.calc.pipes import bore
from advisor.calc.public import Calculator, Key, Worked, n
from advisor.water.network import SOLVED, House, NetworkError, Outlet, Section, solve, throttles
from advisor.water.parts import Cistern, Pipe, Source, Supply, fit_supply

NUMBER = r"([0-9]+(?:\.[0-9]+)?)"
PIPE = re.compile(rf"(?P<name>.*?)\s*{NUMBER}\s*m\s+(?:of\s+)?{NUMBER}\s*mm\s+(?P<what>copper|bore)(?P<rest>.*)", re.I)
LOSS = re.compile(rf"\bk\s*{NUMBER}", re.I)
RISE = re.compile(r"\b(rise|fall)\s+([0-9.]+)\s*m\b", re.I)
ROSE = re.compile(rf"{NUMBER}\s*l/min\s+at\s+{NUMBER}\s*bar", re.I)
LEAVING = re.compile(rf"leaving\s+{NUMBER}\s*bar", re.I)
READING = re.compile(rf"\s*{NUMBER}\s*l/min\s+(?:at\s+)?{NUMBER}\s*bar\s*", re.I)
PIPE_AS = '"service pipe 15 m 20.4 mm bore K5" or "4 m of 15 mm copper K6 rise 2 m"'
OUTLET_AS = '"shower: 6 m of 15 mm copper K8 rise 4.8 m, 9 l/min at 1 bar", or "test point: leaving 1.5 bar"'
WIDE_OPEN = 1e4  # l/min at 1 bar: an open end that costs nothing itself
NO_END_L_MIN = 1e9
MOST_SHOWN = 3


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


def pipes(text: str) -> tuple[tuple[Pipe, float], ...]:
    """Lengths of pipe one after another, divided by semicolons."""
    return tuple(pipe(piece) for piece in text.split(";") if piece.strip())


def readings(text: str) -> tuple[tuple[float, float], ...]:
    """"25 l/min 1.4 bar; 12 l/min 2.6 bar" -> pairs of flow and running pressure."""
    found = []
    for piece in filter(str.strip, text.split(";")):
        match = READING.fullmatch(piece)
        if match is None:
            raise ValueError(f'"{piece.strip()}" is no reading. Write flow and pressure: "25 l/min 1.4 bar".')
        found.append((float(match[1]), float(match[2])))
    return tuple(found)


def outlets(text: str) -> tuple[tuple[str, tuple[tuple[Pipe, float], ...], Outlet], ...]:
    """Outlets open together: name, own pipe, and what the outlet passes."""
    found = []
    for piece in filter(str.strip, text.split(";")):
        name, colon, rest = piece.partition(":")
        rose, leaving = ROSE.search(rest), LEAVING.search(rest)
        if not colon or not name.strip() or (rose is None) == (leaving is None):
            raise ValueError(f'"{piece.strip()}" is no outlet. Write {OUTLET_AS}.')
        mark = rose or leaving
        assert mark is not None
        own = rest[:mark.start()].strip().rstrip(",")
        if rose is not None and float(rose[2]) <= 0:
            raise ValueError(f'"{piece.strip()}": the pressure an outlet is made for must be above 0 bar.')
        k = WIDE_OPEN if rose is None else float(rose[1]) / float(rose[2]) ** 0.5
        back = 0.0 if leaving is None else float(leaving[1])
        found.append((name.strip(), (pipe(own),) if own else (), Outlet(name.strip(), k, name.strip(),
                                                                        against_bar=back)))
    if not found:
        raise ValueError(f"no outlet given. Write {OUTLET_AS}.")
    return tuple(found)


def _source(v: Mapping[str, Any]) -> tuple[Source, str]:
    if v["head"] is not None:
        return Cistern("the cistern", v["head"]), f"cistern {n(v['head'])} m above"
    if not v["readings"]:
        return Supply("the main", v["static"], 0.0, 2.0, NO_END_L_MIN), (
            f"{n(v['static'])} bar that does not fall: list every pipe from the street on")
    try:
        fit = fit_supply(v["static"], v["readings"])
    except ValueError as error:
        raise OutOfRange(str(error)) from error
    how = "taken, one reading" if fit.readings == 1 else "fitted"
    return fit.supply, (f"main as measured: {n(v['static'])} bar less {fit.supply.loss:.4g} x flow^{fit.exponent:.2f} "
                        f"({how})" + (f". {fit.question}" if fit.question else ""))


def _work(v: Mapping[str, Any]) -> Worked:
    source, said = _source(v)
    sections, at = [], source.name
    for i, (part, rise) in enumerate(v["shared"] or ()):
        sections.append(Section(f"shared {i + 1}", at, (part,), rise, v["temperature"]))
        at = f"shared {i + 1}"
    for name, own, _ in v["outlets"]:
        sections.append(Section(name, at, tuple(p for p, _ in own), sum(r for _, r in own), v["temperature"]))
    try:
        house = House((source,), tuple(sections), tuple(o for _, _, o in v["outlets"]))
        names = [name for name, _, _ in v["outlets"]]
        found, costly = solve(house, names), throttles(house, names)
    except NetworkError as error:
        raise OutOfRange(str(error)) from error
    if found.beyond:
        raise OutOfRange(f"{', '.join(found.beyond)} would have to give more than 1.5 times the flow it was measured "
                         "at: measure at a lower pressure")
    lines = [said, *(f"{name}: {n(q)} l/min, {n(found.at_outlet_bar[name])} bar left"
                     for name, q in found.flows.items()), f"together {n(found.total_l_min)} l/min",
             *(t.sentence() for t in costly[:MOST_SHOWN])]
    first = costly[0] if costly else None
    return Worked({"flow": found.total_l_min, "throttle": first.element if first else "none listed",
                   "costs": first.costs_l_min if first else 0.0}, tuple(lines))


CALCULATORS = (
    Calculator("water-network", "Every open outlet of a house together, and which pipe costs most",
               (Key("static", "bar", "pressure with nothing running", optional=True),
                Key("head", "m", "height of a cistern's base over the start of the pipes", optional=True, signed=True),
                Key("readings", "", "flow and running pressure of the main", optional=True, reader=readings),
                Key("shared", "", "pipes that all the water passes, in order", optional=True, reader=pipes),
                Key("outlets", "", "outlets open together, each with its own pipe", reader=outlets),
                Key("temperature", "C", "temperature of the water", default="10 C")),
               {"flow": "l/min", "throttle": "", "costs": "l/min"}, SOLVED, _work, one_of=("static", "head")),
)
