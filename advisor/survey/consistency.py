"""Answers that cannot all be true (faults), and answers that are merely odd (warnings).

Only what is surely contradictory is a fault: where ranges still allow a way out, nothing is said.
"""

from __future__ import annotations

from collections.abc import Iterator

from advisor.facts import Span, Words
from advisor.survey.fields import LEGS
from advisor.survey.record import Survey

METER, BOILER = "meter", "boiler"
HEAT_LOSS_W_M2 = (20.0, 200.0)  # common practice for homes: outside it the units are usually wrong
STRONG_SHOWER_L_MIN = 20.0
THIN_PIPE_MM = 15.0


def impossible(survey: Survey) -> Iterator[str]:
    """Contradictions, each `field: what was found. What is allowed. What to do.`"""
    yield from _pressure(survey)
    yield from _gas_tree(survey)
    yield from _heat_loss(survey)


def odd(survey: Survey) -> Iterator[str]:
    """Things to look at again; they stop nothing."""
    yield from _strong_showers(survey)
    kind, litres = _word(survey, "existing.kind"), _span(survey, "existing.cylinder")
    if kind == "combination boiler" and litres and litres.lo > 0:
        yield "existing.cylinder: a combination boiler has no cylinder. Is one of the two answers about an older system?"
    people, showers = _span(survey, "household.people"), _span(survey, "household.busy_showers")
    if people and showers and showers.lo > 2 * people.hi:
        yield (f"household.busy_showers: {showers.lo:g} showers in one hour for {people.hi:g} people. "
               "Ask again: is it a day's worth?")


def _span(survey: Survey, field: str) -> Span | None:
    answer = survey.answers.get(field)
    return answer.value if answer is not None and isinstance(answer.value, Span) else None


def _word(survey: Survey, field: str) -> str:
    answer = survey.answers.get(field)
    if answer is None or not isinstance(answer.value, Words) or not answer.value.single:
        return ""
    return next(iter(answer.value.words))


def _pressure(survey: Survey) -> Iterator[str]:
    static, running = _span(survey, "water.static_pressure"), _span(survey, "water.flow_pressure")
    if static and running and running.lo >= static.hi:
        yield (f"water.flow_pressure: {running.lo:g} bar while water runs, but {static.hi:g} bar with nothing running. "
               "Allowed: less than water.static_pressure. Read the gauge again; it may sit behind a reducing valve.")


def _gas_tree(survey: Survey) -> Iterator[str]:
    legs = survey.lists.get(LEGS, ())
    ends: dict[str, str] = {}
    for leg in legs:
        start, end = survey.links.get(leg, ("", ""))
        if start and start != METER and start not in legs:
            yield (f"{LEGS}.{leg}.from: \"{start}\" is no leg. Allowed: {', '.join((METER, *legs))}. "
                   "Name the leg it begins at.")
        appliances = survey.lists.get("gas.appliances", ())
        if end and end != BOILER and end not in appliances:
            yield (f"{LEGS}.{leg}.to: \"{end}\" is no appliance. Allowed: {', '.join((BOILER, *appliances))}, "
                   "or nothing for a tee. Name the appliance, or list it under gas.appliances.")
        if end and end in ends:
            yield f"{LEGS}.{leg}.to: {end} is also the end of leg {ends[end]}. One leg ends at an appliance. Name a tee."
        ends.setdefault(end, leg)
        if _circular(survey, leg):
            yield f"{LEGS}.{leg}.from: the legs run in a circle. Allowed: every leg leads back to the meter. Draw it again."


def _circular(survey: Survey, leg: str) -> bool:
    seen, at = set(), leg
    while at in survey.links:
        if at in seen:
            return at == leg
        seen.add(at)
        at = survey.links[at][0]
    return False


def _heat_loss(survey: Survey) -> Iterator[str]:
    loss, area = _span(survey, "heating.heat_loss"), _span(survey, "home.floor_area")
    if not loss or not area:
        return
    low, high = loss.lo * 1000 / area.hi, loss.hi * 1000 / area.lo
    if high < HEAT_LOSS_W_M2[0] or low > HEAT_LOSS_W_M2[1]:
        yield (f"heating.heat_loss: {low:.0f} to {high:.0f} W for each square metre of floor. Allowed: "
               f"{HEAT_LOSS_W_M2[0]:g} to {HEAT_LOSS_W_M2[1]:g}. Check the units of heat loss and floor area.")


def _strong_showers(survey: Survey) -> Iterator[str]:
    pipe = _span(survey, "water.inside_pipe")
    for outlet in survey.lists.get("outlets", ()):
        flow = _span(survey, f"outlets.{outlet}.flow")
        if flow and pipe and flow.lo >= STRONG_SHOWER_L_MIN and pipe.hi <= THIN_PIPE_MM \
                and _word(survey, f"outlets.{outlet}.kind") == "shower":
            yield (f"outlets.{outlet}.flow: {flow.lo:g} l/min through a {pipe.hi:g} mm pipe. "
                   "Time it again with a jug.")
