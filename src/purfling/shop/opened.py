"""The reckonings that open on a visit's numbers: one line each, nothing else to touch.

A line names the reckoning's folder under ``reckonings/`` (``compute``, ``sentences.plain``,
``pictures.files``
where it draws), the kind of object, the tables of the slip whose plain keys become boxes, and what is asked
besides the card. A folder of that shape needs its line here and no other.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from importlib import import_module, util
from typing import Any

from django.utils.translation import gettext_lazy as _

from purfling.craft.refusals import Refusal
from purfling.craft.result import Answer
from purfling.slips.reader import Slip

Files = Mapping[str, bytes]


@dataclass(frozen=True)
class Shown:
    """What a reckoning says: its answer, its plain text, its pictures as SVG."""

    answer: Answer
    text: str
    pictures: tuple[tuple[str, bytes], ...]


@dataclass(frozen=True)
class Opened:
    """One line of the registry; ``asks`` are the numbers asked besides the slip, ``run`` a way of its own.

    ``before``: it compares with the card of the visit before; ``slow``: it reckons only when it is touched.
    ``page`` names the page of a reckoning that has one of its own.
    """

    name: str
    label: Any
    kind: str
    tables: tuple[str, ...]
    asks: tuple[str, ...] = ()
    run: Callable[[Slip, Mapping[str, float], str], Shown] | None = None
    before: bool = False
    slow: bool = False
    page: str = ""

    @property
    def there(self) -> bool:
        """Whether the program has it."""
        return util.find_spec(f"purfling.reckonings.{self.name}.compute") is not None

    def reckon(
        self, slip: Slip, asked: Mapping[str, float], language: str, before: Slip | None = None
    ) -> Shown:
        """Reckon on a slip.

        Raises
        ------
        Refusal
            As the reckoning; there is no visit before to compare with.
        """
        if self.before:
            if before is None:
                raise Refusal("work.no_before")
            compute = import_module(f"purfling.reckonings.{self.name}.compute")
            return _shown(self.name, compute.compute(before, slip), language)
        if self.run is not None:
            return self.run(slip, asked, language)
        compute = import_module(f"purfling.reckonings.{self.name}.compute")
        case = compute.compute(slip, **asked) if self.asks else compute.compute(slip)
        return _shown(self.name, case, language)


def _pictures(name: str, case: Any, language: str) -> tuple[tuple[str, bytes], ...]:
    if util.find_spec(f"purfling.reckonings.{name}.pictures") is None:
        return ()
    files = getattr(import_module(f"purfling.reckonings.{name}.pictures"), "files", None)
    found: Files = files(case, language) if files is not None else {}
    return tuple((n, data) for n, data in found.items() if n.endswith(".svg"))


def _shown(name: str, case: Any, language: str) -> Shown:
    plain = import_module(f"purfling.reckonings.{name}.sentences").plain
    return Shown(case.answer, plain(case, language), _pictures(name, case, language))


def _drawn(drawings: Mapping[str, Any]) -> tuple[tuple[str, bytes], ...]:
    from purfling.drawing.svg import to_svg

    return tuple((f"{n}.svg", to_svg(d).encode("utf-8")) for n, d in drawings.items() if d is not None)


def _change(slip: Slip, asked: Mapping[str, float], language: str) -> Shown:
    from purfling.reckonings.change.compute import Asked, compute

    low, high = asked.get("clearance_low_mm"), asked.get("clearance_high_mm")
    ends = None if low is None and high is None else (low or 0.0, high or 0.0)
    given = Asked(
        board_at_nut_mm=asked.get("board_at_nut_mm", 0.0),
        board_at_end_mm=asked.get("board_at_end_mm", 0.0),
        nut_kept=False,
        clearance_at_end_mm=ends,
        projection_mm=asked.get("projection_mm"),
        strings=None,
    )
    return _shown("change", compute(slip, given), language)


def _lapping(slip: Slip, asked: Mapping[str, float], language: str) -> Shown:
    from purfling.reckonings.lapping.compute import compute
    from purfling.reckonings.lapping.pictures import strip
    from purfling.reckonings.lapping.sentences import plain

    case = compute(slip)
    drawn = {"handle": strip(slip, case, language)} if slip.table("lapping").has("handle_mm") else {}
    return Shown(case.answer, plain(case, language), _drawn(drawn))


def _nut(slip: Slip, asked: Mapping[str, float], language: str) -> Shown:
    from purfling.reckonings.nut.compute import compute
    from purfling.reckonings.nut.pictures import strip
    from purfling.reckonings.nut.sentences import plain

    case = compute(slip)
    return Shown(case.answer, plain(case, language), _drawn({"nut": strip(case, language)}))


def _bow(slip: Slip, asked: Mapping[str, float], language: str) -> Shown:
    from purfling.reckonings.bow.compute import compute
    from purfling.reckonings.bow.pictures import camber, reach, side
    from purfling.reckonings.bow.sentences import plain

    case = compute(slip)
    drawings = {
        "side": side(case, language),
        "camber": camber(case, language),
        "reach": reach(case, language),
    }
    return Shown(case.answer, plain(case, language), _drawn(drawings))


OPENED: dict[str, Opened] = {
    one.name: one
    for one in (
        Opened(
            "change",
            _("Board, clearance, projection: what follows"),
            "instrument",
            ("neck", "board", "nut", "end"),
            ("board_at_nut_mm", "board_at_end_mm", "clearance_low_mm", "clearance_high_mm", "projection_mm"),
            _change,
        ),
        Opened(
            "margins", _("Room and margin of the strings"), "instrument", ("swing", "board", "nut", "end")
        ),
        Opened("nut", _("Grooves of the nut"), "instrument", ("nut", "board"), (), _nut),
        Opened("strings", _("Strings, loads, afterlength"), "instrument", ("neck", "tail", "saddle")),
        Opened("dressing", _("Dressing the board"), "instrument", (), page="board"),
        Opened("bridge", _("Bridge"), "instrument", ("bridge", "body"), slow=True),
        Opened("post", _("Sound post"), "instrument", ("post", "state"), ("outward_mm", "back_mm")),
        Opened("season", _("Season or fallen neck"), "instrument", ("neck", "state"), before=True),
        Opened("pegs", _("Pegs"), "instrument", ("pegs",)),
        Opened("bow_room", _("The bow's room"), "instrument", ("curve", "waist", "bridge")),
        Opened(
            "bow", _("The bow: weight, balance, hair, camber"), "bow", ("bow", "hair", "lapping"), (), _bow
        ),
        Opened("lapping", _("Lapping"), "bow", ("lapping", "bow"), (), _lapping),
    )
}


def opened_for(kind: str) -> list[Opened]:
    """The reckonings that an object of a kind can have, those that the program has."""
    return [one for one in OPENED.values() if one.kind == kind and one.there]
