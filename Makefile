# make setup: what the site needs.  make demo: a filled site to look at.  make test: everything that must be true.
PORT ?= 8000
PYTHON ?= python3
BIN := .venv/bin
MANAGE := $(BIN)/python manage.py

# Pango draws the papers; the fonts are for signs that the house's own typeface lacks; gettext compiles translations.
SYSTEM := libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0 fontconfig gettext \
	fonts-dejavu-core fonts-noto-core fonts-wqy-microhei
# A browser, a reader of papers, the other database, and compilers for the drive core, on this machine and for 8 bits.
SYSTEM_FOR_TESTS := chromium poppler-utils postgresql gcc libc6-dev gcc-avr avr-libc simavr libsimavr-dev
# Sentences of the papers in other languages, compiled.
CATALOGUES := $(patsubst %.po,%.mo,$(wildcard builds/locale/*/LC_MESSAGES/django.po))

.PHONY: setup demo test lint core bench mutants
.DELETE_ON_ERROR:

setup: .venv/system-ready .venv/packages-ready $(CATALOGUES)

.venv/bin/python:
	@$(PYTHON) -c "import ensurepip, venv" 2>/dev/null || .ci/need python3-venv
	@$(PYTHON) -m venv .venv

.venv/system-ready: Makefile .ci/need | .venv/bin/python
	@.ci/need $(SYSTEM)
	@touch $@

.venv/packages-ready: requirements.txt | .venv/bin/python
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --requirement requirements.txt
	@touch $@

%.mo: %.po | .venv/system-ready
	@msgfmt --check-format --output-file=$@ $<

.venv/system-ready-for-tests: Makefile .ci/need | .venv/bin/python
	@.ci/need $(SYSTEM_FOR_TESTS)
	@touch $@

demo: setup
	@$(MANAGE) migrate --verbosity 0
	@$(MANAGE) load_plans
	@$(MANAGE) demo_lab --if-empty
	@echo "Reachwright answers at http://127.0.0.1:$(PORT)/ until you press Ctrl+C."
	@exec $(BIN)/gunicorn labsite.wsgi --bind 127.0.0.1:$(PORT) --threads 8 --log-level warning

lint: setup
	@$(BIN)/ruff check .

test: setup .venv/system-ready-for-tests lint
	@$(MANAGE) makemigrations --check --dry-run --settings tests.settings
	@$(BIN)/pytest --quiet --numprocesses auto --dist worksteal
	@.ci/with-postgres $(BIN)/pytest --quiet --migrations -m postgres

# The drive core on a simulated 8-bit controller: the answers of each fit, its slowest step, its size. Part of test too.
core: setup .venv/system-ready-for-tests
	@$(BIN)/python -m tests.engineering.core.eight_bit

# A random 500 changes of the engineering code: does a test notice each? Within the hour; nothing else waits for it.
.venv/mutants-ready: .ci/requirements-mutants.txt .venv/packages-ready
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --requirement .ci/requirements-mutants.txt
	@touch $@

mutants: setup .venv/mutants-ready
	@nice $(BIN)/python tests/mutants.py --sample 500

bench: setup
	@$(BIN)/python tests/bench/bench_papers.py
	@$(BIN)/python tests/bench/bench_ticket.py
	@$(BIN)/python tests/bench/bench_stick_fit.py
	@$(BIN)/python tests/bench/bench_core.py
