# Two commands set everything up on a fresh machine with Python 3.11+ and make:
#   make demo    reports on the samples, into ./demo-out
#   make test    linters and tests
# `make a11y` looks at the pages in the browser Chromium, which must be there.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready

.PHONY: demo test a11y lint bench lock schemas clean

$(READY): requirements.lock pyproject.toml
	$(PYTHON) -c 'import sys; sys.exit("Python 3.11 or newer is needed") if sys.version_info < (3, 11) else None'
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	touch $(READY)

demo: $(READY)
	$(BIN)/welltold demo

lint: $(READY)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

test: $(READY) lint
	$(BIN)/python -m pytest -q -n auto --ignore=tests/browser

a11y: $(READY)
	$(BIN)/python -m pytest -q -n auto tests/browser

bench: $(READY)
	$(BIN)/python tests/bench

lock:
	uv pip compile --universal --generate-hashes --python-version 3.11 --extra dev --no-header \
		--no-annotate --no-emit-index-url --no-emit-find-links pyproject.toml -o requirements.lock

clean:
	rm -rf $(VENV) demo-out
