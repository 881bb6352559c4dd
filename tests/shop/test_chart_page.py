"""The chart's page keeps its own looks: no class of its drawing is one that another page's sheet paints."""

import re
from pathlib import Path

import purfling.shop

SHOP = Path(purfling.shop.__file__).parent
OWN = ("marks-chart", "marks-sheet")


def test_the_drawing_s_frame_has_classes_that_only_its_own_sheet_paints():
    page = (SHOP / "templates/shop/survey.html").read_text(encoding="utf-8")
    for name in OWN:
        assert re.search(rf'class="[^"]*\b{name}\b', page)
        for sheet in (SHOP / "static/shop").glob("*.css"):
            painted = re.search(rf"\.{name}\b", sheet.read_text(encoding="utf-8")) is not None
            assert painted == (sheet.name == "chart.css"), sheet.name
    frame = re.search(r'<section class="([^"]+)" id="chart"', page).group(1)
    assert frame.split() == ["sheet-of-paper", "marks-chart"]
