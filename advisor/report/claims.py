"""Sentences with their reasons, and the blocks a document is made of.

A `Claim` is a sentence that says something about this house, the rules or the
figures; it names what it rests on. Its `quantities` are the pieces that were
filled in, in the order they stand in the text, each with the key that it shows:

======================  ====================================================
key                     the piece must be
======================  ====================================================
a fact key              a printed form of that fact's value
``read:<fact key>``     the answer as it was written in the survey
``title:<id>``          the title of that arrangement
``name:<entity>``       the plain name of that place, outlet, leg ...
``rule:<id>``           the id or the title of that rule
``remedy:<id>``         the title of that remedy
``count:<what>``        a count that `lint` makes again from the advice
``hour:<figure>:<id>``  a figure of that arrangement's busiest hour, run again
``text:<what>``         a text kept elsewhere (a source, a formula, a date ...)
======================  ====================================================

Everything else in the sentence is fixed text and may hold no figure.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Claim:
    """A sentence, the fact and rule ids it rests on, and its filled-in pieces in order."""

    text: str
    ids: tuple[str, ...] = ()
    quantities: tuple[tuple[str, str], ...] = ()  # (shown text, key)


@dataclass(frozen=True, slots=True)
class Note:
    """A fixed sentence that claims nothing about this house (listed in `standing.py`), or a label in a table."""

    text: str


Sentence = Claim | Note


@dataclass(frozen=True, slots=True)
class Heading:
    level: int
    text: str


@dataclass(frozen=True, slots=True)
class Para:
    sentences: tuple[Sentence, ...]
    style: str = ""  # "lead" for the headline, "small" for the foot


@dataclass(frozen=True, slots=True)
class Items:
    """A list; an item is a run of sentences, its depth says how far it is indented."""

    items: tuple[tuple[Sentence, ...], ...]
    depths: tuple[int, ...] = ()  # as long as items, or empty: all 0


@dataclass(frozen=True, slots=True)
class Table:
    """A table: fixed column heads, cells that are claims or labels."""

    head: tuple[str, ...]
    rows: tuple[tuple[Sentence, ...], ...]


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawing with the sentences that say what it shows.

    svg : the drawing, one `svg` element; "" where there is none
    about : the arrangement whose busiest hour it shows
    file : the name it has beside a Markdown file
    """

    run: tuple[Sentence, ...]
    svg: str
    about: str
    file: str


@dataclass(frozen=True, slots=True)
class Drawings:
    """Drawings that stand side by side where there is room."""

    drawn: tuple[Drawn, ...]

    @property
    def items(self) -> tuple[tuple[Sentence, ...], ...]:
        return tuple(d.run for d in self.drawn)


@dataclass(frozen=True, slots=True)
class Ruled:
    """A label and what belongs behind it; a line to be filled in by hand where the survey has nothing."""

    label: str
    text: str = ""
    key: str = ""  # what the text shows, as in a claim


Block = Heading | Para | Items | Drawings | Table | Ruled


@dataclass(frozen=True, slots=True)
class Document:
    """A whole report: its name, its blocks, and whether each figure prints the id of its fact."""

    title: str
    blocks: tuple[Block, ...] = field(default=())
    tokens: bool = False


def sentences(document: Document) -> Iterator[Sentence]:
    """Every claim and note of the document, in reading order."""
    for block in document.blocks:
        match block:
            case Para(run, _):
                yield from run
            case Items() | Drawings():
                for item in block.items:
                    yield from item
            case Table(_, rows):
                for row in rows:
                    yield from row
            case _:
                pass


def claims(document: Document) -> Iterator[Claim]:
    return (s for s in sentences(document) if isinstance(s, Claim))


def pieces(claim: Claim) -> list[tuple[str, str]]:
    """The text cut at its filled-in pieces: (text, key), key "" for fixed text.

    Raises
    ------
    ValueError
        If a piece does not stand in the text where its turn comes.
    """
    out: list[tuple[str, str]] = []
    rest = claim.text
    for shown, key in claim.quantities:
        at = _standing(shown, rest)
        if at < 0:
            raise ValueError(f"'{shown}' does not stand in '{rest}'")
        if at:
            out.append((rest[:at], ""))
        out.append((shown, key))
        rest = rest[at + len(shown) :]
    if rest:
        out.append((rest, ""))
    return out


def _standing(shown: str, text: str) -> int:
    """Where `shown` first stands in `text` with no letter or digit running on at either end; -1 for nowhere."""
    at = text.find(shown) if shown else -1
    while at >= 0:
        end = at + len(shown)
        open_before = at == 0 or not (_runs_on(text[at - 1]) and _runs_on(shown[0]))
        open_after = end == len(text) or not (_runs_on(text[end]) and _runs_on(shown[-1]))
        if open_before and open_after:
            return at
        at = text.find(shown, at + 1)
    return -1


def _runs_on(character: str) -> bool:
    return character.isalnum() or character == "_"


def words(document: Document) -> int:
    """How many words a reader meets in sentences and headings (labels of ruled lines left out)."""
    count = sum(len(s.text.split()) for s in sentences(document))
    return count + sum(len(b.text.split()) for b in document.blocks if isinstance(b, Heading))
