# Every chore has one entry, the same here and in CI.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready

.PHONY: demo test deep lint bench regenerate setup clean

setup: $(READY)

$(READY): pyproject.toml constraints.txt
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --constraint constraints.txt --editable '.[test]'
	touch $(READY)

demo: $(READY)
	$(BIN)/python tools/demo.py

test: $(READY)
	$(BIN)/python -m pytest -n 2 $(PYTEST_ARGS)

deep: $(READY)
	LATCHWORK_NETLISTS=500 $(BIN)/python -m pytest -n 2 tests/compiled $(PYTEST_ARGS)

lint: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

bench: $(READY)
	$(BIN)/python tools/bench

regenerate: $(READY)
	$(BIN)/python tools/regenerate.py

clean:
	rm -rf build $(VENV)
