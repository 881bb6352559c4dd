"""A board's readings from CSV, in any of three forms, told by the head of the file.

- grid: ``station_mm, place, place, ...``; a place is a number [mm] or ``nut:end``; each row a station and
its heights,
  an empty cell or ``nan`` for a place that was not measured;
- grid, one reading in a row: ``station_mm, line_mm, height_mm``;
- lines: ``string, station_mm, gap_mm``, one feeler gap in a row.

With semicolons between the cells the comma is the decimal sign.
"""

import csv
import math
from typing import Any

from purfling.craft.refusals import Refusal

LONG = ("station_mm", "line_mm", "height_mm")
LINES = ("string", "station_mm", "gap_mm")


def board_tables(text: str, name: str) -> dict[str, Any]:
    """Tables of a slip from CSV text: ``{"grid": {...}}`` or ``{"line": [...]}``.

    Raises
    ------
    Refusal
        No known head, a row of another length, a cell that is no number (with its row).
    """
    lines = [line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#")]
    semicolon = bool(lines) and ";" in lines[0]
    rows = [[cell.strip() for cell in row] for row in csv.reader(lines, delimiter=";" if semicolon else ",")]
    if not rows:
        raise Refusal("dressing.csv_head", path=name)
    head = tuple(cell.lower() for cell in rows[0])
    for number, row in enumerate(rows[1:], 2):
        if len(row) != len(head):
            raise Refusal("dressing.csv_row", path=name, row=number, value=len(row), limit=len(head))
    read = _Reader(name, semicolon)
    if head == LINES:
        return _lines(rows[1:], read)
    if head == LONG:
        return _long(rows[1:], read)
    if head and head[0] == "station_mm" and len(head) > 1:
        return _grid(rows, read)
    raise Refusal("dressing.csv_head", path=name)


class _Reader:
    """Numbers of cells, with the row in the refusal."""

    def __init__(self, name: str, comma: bool) -> None:
        self.name, self.comma = name, comma

    def number(self, cell: str, row: int, empty: bool = False) -> float:
        if empty and cell.lower() in ("", "nan"):
            return math.nan
        try:
            value = float(cell.replace(",", ".") if self.comma else cell)
        except ValueError:
            value = math.nan
        if not math.isfinite(value):
            raise Refusal("dressing.csv_cell", path=self.name, row=row, value=cell[:20])
        return value


def _grid(rows: list[list[str]], read: _Reader) -> dict[str, Any]:
    places: list[Any] = []
    for cell in rows[0][1:]:
        parts = [read.number(part, 1) for part in cell.split(":")]
        places.append(parts[0] if len(parts) == 1 else parts)
    stations = [read.number(row[0], number) for number, row in enumerate(rows[1:], 2)]
    heights = [
        [read.number(cell, number, empty=True) for cell in row[1:]] for number, row in enumerate(rows[1:], 2)
    ]
    return {"grid": {"station_mm": stations, "line_mm": places, "height_mm": heights}}


def _long(rows: list[list[str]], read: _Reader) -> dict[str, Any]:
    found: dict[tuple[float, float], float] = {}
    for number, row in enumerate(rows, 2):
        station, line = read.number(row[0], number), read.number(row[1], number)
        if (station, line) in found:
            raise Refusal("dressing.csv_twice", path=read.name, row=number)
        found[station, line] = read.number(row[2], number, empty=True)
    stations = sorted({station for station, _ in found})
    places = sorted({line for _, line in found})
    heights = [[found.get((station, line), math.nan) for line in places] for station in stations]
    return {"grid": {"station_mm": stations, "line_mm": places, "height_mm": heights}}


def _lines(rows: list[list[str]], read: _Reader) -> dict[str, Any]:
    lines: dict[str, dict[str, Any]] = {}
    for number, row in enumerate(rows, 2):
        line = lines.setdefault(row[0], {"string": row[0], "station_mm": [], "gap_mm": []})
        line["station_mm"].append(read.number(row[1], number))
        line["gap_mm"].append(read.number(row[2], number))
    return {"line": list(lines.values())}
