"""Mixtures among one instrument's tests: untested, tested, near a harmful one; the owner's page."""

import pytest
from conftest_varnish import shop_materials
from django.urls import reverse
from shop.conftest import moment

from purfling.craft.varnish.solvents import mixture
from purfling.shop.domain import clock
from purfling.shop.domain.material import add_material
from purfling.shop.domain.spot import add_spot
from purfling.shop.queries.mixture import fractions_of_spot, mixture_page


@pytest.fixture
def shop(book):
    shop_materials(book)
    with clock.held(moment("2022-03-12 10:00")):
        add_spot(
            thing=book.violin, who=book.owner, material=book.spirit, result="softened", place="lower edge"
        )
        add_spot(
            thing=book.violin,
            who=book.owner,
            mixture=[["white_spirit", 9], ["turpentine", 1]],
            result="nothing",
            place="under the board",
        )
    return book


def texts(shop, parts):
    return [(s.kind, s.text) for s in mixture_page(shop.violin, parts)["said"]]


def test_what_was_not_tested_is_called_untested(shop):
    assert texts(shop, [("acetone", 1)]) == [("untested", "untested here")]
    assert mixture_page(shop.violin, [])["said"] == []


def test_what_was_tested_is_told_with_date_place_and_result(shop):
    ((kind, text),) = texts(shop, [("white_spirit", 18), ("turpentine", 2)])
    assert kind == "tested"
    assert "2022-03-12" in text and "under the board" in text and "nothing" in text


def test_a_mixture_near_a_harmful_test_is_named_and_still_untested(shop):
    lines = texts(shop, [("isopropanol", 1)])
    assert [kind for kind, _t in lines] == ["near", "untested"]
    assert "softened" in lines[0][1] and "spirit 96 %" in lines[0][1]


def test_a_test_lies_where_its_material_or_mixture_lies(shop):
    spots = list(shop.violin.spot_tests.order_by("at", "what"))
    found = {s.what: fractions_of_spot(s) for s in spots}
    assert found["spirit 96 %"] == mixture({"ethanol": 1})
    own = add_material(name="own gel", kinds=["spirit"], fractions=[50.0, 20.0, 30.0], who=shop.owner)
    spot = add_spot(
        thing=shop.violin, who=shop.owner, material=own, result="nothing", place="x", word="once more"
    )
    assert fractions_of_spot(spot).polar == 20.0
    shop_soap = add_spot(thing=shop.violin, who=shop.owner, material=shop.soap, result="nothing", place="x")
    page = mixture_page(shop.violin, [])
    assert page["without"] == [shop_soap] and len(page["tests"]) == 3


def test_the_page_is_the_owners(shop, as_owner, as_assistant):
    address = reverse("mixtures", args=[shop.violin.pk])
    assert as_assistant.get(address).status_code == 403
    text = as_owner.get(address, {"part_0": "isopropanol", "volume_0": "1"}).content.decode()
    assert "near a test that did harm" in text and "untested here" in text and "<svg" in text
    assert as_owner.get(address, {"part_0": "isopropanol", "volume_0": "-3"}).status_code == 200
    assert (
        reverse("mixtures", args=[shop.violin.pk])
        not in as_assistant.get(reverse("varnish", args=[shop.violin.pk])).content.decode()
    )
    water = as_owner.get(address, {"part_0": "water", "volume_0": "1"}).content.decode()
    assert "acidity of this water is not known" in water
