"""Claims -> words -> letter, technical report, Markdown, HTML. Rounding and unit printing happen only here."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from advisor.files import write_whole
from advisor.records import Advice

if TYPE_CHECKING:
    from advisor.contrast.near import Near


def write(advice: Advice, directory: Path, limits: Near | None = None) -> list[Path]:
    """Write letter and technical report, each as Markdown and HTML, once the claim lint has passed both.

    `limits` are the readings the advice holds for (`contrast.near`); without them neither says how far it holds.

    Raises
    ------
    RuntimeError : when a sentence does not stand on a fact, a check or a rule (a fault of the program); it is shown
        and no file is written
    OSError : when a file cannot be written
    """
    from advisor.report.letter import letter
    from advisor.report.technical import technical

    texts = {name: text for kind, make in (("letter", letter), ("technical", technical))
             for name, text in _rendered(advice, kind, make(advice, limits)).items()}
    for name, text in texts.items():
        write_whole(directory / name, text)
    return [directory / name for name in texts]


def _rendered(advice: Advice, kind: str, document) -> dict[str, str]:
    """The document's two files by name, or RuntimeError with the first sentences that do not hold."""
    from advisor.report.html import html
    from advisor.report.lint import lint, lint_html
    from advisor.report.markdown import markdown

    ids = {fact.key: fact.id for fact in advice.book}
    page = html(document, ids, kind)
    faults = [*lint(document, advice), *lint_html(page, document, advice)]
    if faults:
        raise RuntimeError(f"the {kind} was not written: {len(faults)} sentences do not hold. First: "
                           + "; ".join(faults[:3]))
    drawn = [d for block in document.blocks for d in getattr(block, "drawn", ()) if d.svg]
    return {f"{kind}.md": markdown(document, ids), f"{kind}.html": page, **{d.file: d.svg + "\n" for d in drawn}}


def write_document(advice: Advice, name: str, document, directory: Path) -> list[Path]:
    """Write one document as Markdown and HTML, once the claim lint has passed it; errors as of `write`."""
    texts = _rendered(advice, name, document)
    for file, text in texts.items():
        write_whole(directory / file, text)
    return [directory / file for file in texts]
