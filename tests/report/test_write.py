"""`write` puts down four whole files, or none when a sentence does not hold."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor import report
from advisor.report import letter as letter_module
from advisor.report import technical as technical_module
from advisor.report.claims import Claim, Document, Para
from tests.report import small

FILES = {"letter.md", "letter.html", "technical.md", "technical.html"}


def test_four_files_and_nothing_else(tmp_path: Path, chapter) -> None:
    out = tmp_path / "deep" / "advice"
    written = report.write(small.advice(), out)
    assert {p.name for p in written} == FILES == {p.name for p in out.iterdir()}


def test_the_same_advice_writes_the_same_bytes(tmp_path: Path, chapter) -> None:
    first, second = tmp_path / "a", tmp_path / "b"
    report.write(small.advice(), first)
    report.write(small.advice(), second)
    for name in FILES:
        assert (first / name).read_bytes() == (second / name).read_bytes()


@pytest.mark.parametrize("module", [letter_module, technical_module])
def test_a_sentence_that_does_not_hold_is_an_error_that_shows_it(tmp_path: Path, chapter, monkeypatch, module) -> None:
    bad = Document("A report", (Para((Claim("The pipe is too thin."),)),))
    monkeypatch.setattr(module, module.__name__.rpartition(".")[2], lambda *_: bad)
    with pytest.raises(RuntimeError, match="The pipe is too thin"):
        report.write(small.advice(), tmp_path / "out")
    assert not (tmp_path / "out").exists()
