"""The shop and who works in it: the first start, assistants, settings."""

import secrets

from django.contrib.auth.hashers import check_password, make_password
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from purfling.craft.refusals import Refusal
from purfling.shop.domain import keeping
from purfling.shop.models import Maker, Shop

MOST_TRIES = 8
# Without the letters and figures that are mistaken for one another.
SIGNS = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"


def the_shop() -> Shop:
    """The one row of the shop, made where it is missing."""
    found = Shop.objects.first()
    return found if found is not None else keeping.add(Shop(), who=None)


def is_claimed() -> bool:
    """Whether the shop has an owner."""
    return Maker.objects.filter(role=Maker.Role.OWNER).exists()


@transaction.atomic
def make_first_code() -> str:
    """A new one-time code for the first start; the one before is void.

    Raises
    ------
    Refusal
        The shop has its owner already.
    """
    if is_claimed():
        raise Refusal("book.claimed")
    code = "-".join("".join(secrets.choice(SIGNS) for _ in range(4)) for _ in range(3))
    keeping.change(the_shop(), who=None, first_code=make_password(code), first_tries=0)
    return code


def _check_phrase(phrase: str, maker: Maker) -> None:
    try:
        validate_password(phrase, maker)
    except ValidationError as wrong:
        raise Refusal("book.weak_phrase", reason=" ".join(wrong.messages)) from wrong


def claim_shop(*, code: str, name: str, phrase: str, shop_name: str = "", town: str = "") -> Maker:
    """Make the owner, once, by the code that stands in the terminal.

    Raises
    ------
    Refusal
        Claimed already; a wrong code (the code is void after eight tries); a weak pass phrase.
    """
    if is_claimed():
        raise Refusal("book.claimed")
    shop = the_shop()
    if not shop.first_code or shop.first_tries >= MOST_TRIES:
        raise Refusal("book.no_code")
    if not check_password(code.strip().upper(), shop.first_code):
        keeping.change(shop, who=None, first_tries=shop.first_tries + 1)
        raise Refusal("book.wrong_code", left=MOST_TRIES - shop.first_tries - 1)
    with transaction.atomic():
        Shop.objects.select_for_update().get(pk=shop.pk)
        if is_claimed():
            raise Refusal("book.claimed")
        owner = _add_maker(name=name, phrase=phrase, role=Maker.Role.OWNER, who=None)
        keeping.change(shop, who=owner, first_code="", first_tries=0, name=shop_name, town=town)
    return owner


def _add_maker(*, name: str, phrase: str, role: str, who: Maker | None, id=None) -> Maker:
    maker = Maker(name=name.strip(), role=role)
    if id is not None:
        maker.id = id
    if not maker.name:
        raise Refusal("book.no_name")
    if Maker.objects.filter(name__iexact=maker.name).exists():
        raise Refusal("book.name_taken", name=maker.name[:60])
    _check_phrase(phrase, maker)
    maker.set_password(phrase)
    return keeping.add(maker, who=who)


def add_owner(*, name: str, phrase: str, id=None) -> Maker:
    """The owner of an invented shop, which nobody has to claim."""
    if is_claimed():
        raise Refusal("book.claimed")
    return _add_maker(name=name, phrase=phrase, role=Maker.Role.OWNER, who=None, id=id)


def add_assistant(*, name: str, phrase: str, who: Maker, id=None) -> Maker:
    """A further pair of hands, with a pass phrase of their own."""
    return _add_maker(name=name, phrase=phrase, role=Maker.Role.ASSISTANT, who=who, id=id)


def set_phrase(*, maker: Maker, phrase: str, who: Maker) -> Maker:
    """A new pass phrase for oneself, or for an assistant by the owner."""
    _check_phrase(phrase, maker)
    maker.set_password(phrase)
    return keeping.change(maker, who=who, because="pass phrase", password=maker.password)


def set_active(*, maker: Maker, active: bool, who: Maker) -> Maker:
    """Let an assistant in, or no longer. The owner is never shut out."""
    if maker.role == Maker.Role.OWNER:
        raise Refusal("book.owner_stays")
    return keeping.change(maker, who=who, is_active=active)


def set_language(*, maker: Maker, language: str) -> Maker:
    """The language a maker is answered in."""
    return keeping.change(maker, who=maker, language=language)


def change_shop(*, shop: Shop, who: Maker, seen: int | None = None, **values: object) -> Shop:
    """The shop's name, town, address, currency and gauges."""
    return keeping.change(shop, who=who, seen=seen, **values)
