"""The interview: what is typed is what the file holds, and the file is a survey at any moment."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterable
from pathlib import Path

import pytest

from advisor import paths, rulebase
from advisor.facts import Span, words
from advisor.survey import read
from advisor.survey.interview import Interview, changed
from advisor.survey.walk import walk
from advisor.upkeep.readers import readers

# what the question shown must hold, and what is typed
FULL = [
    ("Which nation", "1"), ("today's date", "2027-03-02"), ("work be done", "soon"), ("work be done", "2027-06-01"),
    ("kind of home", "castle"), ("kind of home", "house"), ("home built", "4, told"), ("floor area", "90"),
    ("floor area", "90 m2"), ("storeys are", "2"), ("have a bath", "1"), ("owns the home", "1"), ("listed", "?"),
    ("listed", "no"), ("asbestos", "unknown"), ("stand unused", ""), ("serve several homes", "no"), ("place outside", ""),
    ("people live", "3"), ("showers are", "2"), ("shower run", "between 5 min and 8 min"), ("baths", "0"),
    ("full is a bath", ""), ("How weak", "b"), ("full is a bath", "100 l"), ("How weak", "6 l/min"), ("stand still", "45 min"),
    ("outlets you marked", "3"), ("busiest hour", "2"), ("pump", ""), ("loft", ""), ("cylinder anywhere", ""),
    ("second way", ""), ("keep running", ""), ("running cost", "prefer"), ("low price", ""), ("disturb", ""),
    ("space", ""), ("comes first", "9"), ("comes first", "3 1"), ("hot water today", "1"), ("data plate", "24 kW"),
    ("cylinder hold", "0 l"), ("sound, worn", "2"), ("How old", "15 years, told"), ("heat loss", "7 kW"),
    ("radiators give", ""), ("thinnest pipe", ""), ("most heat", ""),
    ("feed-and-expansion", "2"), ("pressure, cold", ""), ("sample", "2"), ("when neither", ""),
    ("thermostatic", ""), ("insulated", ""), ("Where does the boiler", "1"), ("flue leave", "1"),
    ("window, door", "600 mm"), ("boundary or wall", "2 m"), ("condensate drain", "2"), ("run outside", "0 m"),
    ("inside diameter", ""), ("relief pipe end", "3"), ("stop tap", "1"), ("cold main", "15 mm"), ("stop tap to the tap", "3 m"),
    ("street", "1"), ("boundary", ""), ("inside diameter", "20 mm"),
    ("shared", "no"), ("tap shut", "3 bar, at 07:40"), ("What flow does", "3.5 gallons a minute"),
    ("gauge read", "3.1 bar"), ("gauge read", "1.2 bar, assumed, at 07:41"), ("busy time", "1"), ("1.0 bar running", ""), ("How hard", ""),
    ("one more outlet", "Main shower"), ("kind of outlet", "1"), ("flow is wanted", "9 l/min"), ("same time", "2"),
    ("one more outlet", "main shower"), ("one more outlet", "meter2!"), ("one more outlet", "bath"),
    ("kind of outlet", "2"), ("flow is wanted", "12 l/min"), ("same time", "yes"), ("one more outlet", ""),
    ("all there are", "perhaps"), ("all there are", "y"), ("room above", "no"), ("mains gas", "1"),
    ("largest flow", "6 m3/h"), ("outlet pressure", ""), ("registered engineer worked", ""),
    ("one more gas appliance", "hob"), ("largest input", "8 kW"), ("one more gas appliance", ""), ("all there", "yes"),
    ("one more gas pipe", "to boiler"), ("begin", "meter"), ("end", "stove"), ("end", "boiler"), ("size", "22 mm"),
    ("long is it", "6 m"), ("elbows", "4"), ("Was every part", "1"), ("one more gas pipe", "to_hob"),
    ("begin", "to_boiler"), ("end", "hob"), ("size", "15 mm"), ("long is it", "3 m"), ("elbows", "2"),
    ("Was every part", ""), ("one more gas pipe", ""), ("all there are", "1"),
    ("one more place", "landing"), ("kind of place", "1"), ("How wide", "700 mm"), ("How deep", "650 mm"),
    ("How high", "2.2 m"), ("narrowest", "one of 600 mm, 620 mm"), ("joists or concrete", "2"), ("freeze", "no"),
    ("discharge pipe from here", "none found"), ("worked design", ""), ("one more place", "spare"),
    ("kind of place", ""), ("How wide", ""), ("How deep", ""), ("How high", ""), ("narrowest", ""),
    ("joists or concrete", ""), ("bearing wall", ""), ("freeze", ""), ("discharge pipe from", ""), ("How long", ""),
    ("How many elbows", ""), ("fall all the way", ""), ("worked design", ""), ("one more place", "- spare"),
    ("all there are", "2"), ("main fuse", "80 A"), ("largest demand", "120 A"), ("looped", ""), ("ways are free", "0"),
    ("solar", "2"), ("that is sold", ""), ("customer's name", 'Ada "Nan" Holt'), ("address", ""), ("telephone", "-"), ("Anything else", ""),
]


class Desk:
    """Answers from a script; looks at the file before each, as if the interview were killed there."""

    def __init__(self, path: Path, vocabulary, script: Iterable[tuple[str, str | type[BaseException]]]):
        self.path, self.vocabulary, self.script = path, vocabulary, list(script)
        self.shown: list[str] = []
        self.asked = 0

    def ask(self, prompt: str) -> str:
        read(self.path, self.vocabulary)
        if self.asked == len(self.script):
            raise EOFError
        snippet, typed = self.script[self.asked]
        question = next(" ".join(text.split()) for text in reversed(self.shown) if "/" in text.split(" ")[0])
        assert snippet in question, f"typed {typed!r}, asked {question!r}"
        self.asked += 1
        if isinstance(typed, type):
            raise typed
        return typed

    def sit(self) -> bool:
        return Interview(self.path, self.vocabulary, {}, self.ask, self.shown.append).run()

    def said(self) -> str:
        return " ".join(" ".join(self.shown).split())


@pytest.fixture
def desk(tmp_path: Path, vocabulary) -> Callable[..., Desk]:
    return lambda script: Desk(tmp_path / "home.toml", vocabulary, script)


def test_a_full_interview_gives_the_survey_that_was_typed(desk, vocabulary) -> None:
    sitting = desk(FULL)
    assert sitting.sit() and sitting.asked == len(FULL)
    survey = read(sitting.path, vocabulary)
    assert survey.works_date.isoformat() == "2027-06-01" and survey.wish_order == ("low_running_cost",
                                                                                   "outlets_at_once")
    given = survey.answers
    assert given["home.built"].value == words("1965-1980") and given["home.built"].how == "told"
    assert given["water.static_pressure"].value == Span(3, 3) and given["water.static_pressure"].when == "07:40"
    assert given["water.flow"].value.lo == pytest.approx(3.5 * 4.54609)  # imperial gallons
    assert given["water.flow_pressure"].how == "assumed" and given["water.flow_pressure"].when == "07:41"
    assert given["household.shower_minutes"].value == Span(5, 8) and given["household.bath_fill"].value == Span(100, 100)
    assert given["places.landing.door"].value == Span(600, 620)
    assert survey.unknown == {"home.asbestos"} and survey.private == {"name": 'Ada "Nan" Holt'}
    assert survey.lists == {"outlets": ("main_shower", "bath"), "gas.appliances": ("hob",), "places": ("landing",),
                            "gas.legs": ("to_boiler", "to_hob")}
    assert survey.complete == {"outlets", "gas.appliances", "gas.legs"}
    assert survey.links == {"to_boiler": ("meter", "boiler"), "to_hob": ("to_boiler", "hob")}


def test_bad_answers_get_the_readers_own_words_and_the_question_again(desk) -> None:
    sitting = desk(FULL)
    sitting.sit()
    for fault in ('works_date: "soon". Allowed: a date such as 2027-01-15.',
                  'home.kind: "castle". Allowed: house, bungalow, flat, maisonette.', 'home.floor_area: "90" has no unit.',
                  'wishes.order: "9" is no wish.', "water.flow_pressure: 3.1 bar while water runs, but 3 bar",
                  "main_shower is listed already", "outlets.meter2!: this is no name", "Write yes or no",
                  'gas.legs.to_boiler.to: "stove" is no appliance'):
        assert fault in sitting.said(), fault
    assert "look again: electric.demand_now: 120 A on a fuse of 80 A" in sitting.said()


@pytest.mark.parametrize("how", [EOFError, KeyboardInterrupt])
@pytest.mark.parametrize("at", range(1, len(FULL), 19))
def test_an_interview_broken_off_leaves_what_was_said(how, at: int, desk, vocabulary) -> None:
    """The desk reads the file at every prompt; here the interview itself is broken off, and gone on with."""
    sitting = desk([*FULL[:at], (FULL[at][0], how)])
    assert not sitting.sit()
    before = read(sitting.path, vocabulary)
    assert "The same command goes on from here" in sitting.said()
    again = desk([])
    assert not again.sit()
    assert read(sitting.path, vocabulary) == before


def test_going_on_passes_over_what_is_answered_and_keeps_comments(desk, vocabulary) -> None:
    sitting = desk([("Which nation", "england"), ("today's date", ""), ("work be done", ""), ("kind of home", "flat"),
                    ("home built", ""), ("floor area", "q")])
    assert not sitting.sit()
    with sitting.path.open("a", encoding="utf-8") as file:
        file.write("# ask about the lease\n[gas]\nsupply = \"none\" # electric only\n")
    again = desk([("today's date", ""), ("work be done", ""), ("home built", "b"), ("kind of home", "-"),
                  ("home built", "1"), ("floor area", "50 m2"), ("storeys", "q")])
    assert not again.sit()
    assert "2 answers are there already" not in again.said() and "3 answers are there already" in again.said()
    text = sitting.path.read_text(encoding="utf-8")
    assert "# ask about the lease" in text and "# electric only" in text
    survey = read(sitting.path, vocabulary)
    assert set(survey.answers) == {"nation", "home.built", "home.floor_area", "gas.supply"}
    assert not [s for s in walk(survey) if s.path.startswith("gas.") and s.path != "gas.supply"]


def test_a_file_with_faults_is_not_gone_on_with(desk, vocabulary) -> None:
    sitting = desk([])
    sitting.path.write_text('survey_format = 1\nhome.kind = "castle"\n', encoding="utf-8")
    with pytest.raises(ValueError, match="castle"):
        sitting.sit()
    assert "castle" in sitting.path.read_text(encoding="utf-8")


def test_characters_that_are_no_text_are_asked_again(desk) -> None:
    sitting = desk([("nation", "\x1b[2J"), ("nation", "\udc80"), ("nation", "\u202e"),
                    ("nation", "1")])
    assert not sitting.sit()
    assert sitting.said().count("cannot be shown") == 3


@pytest.mark.parametrize("name", sorted(p.stem for p in paths.SURVEYS.glob("*.toml")))
def test_any_line_of_a_shipped_home_can_be_put_in_and_taken_out(name: str, vocabulary, tmp_path) -> None:
    path = tmp_path / "home.toml"
    text = (paths.SURVEYS / f"{name}.toml").read_text(encoding="utf-8")
    path.write_text(text, encoding="utf-8")
    before = read(path, vocabulary)
    for field, entry, _ in list(before.every_field())[:: 3 if name == "terrace_two_showers" else 12]:
        value = entry.domain[0] if entry.kind == "words" else "unknown"
        for wanted, put in ((True, value), (False, None)):
            path.write_text(changed(text, field, put), encoding="utf-8")
            after = read(path, vocabulary)
            assert (field in after.answers or field in after.unknown) == wanted, field
            assert {f: a for f, a in after.answers.items() if f != field} \
                == {f: a for f, a in before.answers.items() if f != field}


def test_it_fits_a_narrow_screen(desk, monkeypatch) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    sitting = desk(FULL)
    sitting.sit()
    assert max(len(line) for text in sitting.shown for line in text.splitlines()) <= 40


def test_every_weighty_question_says_which_rules_read_it(vocabulary) -> None:
    found = readers(rulebase.load())
    titles = {r.title for r in rulebase.load().rules.values()}
    assert all(set(t) <= titles for t in found.values())
    silent = [e.field for e in vocabulary.values() if e.weight == "H" and not found.get(e.field)]
    assert silent == [], "asked, said to weigh much, and read by no rule"


def _started(path: Path) -> subprocess.Popen[str]:
    return subprocess.Popen([sys.executable, "-m", "advisor.cli.app", "survey", "new", str(path)], text=True,
                            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                            env={**os.environ, "PYTHONPATH": str(paths.SURVEYS.parents[1]), "COLUMNS": "40"})


def test_the_command_reads_standard_input_and_ends_well_with_it(tmp_path, vocabulary) -> None:
    path = tmp_path / "home.toml"
    out, err = _started(path).communicate("1\n\n\nmaisonette\n", timeout=60)
    assert err == "" and "why:" in out and "2 answers are in home.toml" in " ".join(out.split())
    assert set(read(path, vocabulary).answers) == {"nation", "home.kind"}


def test_a_killed_interview_leaves_a_survey(tmp_path, vocabulary) -> None:
    path = tmp_path / "home.toml"
    process = _started(path)
    process.stdin.write("1\n\n\n")
    process.stdin.flush()
    until = time.monotonic() + 60
    while time.monotonic() < until and not (path.exists() and "england" in path.read_text(encoding="utf-8")):
        time.sleep(0.05)
    process.send_signal(signal.SIGKILL)
    process.communicate()
    assert set(read(path, vocabulary).answers) == {"nation"}
