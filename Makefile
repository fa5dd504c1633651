# Everything goes into .venv/ in this checkout. See README.md.
PYTHON ?= python3
PORT ?= 8765
BIN := .venv/bin
PIP := $(BIN)/python -m pip --disable-pip-version-check --quiet

.PHONY: setup run test lint types docs bench prove hardship lock clean
setup: .venv/run.ok .venv/test.ok

.venv/run.ok: lock/run.txt pyproject.toml
	@test -x $(BIN)/python || $(PYTHON) -m venv .venv
	$(PIP) install --require-hashes --no-deps -r lock/run.txt
	$(PIP) install --no-deps --no-build-isolation -e .
	@touch $@

.venv/test.ok: .venv/run.ok lock/test.txt
	$(PIP) install --require-hashes --no-deps -r lock/test.txt
	@touch $@

run: .venv/run.ok
	$(BIN)/firstpull demo --port $(PORT)
