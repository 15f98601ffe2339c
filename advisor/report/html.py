"""Document -> Markdown -> one self-contained HTML file, with the ids on the elements that hold claims and figures."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from html import escape as html_escape
from importlib import resources

from markdown_it import MarkdownIt

from advisor.report.claims import Document
from advisor.report.markdown import BLANK, CLAIM, DRAWING, END, FIGURE, SEP, Writer

_MARK = re.compile(f"{CLAIM}(\\d+){SEP}|{FIGURE}(\\d+){SEP}|{END}|{BLANK}")
_DRAWN = re.compile(f"<p>{DRAWING}(\\d+){SEP}(.*?)</p>\n?", re.DOTALL)
_PAGE = """<!DOCTYPE html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title>
<style>
{css}</style>
</head>
<body class="{kind}">
<main>
{body}</main>
</body>
</html>
"""


@lru_cache(maxsize=1)
def _css() -> str:
    return resources.files("advisor.report").joinpath("page.css").read_text(encoding="utf-8")


def html(document: Document, ids: Mapping[str, str], kind: str = "letter") -> str:
    """The document as a whole HTML page that asks the network for nothing.

    Parameters
    ----------
    ids : fact key -> fact id
    kind : class of the page, "letter" or "technical"
    """
    writer = Writer(document, ids, marks=True)
    body = MarkdownIt("commonmark", {"html": False}).enable("table").render(writer.text())
    body = _marked(body, writer)
    body = _drawings(body, writer)
    body = body.replace("<table>", '<div class="scroll"><table>').replace("</table>", "</table></div>")
    return _PAGE.format(title=html_escape(document.title), css=_css(), kind=kind, body=_numbered_rows(body))


def _marked(body: str, writer: Writer) -> str:
    """The marks replaced by elements; an end mark closes what was opened last."""
    after: list[str] = []  # what follows the end of each element that is open

    def element(found: re.Match[str]) -> str:
        if found.group(1) is not None:
            after.append("")
            return f'<span data-claim="{html_escape(" ".join(writer.claims[int(found.group(1))].ids))}">'
        if found.group(2) is not None:
            token, printed = writer.figures[int(found.group(2))]
            after.append(f'<a class="token" href="#{token}"> {token}</a>' if printed else "")
            return f'<span data-fact="{token}">'
        return '<span class="blank"></span>' if found.group(0) == BLANK else f"</span>{after.pop()}"

    return _MARK.sub(element, body)


def _drawings(body: str, writer: Writer) -> str:
    """Runs of marked paragraphs become figures in a row: the words, then the drawing itself."""
    def figure(found: re.Match[str]) -> str:
        return f"<figure><figcaption>{found.group(2)}</figcaption>{writer.drawings[int(found.group(1))]}</figure>\n"

    def row(found: re.Match[str]) -> str:
        return f'<div class="drawings">{_DRAWN.sub(figure, found.group(0))}</div>\n'

    return re.sub(f"(?:{_DRAWN.pattern})+", row, body, flags=re.DOTALL)


def _numbered_rows(body: str) -> str:
    """Rows whose first cell is a fact's token become the target of that token's links; links to nowhere are undone."""
    body = re.sub(r'<tr>(\s*<td>(?:<span[^>]*>)?)(f\d+)(?=<| )', r'<tr id="\2">\1\2', body)
    targets = set(re.findall(r'<tr id="(f\d+)">', body))
    return re.sub(r'<a class="token" href="#(f\d+)">( f\d+)</a>', lambda m: m.group(0) if m.group(1) in targets
                  else f'<span class="token">{m.group(2)}</span>', body)
