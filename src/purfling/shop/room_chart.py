"""Charts of the room and of the season: time to the right, own SVG in the page's colours."""

from collections.abc import Sequence
from datetime import date, datetime, timedelta

from django.utils import timezone
from django.utils.html import escape
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language

from purfling.shop.models import RoomBands
from purfling.shop.queries.room import Day
from purfling.words import decimal

WIDE, LEFT, RIGHT = 960.0, 96.0, 20.0
TRACK, GAP, BASE = 120.0, 44.0, 34.0
BREAK_DAYS = 4
Point = tuple[date, float]


class Axis:
    """Days to places."""

    def __init__(self, first: date, last: date) -> None:
        self.first, self.last = first, max(last, first + timedelta(days=1))

    def x(self, day: date) -> float:
        """Place of a day."""
        whole = (self.last - self.first).days
        return LEFT + (day - self.first).days / whole * (WIDE - LEFT - RIGHT)

    def months(self) -> list[date]:
        """First days of months to be named: at most about a dozen."""
        found, day = [], self.first.replace(day=1)
        while day <= self.last:
            if day >= self.first:
                found.append(day)
            day = (day + timedelta(days=32)).replace(day=1)
        step = max(1, -(-len(found) // 12))
        return found[::step]


def _number(value: float, decimals: int) -> str:
    return decimal(value, decimals, (get_language() or "en")[:2])


def _runs(points: Sequence[Point]) -> list[list[Point]]:
    """Points joined while no more than a few days lie between."""
    runs: list[list[Point]] = []
    for point in points:
        if runs and (point[0] - runs[-1][-1][0]).days <= BREAK_DAYS:
            runs[-1].append(point)
        else:
            runs.append([point])
    return runs


def _track(
    axis: Axis,
    top: float,
    name: str,
    mark: str,
    points: Sequence[Point],
    decimals: int,
    bands: Sequence[float | None] = (),
    dots: bool = False,
) -> str:
    """One track: its line or its dots, its ends in figures, the shop's bands as broken lines."""
    ends = [v for _d, v in points] + [b for b in bands if b is not None]
    low, high = min(ends), max(ends)
    if high - low < 1e-9:
        low, high = low - 0.5, high + 0.5

    def y(value: float) -> float:
        return top + TRACK - (value - low) / (high - low) * TRACK

    parts = [f'<text class="{mark}" x="{LEFT}" y="{top - 7:.1f}">{escape(name)}</text>']
    parts.append(f'<path class="base" d="M{LEFT} {top + TRACK:.1f}H{WIDE - RIGHT}"/>')
    for value in (low, high):
        parts.append(
            f'<text x="{LEFT - 10}" y="{y(value) + 6:.1f}" text-anchor="end">'
            f"{_number(value, decimals)}</text>"
        )
    for band in bands:
        if band is not None:
            parts.append(f'<path class="bandline" d="M{LEFT} {y(band):.1f}H{WIDE - RIGHT}"/>')
    for run in [] if dots else _runs(points):
        if len(run) == 1:
            parts.append(
                f'<circle class="{mark}" cx="{axis.x(run[0][0]):.1f}" cy="{y(run[0][1]):.1f}" r="2"/>'
            )
        else:
            parts.append(
                f'<path class="{mark}" d="M{"L".join(f"{axis.x(d):.1f} {y(v):.1f}" for d, v in run)}"/>'
            )
    for day, value in points if dots else ():
        parts.append(
            f'<circle class="{mark}" cx="{axis.x(day):.1f}" cy="{y(value):.1f}" r="5">'
            f"<title>{day}: {_number(value, decimals)}</title></circle>"
        )
    return "".join(parts)


def _chart(axis: Axis, tracks: list[str], label: str) -> SafeString:
    high = BASE + len(tracks) * (TRACK + GAP) + 10
    foot = "".join(
        f'<text x="{axis.x(m):.1f}" y="{high - 6:.1f}">{m.strftime("%m/%y")}</text>'
        f'<path class="base" d="M{axis.x(m):.1f} {high - 30:.1f}v8"/>'
        for m in axis.months()
        if axis.x(m) < WIDE - 60
    )
    return mark_safe(
        f'<svg class="room-chart" viewBox="0 0 {WIDE:.0f} {high:.0f}" role="img" '
        f'aria-label="{escape(label)}">'
        f"{''.join(tracks)}{foot}</svg>"
    )


def _tops(n: int) -> list[float]:
    return [BASE + i * (TRACK + GAP) - 6 for i in range(n)]


def _room_tracks(days: Sequence[Day], bands: RoomBands | None, words: dict[str, str]) -> list[tuple]:
    humid = [(d.day, d.humidity) for d in days if d.humidity is not None]
    warm = [(d.day, d.temperature) for d in days if d.temperature is not None]
    moist = [(d.day, d.moisture) for d in days if d.moisture is not None]
    ends = (bands.humidity_low, bands.humidity_high) if bands else ()
    warm_ends = (bands.temperature_low, bands.temperature_high) if bands else ()
    return [
        (name, mark, points, 1, limits, False)
        for name, mark, points, limits in (
            (words["humidity"], "h", humid, ends),
            (words["temperature"], "t", warm, warm_ends),
            (words["moisture"], "e", moist, ()),
        )
        if points
    ]


def _drawn(days: list[date], rows: list[tuple], label: str) -> SafeString:
    if not rows:
        return mark_safe("")
    axis = Axis(min(days), max(days))
    tops = _tops(len(rows))
    return _chart(
        axis,
        [
            _track(axis, top, n, m, p, dec, lim, dots)
            for top, (n, m, p, dec, lim, dots) in zip(tops, rows, strict=True)
        ],
        label,
    )


def room_chart(days: Sequence[Day], bands: RoomBands | None, words: dict[str, str]) -> SafeString:
    """Humidity, temperature and equilibrium moisture of the room by day."""
    return _drawn([d.day for d in days], _room_tracks(days, bands, words), words["room"])


def _local(at: datetime) -> date:
    return timezone.localtime(at).date()


def season_chart(days: Sequence[Day], tracks: dict[str, list], words: dict[str, str]) -> SafeString:
    """The room's season above an instrument's action and projection, on one time axis."""
    rows = [r for r in _room_tracks(days, None, words) if r[1] != "t"]
    when = [d.day for d in days]
    for key, decimals in (("low", 2), ("high", 2), ("projection", 2)):
        points = [(_local(r.at), r.value) for r in tracks[key]]
        if points:
            rows.append((words[key], "v", points, decimals, (), True))
            when += [d for d, _v in points]
    return _drawn(when, rows, words["season"])
