"""Answers that cannot all be true (faults), and answers that are merely odd (warnings).

Only what is surely contradictory is a fault: where ranges still allow a way out, nothing is said.
"""

from __future__ import annotations

from collections.abc import Iterator

from advisor.facts import Span, Words
from advisor.survey.fields import CONFIRMED, LEGS
from advisor.survey.record import Survey

METER, BOILER, APPLIANCES = "meter", "boiler", "gas.appliances"
# All figures below only make somebody look again (common practice); none of them judges an arrangement.
HEAT_LOSS_W_M2 = (20.0, 200.0)  # the usual homes
NO_HOME_W_M2 = (4.0, 500.0)  # beyond the best-built and the worst: a unit was mistaken
STRONG_SHOWER_L_MIN = 20.0
THIN_PIPE_MM = 15.0
MOST_THROUGH_THIN_L_MIN = 40.0  # over 4 m/s in a 15 mm pipe
LONG_THIN_GAS_M, BIG_BOILER_KW = 12.0, 24.0
COLD_HOME_SHARE = 0.5
SMALL_STORE_L, FEW_PEOPLE = 40.0, 2.0
USUAL_GAS_PIPES_MM = (8.0, 10.0, 12.0, 15.0, 20.0, 22.0, 25.0, 28.0, 32.0, 35.0, 42.0, 54.0)
SEVERAL = 2


def impossible(survey: Survey) -> Iterator[str]:
    """Contradictions, each `field: what was found. What is allowed. What to do.`"""
    yield from _pressure(survey)
    yield from _gas_tree(survey)
    yield from _heat_loss(survey, NO_HOME_W_M2, "Check the units of heat loss and floor area.")


def odd(survey: Survey) -> Iterator[str]:
    """Things to look at again; they stop nothing."""
    if not list(_heat_loss(survey, NO_HOME_W_M2, "")):
        yield from _heat_loss(survey, HEAT_LOSS_W_M2, "Look at both again.")
    for check in (_readings, _water, _heating, _gas, _people, _existing, _pipes, _dates):
        yield from check(survey)


def _span(survey: Survey, field: str) -> Span | None:
    answer = survey.answers.get(field)
    return answer.value if answer is not None and isinstance(answer.value, Span) else None


def _readings(survey: Survey) -> Iterator[str]:
    """Spellings that were read in one of two possible ways, and confirmations nobody signed."""
    for path, answer in survey.answers.items():
        if answer.echo:
            yield f"{path}: {answer.echo}"
        if path.startswith(f"{CONFIRMED}.") and not (answer.who and answer.when):
            yield f"{path}: who confirmed it, or when, is not written. Add who and when."


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
    legs, appliances = survey.lists.get(LEGS, ()), survey.lists.get(APPLIANCES, ())
    ends: dict[str, str] = {}
    for leg in legs:
        start, end = survey.links.get(leg, ("", ""))
        if start and start != METER and start not in legs:
            yield (f'{LEGS}.{leg}.from: "{start}" is no leg. Allowed: {", ".join((METER, *legs))}. '
                   "Name the leg it begins at.")
        if end and end != BOILER and end not in appliances:
            yield (f'{LEGS}.{leg}.to: "{end}" is no appliance. Allowed: {", ".join((BOILER, *appliances))}, '
                   "or nothing for a tee. Name the appliance, or list it under gas.appliances.")
        if end and end in ends:
            yield (f'{LEGS}.{leg}.to: "{end}" is also the end of leg {ends[end]}. Allowed: one leg to an appliance. '
                   "End one of them at a tee.")
        ends.setdefault(end, leg)
        circle = _circle(survey, leg)
        if circle and leg == min(circle, key=legs.index):
            yield (f"{LEGS}.{leg}.from: {', '.join(circle)} {'run' if len(circle) > 1 else 'runs'} in a circle. "
                   "Allowed: every leg leads back to the meter. Draw it again.")


def _circle(survey: Survey, leg: str) -> list[str]:
    """The legs one passes going back from this one until one is at it again; nothing where the way ends."""
    passed: list[str] = []
    at = leg
    while at in survey.links and at not in passed:
        passed.append(at)
        at = survey.links[at][0]
    return passed if at == leg else []


def _heat_loss(survey: Survey, limits: tuple[float, float], advice: str) -> Iterator[str]:
    loss, area = _span(survey, "heating.heat_loss"), _span(survey, "home.floor_area")
    if not loss or not area:
        return
    low, high = loss.lo * 1000 / area.hi, loss.hi * 1000 / area.lo
    if high < limits[0] or low > limits[1]:
        found = f"{low:.0f}" if low == high else f"{low:.0f} to {high:.0f}"
        word = "Usual" if limits == HEAT_LOSS_W_M2 else "Allowed"
        yield (f"heating.heat_loss: {found} W for each square metre of floor. {word}: "
               f"{limits[0]:g} to {limits[1]:g}. {advice}")


def _water(survey: Survey) -> Iterator[str]:
    pipe, flow = _span(survey, "water.inside_pipe"), _span(survey, "water.flow")
    thin = pipe is not None and pipe.hi <= THIN_PIPE_MM
    if flow and "water.flow_pressure" not in survey.answers:
        yield "water.flow: the pressure at the same moment is not written. A flow without it says little; read both."
    if flow and thin and flow.lo > MOST_THROUGH_THIN_L_MIN:
        yield f"water.flow: {flow.lo:g} l/min through a {pipe.hi:g} mm pipe. Time it again."
    for outlet in survey.lists.get("outlets", ()):
        wanted = _span(survey, f"outlets.{outlet}.flow")
        if wanted and thin and wanted.lo >= STRONG_SHOWER_L_MIN and _word(survey, f"outlets.{outlet}.kind") == "shower":
            yield (f"outlets.{outlet}.flow: {wanted.lo:g} l/min through a {pipe.hi:g} mm pipe. "
                   "Time it again with a jug.")


def _heating(survey: Survey) -> Iterator[str]:
    loss, emitters = _span(survey, "heating.heat_loss"), _span(survey, "heating.emitters")
    if loss and emitters and emitters.hi < COLD_HOME_SHARE * loss.lo:
        yield (f"heating.emitters: {emitters.hi:g} kW against a heat loss of {loss.lo:g} kW. The home would be cold "
               "today; if it is not, the heat loss is overstated.")


def _gas(survey: Survey) -> Iterator[str]:
    legs, appliances = survey.lists.get(LEGS, ()), survey.lists.get(APPLIANCES, ())
    if _word(survey, "gas.supply") == "none" and (legs or appliances):
        yield "gas.supply: none, yet gas pipes or appliances are listed. Which is right?"
    starts, ends = ({pair[i] for pair in survey.links.values()} for i in (0, 1))
    for leg in legs:
        if not survey.links[leg][0]:
            yield f'{LEGS}.{leg}: where it begins is not written. Add from = "meter" or the leg it begins at.'
        if not survey.links[leg][1] and leg not in starts:
            yield f"{LEGS}.{leg}: it leads to nothing. Add to, or leave it out if it is capped."
        size = _span(survey, f"{LEGS}.{leg}.size")
        if size and size.single and size.lo not in USUAL_GAS_PIPES_MM:
            yield f'{LEGS}.{leg}.size: {size.lo:g} mm is no usual pipe size. A thread size is written 3/4" BSP.'
    if LEGS in survey.complete:
        for name in appliances:
            if name not in ends:
                yield f"{APPLIANCES}.{name}: no leg leads to it, though all legs are said to be listed."
    thin = sum(size.lo for size in _thin_run(survey))
    power = _span(survey, "existing.boiler_power")
    if thin > LONG_THIN_GAS_M and power and power.lo > BIG_BOILER_KW:
        yield (f"existing.boiler_power: {power.lo:g} kW on {thin:g} m of thin gas pipe. It cannot reach its full rate; "
               "that it works today proves nothing.")


def _thin_run(survey: Survey) -> Iterator[Span]:
    """Lengths of the legs of 15 mm or less on the way to the boiler."""
    at = next((leg for leg, (_, end) in survey.links.items() if end == BOILER), "")
    for _ in survey.links:
        size, length = _span(survey, f"{LEGS}.{at}.size"), _span(survey, f"{LEGS}.{at}.length")
        if size and length and size.hi <= THIN_PIPE_MM:
            yield length
        at = survey.links.get(at, ("", ""))[0]


def _people(survey: Survey) -> Iterator[str]:
    people, showers = _span(survey, "household.people"), _span(survey, "household.busy_showers")
    if people and showers and showers.lo > 2 * people.hi:
        yield (f"household.busy_showers: {showers.lo:g} showers in one hour for {people.hi:g} people. "
               "Ask again: is it a day's worth?")
    marked = [o for o in survey.lists.get("outlets", ()) if _word(survey, f"outlets.{o}.at_once") == "yes"]
    if "outlets_at_once" in survey.wishes and len(marked) < SEVERAL:
        yield ("wishes.outlets_at_once: fewer than two outlets are marked. "
               'Write at_once = "yes" under each outlet meant.')


def _existing(survey: Survey) -> Iterator[str]:
    kind, litres = _word(survey, "existing.kind"), _span(survey, "existing.cylinder")
    people, power = _span(survey, "household.people"), _span(survey, "existing.boiler_power")
    if kind == "combination boiler" and litres and litres.lo > 0:
        yield "existing.cylinder: a combination boiler has no cylinder. Is one of the answers about an older system?"
    if "cylinder" in kind and litres and people and litres.hi < SMALL_STORE_L and people.lo > FEW_PEOPLE:
        yield f"existing.cylinder: {litres.hi:g} l for {people.lo:g} people. Read the plate again."
    if kind in ("none", "electric cylinder") and power and power.lo > 0:
        yield f"existing.boiler_power: a boiler of {power.lo:g} kW, but existing.kind is {kind}. Which is right?"
    if _word(survey, "home.kind") == "bungalow" and (floors := _span(survey, "home.storeys")) and floors.lo > 1:
        yield f"home.storeys: a bungalow with {floors.lo:g} storeys. Is the loft converted?"


def _pipes(survey: Survey) -> Iterator[str]:
    outside, end = _span(survey, "boiler.condensate_outside"), _word(survey, "boiler.condensate_to")
    if outside and outside.lo > 0 and end.startswith("internal"):
        yield f"boiler.condensate_outside: {outside.lo:g} m outside, but it ends at an {end}. Which is right?"
    for place in survey.lists.get("places", ()):
        if _word(survey, f"places.{place}.discharge_end") == "none found" \
                and f"places.{place}.discharge_length" in survey.answers:
            yield f"places.{place}.discharge_length: no end was found, yet a length is written. Where does it lead?"
    fuse, demand = _span(survey, "electric.main_fuse"), _span(survey, "electric.demand_now")
    if fuse and demand and demand.lo > fuse.hi:
        yield (f"electric.demand_now: {demand.lo:g} A on a fuse of {fuse.hi:g} A. "
               "Was diversity allowed for, and the label read rightly?")


def _dates(survey: Survey) -> Iterator[str]:
    if survey.works_date and survey.surveyed_on and survey.works_date < survey.surveyed_on:
        yield (f"works_date: {survey.works_date} lies before the survey of {survey.surveyed_on}. "
               "The limits of that day would be used.")
