"""Contradictions stop a survey; oddities are only pointed out; ranges get the benefit of the doubt."""

from __future__ import annotations

import pytest

from advisor.survey import SurveyError

# A gauge that shows more while water runs than at rest sits behind a reducing valve or was misread (trade practice).
PRESSURES = [
    ("2 bar", "2 bar", True), ("2 bar", "2.4 bar", True), ("29 psi", "2.1 bar", True),  # 29 x 0.06894757 = 1.9995 bar
    ("2 bar", "1.9 bar", False), ("2 bar", "between 1.5 bar and 2.5 bar", False),
    ("between 1 bar and 2 bar", "1.5 bar", False), ("between 1 bar and 2 bar", "2 bar", True),
]


@pytest.mark.parametrize("static, running, impossible", PRESSURES)
def test_pressure_at_rest_and_running(static: str, running: str, impossible: bool, survey_of) -> None:
    text = f'water.static_pressure = "{static}"\nwater.flow_pressure = "{running}"\n'
    if impossible:
        with pytest.raises(SurveyError, match="Read the gauge again"):
            survey_of(text)
    else:
        survey_of(text)


# W/m2 = 1000 x kW / m2; usual homes have 20 to 200 (common practice).
# 1600/100 = 16, 2000/100 = 20, 20000/100 = 200, 21000/100 = 210, 51000/100 = 510
LOSSES = [("0.35 kW", "100 m2", "out of domain"), ("1.6 kW", "100 m2", "odd"), ("2 kW", "100 m2", ""),
          ("20 kW", "100 m2", ""), ("21 kW", "100 m2", "odd"), ("51 kW", "100 m2", "impossible"),
          ("between 1 kW and 5 kW", "100 m2", ""), ("2 kW", "between 90 m2 and 120 m2", "")]


@pytest.mark.parametrize("loss, area, said", LOSSES)
def test_heat_loss_against_floor_area(loss: str, area: str, said: str, survey_of) -> None:
    text = f'heating.heat_loss = "{loss}"\nhome.floor_area = "{area}"\n'
    if said in ("impossible", "out of domain"):
        with pytest.raises(SurveyError, match="Check the units" if said == "impossible" else "Allowed: 1 to 60 kW"):
            survey_of(text)
        return
    warned = [w for w in survey_of(text).warnings if "square metre" in w]
    assert bool(warned) == (said == "odd")


ODD = [
    ('water.flow = "15 l/min"', "water.flow: the pressure at the same moment is not written"),
    ('water.inside_pipe = "15 mm"\nwater.flow = "45 l/min"\nwater.flow_pressure = "1 bar"',
     "water.flow: 45 l/min through a 15 mm pipe"),
    ('water.inside_pipe = "15 mm"\noutlets.a.kind = "shower"\noutlets.a.flow = "20 l/min"', "Time it again with a jug"),
    ('heating.heat_loss = "8 kW"\nheating.emitters = "3.9 kW"', "heating.emitters: 3.9 kW against a heat loss of 8 kW"),
    ('household.people = 2\nhousehold.busy_showers = 5', "household.busy_showers: 5 showers in one hour for 2 people"),
    ('wishes.outlets_at_once = "must"\noutlets.a.at_once = "yes"', "fewer than two outlets are marked"),
    ('existing.kind = "combination boiler"\nexisting.cylinder = "120 l"', "a combination boiler has no cylinder"),
    ('existing.kind = "electric cylinder"\nexisting.cylinder = "30 l"\nhousehold.people = 3', "30 l for 3 people"),
    ('existing.kind = "none"\nexisting.boiler_power = "24 kW"', "existing.kind is none"),
    ('home.kind = "bungalow"\nhome.storeys = 2', "a bungalow with 2 storeys"),
    ('boiler.condensate_to = "internal stack"\nboiler.condensate_outside = "2 m"', "it ends at an internal stack"),
    ('places.a.discharge_end = "none found"\nplaces.a.discharge_length = "3 m"', "Where does it lead?"),
    ('electric.main_fuse = "60 A"\nelectric.demand_now = "75 A"', "75 A on a fuse of 60 A"),
    ('gas.supply = "none"\ngas.appliances.hob.input = "8 kW"', "gas.supply: none, yet"),
    ('gas.legs.a.size = "22 mm"\ngas.legs.a.to = "boiler"', "where it begins is not written"),
    ('gas.legs.a.from = "meter"', "it leads to nothing"),
    ('gas.legs.a = { from = "meter", to = "boiler", size = "1 in" }', "25.4 mm is no usual pipe size"),
    ('gas.legs.complete = true\ngas.legs.a.from = "meter"\ngas.legs.a.to = "boiler"\ngas.appliances.hob.input = "8 kW"',
     "gas.appliances.hob: no leg leads to it"),
    ('existing.boiler_power = "28 kW"\ngas.legs.a = { from = "meter", size = "15 mm", length = "7 m" }\n'
     'gas.legs.b = { from = "a", to = "boiler", size = "15 mm", length = "6 m" }', "28 kW on 13 m of thin gas pipe"),
    ('works_date = 2026-01-15\nsurveyed_on = 2026-11-20', "lies before the survey"),
    ('existing.cylinder = "25 gallons"', "existing.cylinder: imperial gallons: 113.7 l"),  # 25 x 4.54609 = 113.65
    ('water.inside_pipe = \'3/4" BSP\'', "read as a pipe thread: 22 mm pipe"),
]


@pytest.mark.parametrize("text, expected", ODD, ids=[e for _, e in ODD])
def test_oddities_are_pointed_out_and_stop_nothing(text: str, expected: str, survey_of) -> None:
    [warning] = survey_of(text).warnings
    assert expected in warning


EVEN = [
    'water.flow = "15 l/min"\nwater.flow_pressure = "1 bar"',
    'water.inside_pipe = "22 mm"\noutlets.a.kind = "shower"\noutlets.a.flow = "20 l/min"',
    'heating.heat_loss = "8 kW"\nheating.emitters = "4 kW"',
    'household.people = 2\nhousehold.busy_showers = 4',
    'existing.boiler_power = "24 kW"\ngas.legs.a = { from = "meter", to = "boiler", size = "15 mm", length = "13 m" }',
    'electric.main_fuse = { between = ["60 A", "80 A"] }\nelectric.demand_now = "75 A"',
]


@pytest.mark.parametrize("text", EVEN)
def test_what_is_in_order_is_not_remarked_on(text: str, survey_of) -> None:
    assert survey_of(text).warnings == ()


def test_a_confirmation_wants_a_name_and_a_day(survey_of, vocabulary) -> None:
    rule = next(n for n in sorted(vocabulary) if n.startswith("confirmed."))
    [warning] = survey_of(f'[confirmed]\n{rule.removeprefix("confirmed.")} = "yes"').warnings
    assert "who confirmed it" in warning
    signed = survey_of(f'[confirmed]\n{rule.removeprefix("confirmed.")} = '
                       '{ value = "yes", who = "building control", when = "2027-01-10" }')
    assert signed.warnings == () and signed.answers[rule].who == "building control"


def test_nobody_can_confirm_with_no(survey_of, vocabulary) -> None:
    rule = next(n for n in sorted(vocabulary) if n.startswith("confirmed."))
    with pytest.raises(SurveyError, match="Allowed: yes"):
        survey_of(f'[confirmed]\n{rule.removeprefix("confirmed.")} = "no"')
