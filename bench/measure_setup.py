"""The set-up: whole process against importing numpy, the function with its errors, the whole service."""

import subprocess
import sys
import tempfile
from pathlib import Path

from bench.report import Report, best_of
from purfling.craft.setup import setup
from purfling.reckonings.setup.card import card_from_slip
from purfling.slips.reader import read_slip

ROOT = Path(__file__).resolve().parent.parent
SLIP = ROOT / "examples" / "violin.toml"
PROGRAM = Path(sys.executable).parent / "purfling"


def _run(*words: str) -> None:
    subprocess.run(words, check=True, capture_output=True)


def measure(report: Report) -> None:
    """Three rows."""
    numpy_alone = best_of(7, lambda: _run(sys.executable, "-c", "import numpy"))
    whole = best_of(7, lambda: _run(str(PROGRAM), "setup", str(SLIP), "--json"))
    report.add("purfling setup --json over import numpy", whole / numpy_alone, 3.0, "times")
    card = card_from_slip(read_slip(SLIP)).card
    report.add("set-up with its errors", best_of(300, lambda: setup(card)) * 1000, 1.0, "ms")
    with tempfile.TemporaryDirectory() as out:
        seconds = best_of(3, lambda: _run(str(PROGRAM), "service", str(SLIP), "-o", out))
    report.add("whole service", seconds, 3.0, "s")
