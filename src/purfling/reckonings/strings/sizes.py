"""Names and diameters of a slip's strings, without the rest of the card."""

from dataclasses import dataclass

from purfling.craft.defaults import default_strings
from purfling.craft.refusals import Refusal
from purfling.craft.result import Default
from purfling.reckonings.setup.card import MOST_STRINGS, Filler
from purfling.slips.reader import Slip


@dataclass(frozen=True)
class Size:
    """A string's name and diameter [mm]."""

    name: str
    diameter_mm: float


def sizes_of(slip: Slip, fill: Filler) -> tuple[Size, ...]:
    """The strings, lowest first; a diameter left out is the family's of that name, and listed as such.

    Raises
    ------
    Refusal
        Fewer than three or too many strings; a string of unknown name without a diameter.
    """
    usual = {u.name: u for u in default_strings(fill.family)}
    rows = slip.rows("strings")
    if rows and not 3 <= len(rows) <= MOST_STRINGS:
        code = "setup.too_few_strings" if len(rows) < 3 else "setup.too_many_strings"
        raise Refusal(code, value=len(rows), limit=MOST_STRINGS)
    found: list[Size] = []
    if not rows:
        found = [Size(u.name, u.diameter_mm) for u in usual.values()]
        given: set[str] = set()
    else:
        given = {row.need_text("name") for row in rows if row.has("diameter_mm")}
        for row in rows:
            name = row.need_text("name")
            diameter = row.number("diameter_mm")
            if diameter is None:
                if name not in usual:
                    raise row.missing("diameter_mm")
                diameter = usual[name].diameter_mm
            found.append(Size(name, diameter))
    for one in found:
        if one.name not in given:
            field = f"strings {one.name}: diameter_mm"
            fill.defaults.append(Default(field, one.diameter_mm, "mm", "string_defaults"))
    return tuple(found)
