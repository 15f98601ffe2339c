"""What changed is told with what matters first."""

from __future__ import annotations

import itertools

import pytest

from advisor.contrast.whatif import whatif
from advisor.report.explaining import whatif_text
from tests import homes

# a change in each home that moves many verdicts, some of them to open
CHANGES = {
    homes.DEMO: {"outlets.loft_shower.at_once": "no"},
    "large_family_house": {"water.flow": "10 l/min"},
    "semi_weak_mains": {"heating.heat_loss": "unknown"},
    "estate_microbore": {"gas.supply": "none"},
}


@pytest.mark.parametrize("name", CHANGES)
def test_what_was_and_is_recommended_comes_first_then_what_is_decided_by_rank(name: str) -> None:
    """Read off the ranks of both pieces of advice, not off the code: no later change may matter more than an earlier."""
    before = homes.advice(name)
    after, moved = whatif(before, CHANGES[name], "plain")
    assert len(moved) > 3
    heads = [i for i in (before.recommended, after.recommended) if i in {m.arrangement for m in moved}]
    assert [m.arrangement for m in moved[:len(set(heads))]] == list(dict.fromkeys(heads))
    ranks = {m.arrangement: min(j.rank for a in (before, after) for j in a.judged if j.id == m.arrangement) for m in moved}
    for earlier, later in itertools.pairwise(moved[len(set(heads)):]):
        settled = [m.after in ("suitable", "suitable_after_works", "ruled_out") for m in (earlier, later)]
        assert settled != [False, True]
        assert settled[0] != settled[1] or ranks[earlier.arrangement] <= ranks[later.arrangement]


def test_the_recommended_layout_is_among_the_twelve_printed() -> None:
    """In the shop's example the layout that falls stands first in the list, whatever its name begins with."""
    before = homes.advice("estate_microbore")
    after, moved = whatif(before, CHANGES["estate_microbore"], "plain")
    text = whatif_text(before, after, moved)
    assert len(moved) > 12 and moved[0].arrangement == before.recommended
    listed = [line.split(":")[0].strip() for line in text.splitlines() if line.startswith("  ") and " -> " in line]
    assert listed[0] == before.recommended.split(":")[0]
