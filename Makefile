# Purfling: the two commands a newcomer needs are `make run` and `make test`.
PYTHON ?= $(shell command -v python3.11 || command -v python3)
VENV := .venv
BIN := $(VENV)/bin
export UV_COMPILE_BYTECODE := 1
export UV_PYTHON_DOWNLOADS := never
export PYTHONDONTWRITEBYTECODE :=
export PYTHONPATH :=
OUT ?= out

.PHONY: install run test test-postgres test-full check bench lock clean catalogues lint types contracts

install: $(VENV)/.ready catalogues

$(VENV)/.ready: requirements/all.txt requirements/uv.txt pyproject.toml setup.py
	test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install -q --require-hashes -r requirements/uv.txt
	$(BIN)/uv pip sync -q --python $(BIN)/python --require-hashes requirements/all.txt \
	  || $(BIN)/python -m pip install -q --require-hashes -r requirements/all.txt
	$(BIN)/uv pip install -q --python $(BIN)/python --no-deps --no-build-isolation -e .
	sh tools/system_packages.sh
	touch $@

catalogues: $(VENV)/.ready
	@$(BIN)/python tools/catalogues.py compile

run: install
	@$(BIN)/purfling open $(if $(filter 0,$(DEMO)),,--demo) $(if $(filter 1,$(LAN)),--lan) $(if $(PORT),--port $(PORT))

test: install
	$(BIN)/python -m pytest -m "not full" -n 2 --dist loadfile

test-postgres: install
	$(BIN)/python -m pytest tests/shop/test_postgres.py

test-full: install
	$(BIN)/python -m pytest -n 2 --dist loadfile

check: install
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/python tools/size_budget.py
	$(BIN)/python tools/nomenclature.py
	$(BIN)/python tools/catalogues.py check
	$(BIN)/python tools/shop_messages.py check
	$(BIN)/python tools/docs_run.py
	sh tools/wheel_check.sh

bench: install
	$(BIN)/python -m bench

lock:
	$(BIN)/uv pip compile -q --generate-hashes --no-emit-index-url --no-header requirements/uv.in -o requirements/uv.txt
	$(BIN)/uv pip compile -q --generate-hashes --no-emit-index-url --no-header requirements/dev.in -o requirements/all.txt
	grep -oE '^[a-zA-Z0-9_.-]+(\[[a-z]+\])?==[^ ]+' requirements/all.txt > requirements/versions.txt
	cd requirements && ../$(BIN)/uv pip compile -q --generate-hashes --no-emit-index-url --no-header base.in -o base.txt
	rm requirements/versions.txt

clean:
	rm -rf build dist out src/*.egg-info
