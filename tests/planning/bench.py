"""A small bench for the tests of planning: Tuesday 2 March 2027, 9 to 13 and 14 to 18, one or two people."""

from dataclasses import replace

from purfling.planning.load import DAY, Load, Operation, Person, Piece, SetUp, Visit, Wait

TUESDAY = 740_042 * DAY  # date(2027, 3, 2).toordinal()
HOURS = dict.fromkeys(("tue", "wed", "thu", "fri"), ((540, 780), (840, 1080)))


def at(clock: str, day: int = 0) -> int:
    """A moment by clock (``"09:30"``) and days after the Tuesday."""
    hour, minute = clock.split(":")
    return TUESDAY + day * DAY + int(hour) * 60 + int(minute)


def op(id: str, minutes: int = 30, **more: object) -> Operation:
    """An operation."""
    return Operation(id, minutes, **more)  # type: ignore[arg-type]


def after(id: str, least: int = 0, most: int | None = None) -> tuple[Wait, ...]:
    """One wait."""
    return (Wait(id, least, most),)


def visit(id: str, *operations: Operation, **more: object) -> Visit:
    """A visit, promised for the Tuesday evening unless told otherwise."""
    given: dict[str, object] = {"arrives": at("09:00"), "promise": at("18:00"), "weight": 1, **more}
    return Visit(id=id, operations=operations, **given)  # type: ignore[arg-type]


def load(*visits: Visit, **more: object) -> Load:
    """A load of those visits."""
    base = Load(
        now=at("09:00"),
        bench_hours=HOURS,
        people=(Person("anna", frozenset({"sound"})), Person("bert")),
        visits=visits,
        places={"hook": 1, "clamp": 2},
        setups={"glue": SetUp(10, 20, "period"), "pot": SetUp(10, 0, "day")},
    )
    return replace(base, **more)  # type: ignore[arg-type]


def did(
    id: str,
    start: int,
    minutes: int = 30,
    person: str = "anna",
    visit: str = "v",
    piece: int = 1,
    end: int | None = None,
) -> Piece:
    """One piece of a plan."""
    return Piece(visit, id, piece, person, start, start + minutes if end is None else end)
