"""Tray, tries, hand-over, the bench sheet that comes back."""

from datetime import date, time, timedelta

import pytest
from django.urls import reverse

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.card import begin_card, take_reading
from purfling.shop.domain.handover import Given, hand_over
from purfling.shop.domain.player import forget_player
from purfling.shop.domain.sheet import Ticked, bring_back, print_sheet
from purfling.shop.domain.tray import lay_in, lay_in_all, name_part, put_back, put_back_all
from purfling.shop.domain.tries import add_try, change_try, go_back
from purfling.shop.domain.visit import change_visit, close_visit
from purfling.shop.domain.work import add_work, strike_work
from purfling.shop.domain.work_bench import finish_work, look_at_work, start_work
from purfling.shop.models import Change, HandOver, LoosePart, VisitObject, Work
from purfling.shop.queries.tries import lines_of

from .conftest import moment
from .test_work_bench import done, refused

TODAY = moment("2026-11-24T10:00")


@pytest.fixture
def rows(book):
    """(violin's row, bow's row), strings off."""
    those = sorted(book.rows, key=lambda r: r.object.is_bow)
    for row in those:
        keeping.change(row, who=book.owner, strings_off_word="of no matter here", strings_off_at=TODAY)
    return VisitObject.objects.get(pk=those[0].pk), VisitObject.objects.get(pk=those[1].pk)


def test_every_peg_lies_by_its_own_hole_and_goes_back_into_it(rows, book):
    pegs = [lay_in(row=rows[0], part="peg", hole=n, who=book.owner) for n in (1, 2, 3, 4)]
    refused("work.part_there", lay_in, row=rows[0], part="peg", hole=2, who=book.owner)
    refused("work.unknown_part", lay_in, row=rows[0], part="peg", who=book.owner)
    refused("work.unknown_part", lay_in, row=rows[0], part="peg", hole=5, who=book.owner)
    refused("work.unknown_part", lay_in, row=rows[0], part="kettle", who=book.owner)
    assert refused("work.wrong_hole", put_back, part=pegs[1], hole=3, who=book.owner).params["hole"] == "D"
    refused("work.owners_word", put_back, part=pegs[1], hole=3, who=book.assistant, word="fits")
    assert put_back(part=pegs[1], hole=2, who=book.assistant).went == "back"
    refused("work.part_gone", put_back, part=pegs[1], hole=2, who=book.owner)
    assert put_back(part=pegs[2], hole=4, who=book.owner, word="new peg, fitted there").went == "back"


def test_what_an_operation_takes_off_goes_in_and_back_in_one_touch(rows, book):
    made = lay_in_all(row=rows[0], parts=("string", "bridge", "chinrest"), who=book.owner)
    assert len(made) == 6
    assert lay_in_all(row=rows[0], parts=("string", "bridge"), who=book.owner) == []
    back = put_back_all(row=rows[0], parts=("string", "bridge"), who=book.owner)
    assert len(back) == 5
    assert [p.part for p in LoosePart.objects.filter(visit_object=rows[0], went="tray")] == ["chinrest"]


def test_a_full_tray_and_open_work_hold_the_visit_back_on_every_way_out(rows, book):
    work = add_work(row=rows[0], code="pegs", who=book.owner)
    for verb in (
        lambda: hand_over(visit=book.visit, given=Given(), who=book.owner),
        lambda: close_visit(visit=book.visit, who=book.owner),
    ):
        with pytest.raises(Refusal) as told:
            verb()
        assert told.value.code == "work.work_open"
    strike_work(work=work, who=book.owner)
    old = lay_in(row=rows[0], part="old_bridge", who=book.owner)
    peg = lay_in(row=rows[0], part="peg", hole=1, who=book.owner)
    told = refused("work.tray_full", close_visit, visit=book.visit, who=book.owner)
    assert "peg G" in told.params["parts"] and "old bridge" in told.params["parts"]
    name_part(part=old, who=book.owner, word="", envelope=True)
    refused("work.thing_named", name_part, part=peg, who=book.owner, word=" ")
    name_part(part=peg, who=book.owner, word="worn out, given along")
    close_visit(visit=book.visit, who=book.owner)


@pytest.fixture
def finished(rows, book):
    """A visit whose work is done: strings on the violin, a card as left, a question owed."""
    change_visit(visit=book.visit, who=book.owner, contents=["rosin", "mute"], question="Did the A stay?")
    done(rows[0], "strings", book.owner)
    card = begin_card(row=rows[0], moment="left", kind="usual", who=book.owner)
    take_reading(card=card, key="neck.projection_mm", place=0, text="27", who=book.owner)
    book.visit.refresh_from_db()
    return book


def given(book, **other):
    """A hand-over with nothing left out, but for what is told otherwise."""
    rows = {r.pk: r for r in book.visit.rows.all()}
    whole = {
        "contents": ((True, ""), (True, "")),
        "tags": {str(pk): r.tag for pk, r in rows.items()},
        "asked": True,
        "answer": "it stayed",
        "player_words": "freer, and the A speaks",
        "collector": "Merle",
        "second_look_at": date(2026, 12, 22),
    }
    return Given(**(whole | other))


def test_the_hand_over_checks_contents_tags_question_card_and_second_look(finished):
    visit, who = finished.visit, finished.owner
    with clock.held(TODAY):
        lacks = {
            "work.contents": given(finished, contents=((True, ""), (False, ""))),
            "work.tag": given(finished, tags={}),
            "work.question": given(finished, asked=False, answer=""),
            "work.second_look": given(finished, second_look_at=None),
        }
        for code, one in lacks.items():
            refused(code, hand_over, visit=visit, given=one, who=who)
        for day in (date(2026, 12, 1), date(2027, 2, 1)):
            refused(
                "work.second_look", hand_over, visit=visit, given=given(finished, second_look_at=day), who=who
            )
        out = hand_over(
            visit=visit,
            given=given(finished, contents=((True, ""), (False, "stays here, rosin dust"))),
            who=who,
        )
    visit.refresh_from_db()
    assert visit.closed_at == TODAY and out.second_look_at == date(2026, 12, 22)
    assert out.contents[1] == {"thing": "mute", "there": False, "word": "stays here, rosin dust"}
    refused("book.visit_closed", hand_over, visit=visit, given=given(finished), who=who)


def test_the_two_ends_of_the_second_look(finished):
    with clock.held(TODAY):
        for weeks, right in ((2, True), (6, True)):
            day = date(2026, 11, 24) + timedelta(weeks=weeks)
            for off, fits in ((0, right), (-1 if weeks == 2 else 1, False)):
                one = given(finished, second_look_at=day + timedelta(days=off), tags={})
                told = refused("work.tag", hand_over, visit=finished.visit, given=one, who=finished.owner)
                assert told.code == "work.tag"
                one = given(finished, second_look_at=day + timedelta(days=off))
                if not fits:
                    refused(
                        "work.second_look", hand_over, visit=finished.visit, given=one, who=finished.owner
                    )
        hand_over(
            visit=finished.visit, given=given(finished, second_look_at=date(2026, 12, 8)), who=finished.owner
        )


def test_without_a_card_as_left_a_word_is_wanted(rows, book):
    done(rows[1], "bow_card", book.owner)
    one = given(book, second_look_at=None, contents=())
    refused("work.no_left_card", hand_over, visit=book.visit, given=one, who=book.owner)
    out = hand_over(
        visit=book.visit,
        given=given(book, second_look_at=None, contents=(), no_card={str(rows[1].pk): "only looked at"}),
        who=book.owner,
    )
    assert "only looked at" in out.words.values()


def test_forgetting_a_player_blanks_their_words_and_keeps_what_was_done(finished, rows):
    add_try(row=rows[0], who=finished.owner, behind_mm=3.0, player_word="like velvet")
    with clock.held(TODAY):
        hand_over(visit=finished.visit, given=given(finished), who=finished.owner)
    forget_player(player=finished.player, who=finished.owner)
    out = HandOver.objects.get()
    assert (out.player_words, out.collector, out.answer, out.question) == ("", "", "", "")
    assert out.contents and rows[0].tries.get().player_word == "" and rows[0].tries.get().behind_mm == 3.0
    text = str(list(Change.objects.values_list("before", "after")))
    for word in ("velvet", "freer, and the A", "it stayed"):
        assert word not in text


def test_tries_lead_back_to_any_earlier_one(rows, book):
    card = begin_card(row=rows[0], moment="found", kind="full", who=book.owner)
    for key, text in (("post.behind_mm", "3.0"), ("post.inside_mm", "1.0"), ("post.tightness", "2")):
        take_reading(card=card, key=key, place=0, text=text, who=book.owner)
    refused("work.empty_try", add_try, row=rows[0], who=book.owner)
    refused("work.tightness", add_try, row=rows[0], who=book.owner, tightness=6)
    refused("work.try_place", add_try, row=rows[0], who=book.owner, behind_mm=300.0)
    one = add_try(
        row=rows[0], who=book.owner, behind_mm=2.5, inside_mm=1.5, tightness=3, maker_word="brighter"
    )
    assert [t.number for t in rows[0].tries.all()] == [0, 1]
    found = rows[0].tries.get(number=0)
    assert (found.behind_mm, found.inside_mm, found.tightness) == (3.0, 1.0, 2)
    change_try(one=one, who=book.owner, player_word="harsh", verdict="worse")
    lines = lines_of(list(rows[0].tries.all()))
    assert (lines[0].back_mm, lines[0].out_mm) == (0.5, 0.5)
    again = go_back(to=found, who=book.owner)
    assert (again.number, again.back_to_id, again.behind_mm, again.inside_mm) == (2, found.pk, 3.0, 1.0)


def test_the_sheet_comes_back_in_its_order_and_is_marked_as_written_later(rows, book):
    for code in ("strip", "pegs", "retouch", "chinrest"):
        add_work(row=rows[0], code=code, who=book.owner)
    with clock.held(moment("2026-11-24T08:30")):
        sheet = print_sheet(who=book.owner)
    codes = [Work.objects.get(pk=x["work"]).code for x in sheet.lines]
    assert codes.index("strip") < codes.index("pegs") and "chinrest" not in codes
    ids = {Work.objects.get(pk=x["work"]).code: x["work"] for x in sheet.lines}
    late = add_work(row=rows[0], code="board", who=book.owner)
    with clock.held(moment("2026-11-24T18:30")):
        refusals = bring_back(
            sheet=sheet,
            ticked=[
                Ticked(ids["strip"], True, 12, time(9, 30)),
                Ticked(ids["pegs"], True, 55, time(11, 0)),
                Ticked(ids["retouch"], True, 0, time(16, 0)),
            ],
            who=book.owner,
        )
    assert [(i, r.code) for i, r in refusals] == [(ids["retouch"], "work.minutes")]
    strip, pegs = (Work.objects.get(pk=ids[c]) for c in ("strip", "pegs"))
    assert (strip.state, strip.later, strip.spent_s) == ("done", True, 720)
    assert pegs.finished_at == moment("2026-11-24T11:00") and pegs.stretches.get().later
    assert Work.objects.get(pk=late.pk).state == "listed"


def test_the_sheet_as_paper_and_as_page(rows, book, as_owner):
    for code in ("strip", "retouch"):
        add_work(row=rows[0], code=code, who=book.owner)
    with clock.held(moment("2026-11-24T08:30")):
        as_owner.post(reverse("bench_sheet_print"))
        pdf = as_owner.get(reverse("bench_sheet_pdf"))
        page = as_owner.get(reverse("bench_sheet")).content.decode()
    assert pdf["Content-Type"] == "application/pdf" and pdf.content.startswith(b"%PDF")
    assert "Aschenbrand" not in page.split("<main")[1] and "strip down" in page
    strip = Work.objects.get(code="strip")
    with clock.held(moment("2026-11-24T18:30")):
        ticks = {f"done-{strip.pk}": "on", f"min-{strip.pk}": "15", f"end-{strip.pk}": "09:30"}
        answer = as_owner.post(reverse("bench_sheet"), ticks)
    assert answer.status_code == 200 and "written later" in answer.content.decode().lower()
    strip.refresh_from_db()
    assert strip.state == "done" and strip.later


def test_the_hand_over_page_and_its_papers(finished, as_owner):
    page = as_owner.get(reverse("hand_over", args=[finished.visit.pk])).content.decode()
    assert "Did the A stay?" in page and 'min="' in page
    note = as_owner.get(reverse("hand_over_note", args=[finished.visit.pk]))
    assert note.content.startswith(b"%PDF") and "Aschenbrand" not in note["Content-Disposition"]


def test_own_minutes_stand_after_five_and_the_catalogues_before(rows, book):
    from purfling.shop.queries.catalogue import shop_catalogue
    from purfling.shop.queries.work_log import log_page, planned

    default = shop_catalogue()["pegs"].minutes("violin")
    for n in range(5):
        figures = planned(shop_catalogue()["pegs"], "violin")
        assert (figures.minutes, figures.hands.too_few) == (default, True)
        work = add_work(row=rows[0], code="pegs", who=book.owner)
        with clock.held(TODAY + timedelta(hours=2 * n)):
            start_work(work=work, who=book.owner)
        with clock.held(TODAY + timedelta(hours=2 * n, minutes=80)):
            finish_work(work=work, who=book.owner)
    figures = planned(shop_catalogue()["pegs"], "violin")
    assert (figures.hands.n, figures.hands.median, figures.minutes) == (5, 80.0, round((default + 80) / 2))
    line = next(x for x in log_page() if x.offered.code == "pegs" and x.kind == "hands")
    assert (line.figures.n, line.used) == (5, figures.minutes)
    assert add_work(row=rows[0], code="pegs", who=book.owner).minutes == figures.minutes


def test_waits_are_logged_by_recipe_and_season(rows, book):
    from purfling.shop.queries.work_log import log_page

    for recipe, hours, at in (("spirit, thin", 20, TODAY), ("oil", 30, moment("2026-06-10T10:00"))):
        work = add_work(row=rows[0], code="retouch", who=book.owner)
        with clock.held(at):
            start_work(work=work, who=book.owner)
            finish_work(work=work, who=book.owner, recipe=recipe)
        with clock.held(at + timedelta(hours=hours)):
            look_at_work(work=work, who=book.owner, dry=True)
    lines = {(x.recipe, x.season, x.figures.n) for x in log_page() if x.kind == "wait"}
    assert {("", "", 2), ("spirit, thin", "autumn", 1), ("oil", "summer", 1)} <= lines
