"""A survey with some answers replaced, read as strictly as a file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from advisor.survey import answers
from advisor.survey.consistency import impossible, odd
from advisor.survey.fields import nearest
from advisor.survey.record import Answer, Survey, SurveyError


def changed(survey: Survey, changes: Mapping[str, str | None]) -> Survey:
    """See `Survey.with_changes`."""
    new = dict(survey.answers)
    unknown = set(survey.unknown)
    faults: list[str] = []
    for path, text in changes.items():
        entry = survey.fields.entry(path)
        listed = survey.fields.split(path)
        if entry is None or (listed and listed[1] not in survey.lists.get(listed[0], ())):
            known = [f for f, _, _ in survey.every_field()]
            close = nearest(path, known)
            faults.append(f"{path}: not a field of this survey. " + (f"Did you mean {close}?" if close else
                          "See `advisor survey blank` for the fields."))
            continue
        if answers.is_unknown(text):
            new.pop(path, None)
            unknown.add(path)
            continue
        try:
            got = answers.plain(_raw(text, entry.unit == "" and entry.kind == "number"), entry)
        except answers.AnswerFault as fault:
            faults.append(f"{path}: {fault}")
            continue
        unknown.discard(path)
        new[path] = Answer(path, got.value, entry.unit, got.read, how=entry.how, note="changed for a question")
    if faults:
        raise SurveyError(faults)
    stated = tuple(w for w in survey.wish_order if f"wishes.{w}" in new)
    made = replace(survey, answers=dict(sorted(new.items())), unknown=frozenset(unknown), wish_order=stated)
    if contradictions := list(impossible(made)):
        raise SurveyError(contradictions)
    return replace(made, warnings=tuple(odd(made)))


def _raw(text: str | None, count: bool) -> int | str | None:
    """A count may come as a text here, because a command line has nothing else."""
    if count and isinstance(text, str) and text.strip().isdigit():
        return int(text)
    return text
