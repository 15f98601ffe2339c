"""The busy hour in words and as JSON: one sentence a householder understands, then the figures."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Iterator, Sequence
from typing import Any

from advisor.facts import Span, value_to_json
from advisor.records import Advice, Judged
from advisor.report import picks
from advisor.report.hour import band_words, flow_below, minute_words, sentence, slow
from advisor.report.terminal import WIDTH, fate_words
from advisor.report.wording import NBSP, clean, number, plain_name, show
from advisor.water import fittings
from advisor.water.busy_hour import Curve, Run
from advisor.water.costly import costs, enough
from advisor.water.demand import NO_ORDER
from advisor.water.measured import beside
from advisor.water.network import Throttle
from advisor.water.outcome import Case, Outcome, busy_hour

MOST_SHOWN = 3
EVERY_MIN = 4.0
PIPES = {  # what stands behind a lack of flow, and where to look
    "mains": "the main where it was measured", "break tank": "the booster set",
    "loft cistern": "the cistern's head and its pipes",
}
MEASURED_THROUGH = {"inside_pipe": ("water.inside_pipe_length_m", "water.inside_pipe_mm", "pipe indoors"),
                    "service_pipe": ("water.service_length_m", "water.service_bore_mm", "bore service pipe")}


def _span(loss: fittings.Ends) -> str:
    best, worst = (f"{bar:g} bar at {l_min:g} l/min" for bar, l_min in (loss.best, loss.worst))
    return f"takes {best} to {worst}"


def assumed() -> tuple[str, ...]:
    """What is taken for the hour, a sentence each."""
    known = fittings.usual()
    return (
        "Nobody waits between two showers; the next begins when one ends.",
        "Only the outlets listed in the survey are drawn from.",
        "Cold water as in a hard winter week; the store starts hot through.",
        "The pipes beyond the place where the main was measured are not surveyed and cost nothing here.",
        f"By common practice and from memory, both ends tried: an inlet control set holds {known.set_bar[0]} to "
        f"{known.set_bar[1]} bar and {_span(known.inlet)}; a mixer on the mains wants "
        f"1.0 bar, one made for little pressure {fittings.MAINS_MIXER_CONTENT_BAR} bar.",
        f"From memory, both ends tried: a boiler's heat exchanger {_span(known.boiler)}, with a store built in "
        f"nothing to {known.built_in.worst[0]:g} bar at {known.built_in.worst[1]:g} l/min; that of a "
        f"heating store {_span(known.store)}.",
        "Baths and showers take their cold behind the inlet set. Behind a pressure vessel or booster set none is "
        "counted.",
        "The water standing in the pipes is not counted: the wait at the tap comes on top.",
        "By common practice: from a cistern 8 m of shared pipe and 4 m of 15 mm to each outlet, made for low pressure.",
        "By common practice: a coil in the lowest third of the store, its thermostat there, reheat from 5 K below.",
        "Where a boiler shares its heat, the worst case gives the heating the design heat loss first.",
        "How sharply hot and cold part in the store is not known: both 12 and 60 layers are tried.",
    )


def chosen(advice: Advice) -> tuple[Judged, ...]:
    """Recommended, runner-up and the cheapest; the first kinds of layout by rank where nothing is recommended."""
    first = picks.recommended(advice)
    if first is None:
        return advice.families()[:MOST_SHOWN]
    others = (picks.runner_up(advice, first), picks.cheaper(advice, first))
    return tuple({j.id: j for j in (first, *others) if j is not None}.values())


def simulate(advice: Advice, judged: Sequence[Judged]) -> tuple[Outcome, ...]:
    """The busy hour of each of these layouts."""
    outlets = sorted(advice.book.of("outlet.kind"))
    return tuple(busy_hour(advice.book, j.arrangement, outlets) for j in judged)


# ---------------------------------------------------------------- words

def _flow(l_min: float) -> str:
    return show(Span(l_min, l_min), "l/min")


def decider(outcome: Outcome) -> str:
    """What decides the worst case, for the installer."""
    decided = outcome.worst.run.decided if outcome.computed else None
    if decided is None:
        return ""
    if decided.by == "pipes":
        what = _curing(outcome) or PIPES.get(outcome.homes[0].feed, PIPES["loft cistern"])
        got = flow_below(decided.piped_l_min, decided.wanted_l_min)
        return f"What decides: {what} ({got} of {_flow(decided.wanted_l_min)} wanted)."
    if decided.by == "heat":
        return (f"What decides: the heater warms {_flow(decided.got_l_min)} of the {_flow(decided.wanted_l_min)} "
                "wanted together.")
    return "What decides: the store is used up faster than it is reheated."


def _curing(outcome: Outcome) -> str:
    """The part of the layout itself without which nobody would be short; nothing where there is none."""
    decided, first = outcome.worst.run.decided, next(iter(costs(outcome)), None)
    wanted = dict(decided.wanted).get(outcome.worst.run.first_short_outlet, 0.0) if decided else 0.0
    return first.element if first and enough(first, wanted) else ""


def costly_pipes(advice: Advice, outcome: Outcome) -> str:
    """Which pipe costs how much, where the main decides: of those it was measured through, the dearest first."""
    decided = outcome.worst.run.decided
    if decided is None or decided.by != "pipes" or outcome.homes[0].feed != "mains":
        return ""
    known = []
    for pipe, (length, size, name) in MEASURED_THROUGH.items():
        cost, without, long, wide = (advice.book.about(n, "site") for n in (
            f"{pipe}.costs_l_min", f"{pipe}.without_l_min", length, size))
        if cost is None or without is None or long is None or wide is None or "default" in (long.how, wide.how):
            continue
        if isinstance(cost.value, Span) and math.isfinite(cost.value.hi):
            what = [show(f.value, f.unit) for f in (long, wide)]
            known.append((-cost.value.hi, f"The {what[0]} of {what[1]} {name} costs {show(cost.value, 'l/min')}; "
                                           f"without it the main would give {show(without.value, 'l/min')} at most."))
    if not known:
        return "" if _curing(outcome) else (
            "Which length of pipe costs it: measure the pipe indoors and the service pipe, or work them with "
            "`advisor calc water-network`.")
    return " ".join(said for _, said in sorted(known))


def text(advice: Advice, judged: Sequence[Judged], outcomes: Sequence[Outcome]) -> str:
    """What `advisor busy-hour` prints."""
    return "\n".join(_lines(advice, judged, outcomes)).replace(NBSP, " ") + "\n"


def _lines(advice: Advice, judged: Sequence[Judged], outcomes: Sequence[Outcome]) -> Iterator[str]:
    computed = [o for o in outcomes if o.computed]
    yield "THE BUSIEST HOUR"
    if computed:
        yield from wrap(household(computed[0]), "  ")
        for line in (*_left_out(computed[0]), *_beside(computed[0])):
            yield from wrap(line, "  ")
    for j, outcome in zip(judged, outcomes, strict=True):
        yield ""
        yield from wrap(f"{clean(j.arrangement.title)} ({fate_words(j)})")
        if not outcome.computed:
            yield from _refused(advice, outcome)
            continue
        yield from wrap(sentence(outcome), "  ")
        yield from wrap(f"First shortfall: {band_words(outcome.first_short)}.", "  ")
        yield from wrap(f"{decider(outcome)} {costly_pipes(advice, outcome)}".strip(), "  ")
        yield from _details(outcome)
    if computed:
        yield ""
        yield "TAKEN FOR THIS"
        for line in assumed():
            yield from wrap(line, "  - ")
    yield from wrap("This shows how each layout behaves with its pipes; the rules judge what the pipes give, and how "
                    "long the heat lasts, each by itself.")


def household(outcome: Outcome) -> str:
    """What is drawn, in a sentence; of several possible hours the worst."""
    case = outcome.worst
    several = len({(c.showers, c.baths, c.plan) for c in outcome.cases}) > 1
    minutes = next((d.minutes for d in case.plan.draws if d.minutes), 0.0)
    parts = []
    if case.showers:
        parts.append(f"{case.showers} shower{'s' if case.showers > 1 else ''} of {number(minutes, 0)} min")
    if case.baths:
        parts.append(f"{case.baths} bath{'s' if case.baths > 1 else ''}")
    side = max((len(phase) for phase in case.plan.phases), default=0)
    order = f", {case.plan.order}" if case.plan.order != NO_ORDER else ""
    return (" and ".join(parts) or "Nothing is drawn") + (f", {side} outlets side by side" if side > 1 else "") + (
        f"{order}{' (the worst of what the answers allow)' if several else ''}.")


def _left_out(outcome: Outcome) -> Iterator[str]:
    """Outlets marked to run together with others that nobody uses in the busiest hour as it was answered."""
    drawn = {d.outlet for c in outcome.cases for d in c.plan.draws}
    for tap in outcome.homes[0].taps:
        if tap.at_once and tap.name not in drawn:
            yield (f"The {plain_name(tap.name)} is marked to run together with others, but by the answers nobody uses "
                   "it in this hour: it is not drawn from here.")


def _beside(outcome: Outcome) -> Iterator[str]:
    """The answers beside measured means, so that an odd answer is noticed."""
    home = outcome.homes[0]
    flows = [d.l_min for d in outcome.worst.plan.draws if d.minutes]
    if not outcome.worst.showers or not flows:
        return
    for b in beside(home.shower_min, max(flows), outcome.worst.baths, home.bath_l):
        if b.unit == "l":
            here, mean = (show(Span(v, v), b.unit) for v in (b.here, b.measured))
            yield f"{b.what.capitalize()} here: {here}; mean measured in UK homes: {mean}."


def _refused(advice: Advice, outcome: Outcome) -> Iterator[str]:
    yield "  Not computed, because:"
    for reason in outcome.reasons:
        yield from wrap(f"{clean(reason)}.", "  - ")
    questions = {e.field: e.question for e in advice.rulebase.vocabulary.values() if e.question}
    for name in outcome.fields:
        if name in questions:
            yield from wrap(f"Ask: {questions[name]} [{name}]", "  - ")


def _details(outcome: Outcome) -> Iterator[str]:
    run = outcome.worst.run
    yield ""
    yield f"  {'at worst':22s}{'wanted':>11s}{'least':>11s}{'coldest':>9s}  falls short"
    for name, curve in run.curves.items():
        short = minute_words(math.inf if curve.first_short_min is None else curve.first_short_min)
        yield (f"  {plain_name(name)[:21]:22s}{_flow(curve.wanted_l_min):>11s}{_flow(curve.least_l_min):>11s}"
               f"{show(Span(curve.coldest_c, curve.coldest_c), 'C'):>9s}  {short}")
    if not math.isinf(outcome.first_short.lo):
        for said in slow(outcome):
            yield from wrap(said.plain(outcome), "  ")
    lost = [c.run.heating_lost_min for c in outcome.cases]
    if max(lost) > 0:
        yield from wrap(f"The heating waits {show(Span(min(lost), max(lost)), 'min')} of that hour.", "  ")
    if run.store_c:
        yield from wrap(_store_line(run), "  ")
        if 0 < outcome.mixing_min < math.inf:
            yield from wrap(f"How the store mixes moves this minute by {number(outcome.mixing_min, 1)} min.", "  ")


def _store_line(run: Run) -> str:
    shown, next_min = [], 0.0
    for minute, top in zip(run.store_minutes, run.store_c, strict=True):
        if minute >= next_min and minute <= run.drawn_until_min + EVERY_MIN:
            shown.append(f"{number(minute, 0)} min {number(top, 0)}")
            next_min += EVERY_MIN
    return f"Top of the store, °C: {', '.join(shown)}."


def wrap(line: str, start: str = "") -> list[str]:
    return textwrap.wrap(line, WIDTH, initial_indent=start, subsequent_indent=" " * len(start)) if line else []


# ---------------------------------------------------------------- JSON

def as_json(judged: Sequence[Judged], outcomes: Sequence[Outcome]) -> dict[str, Any]:
    """The document of `advisor busy-hour --json`."""
    return {"assumed": list(assumed()),
            "arrangements": [_outcome(j, o) for j, o in zip(judged, outcomes, strict=True)]}


def _outcome(judged: Judged, outcome: Outcome) -> dict[str, Any]:
    head = {"arrangement": judged.id, "title": judged.arrangement.title, "verdict": judged.verdict,
            "computed": outcome.computed, "first_short_min": _minutes(outcome), "sentence": _plain(sentence(outcome)),
            "rests_on": sorted(outcome.rests_on), "throttles": [_throttle(t) for t in costs(outcome)]}
    if not outcome.computed:
        return head | {"because": list(outcome.reasons), "fields": list(outcome.fields)}
    return head | {"at_worst": _case(outcome.worst), "at_best": _case(outcome.best)}


def _throttle(found: Throttle) -> dict[str, Any]:
    return {"element": found.element, "with_l_min": found.with_l_min, "without_l_min": found.without_l_min,
            "costs_l_min": found.costs_l_min}


def _plain(words: str) -> str:
    return words.replace(NBSP, " ")


def _minutes(outcome: Outcome) -> Any:
    span = outcome.first_short
    return "never" if outcome.computed and math.isinf(span.lo) else value_to_json(span)


def _case(case: Case) -> dict[str, Any]:
    run = case.run
    return {
        "order": case.plan.order, "showers": case.showers, "baths": case.baths, "layers": case.layers,
        "first_short_min": run.first_short_min, "first_cold_min": run.first_cold_min,
        "outlet": run.first_short_outlet or None, "decided_by": run.decided.by if run.decided else None,
        "drawn_until_min": run.drawn_until_min, "left_l": run.left_l, "heating_lost_min": run.heating_lost_min,
        "outlets": {name: _curve(curve) for name, curve in run.curves.items()},
        "store_top": {"minutes": run.store_minutes, "c": run.store_c},
    }


def _curve(curve: Curve) -> dict[str, Any]:
    return {"wanted_l_min": curve.wanted_l_min, "least_l_min": curve.least_l_min, "coldest_c": curve.coldest_c,
            "litres_l": curve.litres, "first_short_min": curve.first_short_min, "kind": curve.kind or None,
            "minutes": curve.minutes, "l_min": curve.l_min, "c": curve.mixed_c}
