"""Spot tests: what was tried where, what was seen, what follows for this varnish."""

from datetime import datetime
from typing import Any

from django.db import transaction

from purfling.craft.refusals import Refusal
from purfling.craft.varnish.solvents import HARMFUL
from purfling.shop.domain import keeping
from purfling.shop.domain.stops import pass_stops, place_of
from purfling.shop.domain.varnish_place import (
    check_choice,
    check_mixture,
    check_moment,
    check_number,
    check_owner,
    check_place,
    kinds_of,
    reason_of,
)
from purfling.shop.models import Maker, Material, Object, SpotTest, VisitObject

SWABS = ("cotton", "paper", "cloth", "brush", "drop")
MOST_DWELL_S = 3600


def follows_from(result: str) -> str:
    """What usually follows from a result, until somebody decides: loss forbids, another trace asks again."""
    if result in ("dissolved", "colour", "softened"):
        return SpotTest.Follows.FORBIDDEN
    return SpotTest.Follows.TEST if result == "dulled" else SpotTest.Follows.CARE


def _check_follows(result: str, follows: str) -> None:
    check_choice("result", result, SpotTest.Result.values)
    check_choice("follows", follows, SpotTest.Follows.values)
    if follows == SpotTest.Follows.CARE and result in ("dissolved", "colour"):
        raise Refusal("varnish.dissolved_with_care")


def _check_swab(material: Material | None, values: dict[str, Any]) -> None:
    if values.get("swab"):
        check_choice("swab", values["swab"], SWABS)
    check_number("dwell", values.get("dwell_s"), 0, MOST_DWELL_S)
    lot = values.get("lot")
    if lot is not None and material is not None and lot.material_id != material.pk:
        raise Refusal("varnish.lot_other")


@transaction.atomic
def add_spot(
    *,
    thing: Object,
    who: Maker,
    result: str,
    follows: str = "",
    material: Material | None = None,
    mixture: list | None = None,
    kinds: list[str] | None = None,
    what: str = "",
    at: datetime | None = None,
    visit_object: VisitObject | None = None,
    word: str = "",
    id=None,
    **values: Any,
) -> SpotTest:
    """Record a spot test.

    Parameters
    ----------
    material, mixture, kinds : at least one says what was on the swab; mixture as [[solvent, volume], ...].
    word : the owner's word where a test was forbidden here already, or the place is closed.

    Raises
    ------
    Refusal
        No place, nothing on the swab, a number that cannot be; "allowed with care" for what dissolved.
    Stopped
        It was forbidden on this varnish already: a test that is repeated costs varnish.
    """
    follows = follows or follows_from(result)
    _check_follows(result, follows)
    check_place(thing, values)
    parts = check_mixture(mixture or [])
    on_swab = kinds_of(material, parts, kinds or [])
    if not on_swab:
        raise Refusal("varnish.no_material")
    _check_swab(material, values)
    moment = check_moment(at, "test")
    where = place_of(values)
    pass_stops(thing, who=who, word=word, operation="test", material=material, kinds=on_swab, place=where)
    row = SpotTest(
        object=thing,
        visit_object=visit_object,
        material=material,
        what=(what.strip() or what_words(material, parts, on_swab))[:120],
        kinds=on_swab,
        mixture=parts,
        result=result,
        follows=follows,
        at=moment,
        who=who,
        **values,
    )
    if id is not None:
        row.id = id
    return keeping.add(row, who=who)


def what_words(material: Material | None, parts: list, kinds: list[str]) -> str:
    """What was on the swab, in words: the material, the mixture with its parts, or the kinds."""
    from django.utils.translation import get_language

    from purfling.words import say

    language = (get_language() or "en")[:2]
    if material is not None:
        return str(material.name)
    if parts:
        total = sum(volume for _key, volume in parts)
        return " + ".join(
            f"{say(f'varnish.solvent_{key}', language)} {100 * volume / total:.0f} %" for key, volume in parts
        )
    return ", ".join(say(f"varnish.kind_{kind}", language) for kind in kinds)


@transaction.atomic
def judge_spot(*, spot: SpotTest, follows: str, word: str, who: Maker, seen: int | None = None) -> SpotTest:
    """The owner decides anew what a test means for this varnish, with a word of reason."""
    check_owner(who)
    _check_follows(spot.result, follows)
    return keeping.change(spot, who=who, seen=seen, because=reason_of(word), follows=follows)


def add_picture(*, spot: SpotTest, sha256: str, who: Maker, seen: int | None = None) -> SpotTest:
    """The photograph of a test, kept under its hash."""
    return keeping.change(spot, who=who, seen=seen, picture=sha256)


def did_harm(spot: SpotTest) -> bool:
    """Whether the varnish was dulled, softened, lost colour or dissolved."""
    return spot.result in HARMFUL
