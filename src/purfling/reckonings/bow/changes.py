"""What a change does: [[change]] rows as masses put on and taken off at places."""

from dataclasses import dataclass, field

from purfling.craft.bow.balance import Body
from purfling.craft.bow.lapping import Handle
from purfling.craft.bow.stick import Stick
from purfling.craft.bow.taper import BUTT_MM
from purfling.craft.quantities import readings
from purfling.craft.refusals import Refusal
from purfling.craft.result import Default, Note, Status, gravest
from purfling.reckonings.bow.weighed import old_part
from purfling.reckonings.lapping.winding import handle_of, winding
from purfling.slips.reader import Slip
from purfling.slips.view import View


@dataclass
class Changes:
    """Bodies put on (negative mass: taken off) with the error of each mass, and what was said on the way."""

    added: list[tuple[Body, float]] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)
    defaults: list[Default] = field(default_factory=list)
    sources: list[str] = field(default_factory=list)
    status: Status = "ok"


def handle_under(
    slip: Slip, view: View, stick: Stick | None, span: tuple[float, float], defaults: list[Default]
) -> Handle:
    """The stick under a lapping: the row's own, [lapping]'s, the measured stick's, or 8.6 by the law."""
    own = handle_of(view) or handle_of(slip.table("lapping"))
    if own is not None:
        return own
    if stick is not None and not stick.law:
        import numpy as np

        start, end = (float(d) for d in stick.diameter(np.array(span)))
        return Handle(start, end, stick.section == "octagonal")
    defaults.append(Default(view.path("handle_mm"), BUTT_MM, "mm", "fetis1856"))
    return Handle(BUTT_MM, BUTT_MM)


def _place(view: View, slip: Slip, part: str, length: float | None) -> float:
    """Where the change sits [mm from the stick's end]: at_mm, from_mm and length, or the old part's place."""
    at = view.number("at_mm")
    if at is not None:
        return at
    start = view.number("from_mm")
    if start is not None:
        return start if length is None else start + length / 2.0
    old = old_part(slip, part)
    if old is not None:
        return old.at_mm
    if part == "hair":
        front = slip.table("bow").number("frog_length_mm")
        ribbon = slip.table("hair").number("length_mm") if slip.has("hair") else None
        if front is not None and ribbon is not None:
            return front + ribbon / 2.0
    raise view.missing("at_mm")


def _rewound(slip: Slip, view: View, stick: Stick | None, done: Changes) -> None:
    """A lapping wound anew: the old one off where it stands among the parts, the new one on."""
    error = readings()["bow.mass_g"].error
    length = view.need_number("length_mm")
    at = _place(view, slip, "lapping", length)
    span = (at - length / 2.0, at + length / 2.0)
    wound = winding(view, handle_under(slip, view, stick, span, done.defaults))
    old = old_part(slip, "lapping")
    if old is None:
        done.notes.append(Note("bow.no_old_lapping"))
    else:
        done.added.append((Body("lapping", -old.mass_g, old.at_mm, old.length_mm), error))
    done.added.append((Body("lapping", wound.mass_g, at, length), wound.error_g))
    done.notes += wound.notes
    done.defaults += wound.defaults
    done.sources += wound.sources
    done.status = gravest(done.status, wound.status)


def changes(slip: Slip, stick: Stick | None) -> Changes:
    """Every [[change]] of a slip.

    Raises
    ------
    Refusal
        A row with neither a difference of mass nor a wire, with both, or without a place.
    """
    done = Changes()
    error = readings()["bow.mass_g"].error
    for view in slip.rows("change"):
        part = view.need_choice("part")
        difference = view.number("mass_g")
        if view.has("wire_mm"):
            if part != "lapping":
                raise Refusal("bow.wire_is_lapping", field=view.path("wire_mm"), value=part)
            if difference is not None:
                raise Refusal("bow.mass_or_wire", field=view.path("mass_g"))
            _rewound(slip, view, stick, done)
            continue
        if difference is None:
            raise Refusal("bow.change_needs_mass", field=view.path("mass_g"))
        length = view.number("length_mm")
        at = _place(view, slip, part, length)
        done.added.append((Body(part, difference, at, length or 0.0), error))
    return done
