"""Discharge pipe sizing held against published worked examples and Table 3.1."""

from __future__ import annotations

import pytest

from advisor.calc import OutOfRange
from advisor.calc.discharge import D2, d2_trials, discharge_d2_mm, discharge_equivalent_m, discharge_over_table_m

PUBLISHED = [
    # outlet, run, elbows -> every size tried: (mm, equivalent m, fits)
    pytest.param("G1/2", 7.0, 4, [(22, 10.2, False), (28, 11.0, True)], id="Approved Document G, Table 3.1 example"),
    pytest.param("G1/2", 6.0, 6, [(22, 10.8, False), (28, 12.0, True)],
                 id="Level 3 plumbing textbook 2019, exercise on the discharge table"),
    pytest.param("G1/2", 9.0, 5, [(22, 13.0, False), (28, 14.0, True)],
                 id="Level 3 plumbing textbook 2019, second exercise (9 + 5 x 1.0)"),
    pytest.param("G1/2", 4.0, 3, [(22, 6.4, True)], id="common practice, store upstairs: 4 + 3 x 0.8"),
    pytest.param("G3/4", 10.0, 2, [(28, 12.0, False), (35, 12.8, True)], id="Table 3.1, G3/4: 10 + 2 x 1.4"),
    pytest.param("G1", 18.0, 1, [(35, 19.4, False), (42, 19.7, False), (54, 20.3, True)], id="Table 3.1, G1: 18 + 2.3"),
]
TABLE_3_1 = [("G1/2", 15, 22, 9, 0.8), ("G1/2", 15, 28, 18, 1.0), ("G1/2", 15, 35, 27, 1.4), ("G3/4", 22, 28, 9, 1.0),
             ("G3/4", 22, 35, 18, 1.4), ("G3/4", 22, 42, 27, 1.7), ("G1", 28, 35, 9, 1.4), ("G1", 28, 42, 18, 1.7),
             ("G1", 28, 54, 27, 2.3)]


@pytest.mark.parametrize("outlet, straight_m, elbows, expected", PUBLISHED)
def test_published_example(outlet, straight_m, elbows, expected):
    trials = d2_trials(outlet, straight_m, elbows)
    assert [(t.d2_mm, pytest.approx(t.equivalent_m), t.fits) for t in trials] == expected


def test_every_cell_of_table_3_1():
    rows = [(r["valve_outlet"], r["d1_mm"], r["d2_mm"], r["limit_m"], r["elbow_m"]) for r in D2.rows]
    assert rows == TABLE_3_1


def test_table_grows_one_pipe_size_per_nine_metres():
    """Water Regulations guidance G19.4(d): one size up for each further 9 m."""
    for outlet in ("G1/2", "G3/4", "G1"):
        assert [r["limit_m"] for r in D2.rows if r["valve_outlet"] == outlet] == [9.0, 18.0, 27.0]


def test_run_of_exactly_the_limit_fits():
    assert discharge_d2_mm(9.0, 0) == 22 and discharge_d2_mm(9.01, 0) == 28
    assert discharge_d2_mm(4.2, 6) == 22  # 4.2 + 6 x 0.8 = 9.0, whatever binary fractions make of it


def test_four_elbows_leave_fourteen_metres_in_28_mm():
    """Approved Document G, worked example in its subtraction form: 18 - 4 x 1.0."""
    assert discharge_d2_mm(14.0, 4) == 28 and discharge_d2_mm(14.1, 4) == 35


def test_past_the_last_row_the_table_is_silent():
    with pytest.raises(OutOfRange, match="27 m"):
        discharge_d2_mm(27.5, 0)
    assert discharge_over_table_m(27.5, 0) == pytest.approx(0.5)
    assert discharge_over_table_m(21.4, 4) == 0.0  # 21.4 + 4 x 1.4 = 27
    assert discharge_equivalent_m(27.5, 2) == pytest.approx(30.3)  # 27.5 + 2 x 1.4


@pytest.mark.parametrize("outlet, run, elbows, words", [("G1/2", -1, 0, "negative"), ("G2", 5, 0, "G1, G1/2, G3/4")])
def test_refused(outlet, run, elbows, words):
    with pytest.raises(OutOfRange, match=words):
        d2_trials(outlet, run, elbows)
