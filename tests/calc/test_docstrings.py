"""Each public function of advisor.calc is a data sheet: its headings, its parameters, an example that runs."""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil
import re

import pytest

import advisor.calc

HEADINGS = ("Parameters", "Returns", "Raises", "Limits", "Source", "Examples")


def public_functions() -> list:
    found = []
    for info in pkgutil.iter_modules(advisor.calc.__path__):
        module = importlib.import_module(f"advisor.calc.{info.name}")
        found += [pytest.param(f, module, id=f"{info.name}.{name}") for name, f in vars(module).items()
                  if inspect.isfunction(f) and f.__module__ == module.__name__ and not name.startswith("_")]
    return found


def section(text: str, heading: str) -> str | None:
    """What stands under a heading, up to the next underlined one."""
    match = re.search(rf"^{heading}\n-+\n(.*?)(?=^\w[^\n]*\n-{{3,}}$|\Z)", text, re.MULTILINE | re.DOTALL)
    return match[1].strip() if match else None


def test_there_are_functions_to_look_at():
    names = [p.id for p in public_functions()]
    assert "storage.reheat_minutes" in names and "gas_pipe.gas_leg_drop" in names


@pytest.mark.parametrize("function, module", public_functions())
def test_headings_and_parameters(function, module):
    text = inspect.getdoc(function) or ""
    missing = [h for h in HEADINGS if not section(text, h)]
    assert not missing, f"headings missing or empty: {missing}"
    listed = section(text, "Parameters")
    unnamed = [p for p in inspect.signature(function).parameters if not re.search(rf"^{p} :", listed, re.MULTILINE)]
    assert not unnamed, f"parameters not described: {unnamed}"


@pytest.mark.parametrize("function, module", public_functions())
def test_example_runs(function, module):
    examples = doctest.DocTestParser().get_doctest(inspect.getdoc(function), dict(vars(module)), function.__name__,
                                                   module.__name__, 0)
    assert examples.examples, "no example"
    said: list[str] = []
    result = doctest.DocTestRunner(verbose=False).run(examples, out=said.append)
    assert result.failed == 0, "".join(said)
