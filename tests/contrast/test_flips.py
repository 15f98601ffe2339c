"""Flips: the advice differs at the stated value and is the same at every step between; what is proved not to flip does not."""

from __future__ import annotations

import itertools
import random
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from advisor.contrast import quick
from advisor.contrast.flips import Flip, Flips, Search, flips, moved
from advisor.contrast.near import PAIR_WINDOW, pairs, readings
from advisor.records import Advice
from advisor.report.flipping import flips_document, flips_json, holds_as_long_as
from advisor.report.lint import lint
from advisor.survey import SurveyError
from tests import homes

ROOT = Path(__file__).resolve().parents[2]
# the two-sided one is the busy hour: fewer showers want a smaller cylinder, more a larger
SOME = ("water.flow", "water.static_pressure", "household.busy_showers", "places.scullery.width", "boiler.flue_route")


def at(advice: Advice, field: str, text: str) -> str | None:
    return both(advice, {field: text})


def faults(advice: Advice, flip: Flip, most: int = 40) -> list[str]:
    """What is wrong with one field's answer: judged again over all arrangements, step by step (at most so many)."""
    entry, value = advice.survey.fields.entry(flip.field), advice.survey.value(flip.field)
    wrong = [f"{flip.field}={w}: {at(advice, flip.field, w)}, said {to}" for w, to in flip.choices.items()
             if at(advice, flip.field, w) != to]
    for edge, start, sign in ((flip.below, "lo", -1), (flip.above, "hi", 1)):
        if edge is None:
            continue
        if at(advice, flip.field, edge.at) != edge.to or edge.to == advice.recommended:
            wrong.append(f"{flip.field}={edge.at}: not {edge.to}")
        steps = range(1, edge.steps)
        for n in {*list(steps)[-most // 2:], *list(steps)[: most // 2]} if flip.proved else ():
            text = homes.text_of(entry.unit, moved(entry, getattr(value, start), sign * n))
            if at(advice, flip.field, text) != advice.recommended:
                wrong.append(f"{flip.field}: already different at {text}")
    return wrong


def stands_anyway(advice: Advice, flip: Flip, rng: random.Random, times: int) -> list[str]:
    """A field said never to flip the advice, tried at random values."""
    entry = advice.survey.fields.entry(flip.field)
    tried = [homes.random_text(entry, rng) for _ in range(times)]
    return [f"{flip.field}={t} changes it" for t in tried if at(advice, flip.field, t) != advice.recommended]


@pytest.fixture(scope="module")
def some() -> Flips:
    advice = homes.advice(homes.DEMO)
    search = Search(advice)
    loose, kept = search.loose(SOME)
    return Flips(advice.recommended, tuple(search.alone(f, kept) if f in loose else
                                           Flip(f, advice.survey.answers[f].read) for f in SOME), 0)


def test_edges_are_where_the_advice_changes(some: Flips) -> None:
    advice = homes.advice(homes.DEMO)
    assert [f for flip in some.fields for f in faults(advice, flip, 8)] == []
    showers = next(f for f in some.fields if f.field == "household.busy_showers")
    assert showers.below and showers.above and showers.steps == 1
    assert next(f for f in some.fields if f.field == "boiler.flue_route").choices.keys() == {"none"}


def test_a_small_home_in_full() -> None:
    """Fields widened together and proved at once: none of them flips the advice at random values either."""
    advice = homes.advice("cottage_no_gas")
    search = Search(advice)
    names = [f for f in advice.survey.answers if not f.startswith(("confirmed.", "wishes."))]
    loose, kept = search.loose(names)
    still = [f for f in names if f not in loose or not search.alone(f, kept).turns]
    assert len(still) > 30
    rng = random.Random(2)
    assert [f for n in rng.sample(still, 8) for f in stands_anyway(advice, Flip(n, ""), rng, 2)] == []


def test_many_processes_answer_as_one_does() -> None:
    """In a program of its own, for a copy is only made where no other thread runs; each order of the answers is kept."""
    code = ("from advisor.contrast import spread, flips\n"
            "from tests import homes\n"
            "advice = homes.advice('cottage_no_gas')\n"
            "found = []\n"
            "for cores in (1, 3):\n"
            "    spread._cores = lambda: cores\n"
            "    flips.flips.last.clear()\n"
            "    found.append(flips.flips(advice))\n"
            "assert found[0] == found[1] and len(found[0].fields) > 40\n"
            "import os\n"
            "here = os.getpid()\n"
            "pids = spread.spread(lambda n: (n, os.getpid()), range(40))\n"
            "assert [n for n, _ in pids] == list(range(40)) and here not in {p for _, p in pids}\n"
            "within = spread.spread(lambda n: sum(spread.spread(lambda k: k, range(10))) + n, range(10))\n"
            "assert within == list(range(45, 55))\n")  # a copy makes no copies, and answers all the same
    subprocess.run([sys.executable, "-c", code], check=True, cwd=ROOT)


@pytest.fixture
def answered(some: Flips) -> Iterator[None]:
    """A whole search takes long; these fields do."""
    flips.last[:] = [(homes.advice(homes.DEMO).book, some)]
    yield
    flips.last.clear()


@pytest.mark.usefixtures("answered")
def test_what_is_printed_holds(some: Flips) -> None:
    advice = homes.advice(homes.DEMO)
    document = flips_document(advice, some)
    assert lint(document, advice) == []
    assert holds_as_long_as(advice, some).text.startswith("This holds as long as")
    found = flips_json(some)
    assert {"field", "value", "below", "above", "choices", "proved", "distance_in_steps"} <= found["fields"][0].keys()


@pytest.mark.parametrize("name", ["flat_no_gas", "cottage_no_gas"])
def test_the_nearest_pair_changes_the_advice_only_together(name: str) -> None:
    """Judged afresh: both together change it, neither alone, and no pair of fewer steps does (every one tried)."""
    advice = homes.advice(name)
    two = pairs(advice)
    search = Search(advice)
    found, names = two.nearest, readings(search)
    assert two.covered and two.readings > 20
    alone = {n for n in names for s in range(-two.within, two.within + 1)
             if at(advice, n, homes.text_of(search.entry(n).unit, end(search, n, s))) != advice.recommended}
    most = sum(found.steps) if found else 3  # where none is said to be near, only the nearest are tried one by one
    for a, b in itertools.combinations([n for n in names if n not in alone], 2):
        for s, t in itertools.product(range(-most, most + 1), repeat=2) if found and {a, b} == set(found.fields) else (
                (1, 1), (1, -1), (-1, 1), (-1, -1)):
            if s and t and abs(s) + abs(t) < most and max(abs(s), abs(t)) <= two.within:
                changes = {n: homes.text_of(search.entry(n).unit, end(search, n, k)) for n, k in ((a, s), (b, t))}
                assert quick.recommended(advice.survey.with_changes(changes), advice.rulebase) == advice.recommended
    if found:
        changes = dict(zip(found.fields, found.at, strict=True))
        assert not alone & set(found.fields)
        assert quick.recommended(advice.survey.with_changes(changes), advice.rulebase) == found.to != advice.recommended


def nearest_by_hand(advice: Advice, most_pairs: int, rng: random.Random) -> tuple[int | None, int]:
    """The fewest steps of any pair, each pair's window looked at alone and every point of those left judged; and how
    many were left (if more than `most_pairs`, as many of them at random)."""
    search, reach = Search(advice), [s for s in range(-PAIR_WINDOW, PAIR_WINDOW + 1) if s]

    def text(name: str, steps: int) -> str:
        return homes.text_of(search.entry(name).unit, end(search, name, steps))

    def alone(name: str) -> bool:
        return any(at(advice, name, text(name, s)) != advice.recommended for s in reach)

    names = [n for n in readings(search) if not alone(n)]
    left = [pair for pair in itertools.combinations(names, 2)
            if (box := search.look({n: search.around(n, PAIR_WINDOW) for n in pair})) and not search.stays(box)]
    tried = left if len(left) <= most_pairs else rng.sample(left, most_pairs)
    turns = [abs(s) + abs(t) for a, b in tried for s, t in itertools.product(reach, repeat=2)
             if both(advice, {a: text(a, s), b: text(b, t)}) != advice.recommended]
    return min(turns, default=None), len(left)


def both(advice: Advice, changes: dict[str, str]) -> str | None:
    try:
        return quick.recommended(advice.survey.with_changes(changes), advice.rulebase)
    except SurveyError:
        return advice.recommended


def end(search: Search, name: str, steps: int) -> float:
    value = search.survey.value(name)
    return moved(search.entry(name), value.hi if steps > 0 else value.lo, steps)


def test_the_flat_of_weak_water_in_figures() -> None:
    """16 l/min at 1.3 bar from 36 psi (2.48 bar): a litre less and 0.4 bar less leave too little for the shower."""
    advice = homes.advice("flat_no_gas")
    found = flips_json(Flips(advice.recommended, (), 0), pairs(advice))
    assert {f["field"] for f in found["pair"]["fields"]} == {"water.flow", "water.flow_pressure"}
    document = flips_document(advice, Flips(advice.recommended, (), 0), pairs(advice))
    text = " ".join(s.text for b in document.blocks for s in getattr(b, "sentences", ()))
    assert "15.5 l/min" in text and "Neither changes it alone within 4 steps" in text
    assert not [f for f in lint(document, advice) if "cannot-flip" not in f]
