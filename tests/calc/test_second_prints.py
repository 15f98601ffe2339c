"""Tables held against a second print or an example that uses them, and the sources we knowingly differ from.

Figures are typed from the source named; ids are those of `ledger.toml`.
"""

from __future__ import annotations

import math

import pytest

from advisor import tables
from advisor.calc import circuits, gas_pipe, house, loading, metering, pipes, sap, storage
from advisor.calc.constants import WATER_KJ_KG_K
from advisor.calc.expansion import heating_factor, vessel
from advisor.calc.gas import input_rate
from advisor.calc.public import answer


@pytest.mark.parametrize("size, l_s, velocity, kpa_m", [
    pytest.param(28, 0.9, 1.7, 1.4, id="PIPE-01"), pytest.param(22, 0.6, 2.0, 2.5, id="PIPE-02"),
    pytest.param(15, 0.3, 2.2, 5.0, id="PIPE-03", marks=pytest.mark.xfail(strict=True, reason=(
        "the chart reading lies 20.1 % above smooth-pipe theory (3.99 kPa/m), just past a reading error of 20 %"))), pytest.param(15, 0.2, 1.5, 2.3, id="PIPE-04"),
    pytest.param(15, 0.1, 0.75, 0.6, id="PIPE-05"), pytest.param(28, 0.35, 0.63, 0.25, id="PIPE-06"),
    pytest.param(22, 0.32, 1.0, 0.8, id="PIPE-07"), pytest.param(22, 0.3, 0.9, 0.65, id="PIPE-08"),
    pytest.param(15, 0.15, 1.1, 1.3, id="PIPE-09")])
def test_chart_of_bs_6700(size: int, l_s: float, velocity: float, kpa_m: float) -> None:
    """BS 6700:2006 Table D.4, read off a chart: speed within a tenth, loss 0 to 20 % above smooth-pipe theory."""
    found = answer("water-drop", {"size": f"{size} mm", "flow": f"{l_s * 60:g} l/min", "length": "1 m",
                                  "temperature": "10 C"}).result
    assert found["velocity"] == pytest.approx(velocity, rel=0.1)
    assert found["drop"] == pytest.approx(kpa_m, rel=0.2)


@pytest.mark.parametrize("pa_m", [200, 300, 400, 500, 600, 800])
def test_hot_water_table_of_the_services_guide(pa_m: int) -> None:
    """CIBSE Guide in reprint, kg/s at 75 C: 15, 28 and 35 mm within 5 %, its 22 mm column a tenth low in every row."""
    row = tables.load("pipe_flow_hot_water").row(pa_m=pa_m)
    for size, tolerance in ((15, 0.05), (22, 0.12), (28, 0.05), (35, 0.05)):
        kg_s = circuits.flow_at_loss(size, pa_m / 1000, 75.0) / 60 * pipes.water_at(75.0)[0] / 1000
        assert kg_s == pytest.approx(row[f"mm_{size}"], rel=tolerance), size


def test_radiators_on_one_pipe_of_the_textbook() -> None:
    """Building Services Engineering (5th ed.), Example 4.2: three radiators, 0.165 kg/s, go through 22 mm at 200 Pa/m."""
    assert tables.load("pipe_flow_hot_water").row(pa_m=200)["mm_22"] >= 0.165 > tables.load(
        "pipe_flow_hot_water").row(pa_m=200)["mm_15"]


def test_speeds_of_publication_150() -> None:
    found = {row["limit"]: row["speed_m_s"] for row in tables.load("water_speed").rows}
    assert found == {"dirt settles below": 0.5, "quiet": 1.5, "wears the pipe above": 2.5}


def test_fittings_of_publication_150() -> None:
    """Table 1: capillary elbow 0.37, 0.60, 0.83 m; compression 0.60, 1.00, 1.30; bend 0.26, 0.41, 0.58; valve 0.3, 0.4, 0.6."""
    found = {row["fitting"]: (row["mm_15"], row["mm_22"], row["mm_28"]) for row in tables.load("water_fittings").rows}
    assert found == {"capillary elbow": (0.37, 0.6, 0.83), "compression elbow": (0.6, 1.0, 1.3),
                     "bend": (0.26, 0.41, 0.58), "straight valve": (0.3, 0.4, 0.6)}


@pytest.mark.parametrize("units, l_s, tolerance", [
    pytest.param(45, 0.72, 0.03, id="LU-05"), pytest.param(10, 0.30, 0.02, id="LU-06"),
    pytest.param(11.5, 0.32, 0.02, id="LU-06 (11.5)"), pytest.param(13.5, 0.35, 0.02, id="LU-06 (13.5)")])
def test_design_flow_of_loading_units(units: float, l_s: float, tolerance: float) -> None:
    assert loading.design_flow(units) == pytest.approx(l_s, abs=tolerance)


@pytest.mark.parametrize("fitting, design, least, units", [
    pytest.param("bath", 0.4, 0.3, 4, id="LU-T1"), pytest.param("shower", 0.2, 0.15, 2, id="LU-T1 shower"),
    pytest.param("washbasin", 0.1, 0.1, 1, id="LU-T1 basin"), pytest.param("garden tap", 0.5, 0.4, 5, id="LU-T1 garden")])
def test_units_of_en_806_3(fitting: str, design: float, least: float, units: float) -> None:
    row = loading.SCALES["en806"].row(fitting=fitting)
    assert (row["design_l_s"], row["least_l_s"], row["units"]) == (design, least, units)


@pytest.mark.parametrize("fitting, design, least, units", [
    pytest.param("bath", 0.3, 0.2, 10, id="LU-T2"), pytest.param("shower", 0.2, 0.1, 3, id="LU-T2 shower"),
    pytest.param("wc", 0.13, 0.05, 2, id="LU-T2 wc"), pytest.param("bath DN25", 0.6, 0.4, 22, id="LU-T2 large bath")])
def test_units_of_bs_6700(fitting: str, design: float, least: float, units: float) -> None:
    row = loading.SCALES["bs6700"].row(fitting=fitting)
    assert (row["design_l_s"], row["least_l_s"], row["units"]) == (design, least, units)


def test_the_two_scales_do_not_mix() -> None:
    """The same four fittings: 10 units of EN 806-3, 19 of BS 6700 (10 + 2 x 1.5 + 3 + 3)."""
    group = {"bath": 1, "washbasin": 2, "shower": 1, "sink": 1}
    assert (loading.units("en806", group), loading.units("bs6700", group)) == (10, 19)


@pytest.mark.parametrize("pa_m", [3, 5, 7, 10])
def test_gas_of_the_second_table_is_within_a_fifth(pa_m: int) -> None:
    """GAS-15: IHVE Guide in reprint against the discharge table of BS 6891, which know nothing of each other."""
    for size in (22, 28):
        l_s = tables.load("gas_copper_second").row(pa_m=pa_m)[f"mm_{size}"]
        assert gas_pipe.gradient(size, l_s * 3.6) * 100 == pytest.approx(pa_m, rel=0.2)  # mbar/m to Pa/m


def test_worked_gas_pipe_of_the_textbook() -> None:
    """Building Services Engineering (5th ed.), Example 12.6: 1.75 l/s at 5.1 Pa/m takes 28 mm."""
    row = tables.load("gas_copper_second").row(pa_m=5)
    assert (row["mm_15"], row["mm_22"], row["mm_28"]) == (0.29, 0.81, 1.8)
    assert min(size for size in (15, 22, 28) if row[f"mm_{size}"] >= 1.75) == 28


def pole(bore_mm: float, length_m: float) -> float:
    """Pole's formula at 1 mbar and relative density 0.6, m3/h; its metric constant is from memory."""
    return 0.0071 * math.sqrt(bore_mm**5 / (0.6 * length_m))


@pytest.mark.xfail(strict=True, reason="Pole's formula promises 3 % too much in 28 mm and 24 % in 22 mm against the table")
@pytest.mark.parametrize("size, bore, length, m3_h", [
    pytest.param(28, 26.2, 3, 18.6, id="GAS-16"), pytest.param(22, 20.2, 12, 4.85, id="GAS-17")])
def test_poles_formula_is_the_table(size: int, bore: float, length: float, m3_h: float) -> None:
    assert pole(bore, length) == pytest.approx(m3_h, abs=0.1)  # the entry itself is right
    assert length * gas_pipe.gradient(size, m3_h) == pytest.approx(1.0, abs=0.01)  # ours loses more than 1 mbar there


@pytest.mark.xfail(strict=True, reason="0.063 at 0.7 bar, printed in three manuals, belongs to a cooler system than the "
                                       "table of 0.0833 at 0.5 bar: the conventions must not be mixed")
def test_factor_of_the_cooler_convention() -> None:
    """EXP-11."""
    assert heating_factor(3.0, 0.7) == pytest.approx(0.063, abs=0.002)


def test_vessel_of_the_stove_manual() -> None:
    """EXP-07: 600 l, e 0.035, charge 1.3 bar (static 1.0 and 0.3), valve 3 bar: 600 x 0.035 / (1 - 2.3/4) = 49.4 l."""
    assert vessel(600 * 0.035, 1.3, 3.0) == pytest.approx(49.4, abs=0.1)


def test_design_loss_of_the_textbook() -> None:
    """HL-04, Building Services Engineering (5th ed.), Example 3.6: F1 1.0, F2 1.1, 25 K: 10 390 + 5 445 = 15 835 W."""
    assert house.design_loss(415.6, 0.33 * 600, 25, 1.0, 1.1) == pytest.approx(15835, abs=1)
    assert house.design_loss(415.6, 0.33 * 600, 25, 1.0, 1.0) == pytest.approx(15340, abs=1)


def test_primary_loss_of_an_assessor_worksheet() -> None:
    """STD-08: January, bare pipes, 3 h: 43.3132 kWh."""
    assert sap.primary_loss(31, 0, 3) == pytest.approx(43.3132, abs=0.0005)


def test_low_water_use() -> None:
    """SAP-03: SAP 2012 Table 1b, 111 l x 0.95 = 105.45 l where fittings are limited to 125 l a person a day."""
    assert 0.95 * answer("daily-hot-water", {"people": "3"}).result["volume"] == pytest.approx(105.45)


def test_months_of_sap_2012() -> None:
    """SAP-T: factors sum to 12 over twelve months and rises run from 30.4 K in July to 41.4 K in February."""
    assert sum(m["factor"] for m in sap.MONTHS) == pytest.approx(12)  # 2 x (1.1 + 1.06 + 1.02 + 0.98 + 0.94 + 0.9)
    assert {m["month"]: m["rise_k"] for m in sap.MONTHS if m["month"] in ("Feb", "Jul")} == {"Feb": 41.4, "Jul": 30.4}
    assert sum(m["days"] for m in sap.MONTHS) == 365


def test_specific_heat_of_water() -> None:
    """H2O-02: 4.192, 4.182, 4.179, 4.184 and 4.196 kJ/(kg K) from 10 to 80 C; ours, one figure, lies among them."""
    assert 4.179 <= WATER_KJ_KG_K <= 4.196


def test_enthalpy_rise_of_water() -> None:
    """H2O-03: 251.2 - 42.1 = 209.1 kJ/kg from 10 to 60 C, IAPWS-IF97; 50 x 4.187 = 209.35."""
    assert pytest.approx(209.1, abs=0.3) == 50 * WATER_KJ_KG_K


def test_energy_of_a_litre_and_a_kelvin() -> None:
    """H2O-06: a calorifier sizing note, 0.001163 kWh within 0.3 %."""
    assert metering.heat_content(1, 1) == pytest.approx(0.001163, rel=0.003)


def test_declared_flow_of_a_boiler() -> None:
    """INST-08, data page, brand withheld: 28.45 kW at 30 K declares 13.3 l/min; pure heat gives 13.6 (-5 %, +1 %)."""
    ours = answer("instant-flow", {"power": "28.45 kW", "rise": "30 K"}).result["flow"]
    assert ours == pytest.approx(13.6, abs=0.05) and 0.95 <= 13.3 / ours <= 1.01


@pytest.mark.parametrize("wanted, tank, share", [
    pytest.param(3600, 5142.9, 0.7, id="W-HW-1a"), pytest.param(1500, 2142.9, 0.7, id="W-HW-1b"),
    pytest.param(414, 591.4, 0.7, id="W-HW-2a")])
def test_usable_share_turns_a_draw_into_a_tank(wanted: float, tank: float, share: float) -> None:
    """Handbook dormitory (300 x 12 and 300 x 5 gallons, printed 5 150 and 2 150) and flats (331 x 1.25): gallons kept."""
    assert storage.mixed_volume(tank, 60, 10, 60, share) == pytest.approx(wanted, abs=1)


def test_flats_of_the_plumbing_article() -> None:
    """W-HW-2a: 16 x (10 + 15 + 2 x 2 + 2 x 20) = 1104 gallons an hour; x 0.3 = 331; x 1.25 = 414."""
    total = 16 * (10 + 15 + 2 * 2 + 2 * 20)
    assert total == 1104 and round(total * 0.3) == 331 and round(total * 0.3 * 1.25) == 414
    assert storage.mixed_volume(591, 60, 10, 60, 0.7) == pytest.approx(total * 0.3 * 1.25, abs=1)


def test_factors_of_the_whole_house_method() -> None:
    """W-HL-T, factor page: a cell of every kind."""
    cell = house.FACTORS.row
    assert (cell(factor="house", of="detached")["value"], cell(factor="window", of="single metal")["value"],
            cell(factor="wall", of="solid 220")["value"], cell(factor="roof", of="pitched below 50")["value"],
            cell(factor="region", of="south west")["value"]) == (0.17, 5.8, 2.1, 2.6, 25)


def test_boiler_page_rates_imply_one_calorific_value() -> None:
    """GAS-05: 30.25 kW at 2.82 m3/h is 38.6 MJ/m3, within 1 % of the 38.5 the other rows imply."""
    assert input_rate(30.25, 38.5) == pytest.approx(2.82, rel=0.01)
