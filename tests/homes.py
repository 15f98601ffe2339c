"""Surveys for tests: the shipped ones, and ways to delete, widen and complete answers."""

from __future__ import annotations

import random
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path

from advisor import advise, paths, reasoner, rulebase, site
from advisor.records import Advice
from advisor.survey import Survey, SurveyError, read

SURVEYS = sorted(p.stem for p in paths.SURVEYS.glob("*.toml"))
DEMO = "terrace_two_showers"
EMPTY = "nearly_empty"


@lru_cache(maxsize=1)
def base() -> rulebase.Rulebase:
    return rulebase.load()


@lru_cache(maxsize=32)
def survey(name: str) -> Survey:
    return read(paths.SURVEYS / f"{name}.toml", base().survey_entries())


def written(tmp_path: Path, text: str) -> Survey:
    path = tmp_path / "survey.toml"
    path.write_text(text, encoding="utf-8")
    return read(path, base().survey_entries())


def quick(s: Survey, only: tuple[str, ...] | None = None) -> Advice:
    """Advice by the plain matcher, unchecked: for tests that run hundreds of surveys."""
    return advise.run(s, base(), reasoner.matcher("plain"), only=only)


def sample(name: str) -> tuple[str, ...] | None:
    """All arrangements of the detailed home (None), one in four of the others: the tests stay quick."""
    return None if name == DEMO else tuple(j.id for j in quick(survey(name)).judged[::4])


def alone(s: Survey, arrangement: str) -> str:
    """The verdict of one arrangement reasoned about on its own: no finding depends on another arrangement."""
    return advise.run(s, base(), reasoner.matcher("plain"), only=[arrangement]).judged[0].verdict


@lru_cache(maxsize=16)
def advice(name: str, engine: str = "auto") -> Advice:
    return advise.advise(survey(name), base(), engine)


def verdicts(a: Advice) -> dict[str, str]:
    return {j.id: j.verdict for j in a.judged}


def is_wish(field: str) -> bool:
    return field.startswith("wishes.") or field.endswith(".at_once")


def free_fields(s: Survey) -> Iterator[str]:
    """Answered fields about site and household, wishes left out."""
    for field in s.answers:
        if not is_wish(field) and not field.startswith("confirmed."):
            yield field


def text_of(unit: str, value: float) -> str:
    return f"{value:.6g} {unit}".strip()


def random_text(entry, rng: random.Random, lo: float | None = None, hi: float | None = None) -> str:
    """A random answer to a field, as a survey file would have it."""
    if entry.kind == "words":
        return str(rng.choice(entry.domain))
    low, high = (entry.domain[0] if lo is None else lo), (entry.domain[1] if hi is None else hi)
    if not entry.unit:
        return str(rng.randint(int(low), int(high)))
    value = rng.choice([low, high, rng.uniform(low, high), rng.uniform(low, high)])
    return text_of(entry.unit, min(max(round(value, 3), low), high))


def completion(s: Survey, rng: random.Random) -> Survey | None:
    """Every missing or ranged answer settled at random; None where the cross-field checks refuse it."""
    changes = {}
    for field, entry, _ in s.every_field():
        if is_wish(field) or field.startswith("confirmed."):
            continue
        answer = s.answers.get(field)
        if answer is None:
            changes[field] = random_text(entry, rng)
        elif not answer.value.single:
            value = answer.value
            changes[field] = (rng.choice(sorted(value.words)) if entry.kind == "words"
                              else random_text(entry, rng, value.lo, value.hi))
    try:
        return s.with_changes(changes)
    except SurveyError:
        return None


def listed(s: Survey) -> dict[str, tuple[str, ...]]:
    return site.entities(s)
