"""What a material or a task brings to a varnish, and what breaks an object's class."""

import tomllib
from collections.abc import Iterable
from functools import cache
from importlib import resources
from typing import Any

from purfling.craft.refusals import Refusal


@cache
def _table() -> dict[str, Any]:
    text = (resources.files("purfling.craft.tables") / "meets.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def kinds() -> tuple[str, ...]:
    """Every kind of material, in the order of the table."""
    return tuple(_table()["kinds"])


def tasks() -> tuple[str, ...]:
    """Every task that touches a varnish."""
    return tuple(_table()["tasks"])


def spread_kinds(given: Iterable[str]) -> frozenset[str]:
    """Kinds with all that they imply: a polish is spirit and oil as well.

    Raises
    ------
    Refusal
        A kind that the table does not know.
    """
    table = _table()["kinds"]
    found: set[str] = set()
    wanted = list(given)
    while wanted:
        kind = wanted.pop()
        if kind not in table:
            raise Refusal("varnish.unknown_kind", name=str(kind)[:40])
        if kind not in found:
            found.add(kind)
            wanted += table[kind]
    return frozenset(found)


def task_of(code: str, name: str = "") -> str:
    """The task that an operation is, empty for one that does not touch the varnish.

    Parameters
    ----------
    code : code of the operation, or a task itself; name : its name, for an operation of the shop's own.
    """
    table = _table()["tasks"]
    if code in table:
        return code
    for task, row in table.items():
        if code in row["codes"]:
            return str(task)
    text = name.lower()
    return next((str(t) for t, row in table.items() if text and any(w in text for w in row["words"])), "")


def brought_by(task: str) -> frozenset[str]:
    """The kinds that a task may bring to the varnish; none for no task."""
    row = _table()["tasks"].get(task)
    return spread_kinds(row["brings"]) if row else frozenset()


def breaks_class(treat_as: str, task: str, brought: Iterable[str] | None = None) -> bool:
    """Whether a task, or a material in it, breaks the object's class.

    Parameters
    ----------
    treat_as : working, between or conserve; task : as by ``task_of``, empty for a material alone.
    brought : kinds of the chosen material; None where none is chosen yet.

    A wax that comes off again is no polish. A spirit retouch of our own is no spirit cloth.
    """
    row = _table()["classes"].get(treat_as)
    if row is None:
        return False
    if task in row["tasks"]:
        return True
    given = spread_kinds(brought) if brought is not None else frozenset()
    if given & set(row["kinds"]):
        return True
    cloth = row["cloth"]
    return bool(cloth["kinds"]) and task in ("", *cloth["tasks"]) and bool(given & set(cloth["kinds"]))
