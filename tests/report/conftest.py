"""The small advice speaks from a small chapter of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor import paths
from tests.report import small


@pytest.fixture
def chapter(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A directory with the one chapter of the small advice, read in place of the project's own."""
    directory = tmp_path / "explanations"
    directory.mkdir()
    (directory / "together.md").write_text(small.CHAPTER, encoding="utf-8")
    monkeypatch.setattr(paths, "EXPLANATIONS", directory)
    return directory
