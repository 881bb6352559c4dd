"""A crack's growth: its lengths over the years with the error of the rule, the straight line through them."""

from collections.abc import Sequence
from datetime import datetime

from purfling.craft.marks import LENGTH_ERROR_MM, growth
from purfling.drawing.shapes import Circle, Drawing, Item, Line, Path, Pen, Text
from purfling.words import decimal

WIDTH, HEIGHT = 170.0, 62.0
LEFT, BOTTOM, TOP = 16.0, 11.0, 8.0
YEAR = 365.2425 * 86400.0


def mark_growth(
    readings: Sequence[tuple[datetime, float]], language: str = "en", unit: str = "mm"
) -> Drawing:
    """Readings (moment, length) as points with bars of two errors, two or more of them."""
    years = [at.timestamp() / YEAR for at, _ in readings]
    lengths = [length for _, length in readings]
    found = growth(years, lengths)
    top = max(lengths) + 4 * LENGTH_ERROR_MM
    low = max(min(lengths) - max((max(lengths) - min(lengths)) * 0.6, 4 * LENGTH_ERROR_MM), 0.0)
    span = max(years[-1] - years[0], 1e-6)

    def x_of(year: float) -> float:
        return LEFT + 6 + (year - years[0]) / span * (WIDTH - LEFT - 18)

    def y_of(length: float) -> float:
        return BOTTOM + (length - low) / (top - low) * (HEIGHT - BOTTOM - TOP)

    items: list[Item] = [Line(LEFT, BOTTOM, WIDTH - 4, BOTTOM, Pen("quiet", 0.15))]
    for value in sorted({round(low + (top - low) * k / 3, 1) for k in range(4)}):
        y = y_of(value)
        items.append(Line(LEFT, y, WIDTH - 4, y, Pen("quiet", 0.06)))
        items.append(Text(LEFT - 2, y - 1.2, decimal(value, 1, language), 3.4, "end", "quiet"))
    items.append(Text(LEFT - 2, HEIGHT - 3.6, unit, 3.4, "end", "quiet"))
    items.append(
        Path(tuple((x_of(t), y_of(v)) for t, v in zip(years, lengths, strict=True)), Pen("varnish", 0.5))
    )
    last_label = -100.0
    for (at, _), t, v in zip(readings, years, lengths, strict=True):
        x, y, e = x_of(t), y_of(v), 2 * LENGTH_ERROR_MM
        items.append(Line(x, y_of(max(v - e, low)), x, y_of(min(v + e, top)), Pen("varnish", 0.9, ())))
        items.append(Circle(x, y, 1.5, Pen("varnish", 0.5), "paper"))
        items.append(Text(x + 2.4, y + 1.4, decimal(v, 1, language), 3.8, "start", "ink", bold=True))
        if x - last_label > 20:
            items.append(Text(x, 3.4, at.strftime("%m.%Y"), 3.4, "middle", "quiet"))
            last_label = x
    title = f"{decimal(found.change_mm, 1, language)} {unit}"
    return Drawing(WIDTH, HEIGHT, tuple(items), title)
