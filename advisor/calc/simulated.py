"""Names under which results of simulation and pipe network enter the facts: no closed sums, so taken on trust."""

from __future__ import annotations

from advisor.calc.formula import Arg, formula
from advisor.facts import Source

HOW = Source("Store in layers and heat balance, in steps of 5 s, 12 and 60 layers, both ends of every answer",
             "held against independent tank engines", "DERIVED")
NETWORK = Source("Darcy-Weisbach losses along every way, orifice law at every outlet, solved together",
                 "held against EPANET 2.2", "DERIVED")
READ = (Arg("values", "", meaning="every fact the simulation read"),)


class OnlySimulated(NotImplementedError):
    """Somebody asked for a sum where only the simulation has the answer."""


def _by_simulation(*_values: float) -> float:
    raise OnlySimulated("this is no closed sum; `advisor busy-hour SURVEY ARRANGEMENT` runs the hour")


formula(name="busy_hour_short",
        text="first minute in which the water comes too cold; 60, or 180 where draws take longer, for never",
        unit="min", source=HOW, variadic=True, trust=True, args=READ)(_by_simulation)
formula(name="busy_hour_together",
        text="first minute in which the water comes too cold with all that is wanted at once running for one shower",
        unit="min", source=HOW, variadic=True, trust=True, args=READ)(_by_simulation)
formula(name="gravity_together", text="flow of all outlets together through the pipe they share below the cistern",
        unit="l/min", source=NETWORK, variadic=True, trust=True,
        args=(Arg("values", "", meaning="head, and the flow wanted at each outlet"),))(_by_simulation)
formula(name="busy_hour_until", text="minute in which the last draw ends", unit="min", source=HOW, variadic=True,
        trust=True, args=READ)(_by_simulation)
