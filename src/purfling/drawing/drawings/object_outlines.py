"""Every view of an object, by name: the one list that page and paper share."""

from functools import lru_cache

from purfling.drawing.drawings.outline_body import body_views
from purfling.drawing.drawings.outline_bow import bow_views
from purfling.drawing.drawings.outline_fittings import fittings_view
from purfling.drawing.drawings.outline_head import head_views, neck_view
from purfling.drawing.drawings.outline_view import ObjectShape, View, object_shape

INSTRUMENT_VIEWS = (
    "front",
    "back",
    "bass_ribs",
    "treble_ribs",
    "scroll_bass",
    "scroll_front",
    "scroll_treble",
    "scroll_back",
    "neck_board",
    "fittings",
    "inside",
)
BOW_VIEWS = (
    "bow_whole",
    "head_player",
    "head_far",
    "plate",
    "frog_player",
    "frog_far",
    "frog_under",
    "button",
)


def view_names(is_bow: bool) -> tuple[str, ...]:
    """The names of the views of a bow or of an instrument."""
    return BOW_VIEWS if is_bow else INSTRUMENT_VIEWS


@lru_cache(maxsize=64)
def object_views(s: ObjectShape) -> dict[str, View]:
    """All views of an object's shape, by name."""
    if s.is_bow:
        return {v.name: v for v in bow_views(s)}
    return {v.name: v for v in (*body_views(s), *head_views(s), neck_view(s), fittings_view(s))}


__all__ = [
    "BOW_VIEWS",
    "INSTRUMENT_VIEWS",
    "ObjectShape",
    "View",
    "object_shape",
    "object_views",
    "view_names",
]
