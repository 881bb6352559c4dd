"""The bench days of a plan as bands to scale: hands solid, waits hatched under them, nights left out."""

from datetime import date, datetime, time

from purfling.drawing.shapes import Drawing, Item, Line, Pen, Rect, Text
from purfling.planning.one_bench import BenchPlan

WIDTH = 168.0
LEFT = 20.0
ROW = 13.0


def _hours(plan: BenchPlan) -> tuple[int, int]:
    starts = [a.hour for x in plan.laid for a, _ in x.pieces]
    ends = [b.hour + (1 if b.minute else 0) for x in plan.laid for _, b in x.pieces]
    return min(starts), max(ends)


def _day_label(day: date, language: str) -> str:
    from purfling.words import say

    return f"{say(f'papers.day_{day.weekday()}', language)} {day.strftime('%d.%m.')}"


def bench_band(plan: BenchPlan, language: str = "en") -> Drawing:
    """One band a day; each operation numbered as in the list below it, waits drawn in the colour of water."""
    first, last = _hours(plan)
    days = sorted({a.date() for x in plan.laid for a, _ in x.pieces})
    height = ROW * len(days) + 8.0
    per_hour = (WIDTH - LEFT - 2.0) / max(last - first, 1)

    def x_of(moment: datetime) -> float:
        return LEFT + (moment.hour + moment.minute / 60 - first) * per_hour

    items: list[Item] = []
    for hour in range(first, last + 1):
        x = LEFT + (hour - first) * per_hour
        items.append(Line(x, 4.0, x, height - 2.0, Pen("quiet", 0.08)))
        items.append(Text(x, 0.8, f"{hour}", 2.4, "middle", "quiet"))
    for row, day in enumerate(days):
        y = height - 4.0 - ROW * (row + 1) + 5.0
        items.append(Text(0.5, y + 1.6, _day_label(day, language), 2.8))
        items.append(Line(LEFT, y, WIDTH - 2, y, Pen("quiet", 0.1)))
        items += _waits(plan, day, x_of, y, (time(first), last))
        for number, laid in enumerate(plan.laid, 1):
            for begin, end in laid.pieces:
                if begin.date() == day:
                    x, w = x_of(begin), x_of(end) - x_of(begin)
                    items.append(Rect(x, y, w, 5.0, Pen("paper", 0.2), "varnish"))
                    if w > 3.0:
                        items.append(Text(x + w / 2, y + 1.7, str(number), 2.2, "middle", "paper"))
    return Drawing(WIDTH, height, tuple(items), "bench days")


def _waits(plan: BenchPlan, day: date, x_of: object, y: float, span: tuple[time, int]) -> list[Item]:
    """Hatched lines under the band while something dries, sets or settles."""
    if not callable(x_of):
        raise TypeError("x_of must be callable")
    begin_day = datetime.combine(day, span[0])
    end_day = datetime.combine(day, time(min(span[1], 23), 59 if span[1] > 23 else 0))
    ends = {x.operation.id: x.end for x in plan.laid}
    items: list[Item] = []
    lane = 0
    for laid in plan.laid:
        for lag in laid.operation.after:
            if not lag.wait_min:
                continue
            begin, end = max(ends[lag.id], begin_day), min(laid.start, end_day)
            if begin < end:
                level = y - 1.0 - 0.9 * (lane % 3)
                items.append(Line(x_of(begin), level, x_of(end), level, Pen("water", 0.5, (1.2, 0.6))))
                lane += 1
    return items
