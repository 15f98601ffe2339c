"""The one-line `advisor calc` that works a calculated figure again from the inputs its trace names."""

from __future__ import annotations

import math
from collections.abc import Iterator

from advisor import checks, site
from advisor.calc import REGISTRY
from advisor.calc.public_formulas import spelled
from advisor.checks.measure import Measure
from advisor.checks.services import AT_28_MM, BOILER
from advisor.facts import ANYTHING, Fact, FactBook, Span, Words
from advisor.records import Advice
from advisor.water import gravity as g

BUSY_HOUR = "work it again: advisor busy-hour SURVEY {layout} (at the flows wanted, whatever the pipes give)"
TRUSTED = {  # by solver or simulation: the command that runs it again
    "calc.gas_tree_drop": "work it again{where}: advisor calc gas-tree legs=\"{legs}\" loads=\"{loads}\"",
    "calc.gravity_together": "work it again{where}: advisor calc water-network head=\"{head}\" "
                             "temperature=\"{temperature}\" shared=\"{shared}\" outlets=\"{outlets}\"",
    "calc.busy_hour_short": BUSY_HOUR, "calc.busy_hour_until": BUSY_HOUR,
    "calc.busy_hour_together": "work it again with busy_showers = the showers wanted at once, busy_baths = the baths: "
                               "advisor busy-hour SURVEY {layout}",
}
# Inputs that lessen the result as they grow, of formulas whose other inputs raise it: its own ends are worked again.
LESSENING = {"flow_past": ("at_bar", "loss_bar"), "flow_past_valve": ("at_bar", "loss_bar", "falls_bar"),
             "loss_at_ten": ("at_l_min",), "hot_loss_at_ten": ("at_l_min",)}
OWN_ENDS = {"lo": "at its least", "hi": "at its most"}
ENDS = {"lo": "at the low ends of its inputs", "hi": "at the high ends of its inputs"}


def keys(book: FactBook, fact: Fact, pick: str) -> dict[str, str] | None:
    """Keys of the call, each input at one end of its range ("lo" or "hi"); None where an input has no end."""
    formula = REGISTRY[fact.made_by.removeprefix("calc.")]
    lessening = LESSENING.get(formula.name, ())
    ends = [(arg, sorted(v.words)[0] if isinstance(v := book[key].value, Words) else _end(v, arg in lessening, pick))
            for arg, key in fact.inputs]
    if any(isinstance(x, float) and not math.isfinite(x) for _, x in ends) or not ends:
        return None
    if formula.variadic:
        return {formula.args[0].name: "; ".join(spelled(x, "") for _, x in ends)}
    units = {a.name: a.unit for a in formula.args}
    return {arg: spelled(x, units[arg]) for arg, x in ends}


def _end(value: Span, lessens: bool, pick: str) -> float:
    return value.hi if lessens == (pick == "lo") else value.lo


def gas_tree(advice: Advice, fact: Fact, worst: bool) -> dict[str, str]:
    """Legs and loads of `advisor calc gas-tree` at the kinder or the worse corner of what is surveyed.

    Gas that may hang on any leg is named with the boiler's where it may pass its whole way.
    """
    tree = checks.gas_tree(advice.survey, site.entities(advice.survey))
    thinnest = AT_28_MM if fact.name == "gas.drop_at_28_mbar" else 0.0
    legs, loads, unplaced = tree.corner(Measure(advice.book, advice.rulebase.vocabulary), fact.entity, worst, thinnest)
    ends = {leg.to for leg in legs}
    loads[BOILER] += unplaced * sum(flow for name, flow in loads.items() if name not in ends)
    ways = {x.name: f"{x.name} from {x.start}" + (f" to {x.to}" if x.to else "") for x in legs}
    return {"legs": "; ".join(f"{ways[x.name]} {x.size_mm:g} mm {x.length_m!r} m {x.elbows:g} elbows" for x in legs),
            "loads": "; ".join(f"{name} {flow!r} m3/h" for name, flow in loads.items() if name in ends)}


def lines(advice: Advice, fact: Fact) -> Iterator[str]:
    """Calls: one where every input is known, two where some are ranges; of a gas tree the calculator that takes it."""
    if not fact.made_by.startswith("calc."):
        return
    if fact.made_by == "calc.gas_tree_drop":
        yield from _gas_lines(advice, fact)
        return
    if fact.made_by == "calc.gravity_together":
        yield from _gravity_lines(advice, fact)
        return
    if fact.trust:
        yield TRUSTED[fact.made_by].format(layout=fact.entity)
        return
    low, high = (keys(advice.book, fact, pick) for pick in ENDS)
    known = all(advice.book[key].value.single for arg, key in fact.inputs if arg == "static_bar")  # pushes either way
    ends = OWN_ENDS if known and fact.made_by.removeprefix("calc.") in LESSENING else ENDS
    for given, where in [(low, "")] if low == high else [(low, ends["lo"]), (high, ends["hi"])]:
        if given is not None:
            call = " ".join(f'{k}="{v}"' for k, v in given.items())
            yield f"work it again{f', {where}' if where else ''}: advisor calc {fact.made_by} {call}"


def _gas_lines(advice: Advice, fact: Fact) -> Iterator[str]:
    if fact.value == ANYTHING:
        return  # another gas, or a pipe that has not been followed: there is no figure to work again
    kind, worse = gas_tree(advice, fact, False), gas_tree(advice, fact, True)
    for given, where in [(kind, "")] if kind == worse else [(kind, ", at its best"), (worse, ", at its worst")]:
        yield TRUSTED[fact.made_by].format(where=where, **given)


def gravity(advice: Advice, fact: Fact, pick: str) -> dict[str, str] | None:
    """The pipes behind `calc.gravity_together` at one end of its inputs; None where no water comes or is wanted."""
    head, *wanted = (getattr(advice.book[key].value, pick) for _, key in fact.inputs)
    flows = [q for q in wanted if q > 0]
    if head <= 0 or not flows or not math.isfinite(head + sum(flows)):
        return None
    own = f"{g.OWN_M!r} m of {g.OWN_MM!r} mm copper K{g.OWN_K!r}"
    return {"head": f"{head!r} m", "temperature": f"{g.MIXED_C!r} C",
            "shared": f"shared pipe {g.SHARED_M!r} m of {g.SHARED_MM!r} mm copper K{g.SHARED_K!r}",
            "outlets": "; ".join(f"outlet {i}: own pipe {own}, {max(q, g.ROSE_L_MIN)!r} l/min at {g.ROSE_BAR!r} bar, "
                                 f"at most {q!r} l/min" for i, q in enumerate(flows, 1))}


def _gravity_lines(advice: Advice, fact: Fact) -> Iterator[str]:
    low, high = (gravity(advice, fact, pick) for pick in ENDS)
    for given, where in [(low, "")] if low == high else [(low, f", {ENDS['lo']}"), (high, f", {ENDS['hi']}")]:
        if given is not None:
            yield TRUSTED[fact.made_by].format(where=where, **given)
