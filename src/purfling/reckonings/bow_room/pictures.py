"""The picture of the bow's room: the strings from the front, the bow's lines, the waist."""

from purfling.drawing.drawings.bow_room import RoomView, bow_room_drawing
from purfling.drawing.svg import to_svg
from purfling.reckonings.bow_room.compute import BowRoomCase
from purfling.reckonings.bow_room.sentences import sentences


def files(case: BowRoomCase, language: str = "en") -> dict[str, bytes]:
    """File name -> bytes for ``-o DIR``."""
    curve = case.curve
    heights = case.levels_mm or curve.height_mm
    view = RoomView(
        names=curve.names,
        lateral_mm=curve.lateral_mm,
        height_mm=heights,
        plane_deg=case.room.plane_deg,
        waist=case.waist,
        kept=None if case.kept is None or case.levels_mm else case.kept.height_mm,
        kept_lateral=None if case.kept is None else case.kept.lateral_mm,
    )
    drawing = bow_room_drawing(view, sentences(case, language), language)
    return {"bow-room.svg": to_svg(drawing).encode("utf-8")}
