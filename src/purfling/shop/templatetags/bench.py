"""Template words of the book, built in everywhere: names under the cloth, trade words, figures."""

from django import template
from django.utils.html import format_html
from django.utils.translation import get_language, gettext

from purfling.shop import words
from purfling.words import decimal

register = template.Library()
COVER = "– – –"


@register.simple_tag(takes_context=True)
def name(context, player) -> str:
    """A player's name, or a cover while the cloth lies over; a forgotten person has none."""
    if player is None:
        return ""
    if player.forgotten:
        return gettext("forgotten")
    if context.get("cloth"):
        return COVER
    return str(player) or player.town or player.phone or gettext("without a name")


@register.simple_tag(takes_context=True)
def covered(context, text) -> str:
    """A text that names somebody or a value, or a cover while the cloth lies over."""
    if text in (None, ""):
        return ""
    return COVER if context.get("cloth") else text


@register.filter
def word(value, kind: str) -> str:
    """The trade word of a choice: ``{{ row.whereabouts|word:"whereabouts" }}``."""
    return str(words.CHOICES[kind].get(value, value))


@register.filter
def what(thing) -> str:
    """An object in one line."""
    return words.object_words(thing)


@register.filter
def kind_of(thing) -> str:
    """violin, viola bow ..."""
    return words.object_kind(thing)


@register.filter
def figure(value, decimals: int = 1) -> str:
    """A number with fixed decimals and the language's decimal sign; empty where there is none."""
    if value is None or value == "":
        return ""
    return decimal(float(value), int(decimals), (get_language() or "en")[:2])


@register.simple_tag
def silhouette(thing, size: int = 56):
    """The small outline of an object, drawn from its own dimensions."""
    from purfling.shop.silhouettes import svg_of

    return format_html("{}", svg_of(thing, size))
