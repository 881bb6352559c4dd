"""The picture of two cards: the board line before and now over the belly."""

from purfling.drawing.drawings.season import Days, season_drawing
from purfling.drawing.svg import to_svg
from purfling.reckonings.season.compute import SeasonCase
from purfling.reckonings.season.sentences import sentences


def files(case: SeasonCase, language: str = "en") -> dict[str, bytes]:
    """File name -> bytes for ``-o DIR``."""
    r = case.answer.results
    bars = [
        ("read", r["projection_read_change_mm"], None),
        ("strings", r["projection_change_mm"], r["projection_change_error_mm"]),
    ]
    if r["season_mm"] is not None:
        bars.append(("season", r["season_mm"], r["season_error_mm"]))
        bars.append(("beyond", r["beyond_season_mm"], None))
    drawing = season_drawing(Days(tuple(bars)), sentences(case, language), language)
    return {"season.svg": to_svg(drawing).encode("utf-8")}
