"""The chart of marks in the book: carried over, new since last time, frozen, gone over in editions."""

import copy
from datetime import timedelta

import pytest
from django.db import DatabaseError, transaction
from django.urls import reverse

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock
from purfling.shop.domain.mark import change_sighting, look_again, look_at_all_again, record_mark
from purfling.shop.domain.object import change_object
from purfling.shop.domain.survey import begin_edition, begin_survey, freeze_survey, freeze_surveys_of_visit
from purfling.shop.domain.survey_content import hash_of, intact
from purfling.shop.domain.visit import book_visit, close_visit, receive_visit
from purfling.shop.models import Change, Sighting, Survey
from purfling.shop.queries.survey import edition_differences, survey_rows
from tests.shop.conftest import moment
from tests.shop.mark_help import keep, violin_row

PLACES = [("front", 0.1 * (i % 9) - 0.4, 0.1 + 0.04 * i) for i in range(12)]


@pytest.fixture
def surveyed(book):
    """The violin's first survey with twelve marks, frozen."""
    with clock.held(moment("2025-03-03T10:20")):
        survey = begin_survey(row=violin_row(book), who=book.owner)
        for view, u, v in PLACES:
            record_mark(survey=survey, view=view, points=[[u, v]], kind="bump", who=book.owner)
        book.survey = freeze_survey(survey=survey, who=book.owner)
    return book


def a_year_later(book):
    """The same violin in a new visit; its survey has begun."""
    close_visit(visit=book.visit, who=book.owner)
    with clock.held(moment("2026-03-10T09:00")):
        visit = book_visit(player=book.player, objects=[book.violin], who=book.owner)
        visit = receive_visit(visit=visit, who=book.owner)
        return begin_survey(row=visit.rows.get(), who=book.owner)


def test_three_planted_marks_a_year_later_are_exactly_the_three_listed(surveyed):
    survey = a_year_later(surveyed)
    assert survey.sightings.filter(checked=False).count() == 12
    look_at_all_again(survey=survey, who=surveyed.owner)
    planted = [
        record_mark(survey=survey, view="back", points=[[0.2, v]], kind="chip", age="new", who=surveyed.owner)
        for v in (0.2, 0.4, 0.6)
    ]
    record_mark(
        survey=survey, view="back", points=[[-0.5, 0.3]], kind="wear", age="uncovered", who=surveyed.owner
    )
    record_mark(survey=survey, view="back", points=[[-0.5, 0.8]], kind="patch", age="old", who=surveyed.owner)
    found = {r.number: r.standing for r in survey_rows(survey)}
    assert [n for n, s in found.items() if s == "new"] == [p.mark.number for p in planted] == [13, 14, 15]
    assert (found[16], found[17]) == ("uncovered", "overlooked")
    assert {found[n] for n in range(1, 13)} == {"known"}


def test_nothing_is_new_on_the_first_chart_and_what_was_new_is_old_a_year_later(surveyed):
    assert {r.standing for r in survey_rows(surveyed.survey)} == {"first"}
    survey = a_year_later(surveyed)
    record_mark(survey=survey, view="back", points=[[0, 0.5]], kind="chip", age="new", who=surveyed.owner)
    freeze_survey(survey=survey, who=surveyed.owner)
    close_visit(visit=survey.visit_object.visit, who=surveyed.owner)
    visit = book_visit(player=surveyed.player, objects=[surveyed.violin], who=surveyed.owner)
    third = begin_survey(row=receive_visit(visit=visit, who=surveyed.owner).rows.get(), who=surveyed.owner)
    last = third.sightings.get(mark__number=13)
    assert last.age == "old"
    assert last.mark.first_seen == survey
    assert {r.standing for r in survey_rows(third)} == {"known"}


def test_a_mark_that_is_gone_is_said_to_be_gone_and_does_not_come_again(surveyed):
    survey = a_year_later(surveyed)
    gone = look_again(sighting=survey.sightings.get(mark__number=3), who=surveyed.owner, gone=True)
    assert {r.number: r.standing for r in survey_rows(survey)}[3] == "gone"
    freeze_survey(survey=survey, who=surveyed.owner)
    assert gone.survey_id == survey.pk
    close_visit(visit=survey.visit_object.visit, who=surveyed.owner)
    visit = book_visit(player=surveyed.player, objects=[surveyed.violin], who=surveyed.owner)
    third = begin_survey(row=receive_visit(visit=visit, who=surveyed.owner).rows.get(), who=surveyed.owner)
    assert not third.sightings.filter(mark__number=3).exists()
    fresh = record_mark(survey=third, view="front", points=[[0, 0.5]], kind="chip", who=surveyed.owner)
    assert fresh.mark.number == 13  # no number is given twice


def test_marks_outlive_other_dimensions_of_the_object(surveyed, as_owner):
    before = [s.points for s in surveyed.survey.sightings.order_by("mark__number")]
    change_object(thing=surveyed.violin, who=surveyed.owner, length_mm=361.0, upper_mm=172.0, lower_mm=212.0)
    survey = a_year_later(surveyed)
    assert [s.points for s in survey.sightings.order_by("mark__number")] == before
    assert as_owner.get(reverse("survey", args=[survey.pk])).status_code == 200


def test_a_run_gets_the_length_of_its_line_unless_one_is_given(book):
    survey = begin_survey(row=violin_row(book), who=book.owner)
    edge = [[0.80, 0.84], [0.62, 0.95]]
    run = {"view": "front", "points": edge, "kind": "wear", "who": book.owner}
    along = record_mark(survey=survey, along_edge=True, **run)
    straight = record_mark(survey=survey, **run)
    assert along.length_mm > straight.length_mm > 40
    assert record_mark(survey=survey, length_mm=80.0, along_edge=True, **run).length_mm == 80.0


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"view": "bow_whole"}, "survey.no_view"),
        ({"points": []}, "survey.points"),
        ({"points": [[0, 0]] * 41}, "survey.points"),
        ({"points": [[float("nan"), 0.1]]}, "survey.off_the_chart"),
        ({"points": [[9, 0.1]]}, "survey.off_the_chart"),
        ({"kind": "zebra"}, "survey.no_kind"),
        ({"length_mm": -1.0}, "survey.length"),
        ({"decision": "perhaps"}, "survey.no_choice"),
    ],
)
def test_what_makes_no_sense_is_refused(book, change, code):
    survey = begin_survey(row=violin_row(book), who=book.owner)
    good = {"view": "front", "points": [[0.1, 0.2]], "kind": "bump"}
    with pytest.raises(Refusal) as refused:
        record_mark(survey=survey, who=book.owner, **(good | change))
    assert refused.value.code == code
    assert not survey.sightings.exists() and not book.violin.marks.exists()


# -- frozen: by form, by address, by the verbs, by the models, by the database


def everything(survey):
    """All that the book says of a survey."""
    ids = [survey.pk, *survey.sightings.values_list("pk", flat=True)]
    return copy.deepcopy(
        (
            list(Survey.objects.filter(pk=survey.pk).values()),
            list(survey.sightings.order_by("pk").values()),
            list(Change.objects.filter(record__in=ids).values()),
        )
    )


def test_a_frozen_survey_is_not_changed_by_any_page(surveyed, as_owner, as_assistant):
    before = everything(surveyed.survey)
    one = surveyed.survey.sightings.first()
    posts = [
        (reverse("mark_new", args=[surveyed.survey.pk]), {"touched": "[[150, 120]]", "kind": "bump"}),
        (reverse("survey_edit", args=[surveyed.survey.pk]), {"purpose": "another", "lights": ["normal"]}),
        (reverse("sighting", args=[one.pk]), {"m-kind": "chip", "m-words": "quite another"}),
        (reverse("sighting_again", args=[one.pk]), {"gone": "1"}),
    ]
    for client in (as_owner, as_assistant):
        for address, data in posts:
            answer = client.post(address, data)
            assert answer.status_code == 422, address
            assert "frozen" in answer.content.decode()
    for address in (
        reverse("survey_again", args=[surveyed.survey.pk]),
        reverse("survey_freeze", args=[surveyed.survey.pk]),
    ):
        assert as_owner.post(address).status_code == 302
    assert everything(surveyed.survey) == before
    assert surveyed.violin.marks.count() == 12
    assert (
        "m-kind"
        not in as_owner.get(reverse("survey", args=[surveyed.survey.pk]) + "?mark=1").content.decode()
    )


def test_no_page_changes_rows_by_themselves(as_owner, owner):
    """There is no administration of raw rows at all."""
    for address in ("/admin/", "/admin/shop/survey/", "/admin/shop/sighting/add/"):
        assert as_owner.get(address).status_code == 404


def test_verbs_models_and_the_database_refuse_as_well(surveyed):
    before = everything(surveyed.survey)
    one = surveyed.survey.sightings.select_related("survey__object").first()

    def by_verb():
        change_sighting(sighting=one, who=surveyed.owner, words="x")

    def by_model():
        row = Sighting.objects.get(pk=one.pk)
        row.words = "x"
        row.save()

    def by_queryset():
        Sighting.objects.filter(pk=one.pk).update(words="x")

    def by_survey_queryset():
        Survey.objects.filter(pk=surveyed.survey.pk).update(summary="x")

    def by_thawing():
        Survey.objects.filter(pk=surveyed.survey.pk).update(frozen_at=None)

    def by_adding():
        Sighting.objects.bulk_create(
            [Sighting(mark=one.mark, survey=surveyed.survey, view="front", points=[[0, 0]], kind="bump")]
        )

    def by_deleting():
        Sighting.objects.filter(survey=surveyed.survey).delete()

    def by_deleting_one():
        Sighting.objects.get(pk=one.pk).delete()

    ways = (by_verb, by_model, by_queryset, by_survey_queryset, by_thawing, by_adding, by_deleting)
    for way in (*ways, by_deleting_one):
        with pytest.raises((Refusal, DatabaseError)), transaction.atomic():
            way()
    assert everything(surveyed.survey) == before


def test_the_hash_is_that_of_an_independent_reckoning_and_tells_of_every_change(surveyed):
    import hashlib
    import json

    survey = surveyed.survey
    text = json.dumps(survey.content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    assert survey.hash == hashlib.sha256(text.encode()).hexdigest()
    assert intact(survey)
    for change in (
        lambda c: c["marks"][4].update(words="there was nothing"),
        lambda c: c["marks"].pop(),
        lambda c: c["object"].update(label="another"),
        lambda c: c.update(frozen_at="2025-03-04T10:20:00+01:00"),
    ):
        content = copy.deepcopy(survey.content)
        change(content)
        assert hash_of(content) != survey.hash
    survey.content["marks"][0]["kind"] = "chip"
    assert not intact(survey)


def test_a_later_change_is_a_new_edition_that_shows_both(surveyed, as_owner):
    before = everything(surveyed.survey)
    with pytest.raises(Refusal):
        begin_edition(survey=surveyed.survey, because="  ", who=surveyed.owner)
    second = begin_edition(survey=surveyed.survey, because="seen in better light", who=surveyed.owner)
    with pytest.raises(Refusal):
        begin_edition(survey=surveyed.survey, because="once more", who=surveyed.owner)
    change_sighting(sighting=second.sightings.get(mark__number=5), who=surveyed.owner, kind="chip")
    record_mark(survey=second, view="front", points=[[0, 0.2]], kind="scratch", who=surveyed.owner)
    lines = edition_differences(surveyed.survey, second)
    assert [(x["number"], x["field"], x["then"], x["now"]) for x in lines] == [
        (5, "kind", "bump", "chip"),
        (13, "", "", "scratch"),
    ]
    page = as_owner.get(reverse("survey_compare", args=[second.pk])).content.decode()
    assert "bump" in page and "chip" in page and "seen in better light" in page
    assert everything(surveyed.survey) == before


def test_closing_the_arrival_freezes_every_open_survey_of_the_visit(book):
    one = begin_survey(row=violin_row(book), who=book.owner)
    other = begin_survey(row=next(r for r in book.rows if r != violin_row(book)), who=book.owner)
    frozen = freeze_surveys_of_visit(visit=book.visit, who=book.owner)
    assert {s.pk for s in frozen} == {one.pk, other.pk}
    assert all(s.is_frozen and intact(s) for s in Survey.objects.all())


def test_a_survey_still_open_at_the_hand_over_is_frozen_with_it(book):
    survey = begin_survey(row=violin_row(book), who=book.owner)
    close_visit(visit=book.visit, who=book.owner)
    survey.refresh_from_db()
    assert survey.is_frozen and intact(survey)


def test_photographs_are_in_the_frozen_content_by_their_sha256(book):
    survey = begin_survey(row=violin_row(book), who=book.owner)
    mark = record_mark(survey=survey, view="front", points=[[0, 0.2]], kind="bump", who=book.owner).mark
    kept = keep(violin_row(book), who=book.owner, mark=mark)
    content = freeze_survey(survey=survey, who=book.owner).content
    assert content["marks"][0]["photographs"] == [kept.sha256]
    assert content["photographs"][0]["sha256"] == kept.sha256


def test_before_the_object_is_here_there_is_no_survey(book):
    close_visit(visit=book.visit, who=book.owner)
    visit = book_visit(
        player=book.player, objects=[book.violin], who=book.owner, comes_at=clock.now() + timedelta(days=1)
    )
    with pytest.raises(Refusal):
        begin_survey(row=visit.rows.get(), who=book.owner)


def test_a_touch_on_the_sheet_becomes_a_mark_where_it_was_touched(book, as_owner):
    from purfling.shop.queries.survey import sheet_of

    survey = begin_survey(row=violin_row(book), who=book.owner)
    sheet = sheet_of(survey)
    x, y = sheet.place("back").on_sheet(-0.4, 0.25)
    answer = as_owner.post(
        reverse("mark_new", args=[survey.pk]), {"touched": f"[[{x}, {y}]]", "kind": "chip", "words": "small"}
    )
    assert answer.status_code == 302
    seen = survey.sightings.get()
    assert (seen.view, seen.kind, seen.words) == ("back", "chip", "small")
    assert seen.points[0] == pytest.approx([-0.4, 0.25], abs=1e-4)
    two_views = [list(sheet.place(n).on_sheet(0.0, 0.5)) for n in ("front", "back")]
    answer = as_owner.post(reverse("mark_new", args=[survey.pk]), {"touched": str(two_views), "kind": "chip"})
    assert answer.status_code == 422


def test_the_history_shows_first_and_last_seen_and_growth(surveyed, as_owner):
    one = surveyed.survey.sightings.get(mark__number=1)
    survey = a_year_later(surveyed)
    page = as_owner.get(reverse("object", args=[surveyed.violin.pk])).content.decode()
    assert "first seen" in page and ">2025<" in page and ">2026<" in page
    change_sighting(sighting=survey.sightings.get(mark__number=1), who=surveyed.owner, length_mm=14.0)
    assert as_owner.get(reverse("mark", args=[one.mark_id])).status_code == 200
