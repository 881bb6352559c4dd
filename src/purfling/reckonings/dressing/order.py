"""The planing order: where to begin, what to leave, in the words of the bench."""

import numpy as np

from purfling.reckonings.dressing.compute import DressingCase
from purfling.words import decimal, say

APART = 0.12  # of the board's length: places to begin with lie at least so far apart
BEGIN = 3
CENTRE = 0.5  # mm; nearer the middle a place is on the centre line


def deepest_places(case: DressingCase, count: int = BEGIN) -> list[tuple[float, float, float]]:
    """(removal, station, line) [mm] of the deepest places that lie apart, deepest first."""
    plan, board = case.plan, case.surface.board
    assert plan is not None
    order = np.argsort(-np.nan_to_num(plan.removal_mm, nan=-1.0), axis=None, kind="stable")
    found: list[tuple[float, float, float]] = []
    for flat in order:
        i, j = np.unravel_index(int(flat), plan.removal_mm.shape)
        off = float(plan.removal_mm[i, j])
        if not off > 0.005 or len(found) == count:
            break
        x, y = float(board.station_mm[i]), float(board.lateral_mm[i, j])
        if all(abs(x - station) > APART * board.board_length_mm for _, station, _ in found):
            found.append((off, x, y))
    return found


def planing_order(case: DressingCase, language: str = "en") -> list[str]:
    """The steps, one sentence each."""
    plan = case.plan
    assert plan is not None

    def d(value: float, n: int = 2) -> str:
        return decimal(value, n, language)

    def s(code: str, **params: str) -> str:
        return say(f"dressing.{code}", language, **params)

    said: list[str] = []
    for off, x, y in deepest_places(case):
        side = "centre" if abs(y) < CENTRE else "bass" if y < 0 else "treble"
        said.append(s(f"order_place_{side}", off=d(off), station=d(x, 0), line=d(abs(y), 0)))
    places = "; ".join(said)
    radii = {"nut": d(plan.radius_nut_mm, 1), "end": d(plan.radius_end_mm, 1)}
    ends = {"nut_off": d(max(plan.centre_off_mm[0], 0.0)), "end_off": d(max(plan.centre_off_mm[1], 0.0))}
    steps = [s("order_1")]
    if places:
        steps.append(s("order_2", places=places))
    return [*steps, s("order_3", **radii, **ends), s("order_4"), s("order_5"), s("order_6")]
