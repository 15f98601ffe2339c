"""The questions of a survey in walking order, as far as they apply to what was answered so far."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from advisor.facts import Words
from advisor.rulebase.model import Entry
from advisor.survey.fields import COMPLETE, CONFIRMED, LEGS, LINK_KEYS, NAME, ORDER, PRIVATE_KEYS, Fields
from advisor.survey.record import Survey
from advisor.survey.writer import sections

TITLES = {
    "": "Before you start", "home": "The home", "household": "The household", "wishes": "Their wishes",
    "existing": "What is there now", "heating": "The heating", "boiler": "Boiler, flue, drain",
    "water": "Cold water", "outlets": "Hot-water outlets", "cistern": "A cistern above", "gas": "Gas",
    "gas.appliances": "Other gas appliances", "gas.legs": "Gas pipes", "places": "Places for a cylinder",
    "electric": "Electricity", "private": "Private: stays in this file",
}
ONE = {"outlets": "outlet", "places": "place", "gas.legs": "gas pipe", "gas.appliances": "gas appliance"}
NAMED = {"outlets": "main_shower", "places": "landing_cupboard", "gas.legs": "meter_to_hall", "gas.appliances": "hob"}
DATES = {"surveyed_on": "What is today's date?", "works_date": "On what day would the work be done?"}
# What has nothing to be answered: the end of the field's path -> the field beside it, and its word
MOOT = {
    "gas.meter_capacity": ("gas.supply", "none"), "gas.working_pressure": ("gas.supply", "none"),
    "gas.worked_design": ("gas.supply", "none"), "gas.legs": ("gas.supply", "none"),
    "gas.appliances": ("gas.supply", "none"), "cistern.head": ("cistern.loft", "no"),
    "cistern.feeds": ("cistern.loft", "no"), "cistern.pipe": ("cistern.loft", "no"),
    "cistern.base": ("cistern.loft", "no"), "cistern.volume": ("cistern.loft", "no"),
    "boiler.relief_length": ("boiler.relief_end", "none found"), "bearing": ("floor", "concrete"),
    "discharge_length": ("discharge_end", "none found"), "discharge_elbows": ("discharge_end", "none found"),
    "discharge_falls": ("discharge_end", "none found"),
}


@dataclass(frozen=True, slots=True)
class Step:
    """One question: a field, or what a list, a date, the order of wishes or a private line asks."""

    path: str  # where its answer stands in the file; "outlets+" asks for the name of one more
    kind: str  # field, date, link, more, complete, order, private
    section: str
    entry: Entry | None = None


def walk(survey: Survey) -> list[Step]:
    """Every question that applies, entries of lists one after the other."""
    made = [Step(key, "date", "") for key in DATES]
    for section in ordered_sections(survey.fields):
        if section in survey.fields.lists:
            made += _list(survey, section)
        else:
            made += [Step(p, "field", section, e) for p, e, _ in survey.every_field()
                     if p.rpartition(".")[0] == section]
        if section == "wishes" and len(survey.wishes) > 1:
            made.append(Step(ORDER, "order", section))
    made += [Step(f"private.{key}", "private", "private") for key in PRIVATE_KEYS]
    made.sort(key=lambda step: step.path != "nation")  # first: it decides which rules hold at all
    return [step for step in made if applies(survey, step.path)]


def ordered_sections(fields: Fields) -> list[str]:
    """The sections asked; the appliances come before the pipes, for a pipe may name the appliance it ends at."""
    found = [s for s in sections(fields) if s != CONFIRMED]
    if LEGS in found and "gas.appliances" in found:
        found.remove("gas.appliances")
        found.insert(found.index(LEGS), "gas.appliances")
    return found


def _list(survey: Survey, listed: str) -> Iterator[Step]:
    keys = [(p.rpartition(".")[2], e) for p, e in survey.fields.entries.items() if p.startswith(f"{listed}.{NAME}.")]
    for name in survey.lists.get(listed, ()):
        if listed == LEGS:
            yield from (Step(f"{listed}.{name}.{key}", "link", listed) for key in LINK_KEYS)
        yield from (Step(f"{listed}.{name}.{key}", "field", listed, entry) for key, entry in keys)
    yield Step(f"{listed}+", "more", listed)
    yield Step(f"{listed}.{COMPLETE}", "complete", listed)


def applies(survey: Survey, path: str) -> bool:
    """Whether a question still has something to ask: no gas meter without gas, no joists in a concrete floor."""
    head, _, key = path.rpartition(".")
    found = next((MOOT[p] for p in (path, path.removesuffix("+"), head, head.rpartition(".")[0]) if p in MOOT), None)
    if found is None and head.startswith("places."):
        found = MOOT.get(key)
    if found is None:
        return True
    field = found[0] if "." in found[0] else f"{head}.{found[0]}"
    answer = survey.answers.get(field)
    return answer is None or answer.value != Words(frozenset([found[1]]))


def answered(survey: Survey, step: Step) -> str:
    """What stands there already, as text, or ""."""
    if step.kind == "field":
        answer = survey.answers.get(step.path)
        return answer.read if answer else "unknown" if step.path in survey.unknown else ""
    if step.kind == "date":
        return str(getattr(survey, step.path) or "")
    if step.kind == "link":
        leg, key = step.path.split(".")[-2:]
        return survey.links[leg][LINK_KEYS.index(key)]
    if step.kind == "order":
        return ", ".join(survey.wish_order)
    if step.kind == "private":
        return survey.private.get(step.path.removeprefix("private."), "")
    return "all listed" if step.section in survey.complete else ""
