"""The picture of the margins: board, string and swing, heights stretched 20 times."""

import numpy as np

from purfling.craft.swing import bowed_mm, plucked_mm, square
from purfling.drawing.drawings.margins import Strip, margins_drawing
from purfling.drawing.svg import to_svg
from purfling.reckonings.margins.compute import MarginsCase, StringMargins


def _strip(one: StringMargins, case: MarginsCase) -> Strip:
    course = one.course
    length, end = course.string_length_mm, course.board_length_mm
    worst = int(np.argmin(np.minimum(one.bowed.ratio, one.plucked.ratio)[1:])) + 1
    lines = []
    for stop in (0.0, float(one.stop_mm[worst])):
        x = np.linspace(stop, length, 83)[:-1]
        start = course.nut_clearance_mm if stop == 0 else -float(course.scoop.depth(stop))
        string = start + (course.over_chord_mm - start) * (x - stop) / (length - stop)
        bow = string - bowed_mm(case.swing, course, stop, x) / square(course, x)
        pluck = string - plucked_mm(case.swing, course, stop, x) / square(course, x)
        lines.append((x, string, bow, pluck))
    board = np.linspace(0.0, end, 61)
    rows = tuple(
        (
            tuple(zip(x.tolist(), string.tolist(), strict=True)),
            tuple(zip(x.tolist(), bow.tolist(), strict=True)),
            tuple(zip(x.tolist(), pluck.tolist(), strict=True)),
        )
        for x, string, bow, pluck in lines
    )
    return Strip(
        name=course.name,
        board=tuple(zip(board.tolist(), (-course.scoop.depth(board)).tolist(), strict=True)),
        open_string=rows[0],
        stopped=rows[1],
        semitone=worst,
        ratio=(
            float(min(one.bowed.ratio[0], one.plucked.ratio[0])),
            float(min(one.bowed.ratio[worst], one.plucked.ratio[worst])),
        ),
        over_chord_mm=course.over_chord_mm,
    )


def files(case: MarginsCase, language: str = "en") -> dict[str, bytes]:
    """File name -> bytes for ``-o DIR``."""
    strips = [_strip(one, case) for one in case.strings]
    drawing = margins_drawing(strips, case.reckoned.taken.card.string_length_mm, language)
    return {"margins.svg": to_svg(drawing).encode("utf-8")}
