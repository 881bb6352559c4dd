"""Plain lines -> the bench sheet of the day with boxes to tick; it comes back by touch in the same order."""

from collections.abc import Mapping, Sequence
from datetime import date

from purfling.papers.common import frame
from purfling.papers.service_report.build import day_name
from purfling.papers.typeset import typeset
from purfling.words import say

WORDS = (
    "done",
    "hands_min",
    "ended",
    "dry",
    "tacky",
    "tag",
    "how",
    "in_house",
    "humidity",
    "notes",
    "planned",
)


def bench_sheet(day: date, shop: str, lines: Sequence[Mapping[str, str]], language: str = "en") -> bytes:
    """PDF of the bench sheet (A4).

    Parameters
    ----------
    day : its day; shop : the shop's name; lines : {number, start, tag, object, name, minutes, wait, hands,
    waits},
    all texts; ``hands`` and ``waits`` say which boxes a line has.
    """
    title = say("work.sheet_title", language)
    data = {
        **frame(title, shop, language, ()),
        "day": f"{day_name(day, language)} {day.year}",
        "rows": [dict(line) for line in lines],
        "cautions": [say("cautions.first", language)],
    }
    data["words"] = data["words"] | {w: say(f"work.sheet_{w}", language) for w in WORDS}
    return typeset("bench_sheet", data)
