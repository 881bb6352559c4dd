"""Three people at every page: owner, assistant, stranger; a small book of an invented player."""

from datetime import datetime
from types import SimpleNamespace

import pytest
from django.test import Client
from django.utils import timezone

from purfling.shop.domain.object import add_object
from purfling.shop.domain.player import add_player
from purfling.shop.domain.shop import add_assistant, add_owner, change_shop, the_shop
from purfling.shop.domain.visit import book_visit, receive_visit

PHRASE = "a phrase of willow"


def moment(text: str) -> datetime:
    """A local moment."""
    return timezone.make_aware(datetime.fromisoformat(text))


@pytest.fixture(autouse=True)
def english():
    """Every test begins in English, whatever language a page of the last one was asked in."""
    from django.utils import translation

    with translation.override("en"):
        yield


@pytest.fixture
def owner(db):
    """The owner."""
    change_shop(shop=the_shop(), who=None, name="Shop of the tests", town="Hollerau")
    return add_owner(name="Ilse", phrase=PHRASE)


@pytest.fixture
def assistant(owner):
    """The assistant."""
    return add_assistant(name="Joon", phrase=PHRASE, who=owner)


@pytest.fixture
def as_owner(owner):
    """A browser of the owner's."""
    client = Client()
    client.force_login(owner, backend="django.contrib.auth.backends.ModelBackend")
    return client


@pytest.fixture
def as_assistant(assistant):
    """A browser of the assistant's."""
    client = Client()
    client.force_login(assistant, backend="django.contrib.auth.backends.ModelBackend")
    return client


@pytest.fixture
def stranger():
    """A browser of nobody's."""
    return Client()


@pytest.fixture
def book(owner, assistant):
    """One player with a violin and a bow, one visit that has arrived."""
    player = add_player(
        who=owner,
        first_name="Merle",
        name="Aschenbrand",
        town="Hollerau",
        email="merle@example.org",
        address="Secret Lane 5",
        phone="0000 12",
    )
    violin = add_object(
        who=owner,
        owner=player,
        family="violin",
        nickname="the honey one",
        declared_value=98765,
        length_mm=355.0,
    )
    bow = add_object(who=owner, owner=player, family="violin", kind="bow")
    visit = book_visit(
        player=player, objects=[violin, bow], who=owner, complaint="It buzzes.", approval_limit=4321
    )
    visit = receive_visit(visit=visit, who=owner)
    rows = list(visit.rows.order_by("tag"))
    return SimpleNamespace(
        owner=owner, assistant=assistant, player=player, violin=violin, bow=bow, visit=visit, rows=rows
    )
