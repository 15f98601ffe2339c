"""The same house in EPANET, through its binding: for proofs only."""

from __future__ import annotations

import os
import tempfile
import warnings
from pathlib import Path

from advisor.calc.constants import BAR_PER_M
from advisor.calc.pipes import water_at
from advisor.water.network import House

BASE_VISCOSITY = 1.022e-6  # m2/s, EPANET's own 1.1e-5 ft2/s
LITRES_A_MINUTE = 60_000.0


def run(house: House) -> dict[str, float]:
    """Flow at every outlet of a one-sided house [l/min]: pipes of `Pipe` only, outlets as emitters of exponent 0.5."""
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
        # m3/s at one metre of water
        net.get_node(outlet.cold).emitter_coefficient = outlet.k * BAR_PER_M**0.5 / LITRES_A_MINUTE
    for s in house.sections:
        (pipe,) = s.elements
        net.add_pipe(f"pipe-{s.name}", s.after, s.name, length=pipe.length_m, diameter=pipe.bore_mm / 1000,
                     roughness=pipe.roughness_mm / 1000, minor_loss=pipe.k)
    here = Path.cwd()
    with tempfile.TemporaryDirectory() as folder, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        os.chdir(folder)
        try:
            found = wntr.sim.EpanetSimulator(net).run_sim(file_prefix="house")
        finally:
            os.chdir(here)
    bars = {o.name: float(found.node["pressure"][o.cold].iloc[0]) * BAR_PER_M for o in house.outlets}
    return {o.name: o.k * max(0.0, bars[o.name]) ** 0.5 for o in house.outlets}
