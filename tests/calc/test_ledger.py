"""The ledger of check values: every entry has a use, every pointer leads somewhere, every typed figure is the source's."""

from __future__ import annotations

import importlib
import re
import tomllib
from collections import Counter
from pathlib import Path
from types import FunctionType

import pytest

from tests.calc.test_worked_examples import EXAMPLES

ROOT = Path(__file__).resolve().parents[2]
LEDGER = tomllib.loads((Path(__file__).parent / "ledger.toml").read_text(encoding="utf-8"))["entry"]
BY_ID = {entry["id"]: entry for entry in LEDGER}
# 186 check values and the 21 worked examples collected from outside, counted when the dossiers were read
FROM = {"check value": 186, "outside": 21}
USES = {"named test": 136, "table cross-check": 28, "rule example": 5, "known conflict": 4, "not used": 34}
KEYS = {"id", "from", "given", "published", "tolerance", "provenance", "source", "use"}
# steps between the source's unit and the calculator's: minutes an hour, kPa and psi a bar, gallons, feet, days, W
STEPS = (1, 60, 1 / 60, 0.01, 0.001, 4.54609, 0.3048, 365)
# expected in a test but not printed by the entry: the limit of its size, of which its answer is what four elbows leave
ELSEWHERE = {"DIS-04": {18.0}}


def names(function: FunctionType) -> set[str]:
    """The ids a parametrised test gives its cases."""
    found = set()
    for mark in getattr(function, "pytestmark", []):
        if mark.name == "parametrize":
            ids = mark.kwargs.get("ids") or ()
            found |= {case.id for case in mark.args[1] if hasattr(case, "id")} | {i for i in ids if isinstance(i, str)}
    return found


def target(pointer: str) -> FunctionType:
    """The test a pointer names; AssertionError where there is none."""
    path, _, name = pointer.partition("::")
    assert (ROOT / path).is_file(), f"{pointer}: no such file"
    function = getattr(importlib.import_module(path.removesuffix(".py").replace("/", ".")), name.split("[")[0], None)
    assert isinstance(function, FunctionType), f"{pointer}: no such test"
    if "[" in name:
        assert name.partition("[")[2].removesuffix("]") in names(function), f"{pointer}: no such case"
    return function


def alive(pointer: str) -> None:
    """AssertionError where a pointer leads nowhere."""
    if "::" in pointer:
        target(pointer)
        return
    path, _, name = pointer.partition("#")
    assert (ROOT / path).is_file(), f"{pointer}: no such file"
    raw = tomllib.loads((ROOT / path).read_text(encoding="utf-8"))
    if name:
        assert name in raw or name in {rule["id"] for rule in raw.get("rule", [])}, f"{pointer}: no such entry"
    else:
        assert raw["row"], f"{pointer}: a table without rows"


def numbers(text: str) -> list[float]:
    return [float(found) for found in re.findall(r"-?\d+(?:\.\d+)?", text)]


def test_every_entry_is_there_once_and_has_a_use() -> None:
    assert len(BY_ID) == len(LEDGER) and Counter(e["from"] for e in LEDGER) == FROM
    assert all(set(e) >= KEYS and all(e[k] for k in KEYS) for e in LEDGER)


def test_the_uses_are_counted() -> None:
    assert Counter(e["use"] for e in LEDGER) == USES and sum(USES.values()) == sum(FROM.values())


@pytest.mark.parametrize("entry", LEDGER, ids=lambda e: e["id"])
def test_its_use_is_real(entry: dict) -> None:
    if entry["use"] == "not used":
        assert "at" not in entry and entry["why"]
        return
    assert entry["at"]
    for pointer in entry["at"]:
        alive(pointer)
    if entry["use"] in ("named test", "known conflict"):
        assert any("::" in pointer for pointer in entry["at"])
    if entry["use"] == "table cross-check":
        assert any("::" in pointer or "/tables/" in pointer for pointer in entry["at"])


@pytest.mark.parametrize("entry", [e for e in LEDGER if e["use"] == "known conflict"], ids=lambda e: e["id"])
def test_a_known_conflict_is_a_strict_expected_failure_with_its_reason(entry: dict) -> None:
    function = target(entry["at"][0])
    marks = [m for m in function.pytestmark if m.name == "xfail"]
    case = entry["at"][0].partition("[")[2].removesuffix("]")
    for mark in function.pytestmark:
        if mark.name == "parametrize":
            marks += [m for c in mark.args[1] if getattr(c, "id", "") == case for m in c.marks if m.name == "xfail"]
    assert any(m.kwargs.get("strict") and m.kwargs.get("reason") for m in marks) and entry["why"]


def test_figures_from_memory_are_not_used() -> None:
    for entry in LEDGER:
        if entry["provenance"] == "FROM MEMORY":
            assert entry["use"] == "not used", entry["id"]


@pytest.mark.parametrize("name", EXAMPLES)
def test_a_typed_figure_is_the_sources(name: str) -> None:
    printed = numbers(f"{BY_ID[name]['given']} {BY_ID[name]['published']} {BY_ID[name]['source']}")
    for _, _, wanted, _ in EXAMPLES[name]:
        for key, value in wanted.items():
            close = any(abs(value - p * step) <= 1e-6 * max(1, abs(value)) for p in printed for step in STEPS)
            ratio = any(q and abs(value - p / q) <= 1e-6 for p in printed for q in printed)  # a share of two figures
            assert close or ratio or value in ELSEWHERE.get(name, ()), f"{name}: {key} {value} is not in the entry"


@pytest.mark.parametrize("pointer, words", [
    ("tests/calc/test_gone.py::test_x", "no such file"), ("tests/calc/test_gas.py::test_gone", "no such test"),
    ("tests/calc/test_worked_examples.py::test_worked_example[GONE-1]", "no such case"),
    ("shared/tables/gone.toml", "no such file"), ("rules/gas.toml#gone", "no such entry")])
def test_a_dead_pointer_is_found(pointer: str, words: str) -> None:
    with pytest.raises(AssertionError, match=words):
        alive(pointer)
