"""The picture of a set: what each string pulls and presses, now and new."""

from purfling.drawing.drawings.strings import Bar, strings_drawing
from purfling.drawing.svg import to_svg
from purfling.reckonings.strings.compute import StringsCase
from purfling.reckonings.strings.sentences import sentences


def files(case: StringsCase, language: str = "en") -> dict[str, bytes]:
    """File name -> bytes for ``-o DIR``."""
    now = case.reckoned.setup.strings
    new = case.new.strings if case.new is not None else (None,) * len(now)
    bars = [
        Bar(
            a.name,
            (a.tension_n, a.down_force_n),
            None if b is None else (b.tension_n, b.down_force_n),
        )
        for a, b in zip(now, new, strict=True)
    ]
    drawing = strings_drawing(bars, sentences(case, language), language)
    return {"strings.svg": to_svg(drawing).encode("utf-8")}
