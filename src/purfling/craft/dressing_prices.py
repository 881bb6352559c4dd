"""What holds a solved plan: rows with a price, and rows that stand on readings."""

from typing import Any

import numpy as np

from purfling.craft.dressing_lp import Programme, Solved


def priced_rows(programme: Programme, pair: tuple[float, float]) -> list[tuple[str, int, float | None]]:
    """Rows with a price in the exact solution at the radii: why, station, lateral place (None: no place)."""
    from scipy.optimize import linprog

    low, high = programme.bounds()
    done: Any = linprog(  # type: ignore[call-overload]
        programme.costs,
        A_ub=programme.fixed,
        b_ub=programme.right_hand(pair),
        bounds=np.column_stack((low, high)),
        method="highs",
    )
    if done.x is None:
        raise RuntimeError(f"HiGHS ends with {done.status}: {done.message}")
    priced = np.nonzero(np.abs(done.ineqlin.marginals) > 1e-7)[0]
    pits = {
        (int(s), round(float(y), 6)) for s, y in zip(programme.bound.station, programme.bound.y, strict=True)
    }
    found: list[tuple[str, int, float | None]] = []
    for row in priced:
        name, station, y = programme.places[row]
        if name == "lowest" and y is not None and (station, round(y, 6)) in pits:
            name = "pit"
        if name != "left":
            found.append((name, station, y))
    return found


def holding_rows(programme: Programme, solved: Solved, pair: tuple[float, float]) -> tuple[Any, Any]:
    """Matrix rows (of heights, tilts and M) that hold the solution, and the reading each stands on (-1
    none).
    """
    from scipy import sparse

    found = np.zeros(programme.columns)
    found[: programme.n], found[programme.n : 2 * programme.n] = (
        solved.centre_mm,
        solved.tilt * programme.scale,
    )
    found[programme.deepest_at] = solved.deepest_mm
    found[programme.slack_at : programme.left_at] = list(solved.slack_mm.values())
    rest = programme.right_hand(pair) - programme.fixed @ found
    low, high = np.nonzero(programme.low)[0], np.nonzero(programme.high)[0]
    count = len(programme.counted.y)
    source = np.full(programme.count, -1)
    source[: len(low)] = np.where(low < count, low, -1)
    source[len(low) : len(low) + len(high)] = high
    at = len(low) + len(high)
    for side in ("bass", "treble"):
        places = programme.edges[side]
        source[at : at + len(places)] = places
        at += len(places)
    held = np.nonzero(np.abs(rest) < 1e-6)[0]
    sign = np.where(np.arange(programme.count) < len(low), 1.0, -1.0)[held]
    rows = programme.fixed.tocsr()[held][:, : programme.deepest_at + 1]
    return sparse.csr_array(sparse.diags_array(sign) @ rows), source[held]
