"""Markdown and HTML: text stays text, whatever a survey holds; one file, no network, ids on the elements."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest
from markdown_it import MarkdownIt

from advisor.report.claims import Claim, Document, Heading, Items, Note, Para, Ruled, Table, pieces, words
from advisor.report.html import html
from advisor.report.letter import letter
from advisor.report.lint import lint, lint_html
from advisor.report.markdown import markdown
from advisor.report.technical import technical
from tests.report import small

HOSTILE = [
    "<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "{outlet_flow_l_min} {0} {}", "a | b | c", "`code` ``x``",
    "**bold** _under_ ~~gone~~", "[a](http://example.org)", "![p](http://example.org/p.png)", "1. first", "- item",
    "# heading", "> quote", "---", "&lt;b&gt; &amp;", "\\* back\\slash", "new\nline\n\n# head", "tab\tand\x00nul\x07",
    "\u202eright to left", "\ue0000\ue001private\ue003", "http://example.org", "line\u2028sep", "$x^2$", "<!-- c -->",
    "data-claim=\"f1\"", "'\"><svg/onload=alert(1)>", "100 % sure", "é ü ñ 水", "+ plus", "= equals",
]


class Text(HTMLParser):
    """All text of a page outside its style, and every tag it has."""

    def __init__(self) -> None:
        super().__init__()
        self.text, self.tags, self.skip = "", [], False

    def handle_starttag(self, tag, attrs) -> None:
        self.tags.append(tag)
        self.skip = tag in ("style", "title")

    def handle_endtag(self, tag) -> None:
        self.skip = False

    def handle_data(self, data) -> None:
        self.text += "" if self.skip else data


def read(page: str) -> Text:
    reader = Text()
    reader.feed(page)
    return reader


def squeezed(text: str) -> str:
    return re.sub(r"\s+", " ", text).strip()


TAGS = {"html", "head", "meta", "title", "style", "body", "main", "h1", "h2", "h3", "p", "ul", "li", "span", "strong",
        "div", "table", "thead", "tbody", "tr", "th", "td", "a"}


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_stays_text_everywhere(text: str) -> None:
    from advisor.report.wording import clean

    shown = clean(text)
    claim = Claim(f"{shown} said.", ("f1",), ((shown, "k"),))
    document = Document("A test", (
        Heading(2, shown), Para((claim, Note(shown))), Items(((claim,), (Note(shown),))), Ruled("Name", shown),
        Table(("Head", shown), ((Note(shown), claim),))))
    page = read(html(document, {"k": "f1"}))
    assert set(page.tags) <= TAGS
    assert page.text.count(shown) == 9, page.text
    again = read(MarkdownIt("commonmark", {"html": False}).enable("table").render(markdown(document, {"k": "f1"})))
    assert set(again.tags) <= TAGS
    assert again.text.count(shown) == 9, again.text


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_survey_passes_through_both_reports(text: str, chapter) -> None:
    advice = small.advice(title=f"A cylinder in the {text}", material=text, private={"name": text})
    ids = {f.key: f.id for f in advice.book}
    for make in (letter, technical):
        document = make(advice)
        assert lint(document, advice) == []
        page = html(document, ids, make.__name__)
        assert lint_html(page, document, advice) == []
        assert set(read(page).tags) <= TAGS


def test_braces_in_data_are_not_filled(chapter) -> None:
    advice = small.advice(material="{nation}")
    page = read(html(letter(advice), {f.key: f.id for f in advice.book}))
    assert "The pipe is {nation}." in page.text


def test_page_asks_for_nothing_outside(chapter) -> None:
    advice = small.advice()
    for make in (letter, technical):
        page = html(make(advice), {f.key: f.id for f in advice.book}, make.__name__)
        assert not re.search(r"https?://|src=|url\(|@import|<script|<link|<iframe", page)
        assert re.findall(r'href="(?!#)', page) == []


def test_ids_stand_on_the_elements(chapter) -> None:
    advice = small.advice()
    page = html(letter(advice), {f.key: f.id for f in advice.book})
    flow = advice.book[f"{small.FLOW}@{small.COMBI}"].id
    assert f'<span data-fact="{flow}">12.3\u00a0l/min</span>' in page
    for found in re.findall(r'data-claim="([^"]*)"', page):
        assert found.split()
        assert all(re.fullmatch(r"f\d+", i) or i in small.RULES for i in found.split())


def test_technical_marks_lead_to_a_row(chapter) -> None:
    advice = small.advice()
    page = html(technical(advice), {f.key: f.id for f in advice.book}, "technical")
    targets = set(re.findall(r'<tr id="(f\d+)">', page))
    links = re.findall(r'href="#(f\d+)"', page)
    assert links and set(links) <= targets


def test_a_missing_name_or_date_is_a_line_to_fill_in(chapter) -> None:
    advice = small.advice(private={"name": "A. Fell"})
    ids = {f.key: f.id for f in advice.book}
    text = markdown(letter(advice), ids)
    assert "For: A. Fell" in text
    assert re.search(r"^Address: (\\_)+$", text, re.M) and re.search(r"^Surveyed on: (\\_)+$", text, re.M)
    assert html(letter(advice), ids).count('class="blank"') == 4  # address, surveyed on, installer, date


def test_pieces_find_whole_words_in_their_turn() -> None:
    claim = Claim("A lead that leads to lead.", ("f1",), (("lead", "a"), ("lead", "b")))
    assert pieces(claim) == [("A ", ""), ("lead", "a"), (" that leads to ", ""), ("lead", "b"), (".", "")]
    with pytest.raises(ValueError, match="does not stand"):
        pieces(Claim("Nothing.", ("f1",), (("lead", "a"),)))


def test_words_are_counted_as_a_reader_meets_them() -> None:
    document = Document("Not counted", (Heading(2, "Two words"), Para((Note("Three more words."),)), Ruled("Name")))
    assert words(document) == 5
