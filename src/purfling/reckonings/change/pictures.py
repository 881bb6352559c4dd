"""The picture of a change: the board and the outer strings before and after, heights stretched."""

from purfling.drawing.drawings.change import Side, change_drawing
from purfling.drawing.svg import to_svg
from purfling.reckonings.change.compute import ChangeCase
from purfling.reckonings.change.sentences import sentences


def files(case: ChangeCase, language: str = "en") -> dict[str, bytes]:
    """File name -> bytes for ``-o DIR``."""
    found, card = case.change, case.reckoned.taken.card
    wish = case.wish
    sides = []
    for i in (0, len(found.before.strings) - 1):
        nut, end = found.before.nut_clearance_mm[i], found.before.clearance_mm[i]
        board = found.before.level_nut_mm[i] - nut, found.before.level_end_mm[i] - end
        off = wish.board_at_nut_mm, wish.board_at_end_mm
        start = found.before.level_nut_mm[i] + (0.0 if wish.nut_kept else -wish.board_at_nut_mm)
        sides.append(
            Side(
                name=found.before.strings[i].name,
                board_mm=board,
                board_new_mm=(board[0] - off[0], board[1] - off[1]),
                string_mm=(found.before.level_nut_mm[i], found.before.level_bridge_mm[i]),
                string_new_mm=(start, found.before.level_bridge_mm[i] + found.bridge_mm[i]),
                bridge_mm=found.bridge_mm[i],
            )
        )
    drawing = change_drawing(
        sides, card.string_length_mm, card.board_length_mm, sentences(case, language), language
    )
    return {"change.svg": to_svg(drawing).encode("utf-8")}
