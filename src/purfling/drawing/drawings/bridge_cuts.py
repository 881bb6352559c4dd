"""Bars of the cuts: how far each moves the rocking and the bouncing frequency, in per cent."""

import math
from collections.abc import Sequence

from purfling.drawing.shapes import Drawing, Item, Line, Pen, Rect, Text

ROW = 13.0
BAR = 3.6
STEPS = (0.5, 1.0, 2.0, 5.0, 10.0, 20.0)


def bridge_cuts(
    rows: Sequence[tuple[str, float | None, float | None]],
    heads: tuple[str, str],
    title: str,
    decimal: str = ".",
    wide: float = 170.0,
) -> Drawing:
    """One row for each cut (name, rocking, bouncing [%]); bars from the middle line: lower to one side,
    higher to the other; ``heads`` name the two kinds beside the bars of the first row."""
    names, left = 34.0, 36.0
    values = [v for _, a, b in rows for v in (a, b) if v is not None]
    low, high = min([0.0, *values]), max([0.0, *values])
    step = next((s for s in STEPS if (high - low) / s <= 8), STEPS[-1])
    low, high = math.floor(low / step) * step, max(math.ceil(high / step), 1) * step
    room = wide - left - 16.0
    unit = room / (high - low)
    zero = left - low * unit
    tall = ROW * len(rows)
    items: list[Item] = []
    for k in range(round((high - low) / step) + 1):
        mark = low + k * step
        x = left + (mark - low) * unit
        pen = Pen("ink", 0.25) if abs(mark) < 1e-9 else Pen("quiet", 0.1)
        items.append(Line(x, 8.0, x, 8.0 + tall, pen))
        items.append(Text(x, 3.6, _signed(mark, decimal, 0 if step >= 1 else 1), 2.6, "middle", "quiet"))
    items.append(Text(left + room + 9.0, 3.6, "%", 2.6, "middle", "quiet"))
    for number, (name, rocking, bouncing) in enumerate(rows):
        y = 8.0 + tall - (number + 0.5) * ROW
        items.append(Text(names, y - 1.2, name, 3.4, "end"))
        for value, dy, colour, head in (
            (rocking, 0.3, "varnish", heads[0]),
            (bouncing, -3.9, "water", heads[1]),
        ):
            if value is None:
                continue
            x = min(zero, zero + value * unit)
            items.append(Rect(x, y + dy, max(abs(value) * unit, 0.25), BAR, Pen(colour, 0.1), colour))  # type: ignore[arg-type]
            end = max(zero, zero + value * unit) + 1.2
            text = _signed(value, decimal, 1) + (f"  {head}" if number == 0 else "")
            items.append(Text(end, y + dy + 0.8, text, 2.6, "start"))
    return Drawing(wide + 14.0, tall + 10.0, tuple(items), title)


def _signed(value: float, decimal: str, decimals: int) -> str:
    text = f"{value:+.{decimals}f}"
    if float(text) == 0:
        text = text[1:]
    return text.replace(".", decimal)
