"""Words and pictures of the chart for templates: ``{% load chart %}``."""

from django import template
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language

from purfling.drawing.shapes import Drawing
from purfling.drawing.svg import to_svg
from purfling.shop.queries.survey import part_of_object, part_of_visit
from purfling.words import say

register = template.Library()


def language() -> str:
    """The two letters of the page's language."""
    return (get_language() or "en")[:2]


@register.filter
def marks_word(value: str, subject: str) -> str:
    """``{{ sighting.kind|marks_word:"kind" }}``: the glossary's word in the page's language."""
    return say(f"marks.{subject}_{value}", language()) if value else ""


@register.filter
def view_word(value: str) -> str:
    """A view's full name."""
    full = f"full_{value}" if value in ("scroll_front", "scroll_treble", "scroll_back") else f"view_{value}"
    return say(f"marks.{full}", language()) if value else ""


@register.filter
def other_word(value: str, subject: str) -> str:
    """The glossary's word in the other language, for the eye that learns."""
    other = "de" if language() == "en" else "en"
    return say(f"marks.{subject}_{value}", other) if value else ""


COLOURS = {
    name: f"var(--{name})"
    for name in ("ink", "quiet", "varnish", "water", "moss", "ochre", "madder", "paper", "spruce")
} | {"none": "none"}


@register.simple_tag
def drawn(drawing: Drawing) -> SafeString:
    """A drawing as SVG in the page's own colours, light or dark."""
    return mark_safe(to_svg(drawing, COLOURS))


@register.inclusion_tag("shop/survey_part.html", takes_context=True)
def survey_part(context, row) -> dict[str, object]:
    """The chart of one object of a visit: how many marks, how many new, how many photographs."""
    return part_of_visit(row) | {"csrf_token": context.get("csrf_token")}


@register.inclusion_tag("shop/object_marks.html")
def object_marks(thing) -> dict[str, object]:
    """What is known of an object's marks: the last chart, each mark with first and last seen."""
    return part_of_object(thing)


@register.filter
def groups(text: str) -> list[str]:
    """A few words of a template as a list."""
    return text.split()
