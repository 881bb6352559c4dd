"""The numbers of a bow's reckoning: the card's own, the boxes of the page laid over them, as slip tables."""

import json
import re
from dataclasses import dataclass, field
from typing import Any

from purfling.craft.refusals import Refusal
from purfling.craft.result import Note
from purfling.shop.models import Reckoning

NUMBER = re.compile(r"[+-]?\d{1,6}([.,]\d{1,6})?")


@dataclass(frozen=True)
class Box:
    """A number of the page: table and key of the slip, unit, decimals shown."""

    table: str
    key: str
    unit: str
    decimals: int = 1

    @property
    def name(self) -> str:
        """What the form calls it."""
        return f"{self.table}.{self.key}"


BOXES = {
    "bow": (
        Box("bow", "mass_g", "g"),
        Box("bow", "balance_mm", "mm"),
        Box("bow", "frog_length_mm", "mm"),
        Box("bow", "button_length_mm", "mm"),
        Box("bow", "stick_length_mm", "mm"),
    ),
    "old": (Box("part", "mass_g", "g", 2), Box("part", "at_mm", "mm")),
    "lapping": (
        Box("lapping", "wire_mm", "mm", 2),
        Box("lapping", "length_mm", "mm"),
        Box("lapping", "from_mm", "mm"),
        Box("lapping", "handle_mm", "mm", 2),
        Box("lapping", "handle_end_mm", "mm", 2),
    ),
    "hair": (
        Box("hair", "length_mm", "mm"),
        Box("hair", "width_mm", "mm"),
        Box("hair", "humidity_percent", "%", 0),
        Box("hair", "driest_percent", "%", 0),
        Box("hair", "dampest_percent", "%", 0),
        Box("hair", "frog_travel_mm", "mm"),
    ),
}
CHOICES = {
    "bow.datum": ("frog_front", "stick_end", "button", "ferrule"),
    "bow.hair": ("tight", "slack"),
    "hair.tied": ("wet", "dry"),
    "lapping.material": (),
}
# What a bow keeps from visit to visit; the rest is of one visit only.
LASTING = ("frog_length_mm", "button_length_mm", "stick_length_mm")


@dataclass
class BowNumbers:
    """Tables of a slip and what was left out on the way."""

    tables: dict[str, Any]
    left_out: list[Note] = field(default_factory=list)

    @property
    def has_lapping(self) -> bool:
        """Whether a new lapping can be reckoned."""
        return "lapping" in self.tables


def number_of(text: str, box: Box) -> float | int:
    """A typed number; one without decimals stays whole, so that a gauge number for a wire is known as one.

    Raises
    ------
    Refusal
        It is no number.
    """
    plain = text.strip()
    if not NUMBER.fullmatch(plain):
        raise Refusal("bowsurvey.not_a_number", field=box.name, value=plain[:30], unit=box.unit)
    plain = plain.replace(",", ".")
    return float(plain) if "." in plain else int(plain)


def earlier_lengths(object_id: Any) -> dict[str, float]:
    """Frog, button and stick as the object's last kept reckoning had them. One query."""
    kept = Reckoning.objects.filter(visit_object__object=object_id, name="bow").order_by("-at").first()
    own = kept.inputs.get("bow", {}) if kept else {}
    return {k: own[k] for k in LASTING if isinstance(own.get(k), int | float)}


def laid_over(card: dict[str, Any], typed: dict[str, str]) -> dict[str, Any]:
    """The card's tables with the boxes laid over; an emptied box takes the card's figure out."""
    tables = json.loads(json.dumps(card))
    for box in (b for group in BOXES.values() for b in group):
        if box.name not in typed:
            continue
        own = tables.setdefault(box.table, {})
        if typed[box.name].strip():
            own[box.key] = number_of(typed[box.name], box)
        else:
            own.pop(box.key, None)
    for name, allowed in CHOICES.items():
        table, key = name.split(".")
        value = typed.get(name, "").strip()[:30]
        if value and (not allowed or value in allowed):
            tables.setdefault(table, {})[key] = value
        elif name in typed:
            tables.setdefault(table, {}).pop(key, None)
    if typed.get("lapping.octagonal"):
        tables.setdefault("lapping", {})["octagonal"] = True
    return {t: own for t, own in tables.items() if own}


def as_slip(tables: dict[str, Any], frog_material: str) -> BowNumbers:
    """Tables ready for the engine: the old lapping as a part, the new one as a change, hair only with
    wet or dry."""
    found = BowNumbers(json.loads(json.dumps(tables)))
    own = found.tables
    if "bow" in own and frog_material:
        own["bow"]["frog_material"] = frog_material
    part = own.pop("part", None)
    if isinstance(part, dict) and part.get("mass_g") is not None and part.get("at_mm") is not None:
        own["part"] = [{"name": "lapping", **part}]
    hair = own.get("hair")
    if hair is not None and ("tied" not in hair or "length_mm" not in hair):
        del own["hair"]
        found.left_out.append(Note("bowsurvey.hair_left_out"))
    lapping = own.get("lapping")
    if lapping is not None:
        if all(k in lapping for k in ("wire_mm", "length_mm", "handle_mm")):
            _as_change(own, lapping)
        else:
            if set(lapping) - {"material"}:
                found.left_out.append(Note("bowsurvey.lapping_left_out"))
            del own["lapping"]
    return found


def _as_change(tables: dict[str, Any], lapping: dict[str, Any]) -> None:
    """The new lapping as a change of the bow, where its place is known."""
    if "from_mm" not in lapping or "balance_mm" not in tables.get("bow", {}):
        return
    keys = ("wire_mm", "length_mm", "material", "from_mm", "handle_mm", "handle_end_mm", "octagonal")
    tables["change"] = [{"part": "lapping", **{k: lapping[k] for k in keys if k in lapping}}]
