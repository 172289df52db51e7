# Everything here starts from a fresh machine with Python 3.11 or newer: the first run makes .venv and fills it.
# `make help` says what there is.

PYTHON ?= python3

VENV := .venv
BIN := $(VENV)/bin
# One stamp for each set of packages; a change of pyproject.toml makes it stale.
SITE_READY := $(VENV)/ready-for-site
TEST_READY := $(VENV)/ready-for-test
# What looks for barriers in the built pages, and the published schema of SARIF; the stamp changes with the versions.
AXE_VERSION := 4.11.4
SARIF_VERSION := 1.0.0-beta.0
AXE_READY := $(VENV)/axe/ready-$(AXE_VERSION)-$(SARIF_VERSION)
# Two processes share the tests, file by file; long files begin.
SIDE_BY_SIDE := --numprocesses 2 --dist loadfile --no-loadscope-reorder
PIP_INSTALL := $(BIN)/python -m pip install --quiet --disable-pip-version-check --editable

# The theme's banner about the next MkDocs is news for its maintainers, not for a laboratory.
export NO_MKDOCS_2_WARNING := 1

.DEFAULT_GOAL := help
.DELETE_ON_ERROR:
.PHONY: help site serve check test test-all lint bench faults alarms coverage fuzz clean

help: ## Say what there is
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "  make %-8s %s\n", $$1, $$2 }' $(MAKEFILE_LIST)
	@echo "Another Python: make site PYTHON=python3.12"

site: $(SITE_READY) ## Build the handbook into site/; a warning fails it
	$(BIN)/mkdocs build --strict

serve: $(SITE_READY) ## Preview the handbook on this machine and follow changes
	$(BIN)/mkdocs serve

check: $(SITE_READY) ## Check the data files without building
	$(BIN)/notchbook check

# All three run even where one fails, and pytest comes last so that its summary ends the output.
test: $(TEST_READY) $(AXE_READY) ## Run ruff, mypy and the tests, without those that show something again
	@status=0; \
	$(MAKE) --no-print-directory lint || status=1; \
	$(BIN)/pytest $(SIDE_BY_SIDE) -m "not repeats" || status=1; \
	exit $$status

test-all: $(TEST_READY) $(AXE_READY) ## Run ruff, mypy and all tests; takes several times as long
	@status=0; \
	$(MAKE) --no-print-directory lint || status=1; \
	$(BIN)/pytest $(SIDE_BY_SIDE) || status=1; \
	exit $$status

lint: $(TEST_READY) ## Run ruff and mypy only
	@status=0; \
	$(BIN)/ruff check || status=1; \
	$(BIN)/mypy || status=1; \
	exit $$status

bench: $(TEST_READY) ## Measure check and build against bare tools: make bench BENCH="--records 300"
	PYTHONPATH=tools $(BIN)/python -m bench $(BENCH)

faults: $(TEST_READY) ## Change every number of the demo and list what the check misses: make faults FAULTS="--sample 100"
	PYTHONPATH=tools $(BIN)/python -m faults $(FAULTS)

alarms: $(TEST_READY) ## Make up sound records and count those that the check warns of: make alarms ALARMS="--records 500"
	PYTHONPATH=tools $(BIN)/python -m alarms $(ALARMS)

coverage: $(TEST_READY) ## Simulate classes and count how often intervals hold the truth: make coverage COVERAGE="--classes 2000"
	PYTHONPATH=tools $(BIN)/python -m coverage $(COVERAGE)

fuzz: $(TEST_READY) ## Give random input to all that reads what somebody wrote: make fuzz FUZZ="--inputs 2000"
	PYTHONPATH=tools $(BIN)/python -m fuzz $(FUZZ)

clean: ## Delete everything that make has made, .venv included
	rm -rf $(VENV) site .cache .bench .fuzz build dist .mypy_cache .ruff_cache .pytest_cache .hypothesis
	find . -name __pycache__ -type d -prune -exec rm -rf {} +

$(SITE_READY): pyproject.toml | $(BIN)/python
	$(PIP_INSTALL) .
	@touch $@

$(TEST_READY): pyproject.toml | $(BIN)/python
	$(PIP_INSTALL) '.[test]'
	@touch $@ $(SITE_READY)

# Where npm or the network is missing the tests go on without it, and say so.
$(AXE_READY): | $(BIN)/python
	@mkdir -p $(@D)
	@if command -v npm > /dev/null && npm install --prefix $(@D) --ignore-scripts --no-save --no-audit --no-fund \
	  --fetch-retries=1 --loglevel=error axe-core@$(AXE_VERSION) \
	  @microsoft/jest-sarif@$(SARIF_VERSION); then touch $@; \
	else echo "npm did not bring axe-core and a schema: the tests of accessibility and of SARIF skip"; fi

$(BIN)/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { \
	  echo "$(PYTHON) is missing or older than 3.11; name a newer one, such as: make site PYTHON=python3.12"; exit 1; }
	@$(PYTHON) -m venv $(VENV) || { \
	  rm -rf $(VENV); echo "$(PYTHON) cannot make .venv; on Debian and Ubuntu install python3-venv"; exit 1; }
