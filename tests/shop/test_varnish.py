"""The varnish log by its verbs: spot tests, stops, the log, closed places, recipes as they were."""

from datetime import timedelta
from io import BytesIO

import pytest
from conftest_varnish import picture_file, shop_materials
from PIL import Image
from shop.conftest import moment

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock
from purfling.shop.domain.closed import close_place, lift_closed
from purfling.shop.domain.coat import add_line, look_with_finger
from purfling.shop.domain.material import add_material, change_recipe
from purfling.shop.domain.spot import add_spot, follows_from, judge_spot
from purfling.shop.domain.stops import Stopped, Where, pass_stops, stops_for
from purfling.shop.domain.varnish_picture import keep_picture, path_of
from purfling.shop.domain.work import add_work
from purfling.shop.domain.work_bench import start_work
from purfling.shop.models import Change, StopMet, VarnishLine
from purfling.shop.queries.varnish import entries_of, here

CORNER = {"view": "front", "x": 0.2, "y": 0.62, "place": "upper corner, bass side"}


@pytest.fixture
def shop(book):
    """The small book with water, spirit and wax on the shelf, and a retouch recipe."""
    return shop_materials(book)


def water_dissolves(shop, **more):
    """The old test of the varnish that water takes off."""
    with clock.held(moment("2022-03-12 10:00")):
        return add_spot(
            thing=shop.violin,
            who=shop.owner,
            material=shop.water,
            result="dissolved",
            dwell_s=20,
            **{**CORNER, **more},
        )


def test_a_test_says_what_follows_and_keeps_its_history(shop):
    spot = water_dissolves(shop)
    assert (spot.follows, spot.kinds, spot.what) == ("forbidden", ["water"], "tap water")
    assert Change.objects.filter(record=spot.pk).count() == 1
    assert [follows_from(r) for r in ("nothing", "dulled", "softened", "colour", "dissolved")] == [
        "care",
        "test",
        "forbidden",
        "forbidden",
        "forbidden",
    ]


@pytest.mark.parametrize(
    ("values", "code"),
    [
        ({"view": "", "place": ""}, "varnish.no_place"),
        ({"view": "sole"}, "varnish.no_such_view"),
        ({"x": 1.4}, "varnish.place_range"),
        ({"follows": "care"}, "varnish.dissolved_with_care"),
        ({"dwell_s": 99999}, "varnish.number_range"),
        ({"material": None}, "varnish.no_material"),
        ({"result": "melted"}, "varnish.unknown_choice"),
        ({"mixture": [["moonshine", 1]], "material": None}, "varnish.unknown_solvent"),
    ],
)
def test_what_cannot_be_a_test_is_refused(shop, values, code):
    given = {"material": shop.water, "result": "dissolved", **CORNER, **values}
    with pytest.raises(Refusal) as refused:
        add_spot(thing=shop.violin, who=shop.owner, **given)
    assert refused.value.code == code


def test_cleaning_meets_the_old_test_with_date_and_place(shop):
    assert stops_for(shop.violin, operation="cleaning") == ()
    spot = water_dissolves(shop)
    (reason,) = stops_for(shop.violin, operation="cleaning")
    assert (reason.code, reason.spot) == ("varnish.stop_test", spot)
    text = reason.sentence("en")
    assert "2022-03-12" in text and "tap water" in text and "upper corner" in text and "dissolved" in text
    assert "2022-03-12" in reason.sentence("de")
    # a material that has no water in it, and an operation that touches no varnish, do not meet it
    assert stops_for(shop.violin, operation="cleaning", material=shop.spirit) == ()
    assert stops_for(shop.violin, operation="nut_off") == ()
    assert stops_for(shop.bow, operation="cleaning") == ()
    assert stops_for(shop.violin, material=shop.soap)[0].spot == spot  # soap is water too


def test_a_test_that_was_judged_otherwise_stops_no_more_and_only_the_owner_judges(shop):
    spot = water_dissolves(shop, follows="forbidden")
    with pytest.raises(Refusal):
        judge_spot(spot=spot, follows="test", word="again", who=shop.assistant)
    judge_spot(spot=spot, follows="test", word="that spot was a retouch of 1990", who=shop.owner)
    assert stops_for(shop.violin, operation="cleaning") == ()


@pytest.mark.parametrize(
    ("operation", "kinds", "stopped"),
    [
        ("polish", None, True),
        ("rubbing", None, True),
        ("cleaning", ["spirit"], True),
        ("cleaning", ["water"], False),
        ("wax", ["wax"], False),
        ("retouch", None, False),
    ],
)
def test_conserve_stops_polish_abrasive_and_spirit_cloth(shop, operation, kinds, stopped):
    shop.violin.treat_as = "conserve"
    codes = [r.code for r in stops_for(shop.violin, operation=operation, kinds=kinds)]
    assert codes == (["varnish.stop_class"] if stopped else [])


def test_the_owner_overrules_with_a_word_an_assistant_may_not_and_both_are_written(shop):
    water_dissolves(shop)
    with pytest.raises(Stopped):
        pass_stops(shop.violin, who=shop.assistant, word="I am careful", operation="cleaning")
    with pytest.raises(Stopped):
        pass_stops(shop.violin, who=shop.owner, operation="cleaning")
    row = pass_stops(shop.violin, who=shop.owner, word="dry brush only", operation="cleaning")
    assert (row.overruled, row.word, row.who) == (True, "dry brush only", shop.owner)
    assert row.reasons[0]["at"] == "2022-03-12"


def test_the_owners_word_holds_for_this_visit_and_for_these_reasons_only(shop):
    water_dissolves(shop)
    pass_stops(shop.violin, who=shop.owner, word="dry", operation="cleaning")
    since = clock.now() - timedelta(hours=1)
    assert pass_stops(shop.violin, who=shop.assistant, operation="cleaning", since=since) is None
    with pytest.raises(Stopped):
        pass_stops(shop.violin, who=shop.assistant, operation="cleaning", since=clock.now())
    add_spot(thing=shop.violin, who=shop.owner, material=shop.spirit, result="softened", **CORNER)
    with pytest.raises(Stopped):
        pass_stops(shop.violin, who=shop.assistant, operation="cleaning", since=since)


def test_the_work_list_stops_at_the_start(shop):
    water_dissolves(shop)
    row = next(r for r in shop.rows if r.object_id == shop.violin.pk)
    work = add_work(row=row, code="cleaning", who=shop.owner)
    with pytest.raises(Stopped):
        start_work(work=work, who=shop.assistant, word="please")
    begun, _laid = start_work(work=work, who=shop.owner, word="dry brush only")
    assert begun.state == "hand"
    assert StopMet.objects.get(overruled=True).word == "dry brush only"


def test_what_was_forbidden_is_not_even_tested_again_without_a_word(shop):
    water_dissolves(shop)
    with pytest.raises(Stopped):
        water_dissolves(shop)


def test_a_closed_place_stops_what_is_done_there_and_only_there(shop):
    with pytest.raises(Refusal):
        close_place(thing=shop.violin, who=shop.assistant, reason="x", **CORNER)
    closed = close_place(thing=shop.violin, who=shop.owner, reason="old label under it", **CORNER)
    near, far = Where("front", 0.24, 0.6), Where("front", 0.8, 0.1)
    assert [r.closed for r in stops_for(shop.violin, operation="clean", place=near)] == [closed]
    assert stops_for(shop.violin, operation="clean", place=far) == ()
    assert stops_for(shop.violin, operation="clean", place=Where("back", 0.2, 0.62)) == ()
    assert stops_for(shop.violin, operation="cleaning") == ()
    lift_closed(closed=closed, who=shop.owner, word="the label is lifted")
    assert stops_for(shop.violin, operation="clean", place=near) == ()
    with pytest.raises(Refusal):
        lift_closed(closed=closed, who=shop.owner, word="again")


def test_a_closed_task_meets_the_apprentice(shop):
    close_place(
        thing=shop.violin, who=shop.owner, reason="wait for the owner's yes", whole=True, tasks=["clean"]
    )
    row = next(r for r in shop.rows if r.object_id == shop.violin.pk)
    with pytest.raises(Stopped) as met:
        start_work(work=add_work(row=row, code="cleaning", who=shop.owner), who=shop.assistant)
    assert "owner's yes" in met.value.reasons[0].sentence("en")
    assert stops_for(shop.violin, operation="retouch") == ()


def test_a_corner_of_2022_keeps_its_recipe_as_it_was(shop):
    with clock.held(moment("2022-05-04 15:00")):
        line = add_line(
            thing=shop.violin, task="retouch", who=shop.owner, recipe=shop.recipe, batch="B7", **CORNER
        )
    change_recipe(recipe=shop.recipe, who=shop.owner, parts=["something newer"])
    line = VarnishLine.objects.get(pk=line.pk)
    assert line.made_of == ["dammar 10 g", "ethanol 40 ml", "madder lake"]
    assert (line.coat, line.batch) == (1, "B7")
    found = here(shop.violin, entries_of(shop.violin), "front", 0.22, 0.60)
    assert [e.row for e in found] == [line] and found[0].name == "’22"
    assert here(shop.violin, entries_of(shop.violin), "back", 0.22, 0.60) == []


def test_coats_count_themselves_at_their_place(shop):
    def coat(**place):
        line = add_line(thing=shop.violin, task="retouch", who=shop.owner, recipe=shop.recipe, **place)
        return line.coat

    assert [coat(**CORNER), coat(**CORNER), coat(place="edge of the back")] == [1, 2, 1]


def test_a_log_line_meets_the_stop_and_keeps_material_and_lot(shop):
    water_dissolves(shop)
    values = {"thing": shop.violin, "task": "clean", "materials": [(shop.water, None)], "place": "back"}
    with pytest.raises(Stopped):
        add_line(who=shop.assistant, **values)
    assert not VarnishLine.objects.exists()
    line = add_line(
        who=shop.owner, word="damp only", swabs=3, ph=7.0, left="the crust in the corners", **values
    )
    assert [u.material for u in line.used.all()] == [shop.water]
    with pytest.raises(Refusal):
        add_line(
            thing=shop.violin, task="wax", who=shop.owner, materials=[(shop.wax, shop.water_lot)], place="b"
        )


def test_a_look_lies_after_the_brush_and_only_what_dries_is_looked_at(shop):
    with clock.held(moment("2026-01-10 10:00")):
        coat = add_line(thing=shop.violin, task="retouch", who=shop.owner, recipe=shop.recipe, **CORNER)
        with pytest.raises(Refusal):
            look_with_finger(line=coat, bears="hands", who=shop.owner, at=moment("2026-01-09 10:00"))
    wax = add_line(thing=shop.violin, task="wax", who=shop.owner, materials=[(shop.wax, None)], place="back")
    with pytest.raises(Refusal):
        look_with_finger(line=wax, bears="hands", who=shop.owner)


def test_a_picture_keeps_its_original_and_shows_no_place(shop, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    upload = picture_file(gps=True)
    sha256 = keep_picture(upload)
    shown = path_of(sha256).read_bytes()
    with Image.open(BytesIO(shown)) as picture:
        assert max(picture.size) <= 1600 and not dict(picture.getexif())
    assert b"Secret place" not in shown
    upload.seek(0)
    original = (tmp_path / "varnish" / f"{sha256}.original").read_bytes()
    assert original == upload.read() and b"Secret place" in original
    with pytest.raises(Refusal):
        keep_picture(picture_file(broken=True))


def test_a_material_says_what_it_is(shop):
    assert add_material(name="Xylene 99 %", solvent="xylene", who=shop.owner).kinds == ["aromatic"]
    for wrong in (
        {"name": ""},
        {"name": "TAP water"},
        {"name": "x", "kinds": ["magic"]},
        {"name": "y", "kinds": []},
    ):
        with pytest.raises(Refusal):
            add_material(who=shop.owner, **{"kinds": ["water"], **wrong})
    with pytest.raises(Refusal) as refused:
        add_material(name="z", kinds=["spirit"], fractions=[36, 18, 48], who=shop.owner)
    assert refused.value.code == "varnish.fractions_total"
