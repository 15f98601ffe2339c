"""Document -> plain text of at most 80 columns, for a terminal; checked by the claim lint before a line is printed."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from itertools import zip_longest

from advisor.records import Advice
from advisor.report.claims import Document, Heading, Items, Para, Ruled, Sentence, Table
from advisor.report.lint import lint
from advisor.report.wording import NBSP

WIDTH = 78
GAP = 2
FIRST_COLUMN = 24


def printed(document: Document, advice: Advice) -> str:
    """The document as text.

    Raises
    ------
    RuntimeError : when a sentence does not stand on a fact, a check or a rule (a fault of the program)
    """
    faults = lint(document, advice)
    if faults:
        raise RuntimeError(f"{document.title} was not printed: {len(faults)} sentences do not hold. First: "
                           + "; ".join(faults[:3]))
    return "\n".join(_lines(document)).replace(NBSP, " ").strip("\n") + "\n"


def _lines(document: Document) -> Iterator[str]:
    for block in document.blocks:
        match block:
            case Heading(_, text):
                yield ""
                yield text.upper()
            case Para(run, _):
                yield from _wrap(_run(run))
            case Items(items, depths):
                for item, depth in zip(items, depths or (0,) * len(items), strict=True):
                    yield from _wrap(_run(item), "  " * depth + "- ")
            case Table(head, rows):
                yield from _table([head, *([cell.text for cell in row] for row in rows)])
            case Ruled(label, text, _):
                yield from _wrap(f"{label}: {text}")


def _run(run: tuple[Sentence, ...]) -> str:
    return " ".join(s.text for s in run)


def _wrap(text: str, start: str = "") -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=start, subsequent_indent=" " * len(start),
                         break_on_hyphens=False) or [""]


def _table(rows: list) -> Iterator[str]:
    """Columns side by side, each wrapped in its own width; a row of labels first."""
    columns = len(rows[0])
    rest = (WIDTH - FIRST_COLUMN - GAP * (columns - 1)) // max(columns - 1, 1)
    widths = [FIRST_COLUMN, *[rest] * (columns - 1)]
    for row in rows:
        cells = [textwrap.wrap(c, w, break_on_hyphens=False) or [""] for c, w in zip(row, widths, strict=True)]
        for parts in zip_longest(*cells, fillvalue=""):
            yield (" " * GAP).join(p.ljust(w) for p, w in zip(parts, widths, strict=True)).rstrip()
        yield ""
