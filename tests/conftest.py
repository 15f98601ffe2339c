"""Long proofs and benchmarks run only when asked for by their mark."""

from __future__ import annotations

import gc

import pytest

from advisor.cli.app import RARELY

gc.set_threshold(*RARELY)  # as the command has it


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--rewrite-letters", action="store_true", help="write the reviewed letters anew")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    asked = config.getoption("-m")
    if config.option.collectonly:
        return
    for mark in ("proof", "benchmark"):
        if mark not in asked:
            skip = pytest.mark.skip(reason=f"run with -m {mark}")
            for item in items:
                if mark in item.keywords:
                    item.add_marker(skip)
