"""Materials with their lots, and what was used where."""

from typing import Any

from purfling.shop.models import Lot, Material, Recipe, SpotTest, Used

SHEET_YEARS = 3  # an older safety sheet is said to be old: common practice, no source
MOST = 100


def materials_page() -> dict[str, Any]:
    """All materials, lots and recipes. Three queries."""
    return {
        "materials": list(Material.objects.prefetch_related("lots").order_by("off", "name")),
        "recipes": list(Recipe.objects.order_by("off", "name")),
    }


def material_page(material: Material) -> dict[str, Any]:
    """One material: its lots, where it went, where it was tested."""
    used = Used.objects.filter(material=material).select_related("line__object", "lot", "line__who")
    tests = SpotTest.objects.filter(material=material).select_related("object", "lot", "who")
    return {
        "material": material,
        "lots": list(material.lots.all()),
        "used": list(used.order_by("-line__at")[:MOST]),
        "tests": list(tests[:MOST]),
    }


def where_lot(lot: Lot) -> list[Used]:
    """Where one lot went."""
    return list(lot.used.select_related("line__object").order_by("-line__at"))
