"""Gas rates and pipe trees against training notes and published installations."""

from __future__ import annotations

import pytest

from advisor.calc import OutOfRange
from advisor.calc.gas import Leg, gas_rate, input_rate, path_drop, tree
from tests import homes

RATES = [
    pytest.param(10, 38.5, 0.935, 0.005, id="BS 6891 teaching sheet"),
    pytest.param(13.0, 39.0, 1.2, 0.005, id="gas revision note: 0.04 m3 in 120 s at 39 MJ/m3 is 13.0 kW"),
    pytest.param(27.94, 10.76 * 3.6, 2.597, 0.02, id="gas engineer's note: 0.088 m3 in 122 s at 10.76 kWh/m3"),
    pytest.param(7.83, 38.5, 0.73, 0.01, id="boiler data page, 7.83 kW"),
    pytest.param(11.63, 38.5, 1.09, 0.01, id="boiler data page, 11.63 kW"),
    pytest.param(30.25, 38.5, 2.82, 0.01, id="boiler data page, 30.25 kW"),
    pytest.param(65.8, 39.5, 6.0, 0.01, id="6 m3/h meter: 65.8 x 3.6 / 39.5"),
]


@pytest.mark.parametrize("kw, calorific, flow, tolerance", RATES)
def test_rate(kw, calorific, flow, tolerance):
    assert input_rate(kw, calorific) == pytest.approx(flow, abs=tolerance)


@pytest.mark.parametrize("kw, flow", [(24, 2.44), (30, 3.05), (35, 3.56), (40, 4.07)])
def test_rate_of_an_output(kw, flow):
    """kW / 0.90 x 3.6 / 39.3, by hand."""
    assert gas_rate(kw, 0.9, 39.3) == pytest.approx(flow, abs=0.01)


def test_two_sections_in_series():
    """Proportional method: 3.9 m3/h through 6 m of 22 mm loses 6/12, 1.3 through 3 m of 15 mm 3/12; 0.75 in all."""
    legs = [Leg("main", "meter", "", 22, 6, 0), Leg("last", "main", "boiler", 15, 3, 0),
            Leg("side", "main", "hob", 15, 1, 0)]
    way = tree(legs, {"boiler": 1.3, "hob": 2.6}, "boiler")
    assert [leg.drop_mbar for leg in way] == [pytest.approx(0.5), pytest.approx(0.25)]
    assert path_drop(legs, {"boiler": 1.3, "hob": 2.6}, "boiler") == pytest.approx(0.75)


def test_branching_installation_adds_its_flows():
    """2018 fuel gas code, Appendix A, Example 1: sections carry 110, 135 and 245 ft3/h (3.11, 3.82, 6.94 m3/h)."""
    legs = [Leg("s3", "meter", "", 28, 1, 0), Leg("s1", "s3", "", 28, 1, 0), Leg("s2", "s3", "", 28, 1, 0),
            Leg("a", "s1", "A", 28, 1, 0), Leg("b", "s1", "B", 28, 1, 0), Leg("c", "s2", "C", 28, 1, 0),
            Leg("d", "s2", "D", 28, 1, 0)]
    loads = {"A": 35 * 0.0283168, "B": 75 * 0.0283168, "C": 35 * 0.0283168, "D": 100 * 0.0283168}
    flows = {leg.leg: leg.flow_m3_h for end in loads for leg in tree(legs, loads, end)}
    assert flows == {"s3": pytest.approx(6.94, abs=0.01), "s1": pytest.approx(3.11, abs=0.01),
                     "s2": pytest.approx(3.82, abs=0.01), "a": pytest.approx(0.99, abs=0.01),
                     "b": pytest.approx(2.12, abs=0.01), "c": pytest.approx(0.99, abs=0.01),
                     "d": pytest.approx(2.83, abs=0.01)}


def test_an_appliance_without_a_leg_is_bracketed_or_refused():
    legs = [Leg("main", "meter", "boiler", 22, 12, 0)]
    loads = {"boiler": 2.3, "hob": 1.6}
    assert path_drop(legs, loads, "boiler") is None
    assert path_drop(legs, loads, "boiler", unplaced=0.0) == pytest.approx(0.4)  # 12/30
    assert path_drop(legs, loads, "boiler", unplaced=1.0) == pytest.approx(1.0)  # 3.9 m3/h: 12/12


@pytest.mark.parametrize("legs, words", [
    ([Leg("a", "b", "boiler", 22, 1, 0), Leg("b", "a", "", 22, 1, 0)], "no meter"),
    ([Leg("a", "nowhere", "boiler", 22, 1, 0)], "no meter"),
    ([Leg("a", "meter", "boiler", 22, 1, 0), Leg("b", "meter", "boiler", 22, 1, 0)], "2 legs end"),
    ([Leg("a", "meter", "hob", 22, 1, 0)], "no leg ends at boiler"),
    ([Leg("a", "meter", "boiler", 35, 1, 0)], "35 mm"),
])
def test_a_way_that_cannot_be_followed(legs, words):
    with pytest.raises(OutOfRange, match=words):
        tree(legs, {"boiler": 1.0}, "boiler")
    assert path_drop(legs, {"boiler": 1.0}, "boiler") is None


def test_lpg_burns_less_by_volume() -> None:
    """28 kW at 0.90 is 31.1 kW gross: x 3.6 / 93.2 MJ/m3 = 1.20 m3/h of propane, x 3.6 / 39.5 = 2.84 of natural gas."""
    home = homes.survey(homes.DEMO)
    rates = {}
    for supply in ("mains gas", "lpg"):
        advice = homes.quick(home.with_changes({"gas.supply": supply}))
        (rates[supply],) = {f.value.lo for f in advice.book if f.name == "source.gas_rate_m3_h" and "storage" in f.entity}
    assert rates == {"mains gas": pytest.approx(2.836, abs=0.001), "lpg": pytest.approx(1.202, abs=0.001)}


def test_the_pipe_of_lpg_is_left_to_its_own_tables() -> None:
    """Not computed, asked for, and neither too thin nor too long by the tables of natural gas; refused, it rules out."""
    home = homes.survey(homes.DEMO).with_changes({"gas.supply": "lpg"})
    advice, layout = homes.quick(home), "boiler-unvented-cylinder:scullery-180l-18kw"
    rules = {f.rule for f in advice[layout].findings}
    assert "lpg-pipe-sized-by-its-own-tables" in rules
    assert not rules & {"gas-pipe-too-thin", "gas-pipe-too-long-for-the-table"}
    assert advice[layout].verdict == "open"
    for answer, verdict in (("accepted", "suitable"), ("refused", "ruled_out")):
        assert homes.quick(home.with_changes({"gas.worked_design": answer}))[layout].verdict == verdict
