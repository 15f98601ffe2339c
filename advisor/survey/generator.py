"""Random surveys for tests and trials: an invented home, seen as incompletely as a surveyor sees it.

The same seed gives the same survey, text for text. Nothing here is advice.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from advisor.rulebase.model import Entry
from advisor.survey.fields import CONFIRMED, Fields
from advisor.survey.invented import Dice, Home, invent
from advisor.survey.reader import read_bytes
from advisor.survey.record import Survey
from advisor.survey.writer import as_toml

__all__ = ["as_toml", "random_survey"]

USUAL_HOLES = 0.3
EDGE_SHARE = 0.015  # of the numbers: the end of what is possible at all
AGAIN_SHARE = 0.04  # read twice
# a random end of these would contradict another answer, or make another home of it
NO_EDGES = {"water.static_pressure", "water.flow_pressure", "heating.heat_loss", "home.floor_area"}
NATIONS = {"england": 70, "scotland": 13, "wales": 11, "northern ireland": 6}
FIRST_DAY = date(2026, 6, 1)
TIMES = ("06:50", "07:40", "11:15", "14:05", "18:10")
REMARKS = ("looked at from below", "the owner was sure", "only the ends can be seen", "read twice")


def random_survey(seed: int, vocabulary: Mapping[str, Entry], holes: float = USUAL_HOLES) -> Survey:
    """A valid survey of an invented home.

    Parameters
    ----------
    seed : the same seed gives the same survey
    vocabulary : fact name -> entry, as the rule base holds it
    holes : 0 to 1, the share of questions without a full answer; at 0 every question that applies to the home has
        one value and every list is complete, at 1 next to nothing is known

    Returns
    -------
    a survey that the reader takes without a fault (it may carry warnings)
    """
    if not 0 <= holes <= 1:
        raise ValueError(f"holes is {holes}. Allowed: 0 to 1.")
    dice = Dice(f"home {seed}")
    home, fields = invent(dice), Fields.of(vocabulary)
    share = holes if holes in (0, 1) else min(1.0, holes * dice.uniform(0.2, 1.8))
    text = "\n".join(_text(dice, home, fields, share)) + "\n"
    return read_bytes(text.encode(), Path(f"random_{seed}.toml"), vocabulary)


def _text(dice: Dice, home: Home, fields: Fields, holes: float) -> Iterator[str]:
    """The survey's lines as dotted keys: the reader makes the record of them."""
    yield "survey_format = 1"
    day = FIRST_DAY + timedelta(days=dice.randrange(500))
    if dice.random() >= holes:
        yield f"surveyed_on = {day}"
        yield f"works_date = {day + timedelta(days=dice.randrange(10, 150))}"
    _nation(dice, home)
    names = _listed(dice, home, holes)
    written = set()
    for path, value in home.truth.items():
        if (listed := fields.split(path)) and listed[1] not in names[listed[0]]:
            continue
        entry = fields.entry(path)
        assert entry is not None, path
        if line := _line(dice, path, value, entry, holes):
            yield line
            written.add(path)
    yield from _list_lines(dice, home, names, written, holes)
    yield from _order(dice, written)
    yield from _confirmed(dice, home, fields, holes)


def _nation(dice: Dice, home: Home) -> None:
    home.truth["nation"] = dice.pick(NATIONS)


def _listed(dice: Dice, home: Home, holes: float) -> dict[str, list[str]]:
    """What the surveyor wrote down of each list; a gas leg only with the legs it hangs on."""
    names = {listed: [n for n in all_of if dice.random() >= holes / 3] for listed, all_of in home.lists.items()}
    legs, kept = [], set(names["gas.legs"])
    for leg in home.lists["gas.legs"]:  # the trunk comes first
        start, end = home.links[leg]
        if leg in kept and (start == "meter" or start in legs) and (end in ("", "boiler", *names["gas.appliances"])):
            legs.append(leg)
    return names | {"gas.legs": legs}


def _list_lines(dice: Dice, home: Home, names: Mapping[str, list[str]], written: set[str],
                holes: float) -> Iterator[str]:
    """What is said of the lists themselves: all listed or not, entries nothing is known of, how the legs hang."""
    entries = {path.rpartition(".")[0] for path in written}
    for listed, kept in names.items():
        if kept == home.lists[listed] and dice.random() >= holes:
            yield f"{listed}.complete = true"
        if listed != "gas.legs":
            yield from (f"{listed}.{name} = {{}}" for name in kept if f"{listed}.{name}" not in entries)
    for leg in names["gas.legs"]:
        start, end = home.links[leg]
        if f"gas.legs.{leg}" not in entries or dice.random() >= holes / 4:
            yield f'gas.legs.{leg}.from = "{start}"'
        if end:
            yield f'gas.legs.{leg}.to = "{end}"'


def _order(dice: Dice, written: set[str]) -> Iterator[str]:
    wishes = sorted(p.removeprefix("wishes.") for p in written if p.startswith("wishes."))
    dice.shuffle(wishes)
    if named := wishes[: dice.randint(0, len(wishes))]:
        yield f"wishes.order = [{', '.join(chr(34) + w + chr(34) for w in named)}]"


def _confirmed(dice: Dice, home: Home, fields: Fields, holes: float) -> Iterator[str]:
    """Outside England somebody may have confirmed the local equivalent of a rule."""
    if home.truth["nation"] == "england":
        return
    for path in fields.entries:
        if path.startswith(f"{CONFIRMED}.") and dice.random() >= 0.4 + holes / 2:
            yield f'{path} = {{ value = "yes", who = "building control", when = "2027-01-10" }}'


def _line(dice: Dice, path: str, value: Any, entry: Entry, holes: float) -> str:
    """One answer as the surveyor left it, or "" where the question was not answered."""
    wish = entry.default is not None
    fate = dice.pick({"known": 1 - holes, "left out": holes * 0.5, "unknown": holes * 0.12, "vague": holes * 0.38})
    if fate == "left out" or (wish and fate != "known"):
        return ""
    if fate == "unknown":
        return f'{path} = "unknown"'
    if entry.kind == "number":
        said = _number(dice, path, float(value), entry, vague=fate == "vague")
    else:
        said = _words(dice, str(value), entry, vague=fate == "vague")
    if fate == "vague":
        return f"{path} = {{ {said}{_more(dice, path, entry)} }}"
    more = _more(dice, path, entry) if dice.happens(0.2) else ""
    if entry.kind == "number" and entry.unit and dice.happens(AGAIN_SHARE):
        more += f", instead_of = {_number(dice, path, value * dice.uniform(0.7, 1.3), entry, vague=False)}"
    return f"{path} = {{ value = {said}{more} }}" if more else f"{path} = {said}"


def _more(dice: Dice, path: str, entry: Entry) -> str:
    """How it is known, when it was read, what it replaces, a remark."""
    if entry.default is not None:
        return ""
    how = dice.pick({"": 60, "told": 24, "assumed": 8, "measured": 8})
    made = f', how = "{how}"' if how else ""
    if path.startswith("water.") and entry.kind == "number" and dice.happens(0.5):
        made += f', when = "{dice.choice(TIMES)}"'
    return made + (f', note = "{dice.choice(REMARKS)}"' if dice.happens(0.3) else "")


def _number(dice: Dice, path: str, value: float, entry: Entry, vague: bool) -> str:
    low, high = entry.domain
    if path not in NO_EDGES and entry.unit and dice.happens(EDGE_SHARE):
        value = dice.choice([low, high])
    value = min(high, max(low, _rounded(value, entry)))
    if not vague:
        return _shown(value, entry)
    wide = max(entry.tolerance, abs(value) * dice.uniform(0.02, 0.4))
    ends = [min(high, max(low, _rounded(e, entry))) for e in (value - wide * dice.random(), value + wide)]
    first, last = (_shown(e, entry) for e in (min(ends[0], value), max(ends[1], value)))
    return f"one_of = [{first}]" if first == last else f"between = [{first}, {last}]"


def _rounded(value: float, entry: Entry) -> float:
    """To the step of the instrument; pressures a tenth finer, or two readings could meet."""
    if not entry.unit:
        return float(round(value))
    step = entry.tolerance * (0.1 if entry.unit == "bar" else 1.0) or 0.1
    return round(round(value / step) * step, 4)


def _shown(value: float, entry: Entry) -> str:
    return f'"{value:g} {entry.unit}"' if entry.unit else f"{value:.0f}"


def _words(dice: Dice, word: str, entry: Entry, vague: bool) -> str:
    if not vague:
        return f'"{word}"'
    others = dice.sample([w for w in entry.domain if w != word], 1)
    return "one_of = [" + ", ".join(f'"{w}"' for w in sorted([word, *others])) + "]"
