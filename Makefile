# Everything lives in this checkout: .venv and .tools. Nothing is installed anywhere else.
PYTHON ?= python3
BIN := .venv/bin
SOURCES := $(shell find src -type d -name __pycache__ -prune -o -name '*.py' -print)

.PHONY: demo test check bench browser install install-all lock clean
.DELETE_ON_ERROR:

demo: .venv/.run  ## choose a shot three times, with pictures and a card, into demo-out/
	@$(BIN)/carrybook demo --out demo-out

test: .venv/.dev  ## the whole test suite
	@$(BIN)/python -m pytest -n 2

check: .venv/.dev  ## format, lint, types, layers
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/lint-imports

bench: .venv/.dev  ## benchmarks, as ratios in one run
	@$(BIN)/python -m benchmarks

# Debian's own; the tests that drive the page in a real browser say so where it is missing.
browser:  ## Debian's chromium, for the tests of the page
	@test -x /usr/bin/chromium || { \
	  { test "$$(id -u)" = 0 && command -v apt-get >/dev/null; } || { \
	    echo "there is no /usr/bin/chromium and this is not root on Debian: install it, or leave the browser tests out" >&2; exit 1; }; \
	  echo "installing Debian's chromium (once)"; \
	  apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends chromium fonts-dejavu-core >/dev/null; }
	@/usr/bin/chromium --version

install: .venv/.run  ## the command line tool alone, into .venv

# Debian's python may come without venv, and its pip refuses to install outside one:
# then a bootstrapper is put into .tools and used from there.
.venv/.made:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "carrybook needs Python 3.11 or newer; try: make $(MAKECMDGOALS) PYTHON=python3.12" >&2; exit 1; }
	@rm -rf .venv
	@$(PYTHON) -m venv .venv 2>/dev/null && $(BIN)/python -m pip --version >/dev/null 2>&1 || { \
	  rm -rf .venv && $(PYTHON) -m pip install --quiet --target .tools virtualenv && \
	  PYTHONPATH=.tools $(PYTHON) -m virtualenv --quiet .venv; }
	@touch $@

.venv/.run: .venv/.made constraints/run.txt pyproject.toml
	@echo "installing carrybook into .venv (once)"
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r constraints/run.txt
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	@$(BIN)/python -m compileall -q src  # as pip did with the others: a tenth of a second a command
	@touch $@

install-all: .venv/.run constraints/all.txt  ## with what only `learn`, surveyed maps and clusters need
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r constraints/all.txt

.venv/.dev: .venv/.run constraints/dev.txt
	@echo "installing the test and check tools into .venv (once)"
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r constraints/dev.txt
	@touch $@

lock:  ## write the constraints files anew (needs uv on the path)
	uv pip compile --universal --python-version 3.11 --generate-hashes --no-header --no-annotate pyproject.toml --group build -o constraints/run.txt
	uv pip compile --universal --python-version 3.11 --generate-hashes --no-header --no-annotate pyproject.toml --all-extras --group build -c constraints/run.txt -o constraints/all.txt
	uv pip compile --universal --python-version 3.11 --generate-hashes --no-header --no-annotate pyproject.toml --all-extras --group dev -c constraints/all.txt -o constraints/dev.txt

clean:  ## remove what make made
	rm -rf .venv .tools demo-out .mypy_cache .ruff_cache .pytest_cache .hypothesis
