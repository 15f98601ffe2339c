"""The one-line `advisor calc` that works a calculated figure again from the inputs its trace names."""

from __future__ import annotations

import math
from collections.abc import Iterator

from advisor.calc import REGISTRY
from advisor.calc.public_formulas import spelled
from advisor.facts import Fact, FactBook, Words

BUSY_HOUR = "work it again: advisor busy-hour SURVEY {layout} (at the flows wanted, whatever the pipes give)"
TRUSTED = {  # by solver or simulation: the command that runs it again
    "calc.gas_tree_drop": "work it again: advisor calc gas-tree legs=... loads=... with the legs of the survey",
    "calc.gravity_together": "work it again: advisor calc water-network head=... shared=... outlets=... "
                             "(8 m of 22 mm for all, 4 m of 15 mm to each)",
    "calc.busy_hour_short": BUSY_HOUR, "calc.busy_hour_until": BUSY_HOUR,
}
ENDS = {"lo": "at the low ends of its inputs", "hi": "at the high ends of its inputs"}


def keys(book: FactBook, fact: Fact, pick: str) -> dict[str, str] | None:
    """Keys of the call, each input at one end of its range ("lo" or "hi"); None where an input has no end."""
    formula = REGISTRY[fact.made_by.removeprefix("calc.")]
    ends = [(arg, sorted(v.words)[0] if isinstance(v := book[key].value, Words) else getattr(v, pick))
            for arg, key in fact.inputs]
    if any(isinstance(x, float) and not math.isfinite(x) for _, x in ends) or not ends:
        return None
    if formula.variadic:
        return {formula.args[0].name: "; ".join(spelled(x, "") for _, x in ends)}
    units = {a.name: a.unit for a in formula.args}
    return {arg: spelled(x, units[arg]) for arg, x in ends}


def lines(book: FactBook, fact: Fact) -> Iterator[str]:
    """Calls: one where every input is known, two where some are ranges; of a gas tree the calculator that takes it."""
    if not fact.made_by.startswith("calc."):
        return
    if fact.trust:
        yield TRUSTED[fact.made_by].format(layout=fact.entity)
        return
    low, high = (keys(book, fact, pick) for pick in ENDS)
    for given, where in [(low, "")] if low == high else [(low, ENDS["lo"]), (high, ENDS["hi"])]:
        if given is not None:
            call = " ".join(f'{k}="{v}"' for k, v in given.items())
            yield f"work it again{f', {where}' if where else ''}: advisor calc {fact.made_by} {call}"
