"""The table of agreement in DEVELOPERS.md says what is measured."""

from __future__ import annotations

import re

import pytest

from tests.calc.agreement import PAGE, TABLE, rows

FIGURE = re.compile(r"[+-]\d+\.\d+")
OFF = 0.3  # per cent: another release of a library may move a figure so far


def test_the_page_says_what_is_measured() -> None:
    found = TABLE.search(PAGE.read_text(encoding="utf-8"))
    assert found, "the table is gone: python -m tests.calc.agreement writes it"
    printed, measured = found[0].splitlines()[2:], rows()
    assert [FIGURE.sub("", row) for row in printed] == [FIGURE.sub("", row) for row in measured]
    for said, is_so in zip(printed, measured, strict=True):
        assert [float(x) for x in FIGURE.findall(said)] == pytest.approx(
            [float(x) for x in FIGURE.findall(is_so)], abs=OFF), "write it anew with python -m tests.calc.agreement"
