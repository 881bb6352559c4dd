"""Words, sheet and cautions of the varnish pages: ``{% load varnish %}``."""

from django import template
from django.utils.html import json_script
from django.utils.safestring import SafeString, mark_safe

from purfling.craft.sources import source
from purfling.drawing.drawings.varnish_sheet import sheet_places as sheet_places_of
from purfling.drawing.shapes import Drawing
from purfling.drawing.svg import to_svg
from purfling.shop.queries.varnish import language, size_of
from purfling.words import decimal, say

register = template.Library()
COLOURS = {
    name: f"var(--{name})"
    for name in ("ink", "quiet", "varnish", "water", "moss", "ochre", "madder", "paper", "spruce")
} | {"none": "none"}


@register.filter
def varnish_word(value: str, subject: str) -> str:
    """``{{ spot.result|varnish_word:"result" }}``: the trade's word in the page's language."""
    return say(f"varnish.{subject}_{value}", language()) if value else ""


@register.filter
def place_words(row) -> str:
    """Where something is: its words, its view, or both."""
    view = say(f"varnish.view_{row.view}", language()) if row.view else ""
    return ", ".join(w for w in (view, row.place) if w) or "–"


@register.filter
def parts_words(parts) -> str:
    """A mixture [[solvent, volume], ...] in words, as parts by volume."""
    return " + ".join(f"{volume:g} {say(f'varnish.solvent_{key}', language())}" for key, volume in parts)


@register.filter
def span(hours) -> str:
    """Hours as the bench says them: 45 min, 6 h, 2.5 d."""
    if hours is None:
        return "–"
    if hours < 1:
        return f"{hours * 60:.0f} min"
    value, unit = (hours, "h") if hours < 48 else (hours / 24, "d")
    unit = "Tage" if unit == "d" and language() == "de" else unit
    return f"{decimal(value, 0 if abs(value - round(value)) < 0.05 else 1, language())} {unit}"


@register.filter
def source_words(key: str) -> str:
    """A source's citation."""
    return source(key).text if key else ""


@register.simple_tag
def drawn_sheet(drawing: Drawing) -> SafeString:
    """A drawing as SVG in the page's own colours, light or dark."""
    return mark_safe(to_svg(drawing, COLOURS))


@register.simple_tag
def sheet_places(thing) -> SafeString:
    """Where each view of an object lies on its sheet, for the finger."""
    rows = sheet_places_of(thing.is_bow, size_of(thing))
    return json_script(
        [{"view": p.view, "x": p.x, "y": p.y, "w": p.width, "h": p.height} for p in rows], "sheet-places"
    )


@register.inclusion_tag("shop/varnish_cautions.html")
def cautions(*keys: str) -> dict[str, object]:
    """Short cautions for what lies on this page; labels and safety sheets come first."""
    return {"lines": [say(f"cautions.{key}", language()) for key in (*keys, "first")]}


@register.inclusion_tag("shop/closed_part.html")
def closed_part(thing) -> dict[str, object]:
    """What the owner closed, and what is forbidden on this varnish: for visit and bench."""
    return {
        "object": thing,
        "closed": list(thing.closed_places.filter(lifted_at=None).select_related("who")),
        "forbidden": list(thing.spot_tests.filter(follows="forbidden")),
    }
