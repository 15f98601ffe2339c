"""Ten questions a sceptical household asks: each gets its answer, with figures, from a command, in every shipped home.

The figures of the terrace are hand sums, typed beside each row: heat in water
is 4.187 kJ/(kg K), the winter rise 35 K (5 to 40 °C), two showers want 9 l/min
each. In the other homes the answer must name the layout and give a figure or
the fact that settles it.
"""

from __future__ import annotations

import re

import pytest
from typer.testing import CliRunner

from advisor import paths
from advisor.cli.app import app
from advisor.contrast.rather import rather
from advisor.contrast.whatif import whatif
from advisor.contrast.why import why
from advisor.report.contrasting import rather_document
from advisor.report.explaining import whatif_text, why_text
from advisor.report.plain import printed
from tests import homes

DECIDED = [n for n in homes.SURVEYS if n != homes.EMPTY]
FIGURE = re.compile(r"\d")


def said(*arguments: str) -> str:
    result = CliRunner().invoke(app, list(arguments))
    assert result.exit_code == 0, (arguments, result.output)
    return " ".join(result.output.replace("\u00a0", " ").split())


def spoken(name: str, command: tuple[str, ...]) -> str:
    """What a command prints, from advice already at hand: the program would only advise again."""
    advice, (kind, _, *rest) = homes.advice(name), command
    if kind == "why":
        found = next(j.id for j in advice.families() if j.arrangement.family == rest[0])
        return why_text(advice, why(advice, found), with_tree=False)
    if kind == "whatif":
        after, moved = whatif(advice, dict(c.split("=", 1) for c in rest), "plain")
        return whatif_text(advice, after, moved)
    if kind == "rather":
        return printed(rather_document(advice, rather(advice, *rest)), advice)
    return said(*command)


def path(name: str) -> str:
    return str(paths.SURVEYS / f"{name}.toml")


DEMO = path(homes.DEMO)
TERRACE = [
    # 60 x 30 / (4.187 x 35) = 12.28 l/min; two showers of 9 are 18
    ("The other quote says a 30 kW combination boiler", ("why", DEMO, "combination-boiler:30kw", "--short"),
     ("12.3 l/min", "18.0 l/min")),
    # two showers of 6 l/min are 12.0, within 12.28: then the other quote may stand
    ("And with two weaker shower heads", ("whatif", DEMO, "outlets.main_shower.flow=6 l/min",
                                         "outlets.loft_shower.flow=6 l/min", "household.least_shower=5 l/min",
                                         "--json"),
     ('"arrangement": "combination-boiler:30kw", "from": "ruled_out", "to": "suitable',)),
    # one shower of 9 l/min is within 12.28: the outlets-at-once must no longer stands in its way
    ("What if only one of us showers at a time", ("whatif", DEMO, "outlets.loft_shower.at_once=no"),
     ("combination-boiler:30kw: ruled out -> suitable",)),
    # 15 mm carries the gas of 28 kW, 3.15 m3/h, at 1 mbar for 3.1 m only: here it would be 4.5 m with three elbows
    ("What if the gas pipe is really 15 mm", ("whatif", DEMO, "gas.legs.under_floor.size=15 mm", "--json"),
     ("suitable_after_works",)),
    # 18 x sqrt((3.0 - 2.0) / (3.0 - 1.0)) is 12.7; with the exponent 1 / 1.85 of water in pipes 18 x 0.5^0.5405 = 12.38
    ("You tested the water once", ("calc", "supply-curve", "static=3 bar", "flow=18 l/min", "residual=1 bar", "at=2 bar"),
     ("12.38 l/min",)),
    # a jug 5 % out and a gauge 0.1 bar out, both the wrong way: 23.75 l/min at 1.3 bar
    ("Is one test good enough here", ("whatif", DEMO, "water.flow=23.75 l/min", "water.flow_pressure=1.3 bar"),
     ("Still recommended", "0 verdicts changed")),
    # 60 x 35 / (4.187 x 35) = 14.33; in summer, from 20 °C: 60 x 35 / (4.187 x 20) = 25.08
    ("My neighbour has a 35 kW one, it is fine", ("calc", "instant-flow", "power=35 kW", "rise=35 K"), ("14.33 l/min",)),
    ("He compares in August", ("calc", "instant-flow", "power=35 kW", "rise=20 K"), ("25.08 l/min",)),
    # class C up to 16.66 + 8.33 x 210^0.4 = 16.66 + 8.33 x 8.489 = 87.38 W, some 766 kWh a year
    ("A tank of hot water must cost a fortune", ("calc", "cylinder-loss-class", "volume=210 l"), ("87.38 W",)),
    # 210 x (60 - 5) / (40 - 5) x 0.85 = 280 l at 40 °C: 31 minutes at 9 l/min
    ("Will it run out", ("calc", "mixed-volume", "volume=210 l", "store=60 C", "cold=5 C", "mixed=40 C", "usable=0.85"),
     ("280", "l")),
    ("Will it run out here", ("busy-hour", DEMO), ("Everyone has warm water", "First shortfall: never")),
    # 210 x 4.187 x 50 / (18 x 60) = 40.71 min; 20 x (1 - exp(-40.71 / 1800)) = 0.4472 K in a brick house of 30 h
    ("Will the rooms go cold meanwhile", ("calc", "priority-pause", "volume=210 l", "power=18 kW", "rise=50 K",
                                          "constant=1800 min"), ("40.71 min", "0.4472 K")),
    ("Why not put a pump on the mains", ("why", DEMO, "boiler-unvented-boosted", "--full"), ("12 l/min",)),
    # 26.1 p / 7.33 p x 0.90 = 3.20 units of heat for one of electricity
    ("Why not a heat pump now", ("calc", "break-even", "electricity=26.1 p/kWh", "gas=7.33 p/kWh"), ("3.2",)),
    ("And here", ("why", DEMO, "heat-pump-unvented-cylinder", "--short"), ("A place for an outdoor unit", "no")),
]


@pytest.mark.parametrize(("question", "command", "holds"), TERRACE, ids=[q for q, _, _ in TERRACE])
def test_the_terrace_answers_in_figures(question: str, command: tuple[str, ...], holds: tuple[str, ...]) -> None:
    answer = said(*command)
    assert [h for h in holds if h not in answer] == [], answer[:1500]


def asked(name: str) -> dict[str, tuple[str, ...]]:
    """The questions about a home itself, with its own outlets, pipes and readings."""
    survey, file = homes.survey(name), path(name)
    showers = [o for o in survey.lists["outlets"] if "shower" in str(survey.value(f"outlets.{o}.kind"))]
    alone = [f"outlets.{o}.at_once=no" for o in showers[1:] or survey.lists["outlets"][-1:]]
    legs = [f"gas.legs.{leg}.size=15 mm" for leg in survey.lists.get("gas.legs", ())]
    flow = survey.value("water.flow")
    families = {j.arrangement.family for j in homes.advice(name).families()}
    boosted = next(f for f in ("boiler-unvented-boosted", "direct-electric-boosted") if f in families)
    return {
        "1 a combination boiler": ("why", file, "combination-boiler", "--short"),
        "2 one at a time": ("whatif", file, *alone),
        "3 a thinner gas pipe": ("whatif", file, *legs) if legs else ("why", file, "combination-boiler", "--short"),
        "4 one test of the water": ("whatif", file, f"water.flow={flow.lo * 0.95:.4g} l/min"),
        "5 and 6 ours against keeping what is there": (
            "rather", file, homes.advice(name).recommended, homes.advice(name).families()[1].id),
        "7 and 8 the busiest hour": ("busy-hour", file),
        "9 a pump on the mains": ("why", file, boosted, "--short"),
        "10 a heat pump": ("why", file, "heat-pump-unvented-cylinder", "--short"),
    }


@pytest.mark.parametrize("name", DECIDED)
def test_every_home_answers_each_of_them(name: str) -> None:
    for question, command in asked(name).items():
        answer = spoken(name, command)
        assert FIGURE.search(answer) and len(answer) > 60, (question, answer)
        if command[0] == "why":
            assert re.search(r"ruled out|suitable|recommended|comes after|not yet decided|open", answer), (question, answer)
            assert "Enough by itself" in answer or "What decides for it" in answer or "*" in answer, (question, answer)
        if command[0] == "whatif":
            assert "ecommended" in answer and "verdict" in answer, (question, answer)


def test_a_home_without_gas_says_so() -> None:
    assert "gas" in said("why", path("cottage_no_gas"), "combination-boiler", "--short")
