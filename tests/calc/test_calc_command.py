"""`advisor calc`: the names, keys, results and JSON an outsider relies on; errors that name every fault."""

from __future__ import annotations

import json

import pytest
import typer
from typer.testing import CliRunner

from advisor.calc.public import CalcError, answer, calculators
from advisor.cli import calc as command

app = typer.Typer()
command.register(app)


@app.callback()
def main() -> None:
    """So that `calc` stays a sub-command, as in the program."""


CONTRACT = {  # name: keys, results with units
    "reheat-time": ("volume power rise", {"time": "min"}), "instant-flow": ("power rise", {"flow": "l/min"}),
    "instant-power": ("flow rise", {"power": "kW"}), "hot-share": ("store cold mixed", {"hot_share": "-"}),
    "mixed-volume": ("volume store cold mixed usable", {"volume": "l"}),
    "storage-volume": ("draw then after store cold power stratified", {"volume": "l"}),
    "discharge-pipe": ("valve length bends", {"d1": "mm", "d2": "mm", "equivalent_length": "m", "limit": "m"}),
    "gas-rate": ("input net_input calorific_value", {"flow": "m^3/h", "gross_input": "kW"}),
    "gas-pipe": ("flow length material", {"size": "mm", "drop": "mbar"}),
    "gas-drop": ("size flow length material", {"drop": "mbar"}),
    "water-drop": ("size flow length temperature material", {"drop": "kPa", "velocity": "m/s"}),
    "supply-curve": ("static flow residual at", {"flow": "l/min"}),
    "expansion-heating": ("volume relief charge method", {"vessel": "l"}),
    "expansion-hot-water": ("volume cold store charge relief", {"vessel": "l"}),
    "cylinder-loss-class": ("volume", {f"class_{c}": "W" for c in "abcdef"}),
    "heat-loss": ("parts volume air_changes inside outside",
                  {"fabric": "W", "ventilation": "W", "total": "W", "per_kelvin": "W/K"}),
    "radiator": ("output flow return room", {"mean_difference": "K", "factor": "-", "output": "W"}),
    "occupancy": ("floor_area", {"people": "-"}), "daily-hot-water": ("people", {"volume": "l"}),
    "dead-leg": ("size length flow", {"volume": "l", "time": "s"}), "current": ("power voltage", {"current": "A"}),
    "head": ("height", {"pressure": "bar"}), "accumulator": ("volume charge low high", {"usable": "l"}),
    "floor-load": ("volume empty_mass footprint", {"mass": "kg", "pressure": "kN/m^2"}),
    "condensate-pipe": ("place length bore", {"verdict": "text"}),
}


def run(*words: str):
    return CliRunner().invoke(app, ["calc", *words])


@pytest.mark.parametrize("name", CONTRACT)
def test_promised_keys_and_results(name):
    calculator, (keys, results) = calculators()[name], CONTRACT[name]
    assert {k.name for k in calculator.keys} >= set(keys.split())
    assert results.items() <= dict(calculator.results).items()


def test_json_has_the_promised_shape():
    done = run("reheat-time", "volume=210 l", "power=20000 W", "rise=50 K", "--json")
    found = json.loads(done.stdout)
    assert done.exit_code == 0
    assert set(found) == {"calc", "inputs", "result", "working", "source", "valid"} and found["valid"] is True
    assert found["result"]["time"]["unit"] == "min"
    assert found["result"]["time"]["value"] == pytest.approx(36.6, abs=0.1)  # 210 x 4.187 x 50 / (60 x 20)
    assert found["inputs"]["power"] == {"read": "20000 W", "value": 20.0, "unit": "kW"}
    assert set(found["source"]) == {"document", "place", "provenance", "seen"}


def test_text_shows_result_working_and_source():
    said = run("discharge-pipe", 'valve=1/2" BSP', "length=7 m", "bends=4").stdout
    assert "22 mm: 7 m and 4 bends make 10.2 m, over 9 m" in said
    assert "d2 = 28 mm" in said and "Approved Document G (England)" in said and "[published]" in said


OUTSIDE = [
    ("discharge-pipe", {"valve": "G1/2", "length": "27.5 m", "bends": "0"}, "the table ends here"),
    ("discharge-pipe", {"valve": "G2", "length": "5 m", "bends": "0"}, "has only G1, G1/2, G3/4"),
    ("gas-pipe", {"flow": "30 m3/h", "length": "10 m"}, "no size of the table"),
    ("gas-drop", {"size": "35 mm", "flow": "3 m3/h", "length": "10 m"}, "35 mm"),
    ("gas-drop", {"size": "22 mm", "flow": "3 m3/h", "length": "10 m", "material": "steel"}, "the table is for copper"),
    ("supply-curve", {"static": "2 bar", "flow": "10 l/min", "residual": "1 bar", "at": "2.5 bar"}, "nothing flows"),
    ("supply-curve", {"static": "3 bar", "flow": "10 l/min", "residual": "1 bar", "at": "2.8 bar"}, "flatten"),
    ("radiator", {"output": "1 kW", "flow": "22 C", "return": "21 C", "room": "20 C"}, "at least 5 K"),
    ("occupancy", {"floor_area": "10 m2"}, "at least 13.9"),
    ("reheat-time", {"volume": "210 l", "power": "0 kW", "rise": "50 K"}, "never reheated"),
    ("reheat-time", {"volume": "-210 l", "power": "-3 kW", "rise": "50 K"}, "volume is -210 l; it cannot be negative; power"),
    ("heat-loss", {"parts": "10 m2 1", "volume": "10 m3", "air_changes": "1", "inside": "5 C", "outside": "9 C"}, "colder"),
    ("accumulator", {"volume": "300 l", "charge": "2 bar", "low": "1.5 bar", "high": "3 bar"}, "charge"),
    ("accumulator", {"volume": "300 l", "charge": "1.5 bar", "low": "3 bar", "high": "2 bar"}, "low pressure"),
    ("expansion-heating", {"volume": "100 l", "relief": "4 bar", "charge": "1 bar"}, "the table has 2, 2.5, 3 bar"),
    ("water-drop", {"size": "15 mm", "flow": "3 l/min", "length": "1 m", "temperature": "10 C"}, "neither laminar"),
]


@pytest.mark.parametrize("name, keys, words", OUTSIDE)
def test_outside_its_range_there_is_a_reason_and_no_result(name, keys, words):
    done = run(name, *(f"{k}={v}" for k, v in keys.items()), "--json")
    found = json.loads(done.stdout)
    assert done.exit_code == 0 and found["valid"] is False and "result" not in found
    assert words in found["reason"]


def test_every_fault_of_a_call_is_told():
    done = run("reheat-time", "volume=210", "powr=20 kW", "rise=50 l", "oops", "rise=40 K")
    said = done.stderr
    assert done.exit_code == 2 and not done.stdout
    assert "volume" in said and "has no unit" in said
    assert "powr is not a key. Did you mean power? Allowed: volume, power, rise." in said
    assert "power is missing" in said and "a temperature difference is wanted" in said
    assert '"oops" is not key=value' in said and "rise is given twice" in said
    assert len(said.strip().splitlines()) == 6


@pytest.mark.parametrize("words, said", [
    (["reheat-tim"], "Did you mean reheat-time?"), (["nonsense"], "Known: reheat-time"),
    (["gas-rate", "calorific_value=39 MJ/m3"], "exactly one of input, net_input; 0 given"),
    (["gas-rate", "input=1 kW", "net_input=1 kW", "calorific_value=39 MJ/m3"], "2 given"),
    (["storage-volume", "draw=1 l", "then=1 l", "after=1 min", "store=60 C", "cold=10 C", "power=3 kW", "stratified=maybe"],
     "Allowed: yes, no"),
    (["heat-loss", "parts=12 m2", "volume=1 m3", "air_changes=1", "inside=21 C", "outside=0 C"], '"12 m2" is no part'),
    (["condensate-pipe", "place=moon", "length=1 m", "bore=30 mm"], "inside, outside, garage"),
    (["list", "more"], "list takes nothing"),
])
def test_a_wrong_call_says_what_is_allowed(words, said):
    done = run(*words)
    assert done.exit_code == 2 and said in done.stderr


def test_list_names_every_calculator_with_its_keys():
    said = run("list").stdout
    assert all(f"{name}:" in said for name in CONTRACT) and "[material=copper]" in said
    listed = json.loads(run("list", "--json").stdout)["calcs"]
    assert {c["name"] for c in listed} >= set(CONTRACT) and all(c["source"]["document"] for c in listed)


@pytest.mark.parametrize("text", ["210 l", "0.21 m3", "0.21 m^3", "46.194 gallons"])
def test_units_an_installer_writes(text):
    assert answer("reheat-time", {"volume": text, "power": "20 kW", "rise": "50 K"}).result["time"] == pytest.approx(
        36.64, abs=0.02)


def test_faults_are_gathered_in_the_exception():
    with pytest.raises(CalcError) as caught:
        answer("head", {"hight": "3 m"})
    assert len(caught.value.faults) == 2
