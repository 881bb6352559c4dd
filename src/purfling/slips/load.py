"""The door for a bench load: JSON -> Load, or one refusal that names visit, operation and field."""

import json
import math
from collections.abc import Iterable, Mapping
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import Any, cast

from purfling.craft.refusals import Refusal
from purfling.planning.load import (
    DAY,
    STEP,
    WEEKDAYS,
    Hours,
    Keeps,
    Load,
    Operation,
    Person,
    SetUp,
    State,
    Visit,
    Wait,
)
from purfling.slips.load_checks import check_load
from purfling.slips.reader import decode, nearest, read_bytes
from purfling.slips.view import moment as local_moment

MOST_MINUTES = 1_000_000
_LOAD_KEYS = (
    "now bench_hours shop_hours evenings closed people places setups visits".split()  # noqa: SIM905
)
_VISIT_KEYS = ("id", "arrives", "promise", "weight", "operations", "never_during")
_OPERATION_KEYS = (
    *("id", "object", "minutes", "skill", "interruptible", "piece_minutes", "family", "place", "until"),
    *("after", "state", "started_at", "ended_at", "fixed"),
)


def parse_json(text: str, name: str) -> Any:
    """JSON, or a refusal with line and column; NaN and infinity are no numbers of a load."""

    def refuse(word: str) -> Any:
        raise Refusal("slips.not_finite", field=name, value=word)

    try:
        return json.loads(text, parse_constant=refuse)
    except json.JSONDecodeError as wrong:
        raise Refusal("plan.bad_json", path=name, line=wrong.lineno, column=wrong.colno) from wrong
    except RecursionError as wrong:
        raise Refusal("slips.too_deep", path=name) from wrong


def read_json(path: Path) -> Any:
    """The JSON of a file of at most 1 MB."""
    return parse_json(decode(read_bytes(path), path.name), path.name)


class Node:
    """One JSON object, taken apart key by key; ``where`` names it in sentences."""

    def __init__(self, data: Any, where: str, keys: Iterable[str] | None = None) -> None:
        if not isinstance(data, dict):
            raise Refusal("plan.not_an_object", field=where)
        self.data: Mapping[str, Any] = data
        self.where = where
        known = list(keys) if keys is not None else None
        for key in data if known is not None else ():
            if key not in (known or ()):
                like = nearest(key, known or ())
                code = "plan.unknown_key" if like is None else "plan.unknown_key_near"
                extra = {} if like is None else {"like": like}
                raise Refusal(code, name=str(key)[:60], field=where, **extra)

    def path(self, key: str) -> str:
        """The name of a key in sentences."""
        return f"{self.where}: {key}" if self.where else key

    def need(self, key: str) -> Any:
        """A value that must be given."""
        if self.data.get(key) is None:
            raise Refusal("slips.missing_plain", field=self.path(key))
        return self.data[key]

    def text(self, key: str) -> str | None:
        """A text that is not empty, or None."""
        value = self.data.get(key)
        if value is None:
            return None
        return _text(value, self.path(key))

    def need_text(self, key: str) -> str:
        """A text that must be given."""
        return _text(self.need(key), self.path(key))

    def minutes(self, key: str, least: int) -> int | None:
        """A whole number of minutes, a multiple of five, or None."""
        value = self.data.get(key)
        return None if value is None else _minutes(value, self.path(key), least)

    def need_minutes(self, key: str, least: int) -> int:
        """Minutes that must be given."""
        return _minutes(self.need(key), self.path(key), least)

    def moment(self, key: str) -> int | None:
        """A local moment, or None."""
        value = self.data.get(key)
        return None if value is None else read_moment(value, self.path(key))

    def need_moment(self, key: str) -> int:
        """A moment that must be given."""
        return read_moment(self.need(key), self.path(key))

    def rows(self, key: str) -> list[Any]:
        """A list (empty where absent)."""
        value = self.data.get(key)
        if value is None:
            return []
        if not isinstance(value, list):
            raise Refusal("slips.not_a_list", field=self.path(key), value=str(value)[:40])
        return value


def _text(value: Any, field: str) -> str:
    if not isinstance(value, str) or not value or len(value) > 200:
        raise Refusal("slips.not_a_text", field=field, value=str(value)[:40])
    return value


def _minutes(value: Any, field: str, least: int) -> int:
    if isinstance(value, bool) or not isinstance(value, int | float) or value != int(value):
        raise Refusal("slips.not_a_number", field=field, value=str(value)[:40], unit="min")
    if value < least or value > MOST_MINUTES:
        code = "cli.option_below" if value < least else "cli.option_above"
        limit = least if value < least else MOST_MINUTES
        raise Refusal(code, field=field, value=f"{value:g}", unit="min", limit=limit)
    if int(value) % STEP:
        raise Refusal("plan.not_fives", field=field, value=f"{value:g}")
    return int(value)


def read_moment(value: Any, field: str) -> int:
    """A local moment ``YYYY-MM-DDTHH:MM`` in minutes since the calendar's first midnight."""
    if not isinstance(value, str):
        raise Refusal("slips.bad_moment", field=field, value=str(value)[:40])
    found = local_moment(value, field)
    if found.minute % STEP:
        raise Refusal("plan.not_fives", field=field, value=value)
    return found.toordinal() * DAY + found.hour * 60 + found.minute


def write_moment(minutes: int) -> str:
    """The way back: ``YYYY-MM-DDTHH:MM``."""
    day, rest = divmod(minutes, DAY)
    return f"{datetime.fromordinal(day):%Y-%m-%d}T{rest // 60:02d}:{rest % 60:02d}"


def _clock(value: Any, field: str) -> int:
    good = isinstance(value, str) and len(value) == 5 and value[2] == ":"
    if not good or not (value[:2] + value[3:]).isascii() or not (value[:2] + value[3:]).isdigit():
        raise Refusal("plan.bad_clock", field=field, value=str(value)[:40])
    hour, minute = int(value[:2]), int(value[3:])
    if minute > 59 or hour * 60 + minute > DAY:
        raise Refusal("plan.bad_clock", field=field, value=str(value)[:40])
    if minute % STEP:
        raise Refusal("plan.not_fives", field=field, value=value)
    return hour * 60 + minute


def _pair(value: Any, field: str) -> tuple[Any, Any]:
    if not isinstance(value, list) or len(value) != 2:
        raise Refusal("plan.not_a_pair", field=field, value=str(value)[:40])
    return value[0], value[1]


def _hours(value: Any, field: str) -> Hours:
    node = Node(value, field, WEEKDAYS)
    found: Hours = {}
    for day in WEEKDAYS:
        rows = []
        for row in node.rows(day):
            begin, end = _pair(row, node.path(day))
            rows.append((_clock(begin, node.path(day)), _clock(end, node.path(day))))
        rows.sort()
        apart = all(a[1] <= b[0] for a, b in pairwise(rows))
        if not apart or any(a >= b for a, b in rows):
            raise Refusal("plan.hours_cross", field=node.path(day))
        if rows:
            found[day] = tuple(rows)
    return found


def _spans(rows: list[Any], field: str) -> tuple[tuple[int, int], ...]:
    found = []
    for row in rows:
        begin, end = _pair(row, field)
        span = read_moment(begin, field), read_moment(end, field)
        if span[0] >= span[1]:
            raise Refusal("plan.span_backwards", field=field, value=str(begin)[:40], limit=str(end)[:40])
        found.append(span)
    return tuple(found)


def _closed(rows: list[Any]) -> frozenset[int]:
    found = set()
    for row in rows:
        try:
            found.add(datetime.strptime(row, "%Y-%m-%d").toordinal())
        except (TypeError, ValueError) as wrong:
            raise Refusal("plan.bad_date", field="closed", value=str(row)[:40]) from wrong
    return frozenset(found)


def _person(data: Any, number: int) -> Person:
    node = Node(data, f"people {number}", ("name", "skills", "away"))
    skills = [_text(s, node.path("skills")) for s in node.rows("skills")]
    return Person(node.need_text("name"), frozenset(skills), _spans(node.rows("away"), node.path("away")))


def _places(data: Any) -> dict[str, int]:
    found = {}
    for name, count in Node(data, "places").data.items():
        if isinstance(count, bool) or not isinstance(count, int) or count < 0:
            raise Refusal("slips.not_a_number", field=f"places: {name[:60]}", value=str(count)[:40], unit="1")
        found[name] = count
    return found


def _setups(data: Any) -> dict[str, SetUp]:
    found = {}
    for name, row in Node(data, "setups").data.items():
        node = Node(row, f"setups: {name[:60]}", ("minutes", "warm_minutes", "keeps"))
        keeps = node.text("keeps") or "period"
        if keeps not in ("period", "day"):
            raise Refusal(
                "slips.bad_choice", field=node.path("keeps"), value=keeps[:40], choices="period, day"
            )
        found[name] = SetUp(
            node.need_minutes("minutes", STEP), node.minutes("warm_minutes", 0) or 0, cast(Keeps, keeps)
        )
    return found


def _waits(node: Node) -> tuple[Wait, ...]:
    found = []
    for row in node.rows("after"):
        wait = Node(row, node.path("after"), ("id", "wait_min", "wait_max"))
        least = wait.minutes("wait_min", 0)
        found.append(Wait(wait.need_text("id"), least or 0, wait.minutes("wait_max", 0)))
    return tuple(found)


def _operation(data: Any, visit: str) -> Operation:
    given = Node(data, f"visit {visit}")
    id = given.need_text("id")
    node = Node(data, f"visit {visit}, operation {id}", _OPERATION_KEYS)
    cut = node.need("interruptible")
    if not isinstance(cut, bool):
        raise Refusal("slips.not_a_truth", field=node.path("interruptible"), value=str(cut)[:40])
    state = node.text("state") or "open"
    if state not in ("open", "started", "done"):
        choices = "open, started, done"
        raise Refusal("slips.bad_choice", field=node.path("state"), value=state[:40], choices=choices)
    fixed = Node(node.data.get("fixed") or {}, node.path("fixed"), ("person", "start"))
    return Operation(
        id=id,
        minutes=node.need_minutes("minutes", STEP),
        skill=node.text("skill"),
        interruptible=cut,
        piece_minutes=node.minutes("piece_minutes", STEP),
        family=node.text("family"),
        place=node.text("place"),
        until=node.text("until"),
        after=_waits(node),
        object=node.text("object"),
        state=cast(State, state),
        started_at=node.moment("started_at"),
        ended_at=node.moment("ended_at"),
        fixed_person=fixed.text("person"),
        fixed_start=fixed.moment("start"),
    )


def _visit(data: Any, number: int) -> Visit:
    id = Node(data, f"visits {number}").need_text("id")
    node = Node(data, f"visit {id}", _VISIT_KEYS)
    weight = node.need("weight")
    if isinstance(weight, bool) or not isinstance(weight, int | float) or not math.isfinite(weight):
        raise Refusal("slips.not_a_number", field=node.path("weight"), value=str(weight)[:40], unit="1")
    if weight < 0 or weight > 1e6:
        code, limit = ("cli.option_below", 0) if weight < 0 else ("cli.option_above", 1_000_000)
        raise Refusal(code, field=node.path("weight"), value=f"{weight:g}", unit="", limit=limit)
    pairs = []
    for row in node.rows("never_during"):
        x, y = _pair(row, node.path("never_during"))
        pairs.append((_text(x, node.path("never_during")), _text(y, node.path("never_during"))))
    return Visit(
        id=id,
        arrives=node.need_moment("arrives"),
        promise=node.need_moment("promise"),
        weight=weight,
        operations=tuple(_operation(row, id) for row in node.rows("operations")),
        never_during=tuple(pairs),
    )


def load_of(data: Any, use_evenings: bool = False) -> Load:
    """A load from plain JSON data.

    Raises
    ------
    Refusal
        Unknown or missing keys, values of the wrong kind, unknown ids, cycles, waits upside down, a skill
        nobody has, work longer than any bench period.
    """
    node = Node(data, "", _LOAD_KEYS)
    shop_hours = node.data.get("shop_hours")
    load = Load(
        now=node.need_moment("now"),
        bench_hours=_hours(node.need("bench_hours"), "bench_hours"),
        shop_hours=None if shop_hours is None else _hours(shop_hours, "shop_hours"),
        evenings=_spans(node.rows("evenings"), "evenings"),
        closed=_closed(node.rows("closed")),
        people=tuple(_person(row, k) for k, row in enumerate(node.rows("people"), 1)),
        places=_places(node.data.get("places") or {}),
        setups=_setups(node.data.get("setups") or {}),
        visits=tuple(_visit(row, k) for k, row in enumerate(node.rows("visits"), 1)),
    )
    check_load(load, use_evenings)
    return load


def read_load(path: Path, use_evenings: bool = False) -> Load:
    """Read a load file."""
    return load_of(read_json(path), use_evenings)
