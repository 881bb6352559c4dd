"""What the page of a bow's reckoning starts from, and its answers as rows."""

from collections.abc import Sequence
from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any, cast

from purfling.craft.quantities import readings
from purfling.shop.bow_words import NUMBER
from purfling.shop.domain.bow_numbers import Box
from purfling.shop.models import Reckoning, VisitObject
from purfling.words import decimal, say

KEPT = ("bow", "lapping")
Row = list[str]


@dataclass(frozen=True)
class Start:
    """Tables to begin with; ``origin`` says where what the card has not comes from: "", "kept", "earlier"."""

    tables: dict[str, Any]
    origin: str


def kept_of(row: VisitObject) -> Reckoning | None:
    """The reckoning that was kept last in this visit."""
    return row.reckonings.filter(name="bow").order_by("-at").first()


def starting_tables(card: dict[str, Any], kept: Reckoning | None, earlier: dict[str, float]) -> Start:
    """The card's figures; what it lacks from this visit's kept reckoning, else an earlier one's lengths."""
    tables: dict[str, Any] = {}
    origin = ""
    if kept is not None:
        origin = "kept"
        for name in ("bow", "lapping", "hair"):
            if isinstance(kept.inputs.get(name), dict):
                tables[name] = dict(kept.inputs[name])
        old = next((p for p in kept.inputs.get("part", []) if p.get("name") == "lapping"), None)
        if old:
            tables["part"] = {k: old[k] for k in ("mass_g", "at_mm") if k in old}
    elif earlier:
        origin, tables = "earlier", {"bow": dict(earlier)}
    for name, own in card.items():
        if isinstance(own, dict) and name in ("bow", "hair"):
            tables[name] = {**tables.get(name, {}), **own}
        else:
            tables[name] = own
    humidity = card.get("state", {}).get("humidity_percent")
    if humidity is not None:
        tables.setdefault("hair", {}).setdefault("humidity_percent", humidity)
    return Start(tables, origin)


def _label(box: Box, language: str) -> str:
    if box.name in NUMBER:
        return str(NUMBER[box.name])
    if box.name in readings():
        return say(f"readings.{box.name.replace('.', '_')}", language)
    return box.name


def box_lines(boxes: Sequence[Box], tables: dict[str, Any], language: str) -> list[dict[str, str]]:
    """Each box with its words and its value as text."""
    lines = []
    for box in boxes:
        value = tables.get(box.table, {}).get(box.key)
        shown = "" if not isinstance(value, int | float) else decimal(float(value), box.decimals, language)
        lines.append({"name": box.name, "words": _label(box, language), "unit": box.unit, "value": shown})
    return lines


def answer_lines(name: str, results: dict[str, Any], language: str) -> list[tuple[str, list[Row]]]:
    """(heading, rows of label, figure, unit) of an answer, fresh or kept."""
    if name == "bow":
        from purfling.reckonings.bow.sentences import rows_of

        return rows_of(cast(Any, SimpleNamespace(answer=SimpleNamespace(results=results))), language)
    rows = []
    for code, value, unit, decimals in (
        ("turns", results["turns"], "", 1),
        ("wire", results["wire_mm"] / 1000.0, "m", 3),
        ("cut", results["wire_to_cut_mm"] / 1000.0, "m", 3),
        ("mass", results["mass_g"], "g", 2),
        ("mass_error", results["mass_error_g"], "g", 2),
        ("underlay", results["underlay_mm"], "mm", 2),
        ("sheets", results["underlay_sheets"], "", 0),
        ("shift", results["balance_shift_mm"], "mm", 1),
    ):
        if value is not None:
            rows.append([say(f"lapping.row_{code}", language), decimal(value, decimals, language), unit])
    return [(say("bow.strip_lapping", language), rows)]
