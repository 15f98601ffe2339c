"""Document -> Markdown. Nothing a survey holds can become mark-up: every text is escaped on its way in.

With `marks` the claims and figures are enclosed in characters from Unicode's
private area, which no text of ours or of a survey can hold (`wording.clean`
drops them); `html.py` turns them into elements after the Markdown is rendered.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

from advisor.report.claims import (
    Claim,
    Document,
    Drawings,
    Drawn,
    Heading,
    Items,
    Note,
    Para,
    Ruled,
    Sentence,
    Table,
    pieces,
)
from advisor.report.wording import clean

CLAIM, FIGURE, SEP, END, BLANK, DRAWING = "\ue000", "\ue001", "\ue002", "\ue003", "\ue004", "\ue005"
DRAWN = "The busiest hour, drawn"
LINE = r"\_" * 24
_SPECIAL = re.compile(r"([\\`*_\[\]<>|~])")


def escape(text: str) -> str:
    """`text` as Markdown that prints exactly that text inside a line."""
    return _SPECIAL.sub(r"\\\1", clean(text).replace("&", "&amp;"))


class Writer:
    """Writes one document; `claims` and `figures` list what the marks refer to, in order."""

    def __init__(self, document: Document, ids: Mapping[str, str], marks: bool = False) -> None:
        self.document = document
        self.ids = ids  # fact key -> fact id
        self.tokens = frozenset(ids.values()) if document.tokens else frozenset()
        self.marks = marks
        self.claims: list[Claim] = []
        self.figures: list[tuple[str, bool]] = []  # fact id of each figure, and whether it is printed beside it
        self.drawings: list[str] = []
        self.row_of = ""  # the fact whose own row is being written: its id need not stand there twice

    def text(self) -> str:
        parts = [f"# {escape(self.document.title)}", *(self._block(b) for b in self.document.blocks)]
        return "\n\n".join(p for p in parts if p) + "\n"

    def _block(self, block: object) -> str:
        match block:
            case Heading(level, text):
                return f"{'#' * level} {_guard(escape(text))}"
            case Para(run, style):
                line = _guard(self._run(run))
                return f"**{line}**" if style == "lead" else line
            case Items(items, depths):
                levels = depths or (0,) * len(items)
                return "\n".join(f"{'  ' * d}- {_guard(self._run(i))}" for i, d in zip(items, levels, strict=True))
            case Table(head, rows):
                return self._table(head, rows)
            case Drawings(drawn):
                return "\n\n".join(self._drawn(d) for d in drawn)
            case Ruled(label, text, _):
                return f"{escape(label)}: {escape(text) or (BLANK if self.marks else LINE)}"
        raise TypeError(f"no way to write {block!r}")

    def _table(self, head: tuple[str, ...], rows: tuple[tuple[Sentence, ...], ...]) -> str:
        lines = [[escape(h) for h in head], ["---"] * len(head), *(self._row(r) for r in rows)]
        return "\n".join(f"| {' | '.join(cells)} |" for cells in lines)

    def _drawn(self, drawn: Drawn) -> str:
        """Its sentences, then the drawing: its file for Markdown, a mark for the page."""
        said = _guard(self._run(drawn.run))
        if not self.marks:
            return f"{said}\n\n![{DRAWN}]({drawn.file})" if drawn.svg else said
        self.drawings.append(drawn.svg)
        return f"{DRAWING}{len(self.drawings) - 1}{SEP}{said}"

    def _row(self, row: tuple[Sentence, ...]) -> list[str]:
        self.row_of = row[0].text if row and row[0].text in self.tokens else ""
        cells = [self._sentence(c) for c in row]
        self.row_of = ""
        return cells

    def _run(self, run: tuple[Sentence, ...]) -> str:
        return " ".join(self._sentence(s) for s in run)

    def _sentence(self, sentence: Sentence) -> str:
        if isinstance(sentence, Note):
            return escape(sentence.text)
        # Cut first, escape after: white space at the cuts must survive.
        inner = "".join(self._piece(text, key) for text, key in pieces(sentence))
        if not self.marks:
            return inner
        self.claims.append(sentence)
        return f"{CLAIM}{len(self.claims) - 1}{SEP}{inner}{END}"

    def _piece(self, text: str, key: str) -> str:
        lead, tail = " " * text.startswith(" "), " " * (text.endswith(" ") and len(text) > 1)
        shown = f"{lead}{escape(text)}{tail}"
        token = self.ids.get(key.removeprefix("read:"))
        if token is None:
            return shown
        printed = self.document.tokens and token != self.row_of
        if self.marks:
            self.figures.append((token, printed))
            return f"{FIGURE}{len(self.figures) - 1}{SEP}{shown}{END}"
        return f"{shown} \\[{token}\\]" if printed else shown


def _guard(line: str) -> str:
    """Keep a line from starting a list, a heading or a rule by its first characters."""
    if re.match(r"\d+[.)](?:\s|$)", line):
        return re.sub(r"^(\d+)", r"\1\\", line, count=1)
    return f"\\{line}" if line[:1] in tuple("+-=#") else line


def markdown(document: Document, ids: Mapping[str, str]) -> str:
    """The document as Markdown, for people and for `letter.md` / `technical.md`."""
    return Writer(document, ids).text()
