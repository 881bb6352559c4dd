"""The first start: only who holds the terminal's code owns the shop."""

import pytest
from django.urls import reverse

from purfling.craft.refusals import Refusal
from purfling.shop.domain.shop import MOST_TRIES, claim_shop, make_first_code
from purfling.shop.models import Maker

PHRASE = "a phrase of willow"


def test_the_code_of_the_terminal_makes_the_owner_once(db, client):
    code = make_first_code()
    answer = client.post(reverse("first"), {"code": code.lower(), "name": "Ilse", "phrase": PHRASE})
    assert (answer.status_code, answer.url) == (302, "/")
    assert Maker.objects.get().role == "owner"
    with pytest.raises(Refusal, match=r"book\.claimed"):
        claim_shop(code=code, name="Thief", phrase=PHRASE)
    assert client.get(reverse("first")).status_code == 302


def test_a_wrong_code_makes_nobody_and_eight_void_it(db, client):
    code = make_first_code()
    for _ in range(MOST_TRIES):
        answer = client.post(reverse("first"), {"code": "AAAA-AAAA-AAAA", "name": "Thief", "phrase": PHRASE})
        assert answer.status_code == 422
    answer = client.post(reverse("first"), {"code": code, "name": "Late", "phrase": PHRASE})
    assert "no valid one-time code" in answer.content.decode()
    assert Maker.objects.count() == 0


def test_a_weak_phrase_is_refused_and_the_code_still_holds(db, client):
    code = make_first_code()
    answer = client.post(reverse("first"), {"code": code, "name": "Ilse", "phrase": "short"})
    assert answer.status_code == 422
    assert claim_shop(code=code, name="Ilse", phrase=PHRASE).name == "Ilse"


def test_before_the_first_start_every_page_leads_to_it(db, client):
    assert client.get("/", follow=True).redirect_chain[-1][0] == reverse("first")


def test_six_wrong_phrases_lock_the_name_from_that_machine(book, client):
    for _ in range(6):
        client.post("/enter", {"username": "Joon", "password": "wrong"})
    assert client.post("/enter", {"username": "Joon", "password": PHRASE}).status_code == 429
    assert client.post("/enter", {"username": "Ilse", "password": PHRASE}).status_code == 302


def test_plain_http_beyond_this_machine_is_refused(book, client):
    answer = client.get("/enter", REMOTE_ADDR="192.0.2.7")
    assert answer.status_code == 403
    assert client.get("/enter", REMOTE_ADDR="192.0.2.7", secure=True).status_code == 200
