"""The tray: loose parts by hole and place; a peg goes back into its own hole."""

from collections.abc import Sequence

from django.db import transaction

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.work_rules import overruled
from purfling.shop.models import LoosePart, Maker, VisitObject
from purfling.shop.words import PART

W = LoosePart.Went
# Parts of which there is one for every string.
BY_HOLE = frozenset({"peg", "string"})


def hole_names(family: str) -> tuple[str, ...]:
    """The holes of a family, from the lowest string to the highest."""
    from purfling.shop.asked import STRINGS

    return tuple(STRINGS[family])


def part_words(part: LoosePart, family: str) -> str:
    """A part in words: "peg D", "bridge"."""
    name = str(PART.get(part.part, part.part))
    if part.part == "other" and part.word:
        name = part.word
    return f"{name} {hole_names(family)[part.hole - 1]}" if part.hole else name


@transaction.atomic
def lay_in(
    *, row: VisitObject, part: str, who: Maker, hole: int = 0, place: str = "", word: str = ""
) -> LoosePart:
    """A part into the tray, by its hole and place.

    Raises
    ------
    Refusal
        No such part or hole; it lies there already; the visit is handed over.
    """
    VisitObject.objects.select_for_update().get(pk=row.pk)
    if not row.visit.is_open:
        raise Refusal("work.closed", number=row.visit.number)
    holes = len(hole_names(row.object.family))
    if part not in PART or not 0 <= hole <= holes or (part in BY_HOLE) != bool(hole):
        raise Refusal("work.unknown_part", part=f"{part} {hole or ''}".strip()[:40])
    made = LoosePart(
        visit_object=row, part=part, hole=hole, place=place[:60], in_at=clock.now(), word=word[:200]
    )
    if (
        part != "other"
        and LoosePart.objects.filter(visit_object=row, part=part, hole=hole, went=W.TRAY).exists()
    ):
        raise Refusal("work.part_there", part=part_words(made, row.object.family))
    return keeping.add(made, who=who)


@transaction.atomic
def lay_in_all(*, row: VisitObject, parts: Sequence[str], who: Maker) -> list[LoosePart]:
    """What an operation takes off, in one touch: every string and peg by its hole, what lies there is
    passed over."""
    there = {(p.part, p.hole) for p in LoosePart.objects.filter(visit_object=row, went=W.TRAY)}
    made = []
    for part in parts:
        holes = range(1, len(hole_names(row.object.family)) + 1) if part in BY_HOLE else (0,)
        made += [lay_in(row=row, part=part, hole=h, who=who) for h in holes if (part, h) not in there]
    return made


@transaction.atomic
def put_back(*, part: LoosePart, who: Maker, hole: int | None = None, word: str = "") -> LoosePart:
    """A part back on; a peg or a string only where it came from, except by the owner's word.

    Raises
    ------
    Refusal
        It is not in the tray any more; it is another hole's.
    """
    current = _in_tray(part)
    refusal = None
    if hole is not None and hole != current.hole:
        family = current.visit_object.object.family
        refusal = Refusal(
            "work.wrong_hole", hole=hole_names(family)[current.hole - 1] if current.hole else "-"
        )
    lifted = overruled(refusal, word, who)
    return keeping.change(current, who=who, because=lifted, went=W.BACK, out_at=clock.now())


@transaction.atomic
def name_part(*, part: LoosePart, who: Maker, word: str, envelope: bool = False) -> LoosePart:
    """A part that does not go back on: kept in an envelope with the object, or where it goes.

    Raises
    ------
    Refusal
        It is not in the tray any more; no word where it goes.
    """
    current = _in_tray(part)
    word = " ".join(word.split())[:200]
    if not word and not envelope:
        raise Refusal("work.thing_named", part=part_words(current, current.visit_object.object.family))
    went = W.ENVELOPE if envelope else W.NAMED
    return keeping.change(current, who=who, went=went, out_at=clock.now(), word=word or current.word)


@transaction.atomic
def put_back_all(*, row: VisitObject, parts: Sequence[str], who: Maker) -> list[LoosePart]:
    """What an operation puts back, each to its own hole, in one touch."""
    there = LoosePart.objects.filter(visit_object=row, went=W.TRAY, part__in=list(parts))
    return [put_back(part=p, who=who, hole=p.hole) for p in there]


def _in_tray(part: LoosePart) -> LoosePart:
    current = LoosePart.objects.select_for_update().select_related("visit_object__object").get(pk=part.pk)
    if current.went != W.TRAY:
        raise Refusal("work.part_gone", part=part_words(current, current.visit_object.object.family))
    return current
