"""The sheet to print: every question is on it, it asks for nothing outside itself, and it has room to write."""

from __future__ import annotations

import html
import re
import shutil
import subprocess
from pathlib import Path

import pytest
from typer.testing import CliRunner

from advisor.cli.survey import app
from advisor.survey.fields import Fields
from advisor.survey.sheet import COLUMNS, sheet

MOST_SIDES = 4
BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")
QUIET = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--no-pdf-header-footer",
         "--disable-background-networking", "--disable-component-update", "--disable-sync"]


@pytest.fixture(scope="module")
def page(vocabulary) -> str:
    return sheet(Fields.of(vocabulary))


def test_every_question_stands_there_with_tool_unit_and_words(page: str, vocabulary) -> None:
    rows = {re.sub(r"<[^>]+>", " ", row).replace("&ensp;", " ").replace("  ", " ") for row in page.split("<tr>")}
    for entry in vocabulary.values():
        if entry.field.startswith("confirmed."):
            continue
        asked = [r for r in rows if html.escape(entry.question) in r]
        assert asked, entry.field
        if not entry.field.startswith("wishes."):
            assert any(html.escape(entry.tool) in r for r in asked), entry.field
        wanted = entry.domain if entry.kind == "words" else [entry.unit]
        missing = [w for w in wanted if w != entry.default and not any(str(w) in r for r in asked)]
        assert missing in ([], ["none"]), entry.field


def test_each_number_has_a_line_and_each_word_a_box(page: str, vocabulary) -> None:
    def wide(entry) -> int:
        return COLUMNS.get(entry.field.split(".NAME.")[0], 1)

    asked = [e for e in vocabulary.values() if not e.field.startswith("confirmed.")]
    boxes = sum(len([w for w in e.domain if not (e.field.startswith("wishes.") and w == e.default)]) * wide(e)
                for e in asked if e.kind == "words")
    assert page.count('class="box"') == boxes + len(COLUMNS)  # and "all listed" for each list
    lines = sum(e.kind == "number" and "NAME" not in e.field for e in asked)
    assert page.count('class="write "') == lines + 5  # and five at the head


def test_the_sheet_is_self_contained(page: str) -> None:
    assert not re.findall(r"(?:src|href|action)=|url\(|@import|<script|<link|<img", page)
    assert page.isprintable() or "\n" in page


def test_the_command_prints_or_writes_and_overwrites_nothing(tmp_path: Path, page: str) -> None:
    shown = CliRunner().invoke(app, ["sheet"])
    assert shown.exit_code == 0 and shown.output == page
    path = tmp_path / "sheet.html"
    assert CliRunner().invoke(app, ["sheet", str(path)]).exit_code == 0
    assert path.read_text(encoding="utf-8") == page
    assert CliRunner().invoke(app, ["sheet", str(path)]).exit_code != 0


@pytest.mark.skipif(BROWSER is None, reason="no browser is installed here")
def test_it_prints_on_four_sides_of_a4(tmp_path: Path, page: str) -> None:
    source, target = tmp_path / "sheet.html", tmp_path / "sheet.pdf"
    source.write_text(page, encoding="utf-8")
    subprocess.run([str(BROWSER), *QUIET, f"--user-data-dir={tmp_path / 'profile'}", f"--print-to-pdf={target}",
                    source.as_uri()], check=True, capture_output=True, timeout=120)
    printed = target.read_bytes()
    assert 1 <= len(re.findall(rb"/Type\s*/Page\b", printed)) <= MOST_SIDES
    assert {tuple(round(float(v)) for v in box.split()) for box in re.findall(rb"/MediaBox\s*\[([^]]+)\]", printed)} \
        <= {(0, 0, 595, 842), (0, 0, 596, 842)}  # A4 in points: 210 mm x 297 mm
