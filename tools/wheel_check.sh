#!/bin/sh
# Builds the wheel, installs it in an empty environment with the base packages alone, and uses it there.
set -eu
root=$(cd "$(dirname "$0")/.." && pwd)
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
cd "$root"
rm -rf build
.venv/bin/python -m build --wheel --no-isolation --outdir "$scratch/dist" . >"$scratch/build.log" 2>&1 || { tail -20 "$scratch/build.log"; exit 1; }
rm -rf build
python_bin=$(.venv/bin/python -c 'import sys; print(sys._base_executable)')
"$python_bin" -m venv "$scratch/env"
.venv/bin/uv pip sync -q --python "$scratch/env/bin/python" --require-hashes requirements/base.txt \
  || "$scratch/env/bin/python" -m pip install -q --require-hashes -r requirements/base.txt
.venv/bin/uv pip install -q --python "$scratch/env/bin/python" --no-deps "$scratch"/dist/*.whl
cp -r examples "$scratch/examples"
cd "$scratch"
"$scratch/env/bin/purfling" setup examples/violin.toml --json >setup.json
"$scratch/env/bin/purfling" service examples/violin.toml -o pages >/dev/null
test -s pages/bridge-template.pdf && test -s pages/setup-card.pdf && test -s pages/service-report.pdf
if "$scratch/env/bin/purfling" open >said.txt 2>&1; then
  echo "purfling open ran without the book"; exit 1
fi
grep -q "needs the workshop's book" said.txt || { cat said.txt; exit 1; }
echo "wheel: built, installed alone, used"
