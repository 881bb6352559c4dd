"""The bow's survey: a part, a wedge, why the old lapping failed, a step of the bow's order done."""

from typing import TypeVar

from django.db import transaction

from purfling.craft.bow.survey import lapping_failures, operations, species, wedge_fits, wedge_places
from purfling.craft.refusals import Refusal
from purfling.shop.bow_words import BOW_MATERIAL, BOW_PART, BOW_STATE
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.work_rules import name_of
from purfling.shop.models import BowPart, BowSurvey, BowWedge, Maker, Photograph, VisitObject, Work
from purfling.shop.models.record import Record
from purfling.shop.queries.catalogue import shop_catalogue

R = TypeVar("R", bound=Record)
# The bow's own order (bow.toml) and the catalogue's operation that does it; None: ticked on the survey.
ON_THE_LIST = {
    "photographs": None,
    "hair_out": "bow_hair_out",
    "old_lapping_off": "bow_lapping_off",
    "stick_cleaned": None,
    "camber": None,
    "lapping": "bow_lapping",
    "leather": "bow_leather",
    "hair_in": "bow_hair",
    "rosin_played": "bow_rosin",
}
LONGEST = 300


def need_bow(row: VisitObject, write: bool = False) -> VisitObject:
    """The visit's object, which must be a bow, and for writing in a visit that is open.

    Raises
    ------
    Refusal
        An instrument; a visit that was handed over.
    """
    if not row.object.is_bow:
        raise Refusal("bowsurvey.no_bow")
    if write and not row.visit.is_open:
        raise Refusal("book.visit_closed", number=row.visit.number)
    return row


def one_of(field: str, value: str, choices, empty: bool = True) -> str:
    """A choice, or empty where that is allowed."""
    if (empty and value == "") or value in choices:
        return value
    raise Refusal("bowsurvey.choice", field=field, value=value[:40], choices=", ".join(choices))


def tidy(text: str) -> str:
    """Own words on one line, not longer than is kept."""
    return " ".join(text.split())[:LONGEST]


def _write(fresh: R, found: R | None, *, who: Maker, seen: int | None, values: dict) -> R:
    """Add a record with its values, or change the one that stands."""
    if found is not None:
        return keeping.change(found, who=who, seen=seen, **values)
    for name, value in values.items():
        setattr(fresh, name, value)
    return keeping.add(fresh, who=who)


@transaction.atomic
def set_part(
    *,
    row: VisitObject,
    part: str,
    who: Maker,
    material: str = "",
    species_key: str = "",
    state: str = "",
    words: str = "",
    seen: int | None = None,
) -> BowPart:
    """What a part is made of, of which species, how it was found.

    Raises
    ------
    Refusal
        No bow, a closed visit, no such part, material, species or state.
    """
    need_bow(row, write=True)
    one_of("part", part, BOW_PART, empty=False)
    values = {
        "material": one_of("material", material, BOW_MATERIAL),
        "species": one_of("species", species_key, species()),
        "state": one_of("state", state, BOW_STATE),
        "words": tidy(words),
    }
    found = BowPart.objects.filter(visit_object=row, part=part).first()
    fresh = BowPart(visit_object=row, part=part)
    return _write(fresh, found, who=who, seen=seen, values=values)


@transaction.atomic
def set_wedge(
    *,
    row: VisitObject,
    place: str,
    who: Maker,
    fit: str = "",
    wood: str = "",
    went: str = "",
    words: str = "",
    photograph: str = "",
    seen: int | None = None,
) -> BowWedge:
    """The wedge of a mortise: as found, its wood, kept or made new; a photograph of its mortise.

    Raises
    ------
    Refusal
        No bow, a closed visit, a word that no table has, a photograph of another object or visit.
    """
    need_bow(row, write=True)
    one_of("place", place, wedge_places(), empty=False)
    values = {
        "fit": one_of("fit", fit, wedge_fits()),
        "wood": tidy(wood)[:60],
        "went": one_of("went", went, BowWedge.Went.values),
        "words": tidy(words),
        "photograph": _photograph(row, photograph),
    }
    found = BowWedge.objects.filter(visit_object=row, place=place).first()
    fresh = BowWedge(visit_object=row, place=place)
    return _write(fresh, found, who=who, seen=seen, values=values)


def _photograph(row: VisitObject, key: str) -> Photograph | None:
    """A photograph of this bow in this visit by its id, or None where none is named."""
    own = {str(p.pk): p for p in Photograph.objects.filter(visit_object=row)}
    if key and key not in own:
        raise Refusal("bowsurvey.photograph", value=key[:40])
    return own.get(key)


@transaction.atomic
def set_lapping_failure(
    *, row: VisitObject, who: Maker, failure: str = "", words: str = "", seen: int | None = None
) -> BowSurvey:
    """Why the old lapping failed: from the table, in own words, or both."""
    need_bow(row, write=True)
    values = {
        "lapping_failure": one_of("failure", failure, lapping_failures()),
        "lapping_words": tidy(words),
    }
    found = BowSurvey.objects.filter(visit_object=row).first()
    return _write(BowSurvey(visit_object=row), found, who=who, seen=seen, values=values)


@transaction.atomic
def tick_step(*, row: VisitObject, key: str, who: Maker) -> BowSurvey:
    """A step of the bow's order that stands on no work list is done; a second touch takes the tick back.

    Raises
    ------
    Refusal
        The work list holds it; what comes before it is still open on the list.
    """
    need_bow(row, write=True)
    ticked = [k for k, code in ON_THE_LIST.items() if code is None]
    one_of("step", key, ticked, empty=False)
    found = BowSurvey.objects.select_for_update().filter(visit_object=row).first()
    steps = dict(found.steps) if found else {}
    if key in steps:
        del steps[key]
    else:
        _in_order(row, key)
        steps[key] = {"who": who.name, "at": clock.now().isoformat()}
    return _write(BowSurvey(visit_object=row), found, who=who, seen=None, values={"steps": steps})


def _in_order(row: VisitObject, key: str) -> None:
    """Refuse a step whose predecessors on the work list are not done."""
    after = next(o.after for o in operations() if o.key == key)
    codes = [ON_THE_LIST[k] for k in after if ON_THE_LIST[k]]
    works = Work.objects.filter(visit_object=row, code__in=codes)
    still = [w.code for w in works if w.is_open]
    if still:
        names = ", ".join(name_of(shop_catalogue(), c) for c in still)
        raise Refusal("bowsurvey.order", names=names)
