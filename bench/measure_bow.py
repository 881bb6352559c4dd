"""Speed of the bow: all its beams at 400 elements, and the inverse."""

from pathlib import Path

from bench.report import Report, best_of
from purfling.craft.bow.beam import ELEMENTS
from purfling.reckonings.bow.compute import compute
from purfling.reckonings.bow.weighed import whole_bow
from purfling.reckonings.bow.wishes import wished_of
from purfling.slips.reader import check_slip, read_slip

SLIP = Path(__file__).resolve().parent.parent / "examples" / "bow.toml"


def measure(report: Report) -> None:
    """The full bow with its deflection test, buckling and hair pull; then the search, reached and not."""
    slip = read_slip(SLIP)
    bare = check_slip({k: v for k, v in slip.tables.items() if k != "wish"})
    compute(slip)
    report.add(f"full bow, {ELEMENTS} elements", best_of(7, lambda: compute(bare)) * 1e3, 20.0, "ms")
    weighed = whole_bow(slip)
    assert weighed is not None
    far = check_slip({**slip.tables, "wish": {"bow": {"mass_g": 75.0, "balance_mm": 230.0}}})
    for name, one in (("reached", slip), ("out of reach", far)):
        report.add(
            f"inverse, {name}", best_of(7, lambda s=one: wished_of(s, weighed, None)) * 1e3, 100.0, "ms"
        )
