"""The bench sheet: print it, bring it back."""

from datetime import time

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path

from purfling.shop.access import page
from purfling.shop.domain.sheet import Ticked, bring_back, print_sheet
from purfling.shop.models import BenchSheet
from purfling.shop.queries.catalogue import language
from purfling.shop.queries.sheet import latest_sheet, paper_lines, sheet_lines, sheet_of_today
from purfling.shop.queries.shop import shop_name
from purfling.words import refusal_text


def _number(text: str) -> float | None:
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        return None
    return value if 0 < value < 10_000 else None


def _clock(text: str) -> time | None:
    try:
        return time.fromisoformat(text)
    except ValueError:
        return None


def ticked_of(post, sheet: BenchSheet) -> list[Ticked]:
    """The lines that were touched, in the printed order."""
    found = []
    for line in sheet.lines:
        pk = line["work"]
        looked = post.get(f"look-{pk}", "")
        done = f"done-{pk}" in post
        if not done and not looked:
            continue
        found.append(
            Ticked(
                work=pk,
                done=done,
                minutes=int(_number(post.get(f"min-{pk}", "")) or 0),
                ended=_clock(post.get(f"end-{pk}", "")),
                dry=looked == "dry",
                again_h=_number(looked) if looked not in ("", "dry") else None,
            )
        )
    return found


@page(methods=("GET", "POST"))
def bench_sheet(request: HttpRequest) -> HttpResponse:
    """The sheet that is to come back; POST writes what was ticked, as written later."""
    sheet = latest_sheet()
    refused: dict[str, str] = {}
    written = 0
    if request.method == "POST" and sheet is not None:
        ticked = ticked_of(request.POST, sheet)
        told = bring_back(sheet=sheet, ticked=ticked, who=request.user)
        refused = {pk: refusal_text(refusal, language()) for pk, refusal in told}
        written = len(ticked) - len(refused)
    lines = sheet_lines(sheet) if sheet else []
    for line in lines:
        line["refused"] = refused.get(line["work"], "")
    context = {
        "sheet": sheet,
        "today": sheet_of_today(),
        "lines": lines,
        "written": written,
        "refused": refused,
    }
    return render(request, "shop/bench_sheet.html", context, status=422 if refused else 200)


@page(methods=("POST",))
def make_sheet(request: HttpRequest) -> HttpResponse:
    """Today's sheet, from what is open now."""
    print_sheet(who=request.user)
    return redirect("bench_sheet")


@page()
def sheet_pdf(request: HttpRequest) -> HttpResponse:
    """The latest sheet as PDF."""
    from purfling.papers.bench_sheet.build import bench_sheet as build

    sheet = latest_sheet()
    if sheet is None:
        return redirect("bench_sheet")
    pdf = build(sheet.day, shop_name(), paper_lines(sheet), language())
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="bench-sheet-{sheet.day.isoformat()}.pdf"'
    return answer


urlpatterns = [
    path("bench-sheet", bench_sheet, name="bench_sheet"),
    path("bench-sheet/print", make_sheet, name="bench_sheet_print"),
    path("bench-sheet.pdf", sheet_pdf, name="bench_sheet_pdf"),
]
