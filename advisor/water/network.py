"""The house's water as a network: every outlet that is open, solved together; hot and cold sides meet in the mixers.

Pipes branch and never loop, so the flow of every pipe follows from the flows
at the outlets, and the pressure at an outlet from walking its way back to the
source. What is solved is the set of outlet flows at which each outlet passes
what the pressure left at it drives through it. One solver serves a main, a
cistern and a pump: they differ only in their source.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from advisor.calc.constants import BAR_PER_M
from advisor.facts import Source as Citation
from advisor.water.parts import Element, Pipe, ReducingValve, Source, Supply

NEWTON_STEPS, SWEEPS, HALVINGS = 40, 400, 60
CLOSE_L_MIN, CLOSE_BAR = 1e-7, 1e-7
NUDGE_L_MIN = 1e-4
LITTLE_L_MIN, WHOLE_FROM_L_MIN = 0.5, 20.0  # when a cost is worth a figure, and from when on whole litres do
ALL = math.inf

SOLVED = Citation("Darcy-Weisbach losses along every way, orifice law at every outlet, solved together",
                  "held against EPANET 2.2", "DERIVED")


@dataclass(frozen=True, slots=True)
class Section:
    """A length of the network between two branchings: what it hangs on, what water passes in it, how far it climbs.

    after : name of the section upstream, or of a source
    rise_m : height of its end over its start [m]
    water_c : temperature of the water in it [C]
    """

    name: str
    after: str
    elements: tuple[Element, ...] = ()
    rise_m: float = 0.0
    water_c: float = 10.0

    def leaves_bar(self, bar: float, flow_l_min: float) -> float:
        """Pressure at its end of what stands at its start; its elements come first, then the climb."""
        for element in self.elements:
            bar -= element.loss_bar(flow_l_min, self.water_c)
            if isinstance(element, ReducingValve):
                bar = min(bar, element.holds_bar(flow_l_min))
        return bar - BAR_PER_M * self.rise_m


@dataclass(frozen=True, slots=True)
class Outlet:
    """A tap or shower: passes k sqrt(p) l/min, mixed from a cold and a hot section in a fixed share.

    k : flow at 1 bar [l/min per square root of bar]
    cold, hot : the sections that end at it; "" where it has only one side
    hot_share : share of the flow that comes by the hot side [-]
    at_most : the user opens it no further than this flow [l/min]
    against_bar : pressure it must still leave, for a measuring cup on a gauge [bar]
    """

    name: str
    k: float
    cold: str = ""
    hot: str = ""
    hot_share: float = 0.0
    at_most: float = ALL
    against_bar: float = 0.0

    def ways(self) -> tuple[tuple[str, float], ...]:
        """(section, share of the outlet's flow in it)."""
        if not self.hot or not self.cold:
            return ((self.hot or self.cold, 1.0),)
        return ((self.cold, 1 - self.hot_share), (self.hot, self.hot_share))


class NetworkError(ValueError):
    """A network that does not hang together; `faults` holds every one."""

    def __init__(self, faults: Sequence[str]):
        super().__init__("\n".join(faults))
        self.faults = list(faults)


@dataclass(frozen=True)
class House:
    """Sources, sections and outlets; refused with every fault when they do not hang together."""

    sources: tuple[Source, ...]
    sections: tuple[Section, ...]
    outlets: tuple[Outlet, ...]

    def __post_init__(self) -> None:
        if faults := _faults(self):
            raise NetworkError(faults)
        by_name, sources = {s.name: s for s in self.sections}, {s.name: s for s in self.sources}
        ways = {}
        for section in self.sections:
            way, at = [], section.name
            while at in by_name:
                way.append(by_name[at])
                at = by_name[at].after
            ways[section.name] = (sources[at], tuple(reversed(way)))
        object.__setattr__(self, "_ways", ways)

    def way(self, section: str) -> tuple[Source, tuple[Section, ...]]:
        """The source a section hangs on, and every section from it to this one."""
        return self._ways[section]  # type: ignore[attr-defined]


def _faults(house: House) -> list[str]:
    names = [s.name for s in house.sections] + [s.name for s in house.sources]
    faults = [f"{n}: the name stands twice. Give each source and section its own." for n in sorted(set(names))
              if names.count(n) > 1]
    after = {s.name: s.after for s in house.sections}
    for section in house.sections:
        at, seen = section.name, set()
        while at in after and at not in seen:
            seen.add(at)
            at = after[at]
        if at not in {s.name for s in house.sources}:
            faults.append(f"{section.name}: its way leads to {at!r}, which is no source. "
                          f"Sources: {', '.join(s.name for s in house.sources) or 'none'}.")
    for outlet in house.outlets:
        wrong = [n for n in (outlet.cold, outlet.hot) if n and n not in after]
        faults += [f"{outlet.name}: hangs on {n!r}, which is no section." for n in wrong]
        if not outlet.cold and not outlet.hot:
            faults.append(f"{outlet.name}: hangs on nothing. Name its cold or hot section.")
        if outlet.k <= 0 or not 0 <= outlet.hot_share <= 1:
            faults.append(f"{outlet.name}: k is {outlet.k:g} and the hot share {outlet.hot_share:g}; k must be above 0 "
                          "and the share from 0 to 1.")
    return faults


@dataclass(frozen=True)
class Solution:
    """Flows and pressures with some outlets open.

    flows : by outlet [l/min]
    at_outlet_bar : pressure left at the outlet, the weaker side of a mixer [bar]
    section_l_min : by section [l/min]
    end_bar : by section, pressure at its end [bar]
    """

    flows: Mapping[str, float]
    at_outlet_bar: Mapping[str, float]
    section_l_min: Mapping[str, float]
    end_bar: Mapping[str, float]
    beyond: tuple[str, ...] = ()  # sources asked for more than their curve is followed to

    @property
    def total_l_min(self) -> float:
        return sum(self.flows.values())


def solve(house: House, open_outlets: Iterable[str]) -> Solution:
    """Flow and pressure at every outlet that is open, all together.

    Parameters
    ----------
    house : the network
    open_outlets : names of the outlets that are open

    Returns
    -------
    the solution; an outlet too high for the pressure gives 0

    Raises
    ------
    NetworkError
        If an outlet is not in the house, or no balance is found.

    Limits
    ------
    Steady flow, no loops. A mixer keeps its temperature by throttling its stronger side, so its weaker side drives it.

    Source
    ------
    Darcy-Weisbach, orifice law; held against EPANET 2.2 in the tests.
    """
    wanted = set(open_outlets)
    known = {o.name for o in house.outlets}
    if wanted - known:
        raise NetworkError([f"{n}: no such outlet. The house has {', '.join(sorted(known))}."
                            for n in sorted(wanted - known)])
    balance = _Balance(house, [o for o in house.outlets if o.name in wanted])
    return balance.solution(balance.find())


class _Balance:
    """The equations of one set of open outlets."""

    def __init__(self, house: House, outlets: Sequence[Outlet]):
        self.house, self.outlets = house, outlets
        used = {s.name for o in outlets for section, _ in o.ways() for s in house.way(section)[1]}
        self.sections = [s for s in house.sections if s.name in used]
        self.top = [min(o.at_most, self._most(o)) for o in outlets]

    def _most(self, outlet: Outlet) -> float:
        """No more than its source could drive through the outlet alone (and a little, never binding)."""
        drive = 1.0 + max(self._at_rest(s) for s, _ in outlet.ways())
        return outlet.k * math.sqrt(max(drive, 1.0)) + 1.0

    def _at_rest(self, section: str) -> float:
        source, way = self.house.way(section)
        bar = source.bar(0.0)
        for s in way:
            bar = s.leaves_bar(bar, 0.0)
        return bar

    def pressures(self, flows: Sequence[float]) -> tuple[dict[str, float], dict[str, float], dict[str, float]]:
        """Flow and end pressure of every section in use, and the flow of every source."""
        through = {s.name: 0.0 for s in self.sections}
        from_source = {s.name: 0.0 for s in self.house.sources}
        for outlet, flow in zip(self.outlets, flows, strict=True):
            for section, share in outlet.ways():
                source, way = self.house.way(section)
                from_source[source.name] += share * flow
                for s in way:
                    through[s.name] += share * flow
        end: dict[str, float] = {s.name: s.bar(from_source[s.name]) for s in self.house.sources}
        for s in sorted(self.sections, key=lambda s: len(self.house.way(s.name)[1])):
            end[s.name] = s.leaves_bar(end[s.after], through[s.name])
        return through, end, from_source

    def lacking(self, flows: Sequence[float]) -> list[float]:
        """For each outlet the pressure its flow needs less the pressure it has [bar]; rises with every flow."""
        end = self.pressures(flows)[1]
        return [(q / o.k) ** 2 + o.against_bar - min(end[s] for s, _ in o.ways())
                for o, q in zip(self.outlets, flows, strict=True)]

    def off(self, flows: Sequence[float], lacking: Sequence[float]) -> float:
        """How far from balance [bar]; a shut outlet may lack pressure, a full one may have some to spare."""
        return max((0.0 if (q <= 0 and f > 0) or (q >= top and f < 0) else abs(f)
                    for q, top, f in zip(flows, self.top, lacking, strict=True)), default=0.0)

    def find(self) -> list[float]:
        flows = [0.5 * t for t in self.top]
        for _ in range(NEWTON_STEPS):
            lacking = self.lacking(flows)
            if self.off(flows, lacking) < CLOSE_BAR:
                return flows
            better = self._newton(flows, lacking)
            if better is None:
                break
            flows = better
        return self._sweep(flows)

    def _newton(self, flows: list[float], lacking: list[float]) -> list[float] | None:
        free = [i for i, (q, t, f) in enumerate(zip(flows, self.top, lacking, strict=True))
                if not (q <= 0 and f > 0) and not (q >= t and f < 0)]
        rows = [[0.0] * len(free) for _ in free]
        for column, j in enumerate(free):
            moved = list(flows)
            moved[j] += NUDGE_L_MIN
            changed = self.lacking(moved)
            for row, i in enumerate(free):
                rows[row][column] = (changed[i] - lacking[i]) / NUDGE_L_MIN
        move = _solve_linear(rows, [-lacking[i] for i in free])
        if move is None:
            return None
        was, length = self.off(flows, lacking), 1.0
        for _ in range(12):
            tried = list(flows)
            for i, step in zip(free, move, strict=True):
                tried[i] = min(max(flows[i] + length * step, 0.0), self.top[i])
            if self.off(tried, self.lacking(tried)) < was:
                return tried
            length /= 2
        return None

    def _sweep(self, flows: list[float]) -> list[float]:
        """One outlet after another by halving, over and over: slow and sure."""
        flows = list(flows)
        for _ in range(SWEEPS):
            before = list(flows)
            for i in range(len(flows)):
                flows[i] = self._alone(flows, i)
            if max(abs(a - b) for a, b in zip(flows, before, strict=True)) < CLOSE_L_MIN:
                return flows
        if self.off(flows, self.lacking(flows)) < 1000 * CLOSE_BAR:
            return flows
        raise NetworkError([f"no balance found with {', '.join(o.name for o in self.outlets)} open; "
                            "look for a pump whose curve rises, or a pipe of no bore."])

    def _alone(self, flows: list[float], i: int) -> float:
        low, high = 0.0, self.top[i]
        tried = list(flows)
        for end, wrong in ((high, lambda f: f <= 0), (low, lambda f: f >= 0)):
            tried[i] = end
            if wrong(self.lacking(tried)[i]):
                return end
        for _ in range(HALVINGS):
            tried[i] = (low + high) / 2
            low, high = (low, tried[i]) if self.lacking(tried)[i] > 0 else (tried[i], high)
        return (low + high) / 2

    def solution(self, flows: Sequence[float]) -> Solution:
        through, end, from_source = self.pressures(flows)
        beyond = tuple(s.name for s in self.house.sources
                       if from_source[s.name] > getattr(s, "furthest_l_min", ALL))
        return Solution({o.name: q for o, q in zip(self.outlets, flows, strict=True)},
                        {o.name: min(end[s] for s, _ in o.ways()) for o in self.outlets},
                        through, {s.name: end[s.name] for s in self.sections}, beyond)


def _solve_linear(rows: list[list[float]], right: list[float]) -> list[float] | None:
    """Gauss with pivots; None when the system is singular."""
    n = len(right)
    m = [[*row, b] for row, b in zip(rows, right, strict=True)]
    for c in range(n):
        pivot = max(range(c, n), key=lambda r: abs(m[r][c]))
        if abs(m[pivot][c]) < 1e-14:
            return None
        m[c], m[pivot] = m[pivot], m[c]
        for r in range(n):
            if r != c:
                share = m[r][c] / m[c][c]
                m[r] = [a - share * b for a, b in zip(m[r], m[c], strict=True)]
    return [m[i][n] / m[i][i] for i in range(n)]


@dataclass(frozen=True, slots=True)
class Throttle:
    """What one element costs: the flow of all open outlets with it, and as if it were not there [l/min]."""

    section: str
    element: str
    with_l_min: float
    without_l_min: float

    @property
    def costs_l_min(self) -> float:
        return self.without_l_min - self.with_l_min

    def sentence(self) -> str:
        """For an installer: what it is, and what it costs of what there could be."""
        if self.costs_l_min < LITTLE_L_MIN:
            return f"{self.element} costs you less than half a litre a minute"
        places = 0 if self.without_l_min >= WHOLE_FROM_L_MIN else 1
        return f"{self.element} costs you {self.costs_l_min:.{places}f} of {self.without_l_min:.{places}f} l/min"


def throttles(house: House, open_outlets: Iterable[str]) -> tuple[Throttle, ...]:
    """Each element's cost in flow, the dearest first: solve again as if it lost nothing. A main is an element too.

    One at a time: the costs do not add up, for behind each bottleneck stands the next.
    """
    opened = tuple(open_outlets)
    now = solve(house, opened).total_l_min
    found = []
    for section in house.sections:
        for element in section.elements:
            rest = tuple(e for e in section.elements if e is not element)
            changed = replace(house, sections=tuple(replace(s, elements=rest) if s is section else s
                                                    for s in house.sections))
            found.append(Throttle(section.name, element.name, now, solve(changed, opened).total_l_min))
    for source in house.sources:
        if isinstance(source, Supply) and source.loss:
            free = tuple(replace(source, loss=0.0, furthest_l_min=ALL) if s is source else s for s in house.sources)
            found.append(Throttle(source.name, f"{source.name} up to where it was measured", now,
                                  solve(replace(house, sources=free), opened).total_l_min))
    return tuple(sorted(found, key=lambda t: (-t.costs_l_min, t.section, t.element)))


def resized(house: House, section: str, element: str, bore_mm: float) -> House:
    """The same house with one pipe of another bore."""
    def changed(s: Section) -> Section:
        if s.name != section:
            return s
        return replace(s, elements=tuple(replace(e, bore_mm=bore_mm) if isinstance(e, Pipe) and e.name == element
                                         else e for e in s.elements))

    return replace(house, sections=tuple(changed(s) for s in house.sections))
