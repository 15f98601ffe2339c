"""What every survey test needs: the shipped vocabulary, and a survey from a text."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from advisor import paths, rulebase
from advisor.rulebase.model import Entry
from advisor.survey import Survey, read


@pytest.fixture(scope="session")
def vocabulary() -> Mapping[str, Entry]:
    return rulebase.load().survey_entries()


@pytest.fixture(scope="session")
def demo(vocabulary: Mapping[str, Entry]) -> Survey:
    return read(paths.SURVEYS / "terrace_two_showers.toml", vocabulary)


@pytest.fixture
def survey_of(tmp_path: Path, vocabulary: Mapping[str, Entry]) -> Callable[[str], Survey]:
    """Reads a text as a survey file; `survey_format` is put at its head."""

    def made(text: str) -> Survey:
        path = tmp_path / "home.toml"
        path.write_text(f"survey_format = 1\n{text}", encoding="utf-8")
        return read(path, vocabulary)

    return made


@pytest.fixture
def survey_file(tmp_path: Path) -> Callable[[str], Path]:
    """Writes a whole survey file and says where it is."""

    def made(text: str) -> Path:
        path = tmp_path / "written.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return made
