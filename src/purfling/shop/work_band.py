"""The day as a band to scale: hands solid, waits hatched, the night narrow."""

from datetime import datetime, timedelta

from django.utils import timezone
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from purfling.shop.domain import clock
from purfling.shop.models import Work
from purfling.shop.queries.work_now import WhatNow

WIDE, NIGHT = 1000.0, 46.0
TOP, BAR, LANE = 24.0, 30.0, 13.0


class _Scale:
    """Clock of one day to x; before and after the bench hours everything is pressed into the narrow night."""

    def __init__(self, day: datetime, first: float, last: float) -> None:
        self.day = day.replace(hour=0, minute=0, second=0, microsecond=0)
        self.first, self.last = first, last

    def x(self, moment: datetime) -> float:
        hour = (moment - self.day).total_seconds() / 3600
        wide = WIDE - 2 * NIGHT
        if hour < self.first:
            return NIGHT * max(hour, 0.0) / self.first
        if hour > self.last:
            return WIDE - NIGHT + NIGHT * min((hour - self.last) / (24 - self.last), 1.0)
        return NIGHT + wide * (hour - self.first) / (self.last - self.first)


def _scale(now: WhatNow, today: datetime) -> _Scale:
    periods = now.hours.of_day(today.date(), True)
    starts = [a.hour + a.minute / 60 for a, _ in periods]
    ends = [b.hour + b.minute / 60 for _, b in periods]
    return _Scale(today, min(starts, default=9.0), min(max(ends, default=18.0), 23.5))


def _hours(scale: _Scale) -> SafeString:
    marks = [
        (f"{scale.x(scale.day + timedelta(hours=h)):.1f}", h)
        for h in range(int(scale.first + 0.99), int(scale.last) + 1)
    ]
    lines = format_html_join(
        "", '<line class="hour" x1="{0}" x2="{0}" y1="20" y2="88"/>', [(x,) for x, _ in marks]
    )
    return lines + format_html_join("", '<text class="hour" x="{}" y="15">{}</text>', marks)


def _hands(now: WhatNow, scale: _Scale, tags: dict) -> SafeString:
    bars = []
    tomorrow = scale.day + timedelta(days=1)
    for work in now.works:
        for begin, end in now.plan.pieces[str(work.pk)]:
            if begin >= tomorrow or end <= begin:
                continue
            x, w = scale.x(begin), max(scale.x(end) - scale.x(begin), 3.0)
            kind = "hands now" if work.state == Work.State.HAND else "hands"
            label = tags[work.pk] if w > 26 else ""
            bars.append((kind, f"{x:.1f}", f"{w:.1f}", f"{x + w / 2:.1f}", label))
    return format_html_join(
        "",
        '<rect class="{}" x="{}" y="24" width="{}" height="30"/>'
        '<text class="on-hands" x="{}" y="45">{}</text>',
        bars,
    )


def _waits(now: WhatNow, scale: _Scale, tags: dict) -> tuple[SafeString, int]:
    rows = []
    tomorrow = scale.day + timedelta(days=1)
    for work in now.works:
        if not work.wait_minutes:
            continue
        hands_end = now.plan.pieces[str(work.pk)][-1][1]
        if work.state == Work.State.WAITING:
            hands_end = timezone.localtime(work.finished_at).replace(tzinfo=None)
        free = now.plan.free_at[str(work.pk)]
        if hands_end >= tomorrow or free <= scale.day:
            continue
        a, b = scale.x(max(hands_end, scale.day)), scale.x(min(free, tomorrow))
        y = TOP + BAR + 10 + LANE * (len(rows) % 3)
        rows.append(
            (f"{a:.1f}", f"{y:.1f}", f"{max(b - a, 2.0):.1f}", f"{a + 3:.1f}", f"{y - 1:.1f}", tags[work.pk])
        )
    lines = [(x, y, w) for x, y, w, *_ in rows]
    bars = format_html_join("", '<rect class="waits" x="{}" y="{}" width="{}" height="8"/>', lines)
    return bars, len(rows)


def band(now: WhatNow) -> SafeString:
    """Today's band as inline SVG; empty where nothing is left to do."""
    if not now.works or now.plan is None:
        return SafeString("")
    today = timezone.localtime(clock.now()).replace(tzinfo=None)
    scale = _scale(now, today)
    tags = {w.pk: w.visit_object.tag for w in now.works}
    waits, lanes = _waits(now, scale, tags)
    height = TOP + BAR + 14 + LANE * min(max(lanes, 1), 3)
    x = f"{scale.x(today):.1f}"
    return format_html(
        '<svg class="band" viewBox="0 0 {} {}" role="img" aria-hidden="true">'
        '<defs><pattern id="hatch" width="6" height="6" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><line class="hatch" x1="0" y1="0" x2="0" y2="6"/></pattern></defs>'
        '<rect class="night" x="0" y="20" width="{}" height="{}"/>'
        '<rect class="night" x="{}" y="20" width="{}" height="{}"/>{}{}{}'
        '<line class="this-hour" x1="{}" x2="{}" y1="18" y2="{}"/></svg>',
        WIDE, height, NIGHT, height - 20, WIDE - NIGHT, NIGHT, height - 20,
        _hours(scale), waits, _hands(now, scale, tags), x, x, height,
    )  # fmt: skip
