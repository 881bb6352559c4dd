"""The condition report: what was seen stands apart from opinion, the chart is to the scale it says."""

import io
import re
import subprocess
from dataclasses import replace
from datetime import datetime

import pytest
from PIL import Image

from purfling.drawing.drawings.chart_layout import chart_layout
from purfling.drawing.drawings.chart_sheet import ChartMark
from purfling.drawing.drawings.object_outlines import object_shape
from purfling.papers.condition_report.build import (
    CHART_WIDTH,
    ConditionReport,
    ReportMark,
    ReportPhotograph,
    condition_report,
)


def _mark(number, view, standing="known", **more):
    drawn = ChartMark(number, view, ((0.3, 0.3),), "crack", standing if standing != "first" else "known")
    said = {"severity": "clear", "state": "moving", "whose": "theirs", "age": "old", "decision": "watch"}
    return ReportMark(drawn=drawn, kind="crack", standing=standing, **(said | more))


def _photograph():
    out = io.BytesIO()
    Image.new("RGB", (480, 360), (150, 90, 40)).save(out, "JPEG")
    at = datetime(2026, 3, 10, 9, 0)
    return ReportPhotograph(out.getvalue(), 480, 360, (1,), "raking", "front", at, "ab" * 32, "bass", 8.0)


REPORT = ConditionReport(
    subject="violin, the honey one",
    shop="Shop of the tests",
    identity=(("kind", "violin"), ("label or stamp", "none")),
    shape=object_shape("violin"),
    author="Ilse",
    at=datetime(2026, 3, 10, 9, 0),
    visit=12,
    edition=1,
    hash="0123456789abcdef" * 4,
    intact=True,
    marks=(
        _mark(1, "front", length_mm=59.5, words="opens under a light pull", cause="the dry hall"),
        _mark(14, "back", "new", decision="refer"),
        _mark(15, "bass_ribs", "uncovered", checked=False),
    ),
    purpose="insurer's copy",
    lights=("normal", "raking"),
    not_examined="behind the upper block",
    summary="A worn working instrument.",
    opinion="Sound enough for the tour.",
    photographs=(_photograph(),),
)


def text_of(pdf, tmp_path):
    path = tmp_path / "report.pdf"
    path.write_bytes(pdf)
    done = subprocess.run(
        ["pdftotext", "-layout", str(path), "-"], check=True, capture_output=True, text=True
    )
    return done.stdout


def test_it_says_what_a_report_must_say(tmp_path):
    text = text_of(condition_report(REPORT), tmp_path)
    wanted = [
        "Condition report",
        "Ilse",
        "10.03.2026",
        "insurer's copy",
        "normal, raking",
        "behind the upper block",
        "A worn working instrument.",
        "59.5 mm",
        "opens under a light pull",
        "EN 16095",
        "new since last time: 14",
        "taken over, not looked at again",
        "0123456789abcdef0123456789abcdef",
        "raking, bass 8°",
        "abababababababab",
    ]
    for words in wanted:
        assert words in text, words
    before, after = text.split("Kept apart from what was seen")
    assert "the dry hall" in after and "the dry hall" not in before
    assert "Sound enough" in after and "Sound enough" not in before


def test_in_german_with_a_decimal_comma(tmp_path):
    text = text_of(condition_report(REPORT, "de"), tmp_path)
    assert "Zustandsbericht" in text and "59,5 mm" in text and "Diskant" in text


def test_the_chart_has_the_scale_it_says(tmp_path):
    """The body on the paper, times the scale said, is the body."""
    text = text_of(condition_report(REPORT), tmp_path)
    said = float(re.search(r"scale 1 : ([\d.]+)", text).group(1))
    place = chart_layout(REPORT.shape).place("front")
    x0, _, x1, _ = place.box
    on_paper = (x1 - x0) * CHART_WIDTH / 500.0
    assert on_paper * said == pytest.approx(REPORT.shape.lower, rel=0.02)  # the scale is said to a tenth


@pytest.mark.parametrize(
    "change",
    [
        {"hash": ""},
        {"intact": False},
        {"marks": (), "photographs": (), "opinion": "", "summary": "", "lights": ()},
        {"first": True},
        {"because": "seen in better light", "edition": 2},
        {"subject": "*not* markup $x$ #let", "summary": "#panic() <b> & \\"},
    ],
    ids=str,
)
def test_every_kind_of_survey_sets(change, tmp_path):
    text = text_of(condition_report(replace(REPORT, **change)), tmp_path)
    if change.get("hash") == "":
        assert "open, may still change" in text
    if change.get("intact") is False:
        assert "no longer fits" in text
    if change.get("summary"):
        assert "#panic() <b> & \\" in text


def test_the_same_survey_gives_the_same_bytes():
    assert condition_report(REPORT) == condition_report(REPORT)
