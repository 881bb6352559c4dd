"""Template words of the work list: the thread of an object, what now, the day's band."""

from django import template

from purfling.shop.queries.work import Knot, threads
from purfling.shop.queries.work_now import WhatNow, what_now
from purfling.shop.work_band import band as band_of

register = template.Library()


@register.simple_tag(takes_context=True)
def thread(context, row, rows=None) -> list[Knot]:
    """The knots of one object; those of its visit are fetched together, once for the page."""
    request = context.get("request")
    kept = getattr(request, "work_threads", None)
    if kept is None or row.pk not in kept:
        kept = (kept or {}) | threads(rows if rows is not None else [row])
        if request is not None:
            request.work_threads = kept
    return kept[row.pk]


@register.simple_tag(takes_context=True)
def what_now_of(context) -> WhatNow | None:
    """What now, for who is looking."""
    maker = context.get("maker")
    return what_now(maker) if maker else None


@register.simple_tag
def band(now: WhatNow):
    """The day as a band."""
    return band_of(now) if now else ""
