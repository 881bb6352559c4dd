"""Reading a slip: bytes -> known tables with known keys, or one refusal."""

import difflib
import math
import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from purfling.craft.quantities import FAMILIES, Family
from purfling.craft.refusals import Refusal
from purfling.slips.fields import Table
from purfling.slips.known import known_tables
from purfling.slips.view import View

MOST_BYTES = 1_000_000
# What is laid beside the card: what shall differ, and what was left at the hand-over.
OVERLAYS = ("wish", "left")


def read_bytes(path: Path) -> bytes:
    """The bytes of an input file of at most 1 MB."""
    try:
        if path.is_dir():
            raise Refusal("slips.is_a_folder", path=str(path))
        if path.stat().st_size > MOST_BYTES:
            raise Refusal("slips.too_big", path=path.name, size=path.stat().st_size, limit=MOST_BYTES)
        return path.read_bytes()
    except FileNotFoundError as missing:
        raise Refusal("slips.no_file", path=str(path)) from missing
    except Refusal:
        raise
    except (OSError, ValueError) as trouble:  # ValueError: a name no file can have
        reason = getattr(trouble, "strerror", None) or str(trouble)
        raise Refusal("slips.unreadable", path=str(path)[:80], reason=reason) from trouble


def decode(data: bytes, name: str) -> str:
    """UTF-8 text, with or without a byte-order mark."""
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as wrong:
        line = data[: wrong.start].count(b"\n") + 1
        raise Refusal("slips.not_utf8", path=name, line=line) from wrong


def parse_toml(text: str, name: str) -> dict[str, Any]:
    """TOML, or a refusal with line and column."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as wrong:
        said = str(wrong)
        place = re.search(r"\(at line (\d+), column (\d+)\)", said)
        reason = said.split(" (at ", maxsplit=1)[0]
        if place:
            line, column = int(place.group(1)), int(place.group(2))
        else:
            line, column = text.count("\n") + 1, len(text.rsplit("\n", 1)[-1]) + 1
        raise Refusal("slips.bad_toml", path=name, line=line, column=column, reason=reason) from wrong
    except ValueError as wrong:  # a whole number of thousands of digits
        raise Refusal("slips.bad_toml", path=name, line=1, column=1, reason=str(wrong)[:80]) from wrong
    except RecursionError as wrong:
        raise Refusal("slips.too_deep", path=name) from wrong


def nearest(name: str, known: Iterable[str]) -> str | None:
    """The known name most like a given one, or None when nothing is near."""
    found = difflib.get_close_matches(name, list(known), n=1, cutoff=0.5)
    return found[0] if found else None


def _refuse_unknown(kind: str, name: str, known: Iterable[str], where: str = "") -> Refusal:
    like = nearest(name, known)
    params = {"name": name[:60], "where": where}
    if like is None:
        return Refusal(f"slips.unknown_{kind}", **params)
    return Refusal(f"slips.unknown_{kind}_near", like=like, **params)


def _check_table(table: Table, value: Any, where: str) -> None:
    if table.many:
        if not isinstance(value, list) or not all(isinstance(v, dict) for v in value):
            raise Refusal("slips.not_a_list_of_tables", name=where)
        rows: list[Mapping[str, Any]] = value
    else:
        if not isinstance(value, dict):
            raise Refusal("slips.not_a_table", name=where)
        rows = [value]
    for number, row in enumerate(rows, 1):
        place = f"{where} {number}" if table.many else where
        for key, item in row.items():
            if key not in table.keys:
                raise _refuse_unknown("key", key, table.keys, place)
            _check_finite(item, f"{place}: {key}" if table.many else f"{where}.{key}", table.field(key).nan)


def _check_finite(item: Any, where: str, nan: bool) -> None:
    """NaN and infinity are no readings; nan may stand where a field says 'not measured'."""
    if isinstance(item, float) and not math.isfinite(item):
        if nan and math.isnan(item):
            return
        raise Refusal("slips.not_finite", field=where, value=str(item))
    if isinstance(item, list):
        for one in item:
            _check_finite(one, where, nan)
    elif isinstance(item, dict):
        for one in item.values():
            _check_finite(one, where, False)


@dataclass(frozen=True)
class Slip:
    """A slip whose tables and keys are all known; values are looked at when a command takes them.

    ``folder`` is where files named in the slip are looked for.
    """

    tables: Mapping[str, Any]
    name: str = "slip"
    folder: Path = Path()

    @property
    def family(self) -> Family | None:
        """body.family where it is given and known."""
        given = self.tables.get("body", {}).get("family")
        return given if given in FAMILIES else None

    def has(self, table: str) -> bool:
        """Whether the slip has the table."""
        return table in self.tables

    def table(self, name: str) -> View:
        """A single table (empty where absent)."""
        return View(known_tables()[name], self.tables.get(name, {}), name, self.family)

    def rows(self, name: str) -> list[View]:
        """The rows of a [[table]] (none where absent)."""
        table = known_tables()[name]
        return [
            View(table, row, f"{name} {number}", self.family)
            for number, row in enumerate(self.tables.get(name, []), 1)
        ]

    def wished(self) -> "Slip":
        """The slip with every [wish.*] table laid over the card."""
        merged = dict(self.tables)
        for name, value in self.tables.get("wish", {}).items():
            table = known_tables().get(name)
            if table is None or not isinstance(value, dict | list):
                continue
            merged[name] = {**merged.get(name, {}), **value} if isinstance(value, dict) else value
        return Slip(merged, self.name, self.folder)


def check_slip(tables: Mapping[str, Any], name: str = "slip", folder: Path | None = None) -> Slip:
    """A slip from plain tables (a TOML file, a form): every table and key must be known.

    Raises
    ------
    Refusal
        Unknown table or key (with the nearest known name), a table of the wrong shape, NaN or infinity,
        a slip version that this program does not know.
    """
    known = known_tables()
    for table_name, value in tables.items():
        if table_name in OVERLAYS:
            _check_overlay(table_name, value)
        elif table_name not in known:
            raise _refuse_unknown("table", table_name, [*known, *OVERLAYS])
        else:
            _check_table(known[table_name], value, table_name)
    slip = Slip(tables, name, folder or Path())
    if slip.has("slip"):
        slip.table("slip").number("version")
        slip.table("slip").text("kind")
    return slip


def _check_overlay(overlay: str, value: Any) -> None:
    if not isinstance(value, dict):
        raise Refusal("slips.not_a_table", name=overlay)
    known = known_tables()
    own = known[overlay].keys if overlay in known else frozenset()
    sub = [t.name for t in known.values() if t.wish]
    for key, item in value.items():
        if key in own:
            _check_finite(item, f"{overlay}.{key}", False)
        elif key in sub:
            _check_table(known[key], item, f"{overlay}.{key}")
        else:
            raise _refuse_unknown("key", key, [*sub, *own], overlay)


def read_slip(path: Path) -> Slip:
    """Read a slip file.

    Raises
    ------
    Refusal
        Not there, over 1 MB, not UTF-8, broken TOML (line and column), unknown tables or keys, NaN.
    """
    text = decode(read_bytes(path), path.name)
    return check_slip(parse_toml(text, path.name), path.name, path.parent)
