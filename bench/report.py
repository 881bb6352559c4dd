"""How a measurement is taken and written down."""

import time
from collections.abc import Callable
from dataclasses import dataclass, field


@dataclass
class Report:
    """Rows of (what, measured, limit, unit); a row over its limit makes ``make bench`` exit 1."""

    rows: list[tuple[str, float, float | None, str]] = field(default_factory=list)

    def add(self, what: str, measured: float, limit: float | None, unit: str) -> None:
        """Write one row down and show it."""
        self.rows.append((what, measured, limit, unit))
        bound = "" if limit is None else f"  (limit {limit:g} {unit})"
        mark = " OVER" if limit is not None and measured > limit else ""
        print(f"{what}: {measured:.3g} {unit}{bound}{mark}", flush=True)

    @property
    def over(self) -> int:
        """How many rows lie over their limit."""
        return sum(1 for _, value, limit, _ in self.rows if limit is not None and value > limit)


def best_of(times: int, work: Callable[[], object]) -> float:
    """The shortest of some runs [s]."""
    found = []
    for _ in range(times):
        begin = time.perf_counter()
        work()
        found.append(time.perf_counter() - begin)
    return min(found)
