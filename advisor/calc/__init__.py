"""Formulas only: plain numbers and tables in, numbers out; one file a subject. Importing this fills REGISTRY."""

from __future__ import annotations

from advisor.calc import (
    arithmetic,
    demand,
    discharge,
    electric,
    energy,
    flue,
    gas,
    gas_pipe,
    heating,
    instantaneous,
    layouts,
    selection,
    space,
    standing,
    storage,
    water_supply,
)
from advisor.calc.formula import REGISTRY, Formula, OutOfRange

__all__ = [
    "REGISTRY", "Formula", "OutOfRange", "arithmetic", "demand", "discharge", "electric", "energy", "flue", "gas",
    "gas_pipe", "heating", "instantaneous", "layouts", "selection", "space", "standing", "storage", "water_supply",
]
