"""Words a chapter may not use: praise anywhere, terms of the trade in what the householder reads, and long sentences.

The lists stand in `rules/words.toml`. Reading ease is measured in the tests: it wants a dictionary of syllables.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from functools import lru_cache

from advisor import paths
from advisor.report import chapters

MOST_WORDS = 25
SENTENCE = re.compile(r"(?<=[.!?])\s+(?=[A-Z{])")


@lru_cache(maxsize=1)
def instead() -> Mapping[str, str]:
    """Term of the trade -> what a householder is told."""
    return tomllib.loads((paths.RULES / "words.toml").read_text(encoding="utf-8"))["instead"]


@lru_cache(maxsize=1)
def praise() -> re.Pattern[str]:
    """Any word of praise, with or without -ly."""
    listed = tomllib.loads((paths.RULES / "words.toml").read_text(encoding="utf-8"))["praise"]["words"]
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, listed))})(?:ly)?\b", re.IGNORECASE)


def faults(section: chapters.Section) -> Iterator[str]:
    """What is wrong with the words of a section, each with what to do."""
    for text in (section.title, section.finding, section.why, section.householder, section.rival):
        for word in praise().findall(text):
            yield f"its section says {word!r}, which is praise. Say the figure with its unit."
        for sentence in SENTENCE.split(text):
            if len(sentence.split()) > MOST_WORDS:
                yield f"its section has a sentence of {len(sentence.split())} words ({sentence[:40]} ...). " \
                      f"At most {MOST_WORDS}: cut it in two."
    for term, plain in instead().items():
        if re.search(rf"\b{re.escape(term)}s?\b", section.householder, re.IGNORECASE):
            yield f"its *To the householder:* says {term!r}. Say: {plain}."
