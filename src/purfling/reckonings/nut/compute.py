"""Slip -> the nut's grooves, equal centres beside equal gaps, depths now and wished."""

import dataclasses
from dataclasses import dataclass
from typing import Any

from purfling.craft.nut import GROOVE_SHARE, Groove, gap_mm, grooves
from purfling.craft.result import Answer, Default, Note, Status
from purfling.reckonings.setup.card import Filler, family_of
from purfling.reckonings.strings.sizes import Size, sizes_of
from purfling.slips.reader import Slip

BEDDING = 0.05  # mm a string sinks into a soft nut: shop's own, no source


@dataclass(frozen=True)
class NutCase:
    """The grooves of a nut with what its strip needs."""

    strings: tuple[Size, ...]
    grooves: tuple[Groove, ...]
    spacing_mm: float
    chosen: str
    width_mm: float | None
    answer: Answer


def _underside(slip: Slip, strings: tuple[Size, ...]) -> list[float]:
    nut = slip.table("nut")
    values = nut.need_numbers("clearance_mm", len(strings))
    if nut.need_choice("datum") == "centre":
        return [v - s.diameter_mm / 2.0 for v, s in zip(values, strings, strict=True)]
    return values


def compute(slip: Slip) -> NutCase:
    """Reckon the nut of a slip; [wish.nut] holds the wished clearances.

    Raises
    ------
    Refusal
        Family, clearances at the nut or their datum missing; strings that leave no gap.
    """
    fill = Filler(slip, family_of(slip))
    strings = sizes_of(slip, fill)
    nut = slip.table("nut")
    spacing = fill.filled("nut", "spacing_mm")
    now = _underside(slip, strings)
    wish = slip.tables.get("wish", {}).get("nut", {})
    wished = _underside(slip.wished(), strings) if "clearance_mm" in wish else None
    bedding, share = nut.number("bedding_mm"), nut.number("groove_share")
    if bedding is None:
        bedding = BEDDING
        fill.defaults.append(Default("nut.bedding_mm", BEDDING, "mm", "shop"))
    if share is None:
        share = GROOVE_SHARE
        fill.defaults.append(Default("nut.groove_share", round(GROOVE_SHARE, 4), "", "third_of_diameter"))
    width = fill.optional("board", "width_nut_mm")
    wide = [s.diameter_mm for s in strings]
    made = grooves(spacing, wide, now, wished, bedding, share, width)
    chosen = nut.choice("spacing") or "centres"
    rows: list[dict[str, Any]] = []
    for string, groove in zip(strings, made, strict=True):
        row: dict[str, Any] = {"string": string.name, **dataclasses.asdict(groove)}
        row["from_lowest_centres_mm"] = groove.centres_mm + spacing / 2.0
        row["from_lowest_gaps_mm"] = groove.gaps_mm + spacing / 2.0
        rows.append(row)
    results: dict[str, Any] = {
        "strings": rows,
        "spacing_mm": spacing,
        "gap_mm": gap_mm(spacing, wide),
        "bedding_mm": bedding,
    }
    notes = list(fill.notes)
    for string, groove in zip(strings, made, strict=True):
        if groove.cut_mm is not None and groove.cut_mm < -1e-9:
            notes.append(
                Note("arithmetic.nut_too_low", {"string": string.name, "by": round(-groove.cut_mm, 3)})
            )
    diameters = any("diameter" in d.field for d in fill.defaults)
    status: Status = (
        "estimate" if diameters or any(d.field == "nut.spacing_mm" for d in fill.defaults) else "ok"
    )
    answer = Answer(
        results=results,
        status=status,
        warnings=tuple(notes),
        inputs={f"nut.{k}": v for k, v in slip.tables.get("nut", {}).items()},
        defaults=tuple(fill.defaults),
        sources=("geometry", "third_of_diameter", "nut_grooves"),
    )
    return NutCase(strings, made, spacing, chosen, width, answer)
