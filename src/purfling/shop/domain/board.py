"""The board of a visit: a gap, a template or a groove is taken or struck; what was asked and wished."""

import re
from typing import Any

from django.db import transaction
from django.utils.translation import get_language

from purfling.craft.quantities import readings
from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.figures import read_figure
from purfling.shop.models import Board, BoardReading, Maker, Shop, VisitObject
from purfling.slips.known import known_tables
from purfling.words import say

LINES = ("low", "centre", "high")
ASKED = ("neck_straight", "board_sound", "blackened")
# What the page asks for besides the readings, in the order of the hand; "-0" and "-1" are the ends of a band.
FIGURES = (
    "board.length_mm",
    "neck.string_length_mm",
    "edge.bass_mm",
    "edge.treble_mm",
    "edge.least_mm",
    "wish.scoop_low_mm-0",
    "wish.scoop_low_mm-1",
    "wish.scoop_high_mm-0",
    "wish.scoop_high_mm-1",
    "wish.radius_nut_mm-0",
    "wish.radius_nut_mm-1",
    "wish.radius_end_mm-0",
    "wish.radius_end_mm-1",
    "wish.projection_loss_max_mm",
    "wish.leave_mm",
)
# The kind of a place: the slip's table and key, and the reading whose gauge and hard range hold.
KINDS = {
    "gap": ("line", "gap_mm", "board.scoop_low_mm"),
    "across": ("across", "radius_mm", "board.radius_end_mm"),
    "pit": ("pit", "depth_mm", "board.scoop_low_mm"),
}


def _language() -> str:
    return (get_language() or "en")[:2]


def check_board_of(row: VisitObject) -> None:
    """A bow has no board.

    Raises
    ------
    Refusal
        The object is a bow.
    """
    if row.object.is_bow:
        raise Refusal("board.of_a_bow")


@transaction.atomic
def begin_board(*, row: VisitObject, who: Maker | None) -> Board:
    """The visit's board; it begins with the first figure."""
    check_board_of(row)
    locked = VisitObject.objects.select_for_update().get(pk=row.pk)
    there = Board.objects.filter(visit_object=locked).first()
    return there or keeping.add(Board(visit_object=locked), who=who)


def _hard(kind: str, family: str) -> tuple[float, float]:
    table, key, reading = KINDS[kind]
    field = known_tables()[table].field(key)
    low, high = float(field.low or 0.0), float(field.high or 0.0)
    most = readings()[reading].hard_band(family)[1]
    return low, min(high, most)


def _within(value: float, low: float, high: float, name: str) -> None:
    if not low <= value <= high:
        shown = {"value": f"{value:g}", "low": f"{low:g}", "high": f"{high:g}"}
        raise Refusal("board.out_of_range", name=name, unit="mm", **shown)


def _place(kind: str, line: str, moment: str, station_mm: float) -> None:
    fits = kind in KINDS and moment in BoardReading.Moment.values and 0 <= station_mm <= 1000
    lines = ("",) if kind == "across" else LINES
    if not fits or line not in lines or (moment == BoardReading.Moment.LEFT and kind != "gap"):
        raise Refusal("board.no_such_place", place=f"{moment} {kind} {line} {station_mm:g}"[:60])


def place_name(kind: str, line: str, station_mm: float, language: str) -> str:
    """What a place is called in a sentence."""
    where = say(f"board.line_{line}", language) if line else ""
    return say(f"board.place_{kind}", language, line=where, station=f"{station_mm:g}")


def _error(reading: str) -> float:
    gauges = Shop.objects.values_list("gauges", flat=True).first() or {}
    return float(gauges.get(reading, readings()[reading].error))


@transaction.atomic
def take_gap(
    *,
    row: VisitObject,
    kind: str,
    station_mm: float,
    text: str,
    who: Maker | None,
    line: str = "",
    moment: str = "found",
) -> BoardReading | None:
    """Store what was read at a place; an empty text strikes it, its value stays in the history.

    Raises
    ------
    Refusal
        No such place, not a figure, outside the hard range.
    """
    _place(kind, line, moment, station_mm)
    board = begin_board(row=row, who=who)
    there = BoardReading.objects.filter(
        board=board, moment=moment, kind=kind, line=line, station_mm=station_mm
    ).first()
    if not text.strip():
        if there is not None:
            keeping.remove(there, who=who)
        return None
    name = place_name(kind, line, station_mm, _language())
    reading = KINDS[kind][2]
    value = read_figure(text, readings()[reading], name).value
    _within(value, *_hard(kind, row.object.family), name)
    if there is not None:
        return keeping.change(there, who=who, value_mm=value)
    fresh = BoardReading(
        board=board,
        moment=moment,
        kind=kind,
        line=line,
        station_mm=station_mm,
        value_mm=value,
        error_mm=_error(reading),
        at=clock.now(),
        who=who,
    )
    return keeping.add(fresh, who=who)


def figure_name(key: str, language: str) -> str:
    """What a figure beside the readings is called."""
    bare = re.sub(r"-[01]$", "", key)
    table = bare.split(".", maxsplit=1)[0]
    subject = "board" if table in ("edge", "wish") else "readings"
    return say(f"{subject}.{bare.replace('.', '_')}", language)


def _figure(key: str, text: str, family: str) -> float:
    bare = re.sub(r"-[01]$", "", key)
    table, name = bare.split(".", maxsplit=1)
    said = figure_name(key, _language())
    value = read_figure(text, readings()["board.scoop_low_mm"], said).value
    field = known_tables()[table].field(name)
    low, high = field.low, field.high
    if low is None or high is None:
        low, high = readings()[bare].hard_band(family)
    _within(value, low, high, said)
    return value


@transaction.atomic
def set_board(
    *, row: VisitObject, who: Maker | None, figures: dict[str, str], asked: dict[str, str]
) -> Board:
    """What was asked before planing, and edges, lengths and wishes as typed; an empty text takes one off.

    Raises
    ------
    Refusal
        No such figure, not a figure, outside its hard range.
    """
    board = begin_board(row=row, who=who)
    values: dict[str, Any] = dict(board.figures)
    for key, text in figures.items():
        if key not in FIGURES:
            raise Refusal("board.no_such_place", place=key[:60])
        if text.strip():
            values[key] = _figure(key, text, row.object.family)
        else:
            values.pop(key, None)
    words = dict(board.asked)
    for key, text in asked.items():
        if key not in ASKED or text not in ("yes", "no", ""):
            raise Refusal("board.no_such_place", place=f"{key} {text}"[:60])
        if text:
            words[key] = text == "yes"
        else:
            words.pop(key, None)
    return keeping.change(board, who=who, figures=values, asked=words)
