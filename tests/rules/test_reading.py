"""A rule read aloud: what an installer must find in it."""

from __future__ import annotations

import re

import pytest

from advisor.upkeep.reading import rule_text
from tests import homes
from tests.rules import rulegraph


def text(rule: str) -> str:
    return " ".join(rule_text(homes.base(), homes.base().rules[rule]).split())


@pytest.mark.parametrize(("rule", "said"), [
    # the limit with its figure, unit and clause (IGEM/G/13 as the gas register quotes it: 18.5 mbar)
    ("gas-pressure-low-at-the-meter", "is below 18.5 mbar (gas_pressure_low_mbar: IGEM/G/13"),
    ("gas-pressure-low-at-the-meter", "below the 18.50 mbar that is the least"),
    ("condensate-bore-too-small", "Source: BS 6798:2014, 6.3.7.1.4 [published] (seen in a reprint or report"),
    ("no-gas-for-a-burner", "then the layout is ruled out"),
    ("carbon-monoxide-alarm", "in Wales and Scotland and Northern Ireland it decides nothing"),
    ("carbon-monoxide-alarm", "It guards against harm"),
    ("unvented-discharge-outside-table", "then the layout waits for the answer to"),
    ("old-home-may-share-its-pipe", "then it is asked: \"Is the supply shared?"),
    ("gas-pipe-too-thin", "works: Run the gas pipe from meter to boiler in 28 mm"),
    ("gas-pipe-too-thin", "which is 0.40 mbar short"),
])
def test_what_an_installer_looks_for_is_said(rule: str, said: str) -> None:
    assert said in text(rule)


def test_no_variable_and_no_brace_is_left_in_any() -> None:
    wrong = [r for r in rulegraph.written() if re.search(r"[{}]|\$", text(r))]
    assert not wrong
