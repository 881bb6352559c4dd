"""Slip -> what wear does to each peg, by its hole."""

from dataclasses import dataclass
from typing import Any

from purfling.craft.pegs import Peg, PegLimits, PegWear, included_angle_deg, peg_wear
from purfling.craft.result import Answer, Note, Status
from purfling.reckonings.setup.card import Filler, family_of
from purfling.reckonings.strings.sizes import sizes_of
from purfling.slips.reader import Slip

OLD_TAPER = 20.0


@dataclass(frozen=True)
class PegsCase:
    """The pegs of an instrument with their wear."""

    names: tuple[str, ...]
    pegs: tuple[Peg, ...]
    wear_mm: tuple[float, ...]
    worn: tuple[PegWear, ...]
    taper: float
    limits: PegLimits
    answer: Answer


def _names(slip: Slip, fill: Filler) -> tuple[str, ...]:
    kept = list(fill.defaults)
    names = tuple(s.name for s in sizes_of(slip, fill))
    fill.defaults = kept  # the strings' diameters are not needed here
    return names


def _row(
    name: str, peg: Peg, wear: float | None, after: PegWear, taper: float, per_year: float | None
) -> dict[str, Any]:
    return {
        "peg": name,
        "diameter_mm": peg.diameter_mm,
        "wear_mm": wear,
        "travel_mm": None if wear is None else after.travel_mm,
        "diameter_after_mm": after.diameter_mm,
        "standout_after_mm": after.standout_mm,
        "hole_to_cheek_after_mm": after.hole_to_cheek_mm,
        "wear_left_mm": after.wear_left_mm,
        "travel_left_mm": after.wear_left_mm * taper,
        "limited_by": after.limited_by,
        "years_left": None if per_year is None else max(after.wear_left_mm, 0.0) / per_year,
        "bush": after.wear_left_mm <= 0,
    }


def compute(slip: Slip) -> PegsCase:
    """Reckon the pegs of a slip; lists run from the lowest string's peg to the highest's.

    Raises
    ------
    Refusal
        Family or diameters missing; lists of another length than the strings.
    """
    fill = Filler(slip, family_of(slip))
    names = _names(slip, fill)
    n = len(names)
    view = slip.table("pegs")
    diameters = view.need_numbers("diameter_mm", n)
    standouts, cheeks = view.numbers("standout_mm", n), view.numbers("hole_to_cheek_mm", n)
    wear = view.numbers("wear_mm", n)
    taper = fill.filled("pegs", "taper")
    limits = PegLimits(
        fill.filled("pegs", "bush_above_mm"),
        fill.filled("pegs", "standout_least_mm"),
        fill.filled("pegs", "cheek_least_mm"),
    )
    per_year = view.number("wear_per_year_mm")
    pegs = tuple(
        Peg(d, None if standouts is None else standouts[i], None if cheeks is None else cheeks[i])
        for i, d in enumerate(diameters)
    )
    lost = tuple(wear or [0.0] * n)
    worn = tuple(peg_wear(peg, w, taper, limits) for peg, w in zip(pegs, lost, strict=True))
    rows: list[dict[str, Any]] = []
    notes: list[Note] = list(fill.notes)
    for name, peg, w, after in zip(names, pegs, lost, worn, strict=True):
        rows.append(_row(name, peg, w if wear is not None else None, after, taper, per_year))
        if after.wear_left_mm <= 0:
            notes.append(
                Note(
                    f"arithmetic.bush_{after.limited_by}",
                    {"peg": name, "over": round(-after.wear_left_mm, 3)},
                )
            )
    for key, given in (("standout_mm", standouts), ("hole_to_cheek_mm", cheeks), ("wear_mm", wear)):
        if given is None:
            notes.append(Note(f"arithmetic.no_{key.removesuffix('_mm')}", {"field": f"pegs.{key}"}))
    status: Status = "estimate" if any(d.field == "pegs.taper" for d in fill.defaults) else "ok"
    answer = Answer(
        results={"pegs": rows, "taper": taper, "included_angle_deg": included_angle_deg(taper)},
        status=status,
        warnings=tuple(notes),
        inputs={f"pegs.{k}": v for k, v in slip.tables.get("pegs", {}).items()},
        defaults=tuple(fill.defaults),
        sources=("peg_taper",),
    )
    return PegsCase(names, pegs, lost, worn, taper, limits, answer)
