"""Materials, their lots, and the shop's recipes."""

from typing import Any

from django.db import transaction

from purfling.craft.refusals import Refusal
from purfling.craft.varnish.clocks import BEARS, recipe_kinds
from purfling.craft.varnish.meets import kinds as all_kinds
from purfling.craft.varnish.solvents import Fractions, checked, solvents
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.varnish_place import check_choice, check_number
from purfling.shop.models import Lot, Maker, Material, Recipe

HAZARDS = (
    "flammable",
    "irritant",
    "health",
    "toxic",
    "corrosive",
    "environment",
    "oxidising",
    "gas",
    "rags",
)
MOST_HOURS = 24 * 365


def _name(model: type, values: dict[str, Any], own: Any = None) -> None:
    if "name" not in values:
        return
    values["name"] = " ".join(str(values["name"]).split())[:80]
    if not values["name"]:
        raise Refusal("varnish.no_name")
    rows = model.objects.filter(name__iexact=values["name"])
    if own is not None:
        rows = rows.exclude(pk=own.pk)
    if rows.exists():
        raise Refusal("varnish.name_taken", name=values["name"][:40])


def _check_material(values: dict[str, Any]) -> None:
    for kind in values.get("kinds") or []:
        check_choice("kind", kind, all_kinds())
    if "kinds" in values and not values["kinds"]:
        raise Refusal("varnish.no_material")
    for mark in values.get("hazards") or []:
        check_choice("hazard", mark, HAZARDS)
    if values.get("solvent"):
        check_choice("solvent", values["solvent"], solvents())
    if values.get("fractions"):
        checked(Fractions(*(float(v) for v in values["fractions"])), str(values.get("name", ""))[:40])


@transaction.atomic
def add_material(*, who: Maker | None, id=None, **values: Any) -> Material:
    """A material of the shop; its kinds say what it is for the stop page."""
    _name(Material, values)
    if not values.get("kinds") and values.get("solvent") in solvents():
        values["kinds"] = list(solvents()[values["solvent"]].kinds)
    _check_material({"kinds": [], **values})
    row = Material(**values)
    if id is not None:
        row.id = id
    return keeping.add(row, who=who)


@transaction.atomic
def change_material(*, material: Material, who: Maker, seen: int | None = None, **values: Any) -> Material:
    """Change what is known of a material."""
    _name(Material, values, material)
    _check_material(values)
    return keeping.change(material, who=who, seen=seen, **values)


def fractions_of(material: Material) -> Fractions | None:
    """Where a material lies in the triangle; None where nothing is known."""
    if material.fractions:
        return Fractions(*material.fractions)
    row = solvents().get(material.solvent)
    return row.fractions if row else None


@transaction.atomic
def open_lot(*, material: Material, number: str, who: Maker | None, id=None, **values: Any) -> Lot:
    """A new bottle of a material; opened today where no day is given."""
    number = " ".join(number.split())[:60]
    if not number:
        raise Refusal("varnish.no_name")
    if material.lots.filter(number__iexact=number).exists():
        raise Refusal("varnish.name_taken", name=number)
    values["opened_on"] = values.get("opened_on") or clock.now().date()
    row = Lot(material=material, number=number, **values)
    if id is not None:
        row.id = id
    return keeping.add(row, who=who)


def use_up(*, lot: Lot, who: Maker) -> Lot:
    """The bottle is empty."""
    return keeping.change(lot, who=who, used_up_on=lot.used_up_on or clock.now().date())


def _check_recipe(values: dict[str, Any]) -> None:
    if "kind" in values:
        check_choice("kind", values["kind"], recipe_kinds())
    for kind in values.get("soluble_in") or []:
        check_choice("kind", kind, all_kinds())
    for bears, hours in (values.get("hours") or {}).items():
        check_choice("bears", bears, BEARS)
        check_number(bears, hours, 0.05, MOST_HOURS)


@transaction.atomic
def add_recipe(*, who: Maker | None, id=None, **values: Any) -> Recipe:
    """A recipe of the shop; lines of the log keep its parts as they were that day."""
    _name(Recipe, values)
    _check_recipe(values)
    row = Recipe(**values)
    if id is not None:
        row.id = id
    return keeping.add(row, who=who)


@transaction.atomic
def change_recipe(*, recipe: Recipe, who: Maker, seen: int | None = None, **values: Any) -> Recipe:
    """Change a recipe from now on; what was laid on before keeps its parts."""
    _name(Recipe, values, recipe)
    _check_recipe(values)
    return keeping.change(recipe, who=who, seen=seen, **values)
