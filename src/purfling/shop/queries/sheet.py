"""The bench sheet as page and paper show it: the printed order, with what each line is now."""

from django.utils import timezone

from purfling.shop.domain import clock
from purfling.shop.domain.work_rules import name_of, wait_words
from purfling.shop.models import BenchSheet, Work
from purfling.shop.queries.catalogue import language, shop_catalogue
from purfling.shop.words import WAIT, object_kind
from purfling.words import say

S = Work.State


def sheet_of_today() -> BenchSheet | None:
    """The sheet that was printed today."""
    return BenchSheet.objects.filter(day=timezone.localtime(clock.now()).date()).first()


def latest_sheet() -> BenchSheet | None:
    """The sheet that is to come back: today's, else the last one."""
    return BenchSheet.objects.first()


def _wait(work: Work) -> str:
    return f"{WAIT[work.wait_kind]} {wait_words(work.wait_minutes)}" if work.wait_minutes else ""


def sheet_lines(sheet: BenchSheet) -> list[dict[str, object]]:
    """The printed lines with what each is now; two queries."""
    offers = shop_catalogue()
    rows = Work.objects.filter(pk__in=[x["work"] for x in sheet.lines])
    works = {str(w.pk): w for w in rows.select_related("visit_object__object", "visit_object__visit")}
    found = []
    for number, line in enumerate(sheet.lines, 1):
        work = works.get(line["work"])
        if work is None:
            continue
        thing = work.visit_object.object
        found.append(
            {
                **line,
                "number": number,
                "one": work,
                "name": name_of(offers, work.code),
                "tag": work.visit_object.tag,
                "kind_of": object_kind(thing),
                "wait": f"{WAIT[work.wait_kind]} {wait_words(work.wait_minutes)}"
                if work.wait_minutes
                else "",
                "waits": bool(work.wait_minutes),
                "written": work.state in (S.WAITING, S.DONE)
                if line["kind"] == "hands"
                else work.state == S.DONE,
            }
        )
    return found


def paper_lines(sheet: BenchSheet) -> list[dict[str, str]]:
    """Plain records for the paper: no name, no value, only tags."""
    return [
        {
            "number": str(x["number"]),
            "start": str(x["start"]),
            "tag": str(x["tag"]),
            "object": str(x["kind_of"]),
            "name": str(x["name"])
            if x["kind"] == "hands"
            else say("work.sheet_look_at", language(), name=x["name"]),
            "minutes": str(x.get("minutes", "")),
            "wait": str(x["wait"]) if x["kind"] == "hands" else "",
            "hands": "1" if x["kind"] == "hands" else "",
            "waits": "1" if x["waits"] or x["kind"] == "look" else "",
        }
        for x in sheet_lines(sheet)
    ]
