"""What the terminal says of works, counts and the runner-up."""

from __future__ import annotations

from advisor.report.terminal import summary
from tests import homes


def _spoken(**changes: str) -> str:
    survey = homes.survey(homes.DEMO).with_changes(changes)
    return " ".join(summary(homes.quick(survey)).split())


def test_a_work_that_may_not_be_needed_is_not_said_to_come_first() -> None:
    """The pressure at the meter is unread: putting it right is work only if it is found low."""
    work = "Have the gas network or the supplier put the meter pressure right."
    assert f"If found needed: {work}" in _spoken(**{"gas.working_pressure": "unknown"})
    assert f"Works first: {work}" in _spoken(**{"gas.working_pressure": "18 mbar"})


def test_one_layout_is_counted_as_one() -> None:
    assert "(decides 1 layout)" in _spoken() and "1 layouts" not in _spoken()
