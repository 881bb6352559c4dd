"""The set-up's two views as SVG, found alone or found beside wished."""

from purfling.craft.quantities import Family
from purfling.drawing.drawings.bridge_view import bridge_view
from purfling.drawing.drawings.side_view import side_view
from purfling.drawing.shapes import Drawing
from purfling.reckonings.setup.compute import Reckoned
from purfling.words import say

BRIDGE_SCALE: dict[Family, float] = {"violin": 2.0, "viola": 1.75, "cello": 1.0}
SIDE_SCALE: dict[Family, float] = {"violin": 1 / 3, "viola": 0.29, "cello": 0.16}


WORDS = ("bass", "treble", "found", "wished", "line", "plane", "decimal")


def views(found: Reckoned, wished: Reckoned | None = None, language: str = "en") -> dict[str, Drawing]:
    """ "bridge" and "side", to scale for an A4 page; ``wished`` None draws the card as found alone."""
    card = (wished or found).taken.card
    words = {k: say(f"papers.{k}", language) for k in WORDS}
    other = wished.setup if wished else None
    return {
        "bridge": bridge_view(card, found.setup, other, BRIDGE_SCALE[card.family], words),
        "side": side_view(card, found.setup, other, SIDE_SCALE[card.family], 1.0, words),
    }
