"""The tries of an object in this visit, with the way back from where the post stands now."""

from dataclasses import dataclass

from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from purfling.shop.models import Try, VisitObject
from purfling.shop.words import VERDICT


@dataclass(frozen=True)
class Line:
    """A try and how far the post is from it now: ``back_mm`` further back, ``out_mm`` further out (treble
    side)."""

    one: Try
    now: bool
    back_mm: float | None
    out_mm: float | None

    @property
    def back_minus(self) -> float:
        """Towards the board."""
        return -(self.back_mm or 0.0)

    @property
    def out_minus(self) -> float:
        """Towards the bass side."""
        return -(self.out_mm or 0.0)


def lines_of(tries: list[Try]) -> list[Line]:
    """The tries, the last one being where the post stands."""
    if not tries:
        return []
    here = next((t for t in reversed(tries) if t.behind_mm is not None or t.inside_mm is not None), None)
    found = []
    for one in tries:
        back = out = None
        if here is not None and None not in (one.behind_mm, here.behind_mm):
            back = one.behind_mm - here.behind_mm
        if here is not None and None not in (one.inside_mm, here.inside_mm):
            out = here.inside_mm - one.inside_mm
        found.append(Line(one, one is tries[-1], back, out))
    return found


SCALE = 62.0  # pixels a millimetre


def plan_of(tries: list[Try]) -> SafeString:
    """The places seen from above, treble foot's corner at the top right; to scale among themselves."""
    placed = [t for t in tries if t.behind_mm is not None and t.inside_mm is not None]
    if not placed:
        return SafeString("")
    deep = max(t.behind_mm for t in placed) + 1.2
    wide = max(t.inside_mm for t in placed) + 1.8
    width, height = wide * SCALE + 40, deep * SCALE + 40
    foot_y = 24.0

    def at(one: Try) -> tuple[float, float]:
        return width - 20 - one.inside_mm * SCALE, foot_y + one.behind_mm * SCALE

    points = [(t, *at(t)) for t in placed]
    path = " ".join(f"{x:.1f},{y:.1f}" for _, x, y in points)
    dots = format_html_join(
        "",
        '<circle class="{}" cx="{}" cy="{}" r="{}"/><text x="{}" y="{}">{}</text>',
        [
            (
                "here" if t is placed[-1] else "was",
                f"{x:.1f}",
                f"{y:.1f}",
                9,
                f"{x + 13:.1f}",
                f"{y + 6:.1f}",
                t.number,
            )
            for t, x, y in points
        ],
    )
    wide, high = f"{width:.0f}", f"{height:.0f}"
    return format_html(
        '<svg class="tries" viewBox="0 0 {} {}" width="{}" height="{}" role="img" aria-hidden="true">'
        '<rect class="foot" x="8" y="6" width="{}" height="{}"/><polyline points="{}"/>{}</svg>',
        wide,
        high,
        wide,
        high,
        f"{width - 28:.0f}",
        f"{foot_y - 6:.0f}",
        path,
        dots,
    )


def tries_page(row: VisitObject) -> dict[str, object]:
    """One query."""
    tries = list(row.tries.select_related("who", "back_to"))
    return {"row": row, "lines": lines_of(tries), "plan": plan_of(tries), "verdicts": list(VERDICT)}
