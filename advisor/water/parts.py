"""What stands between the street and a rose: sources of pressure, and elements that take some of it away."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from advisor.calc.constants import BAR_PER_M
from advisor.calc.pipes import LAMINAR_BELOW, ROUGHNESS_MM, TURBULENT_ABOVE, friction_factor, speed, water_at
from advisor.calc.water_supply import EXPONENT, FURTHEST_UP

PA_PER_BAR = 1e5
USUAL_EXPONENTS = (1.6, 2.1)  # smooth pipe 1.75, rough pipe and fittings 2.0, and what two gauges may be out by
LAMINAR_EXPONENT = 1.0


class Source(Protocol):
    """Where pressure comes from."""

    name: str

    def bar(self, flow_l_min: float) -> float:
        """Pressure left at this flow [bar]; it never rises with the flow."""
        ...


@dataclass(frozen=True, slots=True)
class Supply:
    """A main as measured: p = static - loss q^exponent, with the flow it was measured at."""

    name: str
    static_bar: float
    loss: float
    exponent: float
    furthest_l_min: float  # beyond this the curve is not followed

    def bar(self, flow_l_min: float) -> float:
        return self.static_bar - self.loss * max(0.0, flow_l_min) ** self.exponent


@dataclass(frozen=True, slots=True)
class WeakestOf:
    """The lowest of several supplies at each flow: what a main with ranged readings surely gives."""

    name: str
    supplies: tuple[Supply, ...]
    best: bool = False

    @property
    def furthest_l_min(self) -> float:
        return min(s.furthest_l_min for s in self.supplies)

    def bar(self, flow_l_min: float) -> float:
        return (max if self.best else min)(s.bar(flow_l_min) for s in self.supplies)


@dataclass(frozen=True, slots=True)
class Cistern:
    """A cistern: its head does not fall with the flow."""

    name: str
    head_m: float

    def bar(self, flow_l_min: float) -> float:
        return BAR_PER_M * self.head_m


@dataclass(frozen=True, slots=True)
class PumpCurve:
    """A pump from a cistern: points (flow, pressure) with falling pressure, straight lines between."""

    name: str
    points: tuple[tuple[float, float], ...]
    head_m: float = 0.0

    def bar(self, flow_l_min: float) -> float:
        return BAR_PER_M * self.head_m + along(self.points, flow_l_min)


def along(points: Sequence[tuple[float, float]], x: float) -> float:
    """A curve through points by straight lines, its last line carried on beyond both ends."""
    pairs = list(itertools.pairwise(points))
    (x1, y1), (x2, y2) = next((p for p in pairs if x <= p[1][0]), pairs[-1])
    return y1 + (y2 - y1) * (x - x1) / (x2 - x1)


@dataclass(frozen=True, slots=True)
class Fit:
    """A supply curve through readings, and what it makes one ask."""

    supply: Supply
    exponent: float
    readings: int
    question: str = ""


def fit_supply(static_bar: float, readings: Sequence[tuple[float, float]], name: str = "the main") -> Fit:
    """The curve of a main through one or more readings of flow and running pressure.

    p = ps - c q^m; one reading: m = 1.85. Several: least squares of log(ps - p) on log q.

    Parameters
    ----------
    static_bar : pressure with nothing running [bar]
    readings : pairs (flow [l/min], pressure while it ran [bar])
    name : what the source is called

    Returns
    -------
    the curve, its exponent, and a question where that lies far from the usual

    Raises
    ------
    ValueError
        Every fault at once: no reading, a flow not above 0, a pressure not below static, two readings at one flow.

    Limits
    ------
    Nobody else drawing more than at the test; followed to 1.5 times the largest flow read.

    Source
    ------
    Turbulent pipe loss; usual exponents 1.75 (smooth) to 2.0 (rough pipe, valves).

    Examples
    --------
    >>> round(fit_supply(3.0, [(18.0, 1.0)]).supply.bar(18.0), 9)
    1.0
    """
    faults = [] if readings else ["no flow reading. Give at least one pair of flow and running pressure."]
    faults += [f"a reading of {q:g} l/min. A flow must be above 0. Leave it out." for q, _ in readings if q <= 0]
    faults += [f"{p:g} bar at {q:g} l/min is not below the static pressure of {static_bar:g} bar. Read both again."
               for q, p in readings if p >= static_bar]
    flows = [q for q, _ in readings]
    if len(set(flows)) < len(flows):
        faults.append("two readings at one flow. Give each flow once.")
    if faults:
        raise ValueError(f"{name}: " + " ".join(faults))
    exponent = EXPONENT if len(readings) == 1 else _slope(static_bar, readings)
    c = math.exp(sum(math.log(static_bar - p) - exponent * math.log(q) for q, p in readings) / len(readings))
    low, high = USUAL_EXPONENTS
    question = "" if low <= exponent <= high else (
        f"The readings of {name} follow the flow to the power {exponent:.2f}; pipes give 1.75 to 2.0. Was something "
        "else drawing, is there a pressure-reducing valve, or was a gauge misread? Read static and flow again.")
    return Fit(Supply(name, static_bar, c, exponent, FURTHEST_UP * max(flows)), exponent, len(readings), question)


def _slope(static_bar: float, readings: Sequence[tuple[float, float]]) -> float:
    xs, ys = [math.log(q) for q, _ in readings], [math.log(static_bar - p) for _, p in readings]
    x0, y0 = sum(xs) / len(xs), sum(ys) / len(ys)
    return sum((x - x0) * (y - y0) for x, y in zip(xs, ys, strict=True)) / sum((x - x0) ** 2 for x in xs)


class Element(Protocol):
    """Something water passes through."""

    name: str

    def loss_bar(self, flow_l_min: float, water_c: float) -> float:
        """Pressure lost at this flow [bar]; it never falls as the flow grows."""
        ...


@dataclass(frozen=True, slots=True)
class Pipe:
    """Straight pipe with its fittings as a sum of resistance coefficients `k` (loss k rho v2 / 2)."""

    name: str
    bore_mm: float
    length_m: float
    k: float = 0.0
    roughness_mm: float = ROUGHNESS_MM

    def loss_bar(self, flow_l_min: float, water_c: float) -> float:
        if flow_l_min <= 0:
            return 0.0
        density, viscosity = water_at(water_c)
        v, d = speed(self.bore_mm, flow_l_min), self.bore_mm / 1000
        factor = bridged_factor(density * v * d / viscosity, self.bore_mm, self.roughness_mm)
        return (factor * self.length_m / d + self.k) * density * v**2 / 2 / PA_PER_BAR


def bridged_factor(reynolds: float, bore_mm: float, roughness_mm: float = ROUGHNESS_MM) -> float:
    """Darcy's friction factor at any flow: between Re 2000 and 4000 a straight line joins both laws.

    Nobody can tell the loss there; a solver must pass through it, so the line is a bridge, not a claim.
    """
    if not LAMINAR_BELOW < reynolds < TURBULENT_ABOVE:
        return friction_factor(reynolds, bore_mm, roughness_mm)
    low, high = (friction_factor(re, bore_mm, roughness_mm) for re in (LAMINAR_BELOW, TURBULENT_ABOVE))
    return low + (high - low) * (reynolds - LAMINAR_BELOW) / (TURBULENT_ABOVE - LAMINAR_BELOW)


@dataclass(frozen=True, slots=True)
class Resistance:
    """A valve, meter, heat exchanger or water treatment by one point: loss `bar` at `at_l_min`, growing as q2."""

    name: str
    bar: float
    at_l_min: float

    def loss_bar(self, flow_l_min: float, water_c: float) -> float:
        return self.bar * (max(0.0, flow_l_min) / self.at_l_min) ** 2


@dataclass(frozen=True, slots=True)
class ReducingValve:
    """A pressure-reducing valve, alone or with its strainer: open until what leaves it would pass its set point.

    set_bar : pressure behind it that it holds, with nothing running [bar]
    bar, at_l_min : what it loses wide open, by one point, growing as q2
    falls_bar : how far the pressure it holds falls off at that same flow, growing as q2 [bar]
    """

    name: str
    set_bar: float
    bar: float
    at_l_min: float
    falls_bar: float = 0.0

    def loss_bar(self, flow_l_min: float, water_c: float) -> float:
        return self.bar * self._share(flow_l_min)

    def holds_bar(self, flow_l_min: float) -> float:
        """The most that is left behind it, however strong the main [bar]."""
        return self.set_bar - self.falls_bar * self._share(flow_l_min)

    def _share(self, flow_l_min: float) -> float:
        return (max(0.0, flow_l_min) / self.at_l_min) ** 2


LITRES_A_M3, MINUTES_AN_HOUR = 1000.0, 60.0


def by_kv(name: str, kv_m3_h: float) -> Resistance:
    """A valve by its flow coefficient Kv.

    loss = (q / Kv)2 bar, q in m3/h; 1 m3/h = 16.67 l/min

    Parameters
    ----------
    name : what it is called
    kv_m3_h : flow at a loss of 1 bar, above 0 [m3/h]

    Returns
    -------
    the element

    Raises
    ------
    Raises nothing.

    Limits
    ------
    Cold water, fully turbulent.

    Source
    ------
    Definition of the flow coefficient Kv (IEC 60534-1, from memory).

    Examples
    --------
    >>> round(by_kv("valve", 2.4).loss_bar(20.0, 10.0), 4)
    0.25
    """
    return Resistance(name, 1.0, kv_m3_h * LITRES_A_M3 / MINUTES_AN_HOUR)


@dataclass(frozen=True, slots=True)
class Booster:
    """A pump in the line: adds pressure along its curve."""

    name: str
    points: tuple[tuple[float, float], ...]

    def loss_bar(self, flow_l_min: float, water_c: float) -> float:
        return -max(0.0, along(self.points, flow_l_min))
