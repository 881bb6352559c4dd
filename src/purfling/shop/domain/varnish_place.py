"""Guards that every placed record of the varnish log shares."""

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Any

from purfling.craft.refusals import Refusal
from purfling.craft.varnish.meets import kinds as all_kinds
from purfling.craft.varnish.solvents import MOST_PARTS, mixture, solvents
from purfling.drawing.drawings.varnish_sheet import sheet_views
from purfling.shop.domain import clock
from purfling.shop.models import Maker, Object

MOST_WORD = 300


def owners_name() -> str:
    """Whom to ask."""
    return Maker.objects.filter(role=Maker.Role.OWNER).values_list("name", flat=True).first() or "?"


def is_owner(who: Maker | None) -> bool:
    """Whether somebody is the owner."""
    return who is not None and who.role == Maker.Role.OWNER


def check_owner(who: Maker | None) -> None:
    """Refuse what only the owner does."""
    if not is_owner(who):
        raise Refusal("varnish.owner_only", owner=owners_name())


def reason_of(word: str) -> str:
    """A word of reason, tidied; refused where there is none."""
    tidy = " ".join(word.split())[:MOST_WORD]
    if not tidy:
        raise Refusal("varnish.reason_wanted")
    return tidy


def check_place(thing: Object, values: dict[str, Any], *, whole: bool = False) -> None:
    """A touched place of one of the object's views, or words; neither only for the whole object."""
    view, x, y = values.get("view") or "", values.get("x"), values.get("y")
    if view:
        if view not in sheet_views(thing.is_bow):
            raise Refusal("varnish.no_such_view", view=str(view)[:16])
        if x is None or y is None or not (0.0 <= x <= 1.0 and 0.0 <= y <= 1.0):
            raise Refusal("varnish.place_range")
    elif not whole and not (values.get("place") or "").strip():
        raise Refusal("varnish.no_place")


def check_choice(field: str, value: str, choices: Iterable[str]) -> None:
    """A value that is no choice is refused."""
    if value not in choices:
        raise Refusal("varnish.unknown_choice", field=field, value=str(value)[:20])


def check_number(field: str, value: float | None, low: float, high: float) -> None:
    """A number outside what can be is refused; none is none."""
    if value is not None and not low <= value <= high:
        raise Refusal("varnish.number_range", field=field, value=value, low=low, high=high)


def check_moment(at: datetime | None, what: str) -> datetime:
    """The moment given, or now; the future is refused."""
    now = clock.now()
    if at is not None and at > now + timedelta(minutes=2):
        raise Refusal("varnish.too_new", what=what)
    return at or now


def kinds_of(material: Any, parts: list, given: Iterable[str]) -> list[str]:
    """The kinds on the swab: of the material, of the mixture's solvents, and those chosen; in order."""
    found = set(given) | set(material.kinds if material is not None else ())
    table = solvents()
    for key, _volume in parts:
        if key in table:
            found |= set(table[key].kinds)
    unknown = found - set(all_kinds())
    if unknown:
        raise Refusal("varnish.unknown_kind", name=min(unknown)[:40])
    return [k for k in all_kinds() if k in found]


def check_mixture(parts: list) -> list:
    """[[solvent, volume], ...] that the table knows; empty stays empty."""
    if not parts:
        return []
    if len(parts) > MOST_PARTS:
        raise Refusal("varnish.many_parts", most=MOST_PARTS)
    summed: dict[str, float] = {}
    for key, volume in parts:
        summed[key] = summed.get(key, 0.0) + float(volume)
    mixture(summed)
    return [[key, volume] for key, volume in summed.items()]
