"""Speed of the lapping: one whole reckoning from a slip."""

from pathlib import Path

from bench.report import Report, best_of
from purfling.reckonings.lapping.compute import compute
from purfling.slips.reader import read_slip

SLIP = Path(__file__).resolve().parent.parent / "examples" / "lapping.toml"


def measure(report: Report) -> None:
    """Under a millisecond, so that a slider may call it."""
    slip = read_slip(SLIP)
    compute(slip)
    report.add("lapping from a slip", best_of(20, lambda: compute(slip)) * 1e3, 1.0, "ms")
