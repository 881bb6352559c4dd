"""Template words of a bow: sentences of the engine's catalogue, rows of a kept answer."""

from django import template

from purfling.shop.bow_words import WEDGE_WENT
from purfling.shop.queries.bow_reckoning import answer_lines
from purfling.shop.queries.catalogue import language
from purfling.words import say

register = template.Library()


@register.filter
def bowword(key: str, kind: str) -> str:
    """A word of the bow's catalogue: ``{{ "head"|bowword:"wedge" }}``."""
    return say(f"bow.{kind}_{key}", language())


@register.simple_tag
def kept_lines(kept):
    """The rows of a kept answer."""
    return answer_lines(kept.name, kept.answer["results"], language())


@register.filter
def wedge_line(wedge) -> str:
    """A wedge in one line: as found, its wood, kept or made new."""
    fit = say(f"bow.fit_{wedge.fit}", language()) if wedge.fit else ""
    return " · ".join(str(w) for w in (fit, wedge.wood, WEDGE_WENT.get(wedge.went, "")) if w)
