"""Random surveys: they read, they repeat, they hang together, and they reach the ends of what is possible."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

import pytest

from advisor.facts import Span, Words
from advisor.rulebase.model import Entry
from advisor.survey import Survey
from advisor.survey.generator import as_toml, random_survey
from advisor.survey.reader import read_bytes

SEEDS = range(60)
MANY = range(240)
SINCE_2000 = ("2000-2010", "after 2010")


@pytest.fixture(scope="module")
def known(vocabulary: Mapping[str, Entry]) -> list[Survey]:
    """Homes with everything known, for what must hang together."""
    return [random_survey(seed, vocabulary, holes=0) for seed in MANY]


@pytest.fixture(scope="module")
def usual(vocabulary: Mapping[str, Entry]) -> list[Survey]:
    return [random_survey(seed, vocabulary) for seed in MANY]


def word(survey: Survey, field: str) -> str:
    answer = survey.answers.get(field)
    return next(iter(answer.value.words)) if answer is not None and isinstance(answer.value, Words) else ""


def number(survey: Survey, field: str) -> float:
    value = survey.answers[field].value
    assert isinstance(value, Span)
    return value.lo


def share(surveys: Iterable[Survey], field: str, *words: str) -> float:
    told = [word(s, field) in words for s in surveys if word(s, field)]
    return sum(told) / len(told)


def mean(surveys: Iterable[Survey], field: str) -> float:
    found = [number(s, field) for s in surveys if field in s.answers]
    return sum(found) / len(found)


def flats(surveys: Iterable[Survey], are: bool = True) -> list[Survey]:
    return [s for s in surveys if (word(s, "home.kind") in ("flat", "maisonette")) == are]


def built(surveys: Iterable[Survey], *eras: str) -> list[Survey]:
    return [s for s in surveys if word(s, "home.built") in eras]


@pytest.mark.parametrize("holes", [0, 0.3, 1])
@pytest.mark.parametrize("seed", SEEDS)
def test_every_survey_reads_back_as_itself(seed: int, holes: float, vocabulary) -> None:
    survey = random_survey(seed, vocabulary, holes)
    again = read_bytes(as_toml(survey).encode(), Path(survey.path), vocabulary)
    assert again == survey


def test_one_seed_one_text_and_other_seeds_other_texts(vocabulary) -> None:
    texts = [as_toml(random_survey(seed, vocabulary)) for seed in SEEDS]
    assert texts == [as_toml(random_survey(seed, vocabulary)) for seed in SEEDS]
    assert len(set(texts)) == len(texts)


@pytest.mark.parametrize("holes", [-0.1, 1.1])
def test_a_share_is_a_share(holes: float, vocabulary) -> None:
    with pytest.raises(ValueError, match="Allowed: 0 to 1"):
        random_survey(1, vocabulary, holes)


def test_without_holes_everything_that_applies_is_one_value(known: list[Survey]) -> None:
    """What stays open has nothing to be answered: no gas, no cistern, no joists, no end for a discharge."""
    applies_sometimes = ("gas.", "cistern.", "bearing", "discharge_", "relief_length")
    for survey in known:
        assert all(a.value.single for a in survey.answers.values())
        assert not survey.unknown and survey.complete == set(survey.lists)
        assert [f for f in survey.unanswered() if not any(part in f for part in applies_sometimes)] == []


def test_with_nothing_but_holes_next_to_nothing_is_known(vocabulary) -> None:
    for seed in SEEDS:
        survey = random_survey(seed, vocabulary, holes=1)
        single = [f for f, a in survey.answers.items() if a.value.single and not f.startswith("confirmed.")]
        assert not survey.complete and len(single) < 10, single


def test_usual_surveys_hold_every_way_of_not_knowing(usual: list[Survey]) -> None:
    answers = [a for s in usual for a in s.answers.values()]
    assert {a.how for a in answers} == {"measured", "told", "assumed"}
    assert [a for a in answers if a.read.startswith("between")] and [a for a in answers if a.read.startswith("one of")]
    assert [a for a in answers if a.instead_of] and [s for s in usual if s.unknown]
    assert {len(s.lists.get("places", ())) for s in usual} == {0, 1, 2, 3}
    for listed in ("places", "outlets", "gas.legs", "gas.appliances"):
        assert 0.2 < sum(listed in s.complete for s in usual) / len(usual) < 0.95, listed
    assert {word(s, "nation") for s in usual} > {"england", "scotland", "wales"}
    gone = sum(len(s.unanswered()) for s in usual) / sum(len(list(s.every_field())) for s in usual)
    assert 0.1 < gone < 0.5


# --- what a home's age, kind and people bring with them ------------------------------------------------------------


def test_materials_have_their_time(known: list[Survey]) -> None:
    """Lead was not laid new after 1969 and asbestos not sold after 1999 (UK prohibitions), so newer homes have none."""
    new = built(known, *SINCE_2000)
    assert len(new) > 20
    assert share(new, "water.service_material", "lead", "iron") == 0
    assert share(built(known, "before 1919", "1919-1944"), "water.service_material", "lead") > 0.2
    assert share(new, "home.asbestos", "suspected", "confirmed") == 0
    assert share(built(known, "1965-1980"), "home.asbestos", "suspected", "confirmed") > 0.3


def test_newer_homes_lose_less_and_have_wider_pipes(known: list[Survey]) -> None:
    def per_m2(surveys: list[Survey]) -> float:
        return 1000 * mean(surveys, "heating.heat_loss") / mean(surveys, "home.floor_area")

    old, new = built(known, "before 1919", "1919-1944"), built(known, *SINCE_2000)
    assert per_m2(old) > 1.5 * per_m2(new)
    assert mean(old, "water.inside_pipe") < mean(new, "water.inside_pipe")
    assert mean(old, "gas.legs.meter_to_hall.size") < mean(new, "gas.legs.meter_to_hall.size")
    assert share(old, "heating.circuit", "open vented") > share(new, "heating.circuit", "open vented")
    assert mean(old, "water.flow") < mean(new, "water.flow")
    for survey in new:
        assert word(survey, "existing.kind") != "back boiler with cistern-fed cylinder"


def test_flats_are_no_houses(known: list[Survey]) -> None:
    flat, house = flats(known), flats(known, are=False)
    assert len(flat) > 40 and len(house) > 40
    assert share(flat, "cistern.loft", "yes") < 0.5 * share(house, "cistern.loft", "yes")
    assert share(flat, "home.outdoor_space", "yes") < 0.5 * share(house, "home.outdoor_space", "yes")
    assert share(flat, "home.tenure", "owner occupied") < 0.2 < share(house, "home.tenure", "owner occupied")
    assert mean(flat, "home.floor_area") < mean(house, "home.floor_area")
    assert share(flat, "gas.supply", "none") > share(house, "gas.supply", "none")
    no_end = [word(s, f"places.{p}.discharge_end") == "none found" for s in flat for p in s.lists["places"]]
    assert sum(no_end) > 0.25 * len(no_end)
    assert not [s for s in flat if {"loft_space", "garage"} & set(s.lists["places"])]


def test_people_bring_showers_and_wishes(known: list[Survey]) -> None:
    alone = [s for s in known if number(s, "household.people") == 1]
    many = [s for s in known if number(s, "household.people") > 3]
    assert mean(alone, "household.busy_showers") < mean(many, "household.busy_showers")
    assert sum("outlets_at_once" in s.wishes for s in alone) / len(alone) \
        < 0.5 * sum("outlets_at_once" in s.wishes for s in many) / len(many)
    for survey in known:
        marked = [o for o in survey.lists["outlets"] if word(survey, f"outlets.{o}.at_once") == "yes"]
        assert bool(marked) == ("outlets_at_once" in survey.wishes)


def test_the_parts_of_a_home_belong_together(known: list[Survey]) -> None:
    for survey in known:
        assert number(survey, "water.flow_pressure") < number(survey, "water.static_pressure")
        if word(survey, "gas.supply") == "none":
            assert not survey.lists["gas.legs"] and not survey.lists["gas.appliances"]
        if word(survey, "existing.kind") == "combination boiler":
            assert word(survey, "heating.circuit") == "sealed"
        for place in survey.lists["places"]:
            joists = word(survey, f"places.{place}.floor") == "timber joists"
            assert joists == (f"places.{place}.bearing" in survey.answers)


def test_the_ends_of_what_is_possible_occur(usual: list[Survey], known: list[Survey], vocabulary) -> None:
    met = set()
    for survey in (*usual, *known):
        for field, entry, _ in survey.every_field():
            answer = survey.answers.get(field)
            if answer is not None and entry.kind == "number" and isinstance(answer.value, Span):
                met |= {(entry.name, end) for end in entry.domain if end in (answer.value.lo, answer.value.hi)}
    numbers = [e for e in vocabulary.values() if e.kind == "number"]
    extremes = {("water.static_pressure_bar", 0.1), ("water.static_pressure_bar", 12.0), ("home.floor_area_m2", 20.0)}
    assert extremes <= met
    assert len(met) > 1.2 * len(numbers)  # of the two ends of each


def test_every_word_occurs(usual: list[Survey], known: list[Survey], vocabulary) -> None:
    met: dict[str, set[str]] = {}
    for survey in (*usual, *known):
        for field, entry, _ in survey.every_field():
            if entry.kind == "words" and field in survey.answers:
                met.setdefault(entry.name, set()).update(survey.answers[field].value.words)
    for name, entry in vocabulary.items():
        if entry.kind == "words" and not name.startswith("confirmed.") and entry.default is None:
            assert met.get(name, set()) == set(entry.domain), name
