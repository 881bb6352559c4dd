"""The varnish log: cleaning, coats, retouches, rubbing down, polish, wax; and the finger on what dries."""

from collections.abc import Iterable
from datetime import datetime
from typing import Any

from django.db import transaction

from purfling.craft.refusals import Refusal
from purfling.shop.domain import keeping
from purfling.shop.domain.spot import what_words
from purfling.shop.domain.stops import pass_stops, place_of
from purfling.shop.domain.varnish_place import (
    check_choice,
    check_mixture,
    check_moment,
    check_number,
    check_place,
    kinds_of,
)
from purfling.shop.models import FingerLook, Lot, Maker, Material, Object, Recipe, Used, VarnishLine

RANGES = {
    "ph": (0, 14),
    "conductivity_us_cm": (0, 200000),
    "grit": (100, 20000),
    "swabs": (0, 1000),
    "coat": (1, 60),
    "humidity_percent": (1, 100),
    "temperature_c": (-10, 50),
    "cabinet_min": (0, 60 * 24 * 60),
}
OWN_KINDS = {"rub": ["abrasive"], "polish": ["polish"], "wax": ["wax"], "coat": ["varnish"]}


def _next_coat(thing: Object, values: dict[str, Any], recipe: Recipe | None) -> int:
    """The number of the next coat of this recipe at this place of this object."""
    rows = thing.varnish_lines.filter(recipe=recipe, task__in=("coat", "retouch"))
    place = (values.get("place") or "").strip()
    rows = rows.filter(place__iexact=place) if place else rows.filter(view=values.get("view") or "")
    return max((row.coat or 0 for row in rows), default=0) + 1


def _on_the_cloth(
    task: str, materials: list[Material], parts: list, kinds: Iterable[str]
) -> list[str] | None:
    """The kinds that touch the varnish; None where nothing was said and the task's usual ones count."""
    given = set(kinds)
    for material in materials:
        given |= set(material.kinds)
    if task == "rub":
        given |= {"abrasive"}
    found = kinds_of(None, parts, given)
    return found or None


def _check_line(thing: Object, task: str, used: list, mixture: list, values: dict[str, Any]) -> list:
    """The guards of a line; returns the mixture as it is kept."""
    check_choice("task", task, VarnishLine.Task.values)
    check_place(thing, values)
    for field, (low, high) in RANGES.items():
        check_number(field, values.get(field), low, high)
    for material, lot in used:
        if lot is not None and lot.material_id != material.pk:
            raise Refusal("varnish.lot_other")
    return check_mixture(mixture)


@transaction.atomic
def add_line(
    *,
    thing: Object,
    task: str,
    who: Maker,
    recipe: Recipe | None = None,
    materials: list[tuple[Material, Lot | None]] | None = None,
    mixture: list | None = None,
    kinds: list[str] | None = None,
    at: datetime | None = None,
    word: str = "",
    id=None,
    **values: Any,
) -> VarnishLine:
    """One line of the log.

    Parameters
    ----------
    materials : what was used, each with its lot where it is known.
    mixture : own mixture as [[solvent, volume], ...]; kinds : kinds of what has no material of its own.
    word : the owner's word that overrules a stop.

    Raises
    ------
    Refusal
        No place, a number that cannot be, a coat without a recipe.
    Stopped
        A forbidding test, the object's class, or a closed place.
    """
    used = materials or []
    parts = _check_line(thing, task, used, mixture or [], values)
    if task in ("coat", "retouch"):
        if recipe is None and not (values.get("note") or "").strip():
            raise Refusal("varnish.recipe_wanted")
        values["coat"] = values.get("coat") or _next_coat(thing, values, recipe)
    moment = check_moment(at, "line")
    on_cloth = _on_the_cloth(task, [m for m, _l in used], parts, kinds or [])
    if on_cloth is None and task in OWN_KINDS:
        on_cloth = OWN_KINDS[task]
    pass_stops(thing, who=who, word=word, operation=task, kinds=on_cloth, place=place_of(values))
    names = [m.name for m, _l in used] or ([what_words(None, parts, [])] if parts else [])
    values["what"] = (values.get("what") or ", ".join(names))[:160]
    row = VarnishLine(
        object=thing,
        task=task,
        recipe=recipe,
        made_of=list(recipe.parts) if recipe is not None else [],
        mixture=parts,
        at=moment,
        who=who,
        **values,
    )
    if id is not None:
        row.id = id
    keeping.add(row, who=who)
    for material, lot in used:
        keeping.add(Used(line=row, material=material, lot=lot), who=who)
    return row


@transaction.atomic
def look_with_finger(
    *,
    line: VarnishLine,
    bears: str,
    who: Maker,
    at: datetime | None = None,
    again_at: datetime | None = None,
    id=None,
) -> FingerLook:
    """A finger on a coat: still tacky (look again at ...), or what it bears from now on."""
    if not line.dries:
        raise Refusal("varnish.not_a_coat")
    check_choice("bears", bears, FingerLook.Bears.values)
    moment = check_moment(at, "look")
    if moment <= line.at:
        raise Refusal("varnish.look_first")
    row = FingerLook(
        line=line, bears=bears, at=moment, who=who, again_at=again_at if bears == "tacky" else None
    )
    if id is not None:
        row.id = id
    return keeping.add(row, who=who)
