"""The chapters of `explanations/`: what each rule says to whom, and its braces filled from one run.

A chapter has a section a rule::

    ## The mains gives less than the showers want
    id: outlets-short-of-flow

    *Finding:* ...  *Why it matters:* ...  *To the householder:* ...  *Against a cheaper quote:* ...

Braces name facts. They are filled once, from the facts of the arrangement that
the finding is about; what a fact holds is never read for braces again.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from advisor import paths
from advisor.records import Finding, Judged
from advisor.report.claims import Claim
from advisor.report.say import GAP, Piece, Teller

LABELS = {"finding": "finding", "why it matters": "why", "to the householder": "householder",
          "against a cheaper quote": "rival"}
_LABEL = re.compile(rf"\*{{1,2}}({'|'.join(LABELS)})[.:]?\*{{1,2}}[.:]?\s*", re.IGNORECASE)
_SECTION = re.compile(r"^##\s+(?P<title>.+?)\s*$", re.MULTILINE)
_ID = re.compile(r"^id:\s*`?(?P<id>[\w-]+)`?\s*$", re.MULTILINE)
_SENTENCE_END = re.compile(r"(?<=[.!?])\s+(?=[A-Z{\"'‘“])")


@dataclass(frozen=True, slots=True)
class Section:
    """What one rule says: the four texts, as templates, "" where the chapter has none."""

    rule: str
    title: str
    finding: str = ""
    why: str = ""
    householder: str = ""
    rival: str = ""
    chapter: str = ""


def read(directory: Path | None = None) -> Mapping[str, Section]:
    """All sections by rule id, from every chapter of `directory` (the project's own by default)."""
    return _read(directory or paths.EXPLANATIONS)


@lru_cache(maxsize=8)
def _read(directory: Path) -> Mapping[str, Section]:
    found: dict[str, Section] = {}
    for path in sorted(directory.glob("*.md")) if directory.is_dir() else ():
        for section in sections(path.read_text(encoding="utf-8"), path.stem):
            found.setdefault(section.rule, section)
    return found


def sections(text: str, chapter: str = "") -> list[Section]:
    """The rule sections of one chapter, in order; headings without an `id:` line are prose and left out."""
    heads = list(_SECTION.finditer(text))
    out = []
    for head, after in zip(heads, [*heads[1:], None], strict=True):
        body = text[head.end() : after.start() if after else len(text)]
        body = re.split(r"^#\s", body, maxsplit=1, flags=re.MULTILINE)[0]
        named = _ID.search(body)
        if named:
            out.append(Section(named["id"], head["title"], chapter=chapter, **_texts(body[named.end() :])))
    return out


def _texts(body: str) -> dict[str, str]:
    parts = _LABEL.split(body)
    pairs = zip(parts[1::2], parts[2::2], strict=True)
    return {LABELS[label.lower()]: " ".join(text.split()) for label, text in pairs}


def split(template: str) -> list[str]:
    """The sentences of a template (split before it is filled, so that no value can make or hide a full stop)."""
    return [s for s in _SENTENCE_END.split(template) if s]


def speak(teller: Teller, finding: Finding, judged: Judged | None, voice: str, most: int = 9) -> tuple[Claim, ...]:
    """The sentences of a finding's chapter in one voice, filled for one arrangement.

    Parameters
    ----------
    voice : "finding", "why", "householder" or "rival"; where the chapter lacks it, the rule's title speaks
    most : how many sentences at most
    """
    rule = teller.rules[finding.rule]
    section = read().get(rule.twin_of or rule.id)
    ids = teller.finding_ids(finding)
    template = getattr(section, voice) if section else ""
    if rule.twin_of or not template:
        return (teller.claim("{rule}.", ids, rule=teller.rule(rule.id)),)
    return tuple(fill(teller, s, judged, finding.because, ids) for s in split(template)[:most])


def fill(teller: Teller, sentence: str, judged: Judged | None, because: Iterable[str] = (),
         ids: Iterable[str] = ()) -> Claim:
    """One sentence with its braces filled; a fact there is none of is "not recorded"."""
    because = tuple(because)
    gaps: dict[str, Piece] = {}
    for name in GAP.findall(sentence):
        fact = teller.look_up(name, judged, because)
        gaps[name] = teller.value(fact) if fact else Piece("not recorded", "text:absent")
    return teller.fill(sentence, gaps, ids)

