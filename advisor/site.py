"""Survey answers and thresholds become facts: the whole domain where nothing is known, never a default value."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING

from advisor.arrangements import place_entities
from advisor.facts import ANYTHING, Fact, FactBook, Span, Value, Words, exactly, key_of
from advisor.rulebase import Rulebase
from advisor.rulebase.model import Entry

if TYPE_CHECKING:
    from advisor.survey import Survey

NOT_LISTED = "not-listed"  # stands for entries a list without `complete = true` may still have
LISTS = {"place": "places", "outlet": "outlets", "leg": "gas.legs", "appliance": "gas.appliances"}


def entities(survey: Survey) -> dict[str, tuple[str, ...]]:
    """The names of everything the survey lists, by sort, sorted."""
    found = {"site": ("site",)} | {sort: tuple(sorted(survey.lists.get(path, ()))) for sort, path in LISTS.items()}
    found["place"] = place_entities(found["place"], "places" in survey.complete)
    if "gas.appliances" not in survey.complete:
        found["appliance"] = (*found["appliance"], NOT_LISTED)
    for sort in ("outlet", "leg"):
        found[sort] = found[sort] or (NOT_LISTED,)
    return found


def field_of(entry: Entry, entity: str) -> str:
    """The survey field a fact of this entry about this entity stands in."""
    return entry.field.replace("NAME", entity)


def domain(entry: Entry) -> Value:
    """Everything an answer may be."""
    if entry.kind == "words":
        return Words(frozenset(str(w) for w in entry.domain))
    return Span(float(entry.domain[0]), float(entry.domain[1])) if entry.domain else ANYTHING


def works_day(survey: Survey, base: Rulebase) -> date:
    """The day whose limits apply: the works date, else the rule base's own date."""
    return survey.works_date or base.date


def enter_survey(book: FactBook, survey: Survey, base: Rulebase, listed: Mapping[str, tuple[str, ...]],
                 typical: bool = False) -> None:
    """Every survey fact of every entity, answered or not, then every threshold in force.

    `typical` puts the typical value where nothing was answered: an example to talk about, never a verdict.
    """
    for name, entry in sorted(base.survey_entries().items()):
        if entry.personal:
            continue
        for entity in listed[entry.sort]:
            book.add(survey_fact(name, entry, entity, survey, typical))
    day = works_day(survey, base)
    for threshold in sorted(base.thresholds.values(), key=lambda t: t.id):
        name = f"threshold.{threshold.id}"
        book.add(Fact(key_of(name, "site"), name, "site", "site", threshold.on(day)[1], unit=threshold.unit,
                      made_by="threshold", source=threshold.source, note=threshold.meaning))


def survey_fact(name: str, entry: Entry, entity: str, survey: Survey, typical: bool = False) -> Fact:
    """What the survey says of one field of one entity: its answer, or all it may be."""
    field = field_of(entry, entity)
    answer = survey.answers.get(field)
    key = key_of(name, entity)
    if answer is not None:
        return Fact(key, name, entry.sort, entity, answer.value, unit=entry.unit, how=answer.how,
                    rests_on=frozenset([field]), note=field)
    if entry.default is not None:  # a wish not written is not a wish
        return Fact(key, name, entry.sort, entity, exactly(entry.default), unit=entry.unit, how="told",
                    rests_on=frozenset([field]), note=field)
    if typical and entry.typical is not None:
        return Fact(key, name, entry.sort, entity, exactly(entry.typical), unit=entry.unit, how="assumed",
                    rests_on=frozenset([field]), note=field)
    return Fact(key, name, entry.sort, entity, domain(entry), unit=entry.unit, how="default",
                rests_on=frozenset([field]), note=field)


def answered(fact: Fact) -> bool:
    """Whether the survey settles this fact: one value, not left out."""
    return fact.how != "default" and fact.value.single
