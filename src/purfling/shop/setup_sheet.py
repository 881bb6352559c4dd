"""The set-up's two views for the page: larger figures, the page's own colours, numbers to touch."""

import re
from dataclasses import replace
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from purfling.drawing.drawings.bridge_view import bridge_view
from purfling.drawing.drawings.side_view import side_view
from purfling.drawing.shapes import Group, Item, Text
from purfling.drawing.svg import to_svg
from purfling.words import say

COLOURS = ("ink", "quiet", "varnish", "water", "moss", "ochre", "madder", "paper", "spruce")
# Every colour of a drawing is a word that look.css fills, in light and in dark.
BY_NAME = {c: f"var(--{c})" for c in COLOURS} | {"none": "none"}
# Paper mm of one mm: small, so that the figures beside it are large on the page.
SIDE_SCALE = {"violin": 0.23, "viola": 0.2, "cello": 0.115}
BRIDGE_SCALE = {"violin": 1.0, "viola": 1.0, "cello": 1.0}
LARGER = {"violin": 1.36, "viola": 1.5, "cello": 2.7}


def _larger(item: Item, k: float) -> Item:
    if isinstance(item, Text):
        return replace(item, size=item.size * k)
    if isinstance(item, Group):
        return Group(item.name, tuple(_larger(i, k) for i in item.items))
    return item


def _lifted(item: Item) -> Item:
    """The break angles one line higher: beside larger figures they would lie over the clearance."""
    if isinstance(item, Text) and item.text.endswith("deg") and item.colour == "ink":
        return replace(item, y=item.y + 1.8)
    return item


def _named(svg: str, strings: list[str]) -> str:
    """Texts that stand for a reading get the reading's key: touching them brings its boxes to the hand."""

    def mark(match: re.Match[str]) -> str:
        text = match.group(2)
        key = ""
        if text.startswith("L "):
            key = "neck.string_length_mm"
        elif text.startswith("P ") or text == say("papers.line", "en"):
            key = "neck.projection_mm"
        elif re.fullmatch(r"[\d.]+ / [\d.]+", text) or text in strings:
            key = "end.clearance_mm"
        return (
            f'<text class="number-on-line" data-for="{key}"{match.group(1)}>{text}</text>'
            if key
            else match.group(0)
        )

    return re.sub(r"<text( [^>]*)>([^<]*)</text>", mark, svg)


def sheet(found: Any, wished: Any, language: str) -> dict[str, SafeString]:
    """ "side" and "bridge" as SVG of the page."""
    card = (wished or found).taken.card
    words = {k: say(f"papers.{k}", language) for k in ("bass", "treble", "found", "wished", "line", "plane")}
    other = wished.setup if wished else None
    family = card.family
    views = {
        "side": side_view(card, found.setup, other, SIDE_SCALE[family], 1.0, words),
        "bridge": bridge_view(card, found.setup, other, BRIDGE_SCALE[family], words),
    }
    bridge, side = views["bridge"], views["side"]
    views["side"] = replace(side, items=tuple(_lifted(i) for i in side.items))
    views["bridge"] = replace(bridge, items=tuple(_larger(i, LARGER[family]) for i in bridge.items))
    strings = [s.name for s in found.setup.strings]
    return {name: mark_safe(_named(to_svg(drawing, BY_NAME), strings)) for name, drawing in views.items()}
