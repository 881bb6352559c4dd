"""The catalogue of operations: order of work, minutes, waits, precedences, cautions, what breaks a class."""

import tomllib
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

WAITS = ("glue", "varnish", "dry", "settle", "hair")


@dataclass(frozen=True)
class CatalogueOperation:
    """One row of operations.toml.

    ``minutes`` maps a family to hands-on minutes; ``wait_kind`` is empty where nothing waits,
    ``wait_minutes``
    then 0. ``after``, ``cautions``, ``parts`` and ``back`` are codes; ``stops`` numbers of steps from 1.
    """

    code: str
    place: int
    of: str
    families: tuple[str, ...]
    minutes: Mapping[str, int]
    wait_kind: str
    wait_minutes: int
    after: tuple[str, ...]
    soft: bool
    slack: bool
    readings: tuple[str, ...]
    cautions: tuple[str, ...]
    needs: bool
    breaks: tuple[str, ...]
    asks: tuple[str, ...]
    usual: bool
    parts: tuple[str, ...]
    back: tuple[str, ...]
    stops: tuple[int, ...]
    look_again: bool
    laid_down: bool


FAMILIES = ("violin", "viola", "cello")


def _row(code: str, place: int, row: Mapping[str, Any]) -> CatalogueOperation:
    wait = row.get("wait", {})
    given = row["minutes"]
    return CatalogueOperation(
        code=code,
        place=place,
        of=row["of"],
        families=tuple(row.get("families", FAMILIES)),
        minutes={f: int(given if isinstance(given, int) else given[f]) for f in FAMILIES},
        wait_kind=wait.get("kind", ""),
        wait_minutes=int(wait.get("minutes", 0)),
        after=tuple(row.get("after", ())),
        soft=row.get("soft", False),
        slack=row.get("slack", False),
        readings=tuple(row.get("readings", ())),
        cautions=tuple(row.get("cautions", ())),
        needs=row["needs"],
        breaks=tuple(row.get("breaks", ())),
        asks=tuple(row.get("asks", ())),
        usual=row.get("usual", False),
        parts=tuple(row.get("parts", ())),
        back=tuple(row.get("back", ())),
        stops=tuple(row.get("stops", ())),
        look_again=row.get("look_again", False),
        laid_down=row.get("laid_down", False),
    )


@cache
def catalogue() -> dict[str, CatalogueOperation]:
    """Every operation by its code, in the order of work."""
    text = (resources.files("purfling.craft.tables") / "operations.toml").read_text(encoding="utf-8")
    rows = tomllib.loads(text)
    return {code: _row(code, place, row) for place, (code, row) in enumerate(rows.items())}


def operations_of(kind: str, family: str) -> tuple[CatalogueOperation, ...]:
    """The operations that an instrument or a bow of a family can have, in the order of work."""
    return tuple(o for o in catalogue().values() if o.of == kind and family in o.families)


def usual_service(kind: str, family: str, class_: str) -> tuple[list[str], list[str]]:
    """Codes of the usual service, and codes left out because they break the object's class.

    Parameters
    ----------
    kind : instrument or bow; family : violin, viola, cello; class_ : working, between or conserve.
    """
    rows = [o for o in operations_of(kind, family) if o.usual]
    kept = [o.code for o in rows if class_ not in (*o.breaks, *o.asks)]
    return kept, [o.code for o in rows if o.code not in kept]


def waited_for(code: str, open_codes: Collection[str]) -> tuple[str, ...]:
    """Of the operations that are still open, those that must be done before this one.

    Parameters
    ----------
    code : the operation; open_codes : codes on the object's list that are not done and looked at.
    """
    row = catalogue().get(code)
    return () if row is None else tuple(c for c in row.after if c in open_codes)


def out_of_order(codes: Sequence[str]) -> tuple[str, str] | None:
    """The first (operation, predecessor) of a list where the predecessor stands later; None where all is
    right."""
    for place, code in enumerate(codes):
        for other in waited_for(code, codes[place + 1 :]):
            if other != code:
                return code, other
    return None


def in_order_of_work(codes: Sequence[str]) -> list[str]:
    """The codes in the order of work of the catalogue; unknown ones (the shop's own) keep the end."""
    table = catalogue()
    return sorted(codes, key=lambda c: table[c].place if c in table else len(table))
