"""How far our sums lie from general-purpose libraries, measured: the table of DEVELOPERS.md.

`python -m tests.calc.agreement` writes it anew; a test holds the page to what is measured.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterable
from pathlib import Path

import CoolProp.CoolProp as cool
import fluids

from advisor.calc import circuits, condensing, metering, pipes
from advisor.calc.expansion import expansion_share
from advisor.calc.gas import Leg, path_drop
from advisor.calc.gas_pipe import gradient
from tests.calc.test_gas_network import BORE_MM, DENSITY, ROUGH_MM, TREES, VISCOSITY, solved

PAGE = Path(__file__).resolve().parents[2] / "DEVELOPERS.md"
HEAD = "| quantity | library | cases | ours less theirs |\n|---|---|---|---|\n"
TABLE = re.compile(re.escape(HEAD) + r"(?:\|.*\n)+")


def water(what: str, celsius: float) -> float:
    return cool.PropsSI(what, "T", celsius + 273.15, "P", 101325, "Water")


def darcy(flow_m3_s: float, bore_m: float, rough_m: float, density: float, viscosity: float) -> float | None:
    """Loss a metre [Pa/m] by the library's factor; None between laminar and turbulent flow."""
    speed = flow_m3_s / (math.pi * bore_m**2 / 4)
    reynolds = density * speed * bore_m / viscosity
    if pipes.LAMINAR_BELOW < reynolds < pipes.TURBULENT_ABOVE:
        return None
    return fluids.friction_factor(Re=reynolds, eD=rough_m / bore_m) / bore_m * density * speed**2 / 2


def shares(pairs: Iterable[tuple[float, float]]) -> tuple[int, str]:
    off = [100 * (ours / theirs - 1) for ours, theirs in pairs]
    return len(off), f"{min(off):+.1f} to {max(off):+.1f} %"


def heat() -> Iterable[tuple[float, float]]:
    for cold, hot in itertools.product((5, 10, 15), (40, 50, 60, 65)):
        theirs = (water("H", hot) - water("H", cold)) / 3.6e6 * water("D", cold) / 1000
        yield metering.heat_content(1, hot - cold), theirs


def friction(temperatures: Iterable[float]) -> Iterable[tuple[float, float]]:
    for size, celsius, l_min in itertools.product((15, 22, 28), temperatures, (6, 12, 18, 30, 45, 60)):
        theirs = darcy(l_min / 60_000, pipes.bore(size)[0] / 1000, pipes.ROUGHNESS_MM / 1000, water("D", celsius),
                       water("V", celsius))
        if theirs is not None:
            yield pipes.water_drop(size, l_min, 1, celsius) * 1000, theirs


def capacity() -> Iterable[tuple[float, float]]:
    """The loss, by the library, at the flow we say a pipe carries, against the loss asked for; turbulent flow only."""
    for size, pa_m, celsius in itertools.product((8, 10, 15, 22, 28), (300, 600, 1500), (40, 60, 75)):
        flow = circuits.flow_at_loss(size, pa_m / 1000, celsius)
        inside = pipes.bore(size)[0] / 1000
        reynolds = water("D", celsius) * pipes.speed(inside * 1000, flow) * inside / water("V", celsius)
        theirs = darcy(flow / 60_000, inside, pipes.ROUGHNESS_MM / 1000, water("D", celsius), water("V", celsius))
        if theirs is not None and reynolds > pipes.TURBULENT_ABOVE:
            yield pa_m, theirs


def gas() -> Iterable[tuple[float, float]]:
    for size, flow in ((22, 2.5), (22, 4), (22, 6), (22, 8), (28, 5), (28, 8), (28, 12), (28, 16)):
        theirs = darcy(flow / 3600, BORE_MM[size] / 1000, ROUGH_MM / 1000, DENSITY, VISCOSITY)
        if theirs is not None:
            yield gradient(size, flow) * 100, theirs


def trees() -> Iterable[tuple[float, float]]:
    for legs, loads in TREES:
        ours = [Leg(name, start, end, size, metres, 0) for name, start, end, size, metres in legs]
        for appliance, theirs in solved(legs, loads).items():
            yield path_drop(ours, loads, appliance), theirs


def flue_water() -> Iterable[tuple[float, float]]:
    """Water that stays vapour in flue gas of 30 to 54 °C, 25 % excess air, by the library's saturation pressure."""
    dry = condensing.DRY + condensing.DRY_EXCESS * 0.25
    for gas_c in range(30, 55, 4):
        p = cool.PropsSI("P", "T", gas_c + 273.15, "Q", 0, "Water") / 1000
        yield 2 - 2 * condensing.condensed_share(gas_c - 5, 5, 0.25), dry * p / (101.325 - p)


def rows() -> list[str]:
    """The rows of the table, as measured here and now."""
    growth = [100 * (expansion_share(10, hot) - (water("D", 10) / water("D", hot) - 1)) for hot in range(40, 95, 5)]
    density = [y - water("D", c) for c, y in pipes.DENSITY]
    viscosity = [(v, 1000 * water("V", c)) for c, v in pipes.VISCOSITY if c > 0]
    measured = [
        ("heat to warm a litre of water, 5-15 °C to 40-65 °C", "CoolProp (IAPWS-95)", *shares(heat())),
        ("expansion of water from 10 °C to 40-90 °C", "CoolProp (IAPWS-95)", len(growth),
         f"{min(growth):+.2f} to {max(growth):+.2f} percentage points"),
        ("density of water, 10-90 °C", "CoolProp (IAPWS-95)", len(density),
         f"{min(density):+.1f} to {max(density):+.1f} kg/m³"),
        ("viscosity of water, 10-80 °C", "CoolProp (IAPWS-95)", *shares(viscosity)),
        ("friction of water in 15-28 mm copper, 10 and 60 °C", "fluids (Colebrook), CoolProp", *shares(friction((10, 60)))),
        ("loss at the flow said to be carried, 8-28 mm copper, turbulent", "fluids (Colebrook), CoolProp",
         *shares(capacity())),
        ("gas in 22 and 28 mm copper, published table against friction", "fluids (Colebrook)", *shares(gas())),
        ("water left as vapour in flue gas of 30-54 °C", "CoolProp (IAPWS-95)", *shares(flue_water())),
        ("drop to each appliance of two gas trees of 22 and 28 mm", "pandapipes", *shares(trees())),
    ]
    return [f"| {quantity} | {library} | {cases} | {off} |" for quantity, library, cases, off in measured]


def main() -> None:
    """Write the measured table into the page."""
    text = PAGE.read_text(encoding="utf-8")
    PAGE.write_text(TABLE.sub(lambda _: HEAD + "\n".join(rows()) + "\n", text), encoding="utf-8")


if __name__ == "__main__":
    main()
