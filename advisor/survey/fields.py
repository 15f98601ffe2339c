"""Which fields a survey may hold: the vocabulary, looked up by the path in the file."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from advisor.facts import Span, Value, Words
from advisor.rulebase.model import Entry

NAME = "NAME"
ORDER = "wishes.order"
CONFIRMED = "confirmed"
LEGS = "gas.legs"
LINK_KEYS = ("from", "to")
PRIVATE_KEYS = ("name", "address", "phone", "notes")
TOP_KEYS = ("survey_format", "works_date", "surveyed_on", "private")
COMPLETE = "complete"
ENTRY_NAME = re.compile(r"[a-z][a-z0-9_]{0,39}")
LINK_ALLOWED = "Allowed: the name of a leg or an appliance, meter, boiler. Write the name in quotes."


@dataclass(frozen=True)
class Fields:
    """The survey's fields by path; NAME stands for the name of a list's entry."""

    entries: Mapping[str, Entry]
    lists: tuple[str, ...]
    sections: frozenset[str]

    @classmethod
    def of(cls, vocabulary: Mapping[str, Entry]) -> Fields:
        """The fields of a vocabulary (fact name -> entry), in its order."""
        entries = {e.field: e for e in vocabulary.values() if e.made == "survey" and e.field}
        lists = tuple(dict.fromkeys(p.split(f".{NAME}.")[0] for p in entries if f".{NAME}." in p))
        prefixes = {p.rsplit(".", i)[0] for p in (*entries, *lists) for i in range(1, p.count(".") + 1)}
        sections = {p for p in prefixes if NAME not in p and p not in lists} | {CONFIRMED, "wishes"}
        return cls(entries, lists, frozenset(sections))

    def entry(self, path: str) -> Entry | None:
        """The entry of a concrete path such as `places.landing.depth`, or None."""
        found = self.entries.get(path)
        if found is not None:
            return found if NAME not in path.split(".") else None
        listed = self.split(path)
        return self.entries.get(f"{listed[0]}.{NAME}.{listed[2]}") if listed else None

    def split(self, path: str) -> tuple[str, str, str] | None:
        """(list, name, key) of a list entry's path, or None when the path is not of that shape."""
        for listed in self.lists:
            rest = path.removeprefix(f"{listed}.")
            if rest != path and rest.count(".") == 1:
                name, key = rest.split(".")
                return listed, name, key
        return None

    def list_of(self, pattern: str) -> str:
        return pattern.split(f".{NAME}.")[0]

    def wishes(self) -> list[str]:
        """The names of the wishes, in the vocabulary's order."""
        return [p.removeprefix("wishes.") for p in self.entries if p.startswith("wishes.")]

    def keys_under(self, section: str) -> list[str]:
        """What may stand directly under a section, a list's entry (`places.NAME`), or at the top ("")."""
        start = f"{section}." if section else ""
        found = dict.fromkeys(p[len(start):].split(".")[0] for p in (*self.entries, *self.lists) if p.startswith(start))
        extra = {"": TOP_KEYS, "wishes": ("order",), f"{LEGS}.{NAME}": LINK_KEYS, "private": PRIVATE_KEYS}
        return [k for k in (*found, *extra.get(section, ())) if k != NAME]

    def unanswered(self, entry: Entry) -> Value:
        """What an unanswered field may be: a wish's default, else the whole domain."""
        if entry.default is not None:
            return Words(frozenset([entry.default]))
        if entry.kind == "number":
            return Span(*entry.domain)
        return Words(frozenset(entry.domain))


def nearest(word: str, known: Iterable[str]) -> str:
    """The known word most like this one, or ""."""
    close = difflib.get_close_matches(word[:80], list(known), n=1, cutoff=0.6)
    return close[0] if close else ""
