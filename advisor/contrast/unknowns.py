"""What a survey leaves open: the fields nobody has settled, and the answers each might get."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.facts import Span
from advisor.rulebase.model import Entry
from advisor.survey import Survey

CONFIRMED = "confirmed."


def unknown_fields(survey: Survey) -> tuple[str, ...]:
    """Fields with no single answer, in the survey's order; a wish not written is not one of them."""
    return tuple(f for f, entry, _ in survey.every_field() if _open(survey, f, entry))


def _open(survey: Survey, field: str, entry: Entry) -> bool:
    answer = survey.answers.get(field)
    if answer is None:
        return entry.default is None
    return not answer.value.single


def text(entry: Entry, value: float) -> str:
    """A number as `whatif` reads it, rounded to nothing coarser than a thousandth."""
    return f"{value:.6g} {entry.unit}".strip()


def between(entry: Entry, low: float, high: float) -> str:
    """A range of numbers as `whatif` reads it; one number where both ends are the same."""
    return text(entry, low) if low == high else f"between {text(entry, low)} and {text(entry, high)}"


def choices(survey: Survey, field: str) -> Iterator[str]:
    """The words a field of words may still be; "yes" is the only answer a confirmation can get."""
    value = survey.value(field)
    if field.startswith(CONFIRMED):
        yield "yes"
    elif not isinstance(value, Span):
        yield from sorted(value.words)
