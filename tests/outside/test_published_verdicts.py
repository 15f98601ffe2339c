"""Fifty published statements, one test each: the tool must lean the way the source does.

The statements are data (`verdicts.toml`), the words of their checks are `checks.py`. A statement that the tool cannot
say, or answers otherwise on purpose, is a strict expected failure with its reason: the day it passes, the test says so.
"""

from __future__ import annotations

import tomllib
from collections import Counter
from pathlib import Path

import pytest

from tests.outside import checks

STATEMENTS = tomllib.loads((Path(__file__).parent / "verdicts.toml").read_text(encoding="utf-8"))["statement"]
GAPS = ("no question", "other figure")


def case(statement: dict) -> pytest.param:
    mark = (pytest.mark.xfail(strict=True, raises=AssertionError, reason=statement["cannot"])
            if "cannot" in statement else ())
    return pytest.param(statement, id=f"{statement['id']} ({statement['source']})", marks=mark)


@pytest.mark.parametrize("statement", [case(s) for s in STATEMENTS])
def test_published_verdict(statement: dict) -> None:
    for check in statement["checks"]:
        checks.run(statement["survey"], check)


def test_how_many_are_checked_and_what_the_others_lack() -> None:
    """Typed by hand: a row that goes missing, or a reason taken away, must be seen."""
    assert len({s["id"] for s in STATEMENTS}) == len(STATEMENTS) == 50
    lacking = Counter(s["gap"] for s in STATEMENTS if "cannot" in s)
    assert lacking == {"no question": 1, "other figure": 1}
    assert len(STATEMENTS) - lacking.total() == 48
    for s in STATEMENTS:
        assert ("cannot" in s) == ("gap" in s), s["id"]
        assert "cannot" not in s or (s["gap"] in GAPS and len(s["cannot"].split()) > 8), s["id"]


def test_every_statement_names_its_source_and_what_it_may_do() -> None:
    for s in STATEMENTS:
        assert s["checks"] and s["condition"] and s["says"] and s["source"], s["id"]
        assert s["direction"] in ("suitable", "unsuitable", "only if", "warn", "ranks", "never says"), s["id"]
        assert s["authority"] in ("textbook", "regulation", "standard", "trade", "guide"), s["id"]


def test_a_guide_never_asks_for_an_exclusion() -> None:
    """Makers, retailers and consumer pages may only warn; what cannot be built at all is no exclusion by a rule."""
    for s in STATEMENTS:
        if s["authority"] == "guide":
            assert not [c for c in s["checks"] if c["that"] == "ruled_out"], s["id"]
