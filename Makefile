# `make demo` runs the main job on a shipped example; `make test` the tests; `make proof` the long proofs.
PYTHON ?= python3
VENV   := .venv
BIN    := $(VENV)/bin

.PHONY: demo test proof bench lint clean

$(BIN)/python:
	$(PYTHON) -m venv $(VENV)

$(VENV)/.installed: $(BIN)/python pyproject.toml
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e .
	touch $@

$(VENV)/.installed-test: $(BIN)/python pyproject.toml
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e '.[test]'
	touch $@ $(VENV)/.installed

demo: $(VENV)/.installed
	$(BIN)/advisor demo --out advice

test: $(VENV)/.installed-test
	$(BIN)/python -m ruff check .
	$(BIN)/python -m pytest -n 2

proof: $(VENV)/.installed-test
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e '.[engines]'
	$(BIN)/python -m pytest -n 2 -m proof tests/proof
	$(BIN)/python tests/proof/table.py

bench: $(VENV)/.installed-test
	$(BIN)/python -m pytest -m benchmark -s tests/benchmarks

clean:
	rm -rf $(VENV) advice
