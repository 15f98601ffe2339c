"""Formulas only: plain numbers and tables in, numbers out; one file a subject. Importing this fills REGISTRY."""

from __future__ import annotations

from advisor.calc import (
    arithmetic,
    circuits,
    condensing,
    demand,
    discharge,
    electric,
    energy,
    flue,
    gas,
    gas_pipe,
    heating,
    house,
    in_the_way,
    instantaneous,
    layouts,
    metering,
    sap,
    selection,
    simulated,
    space,
    standing,
    storage,
    water_pipes,
    water_supply,
    year,
)
from advisor.calc.formula import REGISTRY, Formula, OutOfRange

__all__ = [
    "REGISTRY", "Formula", "OutOfRange", "arithmetic", "circuits", "condensing", "demand", "discharge", "electric",
    "energy", "flue", "gas", "gas_pipe", "heating", "house", "in_the_way", "instantaneous", "layouts", "metering",
    "sap", "selection", "simulated", "space", "standing", "storage", "water_pipes", "water_supply", "year",
]
