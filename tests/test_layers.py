"""Imports point one way: a module may import only from layers below its own."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[1] / "advisor"
# Top first; a name is a package or a module of `advisor`. Equals on one line do not import each other.
LAYERS = [
    ["cli"],
    ["upkeep"],
    ["report"],
    ["contrast"],
    ["advise"],
    ["verifying"],
    ["certificate", "verifier"],
    ["ranking"],
    ["verdicts"],
    ["reasoner", "checks"],
    ["records"],
    ["site"],
    ["arrangements"],
    ["survey"],
    ["rulebase"],
    ["water"],
    ["calc"],
    ["tables", "units", "files"],
    ["facts"],
    ["paths"],
]
LEVEL = {name: depth for depth, names in enumerate(LAYERS) for name in names}
# records are shared shapes: anything above the fact book may name them, and arrangements and checks make them
SHAPES = {("arrangements", "records"), ("checks", "records"), ("reasoner", "records")}


def modules() -> list[Path]:
    return sorted(p for p in PACKAGE.rglob("*.py") if p.name != "__init__.py" or p.parent != PACKAGE)


def layer(path: Path) -> str:
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imported(path: Path) -> set[str]:
    """Layers this module imports when it runs; imports for type checkers only do not count."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    typing_only = {id(n) for block in ast.walk(tree) if isinstance(block, ast.If)
                   and isinstance(block.test, ast.Name) and block.test.id == "TYPE_CHECKING" for n in ast.walk(block)}
    found = set()
    for node in ast.walk(tree):
        if id(node) in typing_only:
            continue
        if isinstance(node, ast.Import):
            found |= {a.name.split(".")[1] for a in node.names if a.name.startswith("advisor.")}
        elif isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "advisor":
            rest = (node.module or "").split(".")[1:]
            found |= {rest[0]} if rest else {a.name for a in node.names}
    return {f for f in found if f in LEVEL}


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_imports_point_down(path: Path) -> None:
    own = layer(path)
    assert own in LEVEL, f"{own} has no layer; add it to LAYERS where it belongs"
    wrong = {f for f in imported(path) if f != own and LEVEL[f] <= LEVEL[own] and (own, f) not in SHAPES}
    assert not wrong, f"{own} may not import {sorted(wrong)}"


def test_only_one_module_knows_the_engine() -> None:
    knows = [p for p in modules() if "durable_rules_engine" in p.read_text() or "from durable" in p.read_text()]
    assert [str(p.relative_to(PACKAGE)) for p in knows] == ["reasoner/durable.py"]


def test_only_one_module_knows_the_plotting_library() -> None:
    assert [str(p.relative_to(PACKAGE)) for p in modules() if "matplotlib" in p.read_text()] == ["report/chart.py"]


def test_modules_fit_in_the_head() -> None:
    long = {str(p.relative_to(PACKAGE)): n for p in modules() if (n := len(p.read_text().splitlines())) > 400}
    assert not long


def test_formulas_know_no_rules_no_survey_no_arrangement() -> None:
    for path in modules():
        if layer(path) == "calc" and not path.name.startswith("public"):  # those read texts with units for `calc`
            assert imported(path) <= {"calc", "tables", "facts", "paths"}, path
