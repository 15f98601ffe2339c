"""The same house in EPANET, through its binding: for proofs only."""

from __future__ import annotations

import math
import os
import tempfile
import warnings
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from advisor.calc.constants import BAR_PER_M
from advisor.calc.pipes import water_at
from advisor.water.network import House, Outlet, Section
from advisor.water.parts import Pipe, ReducingValve, Resistance

BASE_VISCOSITY = 1.022e-6  # m2/s, EPANET's own 1.1e-5 ft2/s
LITRES_A_MINUTE = 60_000.0
VALVE_M, G = 0.02, 9.80665  # bore given to every valve, so that its loss is a coefficient of v2 / 2g
ROUNDS, CLOSE_L_MIN = 60, 1e-3


def run(house: House) -> dict[str, float]:
    """Flow at every outlet [l/min]: outlets as emitters of exponent 0.5, elements as pipes, PRVs and throttle valves.

    EPANET knows no mixer. Of a two-sided outlet one side is an emitter for its share of the flow, the other a demand in
    proportion, run over and over until it stands still; the weaker side must turn out to be the emitter's.
    """
    mixers = [o for o in house.outlets if o.cold and o.hot]
    drivers = {o.name: o.hot or o.cold for o in house.outlets}
    beside = {o.name: 0.0 for o in mixers}
    for _ in range(ROUNDS):
        bars = _solve(house, drivers, beside)
        flows = {o.name: o.k * max(0.0, bars[drivers[o.name]]) ** 0.5 for o in house.outlets}
        wanted = {o.name: (1 - _share(o, drivers[o.name])) * flows[o.name] for o in mixers}
        still = all(abs(wanted[n] - beside[n]) < CLOSE_L_MIN for n in wanted)
        beside = {n: (beside[n] + q) / 2 if beside[n] else q for n, q in wanted.items()}
        weaker = {o.name: min((o.hot, o.cold), key=bars.__getitem__) for o in mixers}
        if still and all(bars[weaker[n]] > bars[drivers[n]] - 1e-5 for n in weaker):
            return flows
        if still:
            drivers |= weaker
    raise AssertionError(f"no standstill: {flows}")


def _share(outlet: Outlet, side: str) -> float:
    return dict(outlet.ways())[side]


def _solve(house: House, drivers: Mapping[str, str], beside: Mapping[str, float]) -> dict[str, float]:
    """Pressure at the end of every section [bar]."""
    import wntr

    net = wntr.network.WaterNetworkModel()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        net.options.hydraulic.headloss = "D-W"
    density, viscosity = water_at(house.sections[0].water_c)
    net.options.hydraulic.viscosity = viscosity / density / BASE_VISCOSITY
    net.options.hydraulic.accuracy = 1e-6
    net.options.hydraulic.trials = 500
    net.options.time.duration = 0
    heights = {}
    for source in house.sources:
        net.add_reservoir(source.name, base_head=source.bar(0.0) / BAR_PER_M)
        heights[source.name] = 0.0
    for s in house.sections:
        heights[s.name] = heights[s.after] + s.rise_m
        net.add_junction(s.name, base_demand=0.0, elevation=heights[s.name])
    for outlet in house.outlets:
        node, share = net.get_node(drivers[outlet.name]), _share(outlet, drivers[outlet.name])
        # m3/s at one metre of water
        node.emitter_coefficient = share * outlet.k * BAR_PER_M**0.5 / LITRES_A_MINUTE
        if outlet.name in beside:
            (other,) = {outlet.hot, outlet.cold} - {drivers[outlet.name]}
            net.get_node(other).demand_timeseries_list[0].base_value = beside[outlet.name] / LITRES_A_MINUTE
    for s in house.sections:
        _chain(net, s, heights[s.after])
    here = Path.cwd()
    with tempfile.TemporaryDirectory() as folder, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        os.chdir(folder)
        try:
            found = wntr.sim.EpanetSimulator(net).run_sim(file_prefix="house")
        finally:
            os.chdir(here)
    return {s.name: float(found.node["pressure"][s.name].iloc[0]) * BAR_PER_M for s in house.sections}


def _chain(net: Any, section: Section, height_m: float) -> None:
    """The elements of a section one after another, all at its start's height; EPANET's valves want pipes between."""
    at, links = section.after, [link for e in section.elements for link in _links(e)]
    for i, (kind, figures) in enumerate(links):
        to = section.name if i == len(links) - 1 else f"{section.name}-{i}"
        if to != section.name:
            net.add_junction(to, base_demand=0.0, elevation=height_m)
        if kind == "pipe":
            net.add_pipe(f"pipe-{to}", at, to, **figures)
        else:
            net.add_valve(f"valve-{to}", at, to, VALVE_M, kind, **figures)
        at = to


def _links(element: Any) -> list[tuple[str, dict[str, Any]]]:
    free = ("pipe", {"length": 0.01, "diameter": 0.2, "roughness": 1e-6, "minor_loss": 0.0})
    if isinstance(element, Pipe):
        return [("pipe", {"length": element.length_m, "diameter": element.bore_mm / 1000,
                          "roughness": element.roughness_mm / 1000, "minor_loss": element.k})]
    if isinstance(element, Resistance):
        return [free, ("TCV", {"initial_setting": _coefficient(element.bar, element.at_l_min)}), free]
    assert isinstance(element, ReducingValve)
    open_k, falls_k = (_coefficient(bar, element.at_l_min)
                       for bar in (element.bar - element.falls_bar, element.falls_bar))
    return [free, ("PRV", {"initial_setting": element.set_bar / BAR_PER_M, "minor_loss": open_k}), free,
            ("TCV", {"initial_setting": falls_k}), free]


def _coefficient(bar: float, at_l_min: float) -> float:
    """K of v2 / 2g in the bore given to valves."""
    v = at_l_min / LITRES_A_MINUTE / (math.pi * VALVE_M**2 / 4)
    return bar / BAR_PER_M * 2 * G / v**2
