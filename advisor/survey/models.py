"""The shape of an answer written as a table, checked where the file comes in (pydantic).

What the parts mean (units, domains) is `answers.py`; this file only says which keys there are, of what type.
"""

from __future__ import annotations

import unicodedata
from datetime import date, datetime, time
from typing import Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from advisor import units
from advisor.survey.fields import nearest

LONGEST_NOTE = 2000
DIRECTION_MARKS = set("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")  # they can make a line read otherwise
HOW = ("measured", "told", "assumed")
KINDS = ("value", "between", "one_of")


class AnswerTable(BaseModel):
    """`{ value = "3.1 bar", how = "measured", when = "07:40", instead_of = "2.4 bar" }` and its relations."""

    model_config = ConfigDict(extra="forbid", strict=True)

    value: str | int | float | bool | None = None
    between: list[Any] | None = Field(default=None, min_length=2, max_length=2)
    one_of: list[Any] | None = Field(default=None, min_length=1, max_length=20)
    how: str = ""
    when: str | date | datetime | time = ""
    instead_of: str | int | float | None = None
    note: str = ""
    who: str = ""

    @model_validator(mode="after")
    def _one_kind(self) -> AnswerTable:
        given = [k for k in KINDS if getattr(self, k) is not None]
        if len(given) != 1:
            raise ValueError(f"{' and '.join(given) or 'no value'}|one")
        return self


WANTED = {
    "between": "Write between = [smaller, larger], two values.",
    "one_of": "Write one_of = [...], one to twenty values.",
    "how": "Allowed: measured, told, assumed. Write one of them.",
    "when": 'Write a time or a date in quotes, for example "07:40".',
    "value": "Write one number with its unit, or one word, in quotes.", "note": "Write a text in quotes.",
    "who": "Write a name in quotes.", "instead_of": "Write the earlier reading with its unit, in quotes.",
}


def answer_table(raw: dict[str, Any]) -> tuple[AnswerTable | None, list[str]]:
    """The table's shape, or None with every fault found (found, allowed, what to do)."""
    try:
        table = AnswerTable.model_validate(raw)
    except ValidationError as error:
        found = (_fault(e, raw) for e in error.errors(include_url=False, include_input=False))
        return None, list(dict.fromkeys(found))  # of a key with several forms each form tried is an error of its own
    faults = [] if table.how in ("", *HOW) else [f'how is "{units.shown(table.how)}". {WANTED["how"]}']
    for key in ("when", "note", "who"):
        text = getattr(table, key)
        if isinstance(text, str) and (fault := text_fault(text, many_lines=key == "note")):
            faults.append(f"{key}: {fault}")
    return (None, faults) if faults else (table, [])


def _fault(error: Any, raw: dict[str, Any]) -> str:
    key = str(error["loc"][0]) if error["loc"] else ""
    if error["type"] == "extra_forbidden":
        close = nearest(key, AnswerTable.model_fields)
        known = ", ".join(AnswerTable.model_fields)
        return (f'the key "{units.shown(key)}" is not known in an answer. Allowed: {known}. '
                + (f"Did you mean {close}?" if close else "Take it out."))
    if not key:
        found = str(error["ctx"]["error"]).split("|")[0]
        return f"the answer has {found}. Allowed: exactly one of value, between, one_of. Keep one."
    return f"{key} is not of the right form. {WANTED[key]}"


def text_fault(text: str, many_lines: bool = False) -> str:
    """What is wrong with a free text, or "": too long, control characters, marks that turn the reading direction."""
    if len(text) > LONGEST_NOTE:
        return f"the text is {len(text)} characters long. Allowed: {LONGEST_NOTE}. Shorten it."
    allowed = "\n\t\r" if many_lines else ""
    for char in text:
        if (unicodedata.category(char) == "Cc" and char not in allowed) or char in DIRECTION_MARKS:
            return f"the text holds the control character U+{ord(char):04X}. Allowed: printable text. Take it out."
    return ""
