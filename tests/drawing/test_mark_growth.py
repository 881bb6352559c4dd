"""The picture of a crack's growth: heights in proportion, a bar of two errors to each side."""

from datetime import datetime

import pytest

from purfling.craft.marks import LENGTH_ERROR_MM
from purfling.drawing.drawings.mark_growth import mark_growth
from purfling.drawing.shapes import Circle, Line, Text

READINGS = [
    (datetime(2023, 3, 1), 40.0),
    (datetime(2024, 3, 1), 42.0),
    (datetime(2026, 3, 1), 48.0),
]


def test_places_are_in_proportion_to_years_and_lengths():
    drawing = mark_growth(READINGS)
    dots = [i for i in drawing.items if isinstance(i, Circle)]
    assert (dots[2].cx - dots[0].cx) / (dots[1].cx - dots[0].cx) == pytest.approx(3.0, rel=0.01)
    assert (dots[2].cy - dots[0].cy) / (dots[1].cy - dots[0].cy) == pytest.approx(4.0, rel=1e-6)
    per_mm = (dots[1].cy - dots[0].cy) / 2.0
    bars = [i for i in drawing.items if isinstance(i, Line) and i.x1 == i.x2 == dots[1].cx]
    assert bars[0].y2 - bars[0].y1 == pytest.approx(4 * LENGTH_ERROR_MM * per_mm)


def test_the_figures_follow_the_language():
    said = {i.text for i in mark_growth(READINGS, "de").items if isinstance(i, Text)}
    assert {"40,0", "42,0", "48,0"} <= said
