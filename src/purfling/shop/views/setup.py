"""The set-up reckoning on this visit's card: any number changed redraws side view and bridge view."""

import json
import re
from dataclasses import replace
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils.translation import get_language

from purfling.craft.quantities import readings
from purfling.craft.refusals import Refusal
from purfling.shop.access import fetch, page
from purfling.shop.asked import STRINGS, Asked
from purfling.shop.domain.figures import read_figure
from purfling.shop.domain.reckoning import RecordSlip, Taken, keep_reckoning, slip_of
from purfling.shop.models import Reckoning, VisitObject
from purfling.shop.setup_sheet import sheet
from purfling.slips.reader import check_slip
from purfling.words import decimal, note_text, refusal_text

ROW = VisitObject.objects.select_related("visit__player", "object").prefetch_related("cards__readings")
# What stands on the sheet to be touched, in the order of the hand.
FIELDS = (
    "end.clearance_mm",
    "nut.clearance_mm",
    "neck.projection_mm",
    "neck.string_length_mm",
    "board.length_mm",
    "board.radius_nut_mm",
    "board.radius_end_mm",
    "bridge.spacing_mm",
    "nut.spacing_mm",
    "body.stop_mm",
    "body.arch_mm",
    "neck.overstand_mm",
    "board.edge_at_root_mm",
    "saddle.height_mm",
    "saddle.distance_mm",
)


def _language() -> str:
    return (get_language() or "en")[:2]


def _value(tables: dict[str, Any], asked: Asked) -> float | None:
    table, name = asked.key.split(".", maxsplit=1)
    found = tables.get(table, {}).get(name)
    return found[asked.place] if isinstance(found, list) else found


def _fields(record: RecordSlip, family: str) -> list[dict[str, Any]]:
    """One line per reading: found and wished, one box a string, as the boxes show them."""
    language, lines = _language(), []
    for key in FIELDS:
        reading = readings()[key]
        boxes = []
        for place in range(len(STRINGS[family]) if reading.many else 1):
            asked = Asked(key, place)
            found = _value(record.tables, asked)
            wish = _value(record.tables.get("wish", {}), asked)
            boxes.append(
                {
                    "name": asked.name,
                    "string": STRINGS[family][place] if reading.many else "",
                    "found": "" if found is None else decimal(found, reading.decimals, language),
                    "wished": "" if wish is None else decimal(wish, reading.decimals, language),
                }
            )
        words = Asked(key).words(family, language).split(" · ", maxsplit=1)[0]
        lines.append({"key": key, "words": words, "unit": reading.unit, "boxes": boxes})
    return lines


def _not_of_this_card(record: RecordSlip, family: str) -> list[tuple[Taken, str]]:
    """What was taken from elsewhere, gathered by where it comes from, in the user's words."""
    found: dict[Taken, list[str]] = {}
    for taken in record.taken:
        if taken.field in FIELDS:
            words = Asked(taken.field).words(family, _language()).split(" · ", maxsplit=1)[0]
            names = found.setdefault(replace(taken, field=""), [])
            if words not in names:
                names.append(words)
    return [(taken, ", ".join(names)) for taken, names in found.items()]


def _set(tables: dict[str, Any], asked: Asked, value: float, strings: int, base: Any) -> None:
    table, name = asked.key.split(".", maxsplit=1)
    own = tables.setdefault(table, {})
    if not asked.reading.many:
        own[name] = value
        return
    if not isinstance(own.get(name), list):
        own[name] = list(base) if isinstance(base, list) else [None] * strings
    own[name][asked.place] = value


def _typed(request: HttpRequest, record: RecordSlip, family: str) -> dict[str, Any]:
    """The slip with what the boxes say laid over it; an untouched box leaves the card's own figure."""
    tables = json.loads(json.dumps(record.tables))
    shown = {box["name"]: box for line in _fields(record, family) for box in line["boxes"]}
    strings = len(STRINGS[family])
    for side in ("found", "wished"):
        for posted, text in request.POST.items():
            match = re.fullmatch(rf"{side}:([a-z_.]+)-(\d)", posted)
            if match is None or match.group(1) not in FIELDS:
                continue
            asked = Asked(match.group(1), min(int(match.group(2)), strings - 1))
            if text.strip() == shown[asked.name][side]:
                continue
            table, name = asked.key.split(".", maxsplit=1)
            into = tables if side == "found" else tables.setdefault("wish", {})
            if not text.strip():
                if side == "wished":
                    _forget_wish(into, table, name, asked, tables)
                continue
            figure = read_figure(text, asked.reading, asked.words(family, _language()))
            _set(into, asked, figure.value, strings, tables.get(table, {}).get(name))
    if not tables.get("wish"):
        tables.pop("wish", None)
    return tables


def _forget_wish(wish: dict, table: str, name: str, asked: Asked, tables: dict) -> None:
    own = wish.get(table, {})
    base = tables.get(table, {}).get(name)
    if isinstance(own.get(name), list) and isinstance(base, list):
        own[name][asked.place] = base[asked.place]
    else:
        own.pop(name, None)
    if not own:
        wish.pop(table, None)


def reckoned(tables: dict[str, Any]) -> dict[str, Any]:
    """Reckon and draw: pictures, result lines and notes, or the refusal's sentence."""
    from purfling.reckonings.setup.compute import reckon

    language = _language()
    try:
        slip = check_slip(tables, "card")
        found = reckon(slip)
        wished = reckon(slip, wished=True) if "wish" in tables else None
    except Refusal as refusal:
        return {"sentence": refusal_text(refusal, language)}
    pictures = sheet(found, wished, language)
    answer = (wished or found).answer
    return {
        "pictures": pictures,
        "answer": answer,
        "lines": _result_lines(found.answer.results, wished.answer.results if wished else None),
        "notes": [note_text(n, language) for n in answer.warnings],
        "defaults": answer.defaults,
    }


def _result_lines(found: dict[str, Any], wished: dict[str, Any] | None) -> list[dict[str, str]]:
    """Heights of the notches and loads, found and wished, with the sign of the change."""
    language = _language()
    rows: list[tuple[str, str, float, float | None, int]] = []
    for i, string in enumerate(found["strings"]):
        other = wished["strings"][i] if wished else {}
        rows.append(("notch", string["name"], string["notch_height_mm"], other.get("notch_height_mm"), 2))
    pairs = (
        ("centre", "bridge", "centre_height_mm", 2),
        ("radius", "bridge", "notch_curve_radius_mm", 1),
        ("down", "load", "total_down_force_n", 0),
    )
    for word, table, key, decimals in pairs:
        rows.append((word, "", found[table][key], wished[table][key] if wished else None, decimals))
    lines = []
    for word, name, a, b, decimals in rows:
        change = None if b is None else b - a
        lines.append(
            {
                "word": word,
                "name": name,
                "found": decimal(a, decimals, language),
                "wished": "" if b is None else decimal(b, decimals, language),
                "change": ""
                if change is None
                else ("+" if change > 0 else "") + decimal(change, decimals, language),
            }
        )
    return lines


@page()
def setup(request: HttpRequest, id: UUID) -> HttpResponse:
    """Side view and bridge view to scale, numbers to touch."""
    row = fetch(ROW, id)
    record = slip_of(row)
    context = {
        "row": row,
        "fields": _fields(record, row.object.family),
        "taken": _not_of_this_card(record, row.object.family),
        "kept": list(row.reckonings.filter(name="setup").select_related("who")[:10]),
        **reckoned(record.tables),
    }
    return render(request, "shop/setup.html", context)


@page(methods=("POST",))
def draw(request: HttpRequest, id: UUID) -> HttpResponse:
    """Redraw with the numbers in the boxes; nothing is kept."""
    row = fetch(ROW, id)
    record = slip_of(row)
    try:
        context = reckoned(_typed(request, record, row.object.family))
    except Refusal as refusal:
        context = {"sentence": refusal_text(refusal, _language())}
    return render(request, "shop/setup_drawn.html", context | {"row": row})


@page(methods=("POST",))
def keep(request: HttpRequest, id: UUID) -> HttpResponse:
    """Keep the reckoning with the visit."""
    row = fetch(ROW, id)
    record = slip_of(row)
    tables = _typed(request, record, row.object.family)
    outcome = reckoned(tables)
    if "answer" not in outcome:
        return render(request, "shop/setup_drawn.html", outcome | {"row": row}, status=422)
    keep_reckoning(
        row=row,
        name="setup",
        tables=tables,
        answer=outcome["answer"],
        who=request.user,
        word=request.POST.get("word", ""),
    )
    return redirect("reckon_setup", row.pk)


@page()
def kept(request: HttpRequest, id: UUID) -> HttpResponse:
    """A kept reckoning as it was kept."""
    one = fetch(Reckoning.objects.select_related("visit_object__object", "visit_object__visit", "who"), id)
    templates = [f"shop/kept_{one.name}.html", "shop/kept.html"]
    return render(request, templates, {"kept": one, "row": one.visit_object})


urlpatterns = [
    path("visit-object/<uuid:id>/setup", setup, name="reckon_setup"),
    path("visit-object/<uuid:id>/setup/draw", draw, name="reckon_setup_draw"),
    path("visit-object/<uuid:id>/setup/keep", keep, name="reckon_setup_keep"),
    path("reckoning/<uuid:id>", kept, name="reckoning"),
]
