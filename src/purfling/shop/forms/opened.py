"""The numbers of a reckoning as boxes: what the cards hold stands in them and may be changed for this
once."""

import math
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from purfling.craft.quantities import readings
from purfling.craft.refusals import Refusal
from purfling.shop.opened import Opened
from purfling.shop.queries.catalogue import language
from purfling.shop.queries.work_operation import reading_name
from purfling.slips.fields import Field
from purfling.slips.known import known_tables

SHOWN_KINDS = frozenset({"number", "numbers", "band", "text", "choice", "truth"})
MOST_MORE = 20_000


@dataclass(frozen=True)
class Box:
    """One box: its name ``table.key``, words, what stands in it, whether the cards gave it."""

    name: str
    words: str
    unit: str
    value: str
    kind: str
    choices: tuple[str, ...]
    given: bool


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float | int):
        text = f"{value:.10g}"
        return text.replace(".", ",") if language() == "de" else text
    if isinstance(value, list):
        return "  ".join(_text(v) if v is not None else "-" for v in value)
    return str(value)


def _words(table: str, key: str) -> tuple[str, str]:
    full = f"{table}.{key}"
    if full in readings():
        return reading_name(full), readings()[full].unit
    name = key.removesuffix("_mm").replace("_", " ")
    return f"{table}: {name}", "mm" if key.endswith("_mm") else ""


def boxes_of(opened: Opened, tables: Mapping[str, Any], asked: Mapping[str, str]) -> list[Box]:
    """The boxes of a reckoning, those that the cards fill first within their table."""
    found = [
        Box(f"ask.{n}", n.removesuffix("_mm").replace("_", " "), "mm", asked.get(n, ""), "number", (), False)
        for n in opened.asks
    ]
    for name in opened.tables:
        table = known_tables()[name]
        own = tables.get(name, {})
        if table.many or not isinstance(own, dict):
            continue
        for one in table.fields:
            if one.kind not in SHOWN_KINDS:
                continue
            words, unit = _words(name, one.key)
            value = _text(own.get(one.key))
            box = Box(
                f"{name}.{one.key}", words, unit or one.unit, value, one.kind, one.choices, one.key in own
            )
            found.append(box)
    return found


def _number(text: str, where: str) -> float:
    try:
        value = float(text.replace(",", "."))
    except ValueError as wrong:
        raise Refusal("slips.not_a_number", field=where, value=text[:40], unit="-") from wrong
    if not math.isfinite(value):
        raise Refusal("slips.not_finite", field=where, value=text[:40])
    return value


def _value(text: str, one: Field, where: str) -> Any:
    if one.kind == "truth":
        return text == "yes"
    if one.kind in ("text", "choice"):
        return text
    parts = text.replace(";", " ").split()
    if one.kind == "number" and len(parts) == 1:
        return _number(parts[0], where)
    return [_number(p, where) for p in parts]


def typed(
    opened: Opened, tables: Mapping[str, Any], post: Mapping[str, str]
) -> tuple[dict, dict[str, float]]:
    """The slip's tables with what the boxes say laid over them, and the numbers asked besides.

    Raises
    ------
    Refusal
        A box that holds no number; further lines that are no slip.
    """
    made: dict[str, Any] = {k: dict(v) if isinstance(v, dict) else v for k, v in tables.items()}
    for box in boxes_of(opened, tables, {}):
        text = post.get(box.name, box.value).strip()
        if box.name.startswith("ask.") or text == box.value:
            continue
        table, key = box.name.split(".", 1)
        if not text:
            made.get(table, {}).pop(key, None)
            continue
        made.setdefault(table, {})[key] = _value(text, known_tables()[table].field(key), box.name)
    asked = {
        n: _number(post[f"ask.{n}"], n.replace("_", " "))
        for n in opened.asks
        if post.get(f"ask.{n}", "").strip()
    }
    return _with_more(made, post.get("more", "")), asked


def _with_more(made: dict[str, Any], more: str) -> dict[str, Any]:
    if not more.strip():
        return made
    if len(more) > MOST_MORE:
        raise Refusal("slips.too_big", path="-", size=len(more), limit=MOST_MORE)
    try:
        given = tomllib.loads(more)
    except tomllib.TOMLDecodeError as wrong:
        raise Refusal("slips.bad_toml", path="-", line=0, column=0, reason=str(wrong)[:80]) from wrong
    for name, value in given.items():
        own = made.get(name)
        made[name] = {**own, **value} if isinstance(own, dict) and isinstance(value, dict) else value
    return made
