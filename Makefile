# Everything goes into .venv/ in this checkout; README.md says what each target is for.
PYTHON ?= python3
PORT ?= 8765
BIN := .venv/bin
PIP := $(BIN)/python -m pip --disable-pip-version-check --quiet
PYTEST := $(BIN)/python -m pytest -n 2 --dist loadfile
SECTION := $(BIN)/python tools/section.py
# One thread a process: two test processes share two cores, and tests never depend on the number of threads.
export OMP_NUM_THREADS := 1
export OPENBLAS_NUM_THREADS := 1

.PHONY: setup run test lint types docs unit played browser storage bench load prove compare hardship coverage lock

setup: .venv/run.ok .venv/test.ok

.venv/run.ok: lock/run.txt pyproject.toml
	@test -x $(BIN)/python || $(PYTHON) -m venv .venv
	$(PIP) install --require-hashes --no-deps -r lock/run.txt
	$(PIP) install --no-deps --no-build-isolation -e .
	@touch $@

.venv/test.ok: .venv/run.ok lock/test.txt lock/networks.txt
	$(PIP) install --require-hashes --no-deps -r lock/test.txt -r lock/networks.txt
	@touch $@

run: .venv/run.ok
	$(BIN)/firstpull demo --port $(PORT)

test: setup
	@rm -f .venv/sections.txt
	@$(SECTION) "lint, types and docs" lint types docs
	@$(SECTION) "unit and outside checks" unit
	@$(SECTION) "played jobs" played
	@$(SECTION) "browser" browser
	@$(SECTION) "storage and hardship" storage
	@$(SECTION) --report

lint:
	$(BIN)/ruff check src tests benchmarks tools docs
	$(BIN)/lint-imports --no-cache > .venv/lint-imports.txt || (cat .venv/lint-imports.txt; exit 1)

types:
	$(BIN)/mypy

docs:
	$(BIN)/python -m pytest tests/docs tests/gates

unit:
	$(PYTEST) tests/base tests/engine tests/outside tests/handbook tests/gauges tests/safety tests/reasoning tests/bench tests/paper

played:
	$(PYTEST) tests/acceptance tests/cli tests/practice

browser:
	$(PYTEST) tests/web tests/browser

storage:
	$(PYTEST) tests/workshop tests/hardship

coverage: setup
	$(BIN)/coverage erase
	$(BIN)/coverage run -m pytest tests/base tests/engine tests/handbook tests/gauges tests/safety tests/reasoning tests/bench tests/workshop tests/acceptance
	$(BIN)/coverage combine --quiet
	$(BIN)/coverage report --skip-covered --fail-under=85

bench: setup
	$(BIN)/python -m benchmarks.run

load: setup
	$(BIN)/python -m benchmarks.load

prove: setup
	$(BIN)/python -m benchmarks.prove

compare: setup
	$(BIN)/python -m benchmarks.planner.compare
	$(BIN)/python -m benchmarks.planner.hidden

hardship: setup
	$(BIN)/python -m benchmarks.hardship

# The lock names no registry; releases younger than a week are left alone.
LOCK := $(BIN)/uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-header --no-annotate \
  --no-emit-package django --no-emit-package asgiref --no-emit-package sqlparse --exclude-newer "$$(date -u -d '8 days ago' +%F)"
lock:
	$(LOCK) pyproject.toml --group build -o lock/run.txt
	$(LOCK) pyproject.toml --extra postgres --extra lan --group build --group test --group lint --group outside -c lock/run.txt -o lock/test.txt
	$(LOCK) --no-deps --group networks -o lock/networks.txt
