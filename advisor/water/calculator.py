"""`advisor calc water-network`: a house's pipes in a line, every open outlet solved together, what throttles."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from advisor.calc.formula import OutOfRange
from advisor.calc.public import Calculator, Key, Worked, n
from advisor.water import fittings
from advisor.water.network import SOLVED, House, NetworkError, Outlet, Section, Solution, solve, throttles
from advisor.water.parts import Cistern, Element, Source, Supply, by_kv, fit_supply
from advisor.water.reading import INLET_AS, Pair, Written, elements, inlet, outlets, readings

NO_END_L_MIN = 1e9
MOST_SHOWN = 3
BALANCED, STREET = "behind the set", "before the set"
USUAL_SAID = ("usual figures: set point and loss of an inlet set by common practice, the rest from memory; "
              "at their best all outlets get {} l/min together")


def _source(v: Mapping[str, Any]) -> tuple[Source, str]:
    if v["head"] is not None:
        return Cistern("the cistern", v["head"]), f"cistern {n(v['head'])} m above"
    if not v["readings"]:
        return Supply("the main", v["static"], 0.0, 2.0, NO_END_L_MIN), (
            f"{n(v['static'])} bar that does not fall: list every pipe from the street on")
    try:
        fit = fit_supply(v["static"], v["readings"])
    except ValueError as error:
        raise OutOfRange(str(error)) from error
    how = "taken, one reading" if fit.readings == 1 else "fitted"
    return fit.supply, (f"main as measured: {n(v['static'])} bar less {fit.supply.loss:.4g} x flow^{fit.exponent:.2f} "
                        f"({how})" + (f". {fit.question}" if fit.question else ""))


def _share(v: Mapping[str, Any]) -> float | None:
    """Hot share of every mixer; None where hot and cold are not told apart."""
    if v["hot-temperature"] is None:
        if v["hot"] or any(w.mixer_kv for w in v["outlets"]):
            raise OutOfRange("mixers, and what only the hot water passes, need hot-temperature=60 C, that hot and cold "
                             "be told apart")
        return None
    if not v["temperature"] < v["mixed"] <= v["hot-temperature"]:
        raise OutOfRange("the mixed water must be warmer than the cold and no hotter than the hot")
    return fittings.hot_share(v["mixed"], v["hot-temperature"], v["temperature"])


def _line(name: str, at: str, written: Sequence[tuple[Pair, float]], end: int, water_c: float) -> Iterator[Section]:
    """Elements one after another, each a section, so that each climbs where it stands."""
    for i, (pair, rise) in enumerate(written):
        yield Section(f"{name} {i + 1}", at, (pair[end],), rise, water_c)
        at = f"{name} {i + 1}"


def _house(v: Mapping[str, Any], source: Source, share: float | None, end: int) -> House:
    """The house with usual figures at their worst (0) or their best (1)."""
    cold_c = v["temperature"]
    sections = list(_line("shared", source.name, v["shared"] or (), end, cold_c))
    before = behind = sections[-1].name if sections else source.name
    if v["inlet"]:
        sections.append(Section("inlet", before, (v["inlet"][end],), 0.0, cold_c))
        behind = "inlet"
    if share is None:
        for w in v["outlets"]:
            sections.append(Section(w.name, behind, *_own(w, "", None), cold_c))
        return House((source,), tuple(sections), tuple(w.outlet for w in v["outlets"]))
    hot_c = v["hot-temperature"]
    hot = [*_line("hot", behind, v["hot"] or (), end, hot_c)]
    roots = (("cold", behind if v["cold"] == BALANCED else before, cold_c),
             ("hot", hot[-1].name if hot else behind, hot_c))
    sections += hot
    for w in v["outlets"]:
        sections += [Section(f"{w.name} {side}", root, *_own(w, f" ({side}, {w.name})", w.mixer_kv), c)
                     for side, root, c in roots]
    return House((source,), tuple(sections), tuple(_mixer(w.outlet, share) for w in v["outlets"]))


def _mixer(outlet: Outlet, share: float) -> Outlet:
    return replace(outlet, cold=f"{outlet.name} cold", hot=f"{outlet.name} hot", hot_share=share)


def _own(w: Written, which: str, kv: float | None) -> tuple[tuple[Element, ...], float]:
    """An outlet's own pipe, one way of its mixer behind it, and how far they rise."""
    own = (replace(w.pipe[0], name=f"{w.pipe[0].name}{which}"),) if w.pipe else ()
    return (*own, *((by_kv(f"the mixer{which}", kv),) if kv else ())), w.pipe[1] if w.pipe else 0.0


def _solved(house: House, names: Sequence[str]) -> Solution:
    found = solve(house, names)
    if found.beyond:
        raise OutOfRange(f"{', '.join(found.beyond)} would have to give more than 1.5 times the flow it was measured "
                         "at: measure at a lower pressure")
    return found


def _work(v: Mapping[str, Any]) -> Worked:
    source, said = _source(v)
    share, names = _share(v), [w.name for w in v["outlets"]]
    try:
        worst, best = (_house(v, source, share, end) for end in (0, 1))
        found, kinder, costly = _solved(worst, names), _solved(best, names), throttles(worst, names)
    except NetworkError as error:
        raise OutOfRange(str(error)) from error
    lines = [said, *_mixed(v, share),
             *(f"{name}: {n(q)} l/min, {n(found.at_outlet_bar[name])} bar left{_driven(name, share, found)}"
               for name, q in found.flows.items()), f"together {n(found.total_l_min)} l/min",
             *((USUAL_SAID.format(n(kinder.total_l_min)),) if best != worst else ()),
             *(t.sentence() for t in costly[:MOST_SHOWN])]
    first = costly[0] if costly else None
    return Worked({"flow": found.total_l_min, "best": kinder.total_l_min,
                   "throttle": first.element if first else "none listed",
                   "costs": first.costs_l_min if first else 0.0}, tuple(lines))


def _mixed(v: Mapping[str, Any], share: float | None) -> Iterator[str]:
    if share is not None:
        yield (f"mixers: {n(v['mixed'])} C from {n(v['hot-temperature'])} and {n(v['temperature'])} C takes "
               f"{100 * share:.0f} % hot; the weaker side drives, the other is throttled; cold taken "
               f"{v['cold'] if v['inlet'] else 'where the hot branches off'}")


def _driven(name: str, share: float | None, found: Solution) -> str:
    if share is None:
        return ""
    hot, cold = found.end_bar[f"{name} hot"], found.end_bar[f"{name} cold"]
    return f" on its {'hot' if hot < cold else 'cold'} side, {n(max(hot, cold))} on the other"


CALCULATORS = (
    Calculator("water-network", "Every open outlet of a house together, and which pipe or fitting costs most",
               (Key("static", "bar", "pressure with nothing running", optional=True),
                Key("head", "m", "height of a cistern's base over the start of the pipes", optional=True, signed=True),
                Key("readings", "", "flow and running pressure of the main", optional=True, reader=readings),
                Key("shared", "", "pipes and fittings that all the water passes, in order", optional=True,
                    reader=elements),
                Key("inlet", "", f"inlet control set behind them: {INLET_AS}", optional=True, reader=inlet),
                Key("hot", "", "pipes and fittings that only the hot water passes, to where outlets branch",
                    optional=True, reader=elements),
                Key("outlets", "", "outlets open together, each with its own pipe (mixers: one hot, one cold alike)",
                    reader=outlets),
                Key("temperature", "C", "temperature of the water; with mixers of the cold", default="10 C"),
                Key("hot-temperature", "C", "hot water at the mixers; given, every outlet is a mixer", optional=True),
                Key("mixed", "C", "what the mixers are set to", default="40 C"),
                Key("cold", "", "where the mixers' cold is taken", default=BALANCED, words=(BALANCED, STREET))),
               {"flow": "l/min", "best": "l/min", "throttle": "", "costs": "l/min"}, SOLVED, _work,
               one_of=("static", "head")),
)
