"""A survey as plain records -> the data of the condition report, and its PDF."""

import base64
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from purfling.drawing.drawings.chart_layout import chart_layout
from purfling.drawing.drawings.chart_sheet import ChartMark, chart_sheet
from purfling.drawing.drawings.object_outlines import ObjectShape
from purfling.papers.common import frame
from purfling.papers.typeset import typeset
from purfling.words import decimal, say

CHART_WIDTH = 250.0
MOST_PHOTOGRAPHS = 80
WORDS = (
    "object", "purpose", "lights", "not_examined", "nothing_left_out", "seen", "author", "date",
    "edition", "frozen", "open", "hash", "chart", "scale", "marks", "photographs", "opinion",
    "opinion_note", "no_opinion", "number", "where", "what", "length", "judged", "decision", "new",
    "uncovered", "gone", "known", "photographs_more", "fields_note", "signature", "because", "none_new",
    "second_look", "not_checked", "broken",
)  # fmt: skip


@dataclass(frozen=True)
class ReportMark:
    """One mark: how the chart draws it, and what is said of it, as codes of the glossary."""

    drawn: ChartMark
    kind: str
    standing: str
    severity: str
    state: str
    whose: str
    age: str
    decision: str
    length_mm: float | None = None
    area_mm2: float | None = None
    words: str = ""
    cause: str = ""
    cause_again: str = ""
    checked: bool = True


@dataclass(frozen=True)
class ReportPhotograph:
    """One photograph: a bare JPEG, its size [px], what it shows, in which light."""

    jpeg: bytes
    width: int
    height: int
    marks: tuple[int, ...]
    light: str
    view: str
    at: datetime
    sha256: str
    side: str = ""
    angle_deg: float | None = None


@dataclass(frozen=True)
class ConditionReport:
    """All that the paper prints; ``identity`` pairs words with values, as stated and as we see it."""

    subject: str
    shop: str
    identity: tuple[tuple[str, str], ...]
    shape: ObjectShape
    author: str
    at: datetime
    visit: int
    edition: int
    hash: str
    intact: bool
    marks: tuple[ReportMark, ...]
    purpose: str = ""
    lights: tuple[str, ...] = ()
    not_examined: str = ""
    summary: str = ""
    opinion: str = ""
    because: str = ""
    first: bool = False
    photographs: tuple[ReportPhotograph, ...] = field(default_factory=tuple)


def _view(name: str, language: str) -> str:
    full = name in ("scroll_front", "scroll_treble", "scroll_back")
    return say(f"marks.{'full' if full else 'view'}_{name}", language)


def _row(m: ReportMark, language: str) -> dict[str, Any]:
    def word(subject: str, value: str) -> str:
        return say(f"marks.{subject}_{value}", language)

    size = [] if m.length_mm is None else [f"{decimal(m.length_mm, 1, language)} mm"]
    if m.area_mm2 is not None:
        size.append(f"{decimal(m.area_mm2, 0, language)} mm²")
    judged = [
        word("severity", m.severity),
        word("state", m.state),
        word("whose", m.whose),
        word("age", m.age),
    ]
    return {
        "number": m.drawn.number,
        "standing": m.standing,
        "standing_word": word("standing", m.standing),
        "where": _view(m.drawn.view, language),
        "what": word("kind", m.kind),
        "size": ", ".join(size),
        "judged": " · ".join(judged),
        "decision": word("decision", m.decision),
        "words": m.words,
        "checked": m.checked,
    }


def _opinions(marks: Sequence[ReportMark], language: str) -> list[dict[str, Any]]:
    return [
        {"number": m.drawn.number, "cause": m.cause, "again": m.cause_again}
        for m in marks
        if m.cause or m.cause_again
    ]


def _picture(p: ReportPhotograph, language: str) -> dict[str, Any]:
    """A photograph as an SVG that holds the JPEG: typst takes it from memory that way."""
    coded = base64.b64encode(p.jpeg).decode("ascii")
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'width="{p.width}" height="{p.height}" viewBox="0 0 {p.width} {p.height}">'
        f'<image width="{p.width}" height="{p.height}" xlink:href="data:image/jpeg;base64,{coded}"/></svg>'
    )
    light = say(f"marks.light_{p.light}", language)
    if p.side:
        light += f", {p.side}"
    if p.angle_deg is not None:
        light += f" {p.angle_deg:.0f}°"
    parts = [_view(p.view, language) if p.view else "", light, p.at.strftime("%d.%m.%Y")]
    return {
        "svg": svg,
        "ratio": p.height / p.width,
        "marks": [str(n) for n in p.marks],
        "caption": " · ".join(x for x in parts if x),
        "sha256": p.sha256[:16],
    }


def condition_report(report: ConditionReport, language: str = "en") -> bytes:
    """PDF of the condition report (A4)."""
    said = {w: say(f"condition.{w}", language) for w in WORDS}
    base = frame(say("condition.title", language), report.subject, language, ())
    base["words"] |= said
    base["foot"] = " · ".join(x for x in (report.subject, said["edition"] + f" {report.edition}",
                                          report.hash[:16] or said["open"]) if x)  # fmt: skip
    sheet = chart_layout(report.shape)
    drawing = chart_sheet(sheet, [m.drawn for m in report.marks], language, size=6.4, width=CHART_WIDTH)
    new = [str(m.drawn.number) for m in report.marks if m.standing == "new"]
    data = base | {
        "subject": report.subject,
        "shop": report.shop,
        "identity": [list(pair) for pair in report.identity],
        "author": report.author,
        "at": report.at.strftime("%d.%m.%Y, %H:%M"),
        "visit": str(report.visit),
        "edition": str(report.edition),
        "hash": report.hash,
        "intact": report.intact,
        "first": report.first,
        "purpose": report.purpose,
        "lights": ", ".join(say(f"marks.light_{x}", language) for x in report.lights),
        "not_examined": report.not_examined,
        "summary": report.summary,
        "opinion": report.opinion,
        "because": report.because,
        "new": new,
        "scale": decimal(WIDE_OVER / (sheet.scale * CHART_WIDTH), 1, language),
        "rows": [_row(m, language) for m in report.marks],
        "opinions": _opinions(report.marks, language),
        "photographs": [_picture(p, language) for p in report.photographs[:MOST_PHOTOGRAPHS]],
        "more": max(len(report.photographs) - MOST_PHOTOGRAPHS, 0),
    }
    return typeset("condition_report", data, {"chart": drawing})


WIDE_OVER = 500.0  # the sheet's own width: its scale holds at that
