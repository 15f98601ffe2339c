"""Claims -> words -> letter, technical report, Markdown, HTML. Rounding and unit printing happen only here."""

from __future__ import annotations

from pathlib import Path

from advisor.files import write_whole
from advisor.records import Advice


def write(advice: Advice, directory: Path) -> list[Path]:
    """Write letter and technical report, each as Markdown and HTML, once the claim lint has passed them.

    Raises
    ------
    RuntimeError : when a sentence does not stand on a fact, a check or a rule (a fault of the program); it is shown
    OSError : when a file cannot be written
    """
    from advisor.report.html import html
    from advisor.report.letter import letter
    from advisor.report.lint import lint, lint_html
    from advisor.report.markdown import markdown
    from advisor.report.technical import technical

    ids = {fact.key: fact.id for fact in advice.book}
    written = []
    for name, document in (("letter", letter(advice)), ("technical", technical(advice))):
        page = html(document, ids, name)
        faults = [*lint(document, advice), *lint_html(page, document, advice)]
        if faults:
            raise RuntimeError(f"the {name} was not written: {len(faults)} sentences do not hold. First: "
                               + "; ".join(faults[:3]))
        for suffix, text in (("md", markdown(document, ids)), ("html", page)):
            path = directory / f"{name}.{suffix}"
            write_whole(path, text)
            written.append(path)
    return written
