# Levelwright. `make run` starts it, `make test` checks it; both prepare whatever they need first.

PORT ?= 8000
PYTHON ?= python3
VENV := .venv/bin/python

.DEFAULT_GOAL := help
.PHONY: help run test test-fast lint types format smoke bench screenshots demo lock vendor clean

help: ## this list
	@grep -hE '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/:.*## /\t/' | expand -t 14

run: export LEVELWRIGHT_DEMO := 1
run: ## start Levelwright with the demo plant; PORT=8001 for another port, Ctrl-C ends it
	@$(PYTHON) -m project.prepare
	@exec $(VENV) -m project.start --port "$(PORT)"

test: ## lint, types, and every test, in Chromium too
	@$(PYTHON) -m project.prepare --test --browser
	@$(MAKE) --no-print-directory lint types
	$(VENV) -m pytest -n 2 --dist loadfile $(ARGS)

test-fast: ## the tests that need neither browser nor patience; ARGS='-k vessel' picks some
	@$(PYTHON) -m project.prepare --test --no-apt
	$(VENV) -m pytest -m "not browser and not slow" -n 2 --dist loadfile $(ARGS)

lint: ## ruff on Python, djlint on templates
	@$(PYTHON) -m project.prepare --test --no-engine
	$(VENV) -m ruff check .
	$(VENV) -m djlint templates --lint --quiet

types: ## mypy with the Django plugin
	@$(PYTHON) -m project.prepare --test --no-engine
	$(VENV) -m mypy

format: ## let ruff mend what it can
	@$(PYTHON) -m project.prepare --test --no-engine
	$(VENV) -m ruff check --fix .

smoke: ## clone into an empty folder, make run there, drive it with Chromium, end it
	@$(PYTHON) -m project.prepare --test --browser
	$(VENV) -m tests.smoke.smoke $(ARGS)

bench: ## timings as a table, and as JSON under test-results/
	@$(PYTHON) -m project.prepare --test
	$(VENV) -m tests.bench $(ARGS)

screenshots: ## the pictures of the README, from this folder as it stands
	@$(PYTHON) -m project.prepare --test --browser
	$(VENV) -m tests.smoke.smoke --working-tree --pictures docs/pictures

demo: ## load the demo plant into the database under var/, if it is not there
	@$(PYTHON) -m project.prepare
	$(VENV) manage.py load_demo

lock: ## requirements*.in -> requirements*.txt, complete and with hashes
	$(PYTHON) -m venv .venv.lock
	.venv.lock/bin/python -m pip install -qq uv==0.13.9
	.venv.lock/bin/python -m uv pip compile --universal --python-version 3.11 --generate-hashes --no-header \
		-q requirements.in -o requirements.txt
	.venv.lock/bin/python -m uv pip compile --universal --python-version 3.11 --generate-hashes --no-header \
		-q requirements-test.in -o requirements-test.txt
	rm -rf .venv.lock

vendor: ## copy the front-end files that we ship from their npm packages (needs npm)
	$(PYTHON) -m project.vendor_assets

clean: ## remove .venv, caches and results; the database under var/ stays
	rm -rf .venv .venv.* var/static var/static.stamp test-results .mypy_cache .ruff_cache .pytest_cache .hypothesis
	find . -name __pycache__ -type d -prune -exec rm -rf {} +
