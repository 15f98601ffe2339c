"""What the pipes of one arrangement give each outlet, at the worst and at the best of what is known.

The water of a mains-fed layout first passes something of the layout's own: an inlet control set, a heat exchanger;
then hot and cold meet in the mixers. What only one outlet passes gives it more the wider it is; what only others pass
gives it less, for they draw more. So each outlet's least flow is worked in a house poor on its own way and good
elsewhere, and its most the other way round. In these houses the cold side of a mixer has nothing on its way that the
hot side has not: the hot side is never the stronger one, and every mixer hangs on one pressure, as a plain outlet does.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from advisor.facts import Words
from advisor.water import fittings
from advisor.water.box import Reader
from advisor.water.busy_hour import Flows, Reserve
from advisor.water.demand import Tap
from advisor.water.gravity import SHARED_MM, by_gravity
from advisor.water.network import House, Outlet, Section, solve
from advisor.water.parts import Element, WeakestOf, fit_supply

SIZES_MM = (15.0, 22.0, 28.0, 35.0)
MAINS, LOFT, OWN, TANK = "mains", "loft cistern", "own cistern", "break tank"
BALANCED = ("shower", "bath")  # take their cold behind the reducing valve; others may stand on the street's pressure
ENOUGH_L_MIN = 1e-6

Houses = Callable[[Mapping[str, float], str], House]  # wanted flows, outlet asked about -> the house worst for it


@dataclass(frozen=True, slots=True)
class Pipes:
    """What the pipes give: each outlet's least and most, a vessel that helps, and the house that is worst for one."""

    least: Flows
    most: Flows
    reserve: Callable[[], Reserve | None]
    worst: Houses | None = None  # None where there is no main behind it


@dataclass(frozen=True, slots=True)
class Layout:
    """What the network of a mains-fed layout is made of; `fitted` makes its own elements at the worst or best end."""

    mains: tuple[WeakestOf, WeakestOf]  # at the worst, at the best
    kinds: Mapping[str, str]
    apart: frozenset[str]  # outlets that heat their own water
    inlet: Callable[[bool], tuple[Element, ...]]  # all mixed water passes these
    hot: Callable[[bool], tuple[Element, ...]]  # only the hot share does
    share: float  # the least share of hot water in a mixer
    needs_bar: tuple[float, float]  # what a mixer wants while it runs: at the worst, at the best

    def house(self, wanted: Mapping[str, float], asked: str | None, least: bool) -> House:
        """The house that gives one outlet least, or most; None: everything at one end, which is no bound for any."""
        poor = least is not (asked in self.apart)  # an outlet of its own gains when the others' way is poor
        main = self.mains[0 if least else 1]
        sections = (Section("street", main.name), Section("inlet", "street", self.inlet(poor)),
                    Section("hot", "inlet", self.hot(poor)))
        return House((main,), sections,
                     tuple(self._outlet(n, q, poor, least is (asked in (n, None))) for n, q in wanted.items()))

    def _outlet(self, name: str, l_min: float, poor: bool, wants_much: bool) -> Outlet:
        k = l_min / math.sqrt(self.needs_bar[0 if wants_much else 1])
        if name in self.apart:
            return Outlet(name, k, "street", at_most=l_min)
        balanced = poor or self.kinds[name] in BALANCED
        return Outlet(name, k, "inlet" if balanced else "street", "hot", 1.0 if poor else self.share, l_min)


def pipes(reader: Reader, taps: Sequence[Tap], store: str, feed: str, helper: str, apart: frozenset[str],
          kind: bool) -> Pipes | None:
    """What the pipes of one arrangement give each outlet.

    Parameters
    ----------
    reader : the facts, which gathers what stands against a result
    taps : the outlets
    store, feed, helper : words of the arrangement
    apart : outlets that heat their own water
    kind : whether the vessel of an accumulator holds its most

    Returns
    -------
    least and most flows; None where the main is not known, with the reasons noted

    Raises
    ------
    NotComputed
        By the flows, where the main is asked for more than its readings tell.

    Limits
    ------
    Pipes beyond the place where the main was measured are not surveyed and lose nothing here. A booster set, and a
    pressure vessel while it lasts, give what is wanted whatever stands behind them.

    Source
    ------
    The pipe network; `fittings` for what the layout itself puts in the way.
    """
    if feed in (LOFT, OWN):
        pumped = reader.span("threshold.pumped_shower_l_min", asked=False).lo if helper == "shower pump" else 0.0
        return Pipes(*(_gravity(taps, *_cistern(reader, feed, end), pumped) for end in (False, True)), _nothing)
    if feed == TANK:
        flows = _boosted(reader.span("threshold.booster_l_min", asked=False).lo)
        return Pipes(flows, flows, _nothing)
    mains = [_main(reader, end) for end in (False, True)]
    if mains[0] is None or mains[1] is None:
        return None
    layout = _layout(reader, (mains[0], mains[1]), taps, store, apart)
    return Pipes(_ends(reader, layout, True), _ends(reader, layout, False),
                 _vessel(reader, mains[kind], kind) if helper == "mains accumulator" else _nothing,
                 lambda wanted, asked: layout.house(wanted, asked, True))


def _nothing() -> None:
    return None


def _cistern(reader: Reader, feed: str, kind: bool) -> tuple[float, float]:
    """Head [m] and size of the pipe below [mm]."""
    if feed == OWN:
        return reader.span("threshold.own_cistern_head_m", asked=False).lo, SHARED_MM
    return reader.end("cistern.head_m", kind), _cistern_pipe(reader, kind)


def _cistern_pipe(reader: Reader, kind: bool) -> float:
    """The tabulated size at this end of what is known of the pipe below the cistern [mm]; unknown: the whole range."""
    size = reader.end("cistern.pipe_mm", kind, asked=False)
    if kind:
        return next((s for s in SIZES_MM if s >= size), SIZES_MM[-1])
    return next((s for s in reversed(SIZES_MM) if s <= size), SIZES_MM[0])


def _gravity(taps: Sequence[Tap], head_m: float, size_mm: float, pumped_l_min: float) -> Flows:
    """A cistern through the pipe behind the closed formula; outlets made for low pressure; a pump for the showers."""
    kinds = {t.name: t.kind for t in taps}

    def flows(wanted: Mapping[str, float]) -> Mapping[str, float]:
        pumped = {n: min(q, pumped_l_min) for n, q in wanted.items() if pumped_l_min and kinds[n] == "shower"}
        others = {n: q for n, q in wanted.items() if n not in pumped}
        return pumped | dict(by_gravity(head_m, others, size_mm)) if others else pumped

    return flows


def _boosted(most_l_min: float) -> Flows:
    """A booster set is chosen for what stands behind it: its flow is shared out as it is."""
    def flows(wanted: Mapping[str, float]) -> Mapping[str, float]:
        part = min(1.0, most_l_min / sum(wanted.values()))
        return {n: part * q for n, q in wanted.items()}

    return flows


# ---------------------------------------------------------------- the main

def _main(reader: Reader, kind: bool) -> WeakestOf | None:
    """The main's curve at every corner of its readings; the weakest (or strongest) of them at each flow."""
    static, flow, left = (reader.span(f"water.{n}") for n in ("static_pressure_bar", "flow_l_min",
                                                             "flow_pressure_bar"))
    if reader.reasons:
        return None
    share = _share(reader, kind)
    fits = []
    for s, q, p in itertools.product(*((x.lo, x.hi) for x in (static, flow, left))):
        if p < s:
            fits.append(fit_supply(s, [(q * share, p)]))
    if not fits:
        reader.against("the pressure left while the main ran is not below the pressure with nothing running",
                       "water.flow_pressure")
        return None
    return WeakestOf("the main", tuple(f.supply for f in fits), best=kind)


def _share(reader: Reader, kind: bool) -> float:
    """What is left of a measured flow at the busy time and beside a neighbour, at this end."""
    share = 1.0
    for name, word, threshold in (("water.tested_at", "quiet time", "threshold.quiet_share"),
                                  ("water.shared", "yes", "threshold.shared_share")):
        fact, part = reader.fact(name), reader.span(threshold, asked=False)
        words = fact.value.words if isinstance(fact.value, Words) else frozenset()
        cut = part.hi if kind else part.lo
        ends = ([cut] if word in words else []) + ([1.0] if words - {word} else [])
        share *= max(ends) if kind else min(ends)
    return share


def _vessel(reader: Reader, source: WeakestOf | None, kind: bool) -> Callable[[], Reserve]:
    assert source is not None
    litres = reader.span("accumulator.usable_l", asked=False)
    usable = litres.hi if kind else litres.lo
    if not math.isfinite(usable):
        reader.against("what the accumulator holds between its pressures cannot be told", "water.static_pressure")
    gives = _flow_at(source, reader.end("supply.useful_bar", kind))
    return lambda: Reserve(max(0.0, usable), gives)


def _flow_at(source: WeakestOf, bar: float) -> float:
    """Flow the main gives at a pressure [l/min], by halving."""
    low, high = 0.0, max(s.furthest_l_min for s in source.supplies)
    for _ in range(50):
        mid = (low + high) / 2
        low, high = (mid, high) if source.bar(mid) > bar else (low, mid)
    return low


# ---------------------------------------------------------------- what the water passes in the layout

def _layout(reader: Reader, mains: tuple[WeakestOf, WeakestOf], taps: Sequence[Tap], store: str,
            apart: frozenset[str]) -> Layout:
    mixed_c, cold_c, hot_c = (reader.span(f"threshold.{n}", asked=False).hi for n in (
        "mixed_c", "winter_cold_c", "hot_side_c"))
    mixer = reader.span("supply.mixer_bar")
    known = fittings.figures(lambda name: reader.span(f"threshold.{name}", asked=False))
    inlet, hot = _passed(store, known)
    return Layout(mains, {t.name: t.kind for t in taps}, apart, inlet, hot,
                  fittings.hot_share(mixed_c, hot_c, cold_c), (mixer.hi, mixer.lo))


Made = Callable[[bool], tuple[Element, ...]]


def _passed(store: str, known: fittings.Figures) -> tuple[Made, Made]:
    """(inlet, hot): what all the water of a mixer passes, and what only its hot share does, at either end."""
    def none(least: bool) -> tuple[Element, ...]:
        return ()

    def inlet(least: bool) -> tuple[Element, ...]:
        return (fittings.inlet_set(least, known),)

    def exchanger(name: str, loss: fittings.Ends) -> Made:
        return lambda least: (fittings.exchanger(name, loss, least),)

    if store in ("none", "existing instant"):
        return none, exchanger(fittings.BOILER_EXCHANGER, known.boiler)
    if store == "heating store":
        return none, exchanger(fittings.STORE_EXCHANGER, known.store)
    if store == "built-in":  # some warm the draw on its way through the exchanger, some only the store: at best nothing
        return inlet, exchanger(fittings.BOILER_EXCHANGER, known.built_in)
    return inlet, none


def _ends(reader: Reader, layout: Layout, least: bool) -> Flows:
    """Each open outlet's least, or most, flow; the user opens it no further than wanted."""
    def solved(wanted: Mapping[str, float], asked: str | None) -> Mapping[str, float]:
        found = solve(layout.house(wanted, asked, least), wanted)
        if found.beyond:
            reader.against("the main would have to give more than 1.5 times the flow it was measured at; measure it at "
                           "a lower pressure", "water.flow")
            reader.refuse()
        return {n: q if found.flows[n] > q - ENOUGH_L_MIN else found.flows[n] for n, q in wanted.items()}

    def flows(wanted: Mapping[str, float]) -> Mapping[str, float]:
        if least and solved(wanted, None) == wanted:  # full at the worst: then in every other house too
            return dict(wanted)
        return {n: solved(wanted, n)[n] for n in wanted}

    return flows
