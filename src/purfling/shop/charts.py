"""Small charts of a series: time to the right, each reading with its gauge error as a faint band; own SVG."""

from datetime import datetime

from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe

from purfling.shop.queries.history import Point, Series

WIDE, HIGH = 460.0, 190.0
LEFT, RIGHT, TOP, BOTTOM = 62.0, 34.0, 14.0, 30.0
MARKS = ("s0", "s1", "s2", "s3", "s4", "s5")


class Axis:
    """Time and value to places on the sheet."""

    def __init__(self, series: Series) -> None:
        points = [p for _name, those in series.places for p in those]
        times = [p.at.timestamp() for p in points]
        lows = [p.value - 2 * p.error for p in points]
        highs = [p.value + 2 * p.error for p in points]
        self.t0, self.t1 = min(times), max(times)
        if self.t1 - self.t0 < 86400:
            self.t0, self.t1 = self.t0 - 43200, self.t1 + 43200
        self.v0, self.v1 = min(lows), max(highs)
        if self.v1 - self.v0 < 1e-9:
            self.v0, self.v1 = self.v0 - 0.5, self.v1 + 0.5

    def x(self, at: datetime) -> float:
        """Place of a moment."""
        return LEFT + (at.timestamp() - self.t0) / (self.t1 - self.t0) * (WIDE - LEFT - RIGHT)

    def y(self, value: float) -> float:
        """Place of a value."""
        return HIGH - BOTTOM - (value - self.v0) / (self.v1 - self.v0) * (HIGH - TOP - BOTTOM)


def _runs(points: list[Point]) -> list[list[Point]]:
    """Points that may be joined: the same datum, direction and tension."""
    runs: list[list[Point]] = []
    for point in points:
        if point.joined and runs:
            runs[-1].append(point)
        else:
            runs.append([point])
    return runs


def _band(axis: Axis, run: list[Point], mark: str) -> str:
    upper = [f"{axis.x(p.at):.1f} {axis.y(p.value + p.error):.1f}" for p in run]
    lower = [f"{axis.x(p.at):.1f} {axis.y(p.value - p.error):.1f}" for p in reversed(run)]
    line = [f"{axis.x(p.at):.1f} {axis.y(p.value):.1f}" for p in run]
    return (
        f'<path class="band {mark}" d="M{"L".join(upper + lower)}Z"/>'
        f'<path class="line {mark}" d="M{"L".join(line)}"/>'
    )


def chart_of(series: Series) -> SafeString:
    """The chart of one reading; as found is an open ring, as left a full one."""
    axis = Axis(series)
    parts: list[str] = []
    for number, (name, points) in enumerate(series.places):
        mark = MARKS[number % len(MARKS)]
        parts += [_band(axis, run, mark) for run in _runs(points)]
        for p in points:
            x, y = axis.x(p.at), axis.y(p.value)
            parts.append(
                f'<path class="error {mark}" d="M{x:.1f} {axis.y(p.value - p.error):.1f}'
                f'V{axis.y(p.value + p.error):.1f}"/>'
                f'<circle class="{mark} {p.card.moment}" cx="{x:.1f}" cy="{y:.1f}" r="4.5">'
                f"<title>{escape(p.at.strftime('%Y-%m-%d'))}: {p.text} {series.unit}</title></circle>"
            )
        if name:
            last = points[-1]
            parts.append(
                f'<text class="{mark}" x="{axis.x(last.at) + 10:.1f}" y="{axis.y(last.value) + 6:.1f}">'
                f"{escape(name)}</text>"
            )
    first, last_year = (datetime.fromtimestamp(t).year for t in (axis.t0, axis.t1))
    texts = [p for _n, those in series.places for p in those]
    low, high = min(texts, key=lambda p: p.value), max(texts, key=lambda p: p.value)
    for p in {low.text: low, high.text: high}.values():
        y = axis.y(p.value) + 6
        parts.append(f'<text class="axis" x="{LEFT - 12}" y="{y:.1f}" text-anchor="end">{p.text}</text>')
    parts.append(f'<text class="axis" x="{LEFT}" y="{HIGH - 6}">{first}</text>')
    if last_year != first:
        parts.append(
            f'<text class="axis" x="{WIDE - RIGHT}" y="{HIGH - 6}" text-anchor="end">{last_year}</text>'
        )
    base = f'<path class="base" d="M{LEFT} {HIGH - BOTTOM}H{WIDE - RIGHT}"/>'
    return mark_safe(
        f'<svg class="chart" viewBox="0 0 {WIDE:.0f} {HIGH:.0f}" role="img" '
        f'aria-label="{escape(series.words)}, {first}–{last_year}">{base}{"".join(parts)}</svg>'
    )


def time_line(visits: list) -> SafeString:
    """Visits as knots on one line, time from left to right, true to scale."""
    dated = [v for v in visits if v.arrived_at]
    if not dated:
        return mark_safe("")
    times = [v.arrived_at.timestamp() for v in dated]
    t0, t1 = min(times), max(times)
    span = max(t1 - t0, 86400.0)
    wide = 960.0
    knots = []
    for visit in dated:
        x = 40 + (visit.arrived_at.timestamp() - t0) / span * (wide - 80)
        knots.append(f'<path class="knot" d="M{x:.1f} 30l7 -9l7 9l-7 9z" transform="translate(-7 0)"/>')
    years = range(datetime.fromtimestamp(t0).year, datetime.fromtimestamp(t1).year + 1)
    for year in years:
        at = datetime(year, 1, 1).timestamp()
        if t0 <= at <= t1:
            x = 40 + (at - t0) / span * (wide - 80)
            knots.append(
                f'<path class="base" d="M{x:.1f} 24V36"/>'
                f'<text class="axis" x="{x + 4:.1f}" y="56">{year}</text>'
            )
    return mark_safe(
        f'<svg class="timeline" viewBox="0 0 {wide:.0f} 62" aria-hidden="true">'
        f'<path class="base" d="M20 30H{wide - 20:.0f}"/>'
        f"{''.join(knots)}</svg>"
    )
