"""The vocabulary of the survey: complete, tidy, and refused when it is not."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor import paths, units
from advisor.rulebase import vocabulary as loader
from advisor.rulebase.reading import RulebaseError
from advisor.survey.blank import example

SHIPPED = loader.load(paths.RULES / "vocabulary.toml")
# what every survey of a home must be able to hold, by section
FIELDS = {
    "home": "kind built floor_area storeys bathrooms tenure listed asbestos shared_heating left_empty outdoor_space",
    "household": "people busy_showers shower_minutes busy_baths bath_fill least_shower heating_pause_ok",
    "wishes": "outlets_at_once lasts_busy_hour no_pumps no_loft_tank no_cylinder backup_heat no_heating_pause "
              "low_running_cost low_price little_disruption save_space",
    "outlets.NAME": "kind flow at_once",
    "water": "static_pressure flow flow_pressure tested_at stop_tap shared service_material hardness inside_pipe "
             "inside_pipe_length service_length service_bore low_pressure_ok",
    "gas": "supply meter_capacity working_pressure worked_design",
    "gas.legs.NAME": "size length elbows seen",
    "gas.appliances.NAME": "input",
    "boiler": "position flue_route flue_to_opening flue_to_boundary condensate_to condensate_outside condensate_bore "
              "relief_end relief_length",
    "places.NAME": "kind width depth height door floor bearing frost discharge_end discharge_length discharge_elbows "
                   "discharge_falls worked_design",
    "cistern": "loft head base feeds pipe volume",
    "heating": "heat_loss emitters thinnest_pipe largest_on_it circuit pressure_test water_state interlock radiator_valves pipes_insulated",
    "electric": "main_fuse demand_now looped spare_ways solar export_price",
    "existing": "kind boiler_power cylinder condition age",
}


def test_every_field_has_one_entry() -> None:
    wanted = {f"{section}.{key}" for section, keys in FIELDS.items() for key in keys.split()}
    assert {e.field for e in SHIPPED.values()} == wanted
    assert len(SHIPPED) == len(wanted)


@pytest.mark.parametrize("entry", SHIPPED.values(), ids=list(SHIPPED))
def test_an_entry_is_ready_for_use(entry) -> None:
    assert entry.meaning and entry.plain and entry.question.endswith(("?", ".")) and entry.tool and entry.minutes > 0
    if entry.kind == "number":
        assert entry.tolerance > 0 and entry.domain[0] <= entry.typical <= entry.domain[1]
        if entry.unit:  # the unit, and the example of the blank survey, are read by units.py
            assert units.parse(example(entry).strip('"'), entry.unit) == entry.typical
    else:
        assert (entry.typical in entry.domain) or (entry.typical is None and entry.default == entry.domain[0])
    if entry.default is not None:
        assert entry.may_change == "wish" and entry.how == "told"


def test_names_say_sort_and_unit() -> None:
    singular = {"outlets.NAME": "outlet", "places.NAME": "place", "gas.legs.NAME": "leg",
                "gas.appliances.NAME": "appliance"}
    suffix = {"bar": "_bar", "mbar": "_mbar", "l/min": "_l_min", "m3/h": "_m3_h", "kW": "_kw", "A": "_a", "m": "_m",
              "mm": "_mm", "m2": "_m2", "l": "_l", "mg/l": "_mg_l", "min": "_min", "years": "_years", "p/kWh": "_p", "": ""}
    for name, entry in SHIPPED.items():
        section, _, key = entry.field.rpartition(".")
        assert name == f"{singular.get(section, section)}.{key}{suffix[entry.unit]}"
        assert entry.sort == singular.get(section, "site")


GOOD = """["water.flow_l_min"]
field = "water.flow"
sort = "site"
kind = "number"
unit = "l/min"
domain = [1, 100]
meaning = "m"
plain = "p"
question = "q?"
tool = "t"
minutes = 1
may_change = "fixed"
"""
NUMBER = 'kind = "number"\nunit = "l/min"\ndomain = [1, 100]'
BAD = [
    ("meaning = ", "meening = ", "unknown keys ['meening']"), ("meaning = ", "meening = ", "missing keys ['meaning']"),
    ('tool = "t"\n', "", "missing keys ['tool']"),
    ('sort = "site"', 'sort = "sight"', "sort is 'sight'. Allowed: site"),
    ("[1, 100]", "[100, 1]", "domain is [100, 1]"), ("[1, 100]", '["a"]', "domain is ['a']"),
    ("minutes = 1", "minutes = -1", "minutes is -1"), ("minutes = 1", "minutes = 1\ntypical = 200", "typical is 200"),
    ("water.flow_l_min", "water.flow_bar", "the name must end in _l_min"), ('plain = "p"', "plain = 7", "plain is 7"),
    (NUMBER, 'kind = "words"\ndomain = ["a", "a"]', "Name each word once"),
    (NUMBER, 'kind = "words"\ndomain = ["a"]\ndefault = "b"', "default is 'b'"),
    ('["water.flow_l_min"]', "[water.flow_l_min]", "[water]: unknown keys ['flow_l_min']"),
    (GOOD, "flow = 7\n", "An entry is a table"),
    ("domain", "domain domain", "cannot be read"),
]


@pytest.mark.parametrize("old, new, expected", BAD, ids=[e for _, _, e in BAD])
def test_bad_entries_are_refused_with_their_place(old: str, new: str, expected: str, tmp_path: Path) -> None:
    path = tmp_path / "vocabulary.toml"
    path.write_text(GOOD.replace(old, new), encoding="utf-8")
    with pytest.raises(RulebaseError) as refusal:
        loader.load(path)
    assert expected in str(refusal.value) and str(refusal.value).startswith("vocabulary.toml: ")


def test_all_faults_of_all_files_at_once(tmp_path: Path) -> None:
    one, two = tmp_path / "one.toml", tmp_path / "two.toml"
    one.write_text(GOOD + GOOD.replace("flow_l_min", "other_l_min").replace('tool = "t"\n', ""), encoding="utf-8")
    two.write_text(GOOD, encoding="utf-8")
    with pytest.raises(RulebaseError) as refusal:
        loader.load(one, two)
    assert len(refusal.value.faults) == 2
    assert "two.toml: [water.flow_l_min]: the name stands in the vocabulary twice" in refusal.value.faults[1]
