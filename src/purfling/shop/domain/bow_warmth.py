"""Warmth on a bow: the owner's yes and the price first, and never on what warmth destroys."""

from decimal import Decimal

from django.db import transaction

from purfling.craft.bow.survey import frog_materials
from purfling.craft.refusals import Refusal
from purfling.shop.bow_words import BOW_MATERIAL, BOW_PART
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.bow import need_bow, one_of, tidy
from purfling.shop.domain.estimate import decimal_of
from purfling.shop.domain.work_rules import overruled
from purfling.shop.models import Answered, BowPart, Maker, VisitObject, Warmth

# What sits stuck: the slide and the ring at the frog's front.
WARMED = ("slide", "ferrule")
# What lies so near that it grows warm too.
NEAR = ("frog", "slide", "pearl")
HOW = (Answered.How.MOUTH, Answered.How.PHONE, Answered.How.MAIL)
MOST_PRICE = Decimal("99999.99")


def frog_of(parts: dict[str, BowPart]) -> str:
    """The frog's material; unknown while nobody has written it."""
    frog = parts.get("frog")
    return (frog.material if frog else "") or "unknown"


def parts_of(row: VisitObject) -> dict[str, BowPart]:
    """The parts that were written in this visit."""
    return {p.part: p for p in BowPart.objects.filter(visit_object=row)}


def stopped_by(parts: dict[str, BowPart]) -> tuple[str, str] | None:
    """The part and the material that must not be warmed, or None.

    A frog whose material is not in the table of frog materials counts as unknown.
    """
    table = frog_materials()
    for part in NEAR:
        material = parts[part].material if part in parts else ""
        if part == "frog":
            heat = table.get(material or "unknown", table["unknown"]).heat
            material = material or "unknown"
        else:
            heat = table[material].heat if material in table else "ask"
        if heat == "never":
            return part, material
    return None


def material_refusal(parts: dict[str, BowPart]) -> Refusal | None:
    """The refusal that names the material which must not be warmed."""
    stop = stopped_by(parts)
    if stop is None:
        return None
    part, material = stop
    return Refusal("bowsurvey.never", part=str(BOW_PART[part]), material=str(BOW_MATERIAL[material]))


def yes_refusal(part: str, last: Warmth | None, frog: str) -> Refusal | None:
    """The refusal while no yes for this part and this frog stands last; nobody overrules it."""
    named = {"part": str(BOW_PART[part]), "material": str(BOW_MATERIAL[frog])}
    if last is None:
        return Refusal("bowsurvey.no_yes", **named)
    if not last.yes:
        return Refusal("bowsurvey.said_no", part=named["part"], by=last.by or "?")
    if last.material != frog:
        then = str(BOW_MATERIAL.get(last.material, last.material))
        return Refusal("bowsurvey.other_frog", then=then, **named)
    return None


def last_word(row: VisitObject, part: str) -> Warmth | None:
    """What the bow's owner said last about warming a part."""
    return Warmth.objects.filter(visit_object=row, part=part).order_by("at", "id").last()


@transaction.atomic
def allow_warmth(
    *,
    row: VisitObject,
    part: str,
    by: str,
    how: str,
    price: object,
    who: Maker,
    words: str = "",
    yes: bool = True,
    id=None,
) -> Warmth:
    """Record what the bow's owner said before a stuck part is warmed, and the price they were told.

    Raises
    ------
    Refusal
        Nobody's name, no way it was said, no price, another part than slide or ferrule.
    """
    need_bow(row, write=True)
    one_of("part", part, WARMED, empty=False)
    one_of("how", how, [h.value for h in HOW], empty=False)
    by = tidy(by)[:120]
    if not by:
        raise Refusal("bowsurvey.yes_by")
    if not str(price).strip():
        raise Refusal("bowsurvey.yes_price")
    amount = decimal_of(price, "price").quantize(Decimal("0.01"))
    if not 0 <= amount <= MOST_PRICE:
        raise Refusal("bowsurvey.price_range", value=str(amount)[:20], limit=str(MOST_PRICE))
    told = Warmth(
        visit_object=row,
        part=part,
        material=frog_of(parts_of(row)),
        yes=yes,
        by=by,
        how=how,
        words=tidy(words),
        price=amount,
        at=clock.now(),
        who=who,
    )
    if id is not None:
        told.id = id
    return keeping.add(told, who=who)


@transaction.atomic
def warm_part(*, row: VisitObject, part: str, who: Maker, word: str = "") -> Warmth:
    """A stuck slide or ring was warmed.

    ``word`` is the shop owner's, and lifts the stop of a material; nothing lifts a missing yes.

    Raises
    ------
    Refusal
        No yes with its price for this frog; a material that must not be warmed, by its name.
    """
    need_bow(row, write=True)
    one_of("part", part, WARMED, empty=False)
    parts = parts_of(row)
    last = last_word(row, part)
    missing = yes_refusal(part, last, frog_of(parts))
    stop = material_refusal(parts)
    if stop is not None and not word.strip():
        raise stop
    if missing is not None:
        raise missing
    lifted = overruled(stop, word, who)
    also = {"overruled": lifted, "overruled_by": who} if lifted else {}
    return keeping.change(last, who=who, because=lifted, warmed_at=clock.now(), warmed_by=who, **also)
