"""The bench: order of work, waits that end when somebody looked, whose hands, two benches."""

import threading
from datetime import timedelta

import pytest
from django.db import connection

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock, keeping
from purfling.shop.domain.object import change_object
from purfling.shop.domain.work import (
    add_as_last_time,
    add_usual,
    add_work,
    answer_work,
    move_work,
    strike_work,
)
from purfling.shop.domain.work_bench import (
    finish_work,
    lay_down,
    look_at_work,
    pass_stop,
    reopen_work,
    start_work,
    write_later,
)
from purfling.shop.models import Change, ShopOperation, Stretch, VisitObject, Work

from .conftest import moment

NINE = moment("2026-11-23T09:00")


@pytest.fixture
def rows(book):
    """(violin's row, bow's row)."""
    those = sorted(book.rows, key=lambda r: r.object.is_bow)
    for row in those:
        keeping.change(row, who=book.owner, strings_off_word="of no matter here", strings_off_at=NINE)
    return VisitObject.objects.get(pk=those[0].pk), VisitObject.objects.get(pk=those[1].pk)


def refused(code, verb, /, **given):
    """The refusal with that code."""
    with pytest.raises(Refusal) as told:
        verb(**given)
    assert told.value.code == code
    return told.value


def done(row, code, who, minutes=10):
    """Put an operation on the list, do it, find it dry."""
    work = add_work(row=row, code=code, who=who)
    work, _ = start_work(work=work, who=who)
    work = finish_work(work=work, who=who)
    if work.state == "waiting":
        work, _ = look_at_work(work=work, who=who, dry=True)
    return work


def test_hands_are_counted_over_laying_down_and_taking_up(rows, book):
    work = add_work(row=rows[0], code="board", who=book.owner)
    with clock.held(NINE):
        start_work(work=work, who=book.owner)
    with clock.held(NINE + timedelta(minutes=40)):
        lay_down(work=work, who=book.owner)
    with clock.held(NINE + timedelta(hours=3)):
        start_work(work=work, who=book.owner)
    with clock.held(NINE + timedelta(hours=3, minutes=35)):
        finished = finish_work(work=work, who=book.owner)
    assert finished.spent_s == 75 * 60
    assert (finished.state, finished.started_at) == ("done", NINE)
    assert [s.end - s.begin for s in finished.stretches.all()] == [
        timedelta(minutes=40),
        timedelta(minutes=35),
    ]


def test_a_wait_begins_with_the_end_of_the_hands_and_ends_when_somebody_looked(rows, book):
    work = add_work(row=rows[0], code="retouch", who=book.owner)
    with clock.held(NINE):
        start_work(work=work, who=book.owner)
        work = finish_work(work=work, who=book.owner)
    assert (work.state, work.look_at - NINE) == ("waiting", timedelta(minutes=work.wait_minutes))
    assert VisitObject.objects.get(pk=rows[0].pk).whereabouts == "hanging"
    later = NINE + timedelta(hours=20)
    with clock.held(later):
        work, _ = look_at_work(work=work, who=book.assistant, dry=False, hours=3)
    assert (work.state, work.look_at) == ("waiting", later + timedelta(hours=3))
    with clock.held(later + timedelta(hours=3)):
        work, _ = look_at_work(work=work, who=book.assistant, dry=True)
    assert (work.state, work.looked_at - work.finished_at) == ("done", timedelta(hours=23))
    assert VisitObject.objects.get(pk=rows[0].pk).whereabouts == "rack"
    assert [look.dry for look in work.looks.all()] == [False, True]


@pytest.mark.parametrize(
    ("of", "first", "second", "code"),
    [
        (1, "bow_underlay", "bow_leather", "work.not_before"),
        (1, "bow_hair", "bow_rosin", "work.not_before"),
        (0, "retouch", "chinrest", "work.not_before"),
        (0, "nut_glued", "nut_lowered", "work.not_before"),
    ],
)
def test_before_its_predecessor_nothing_begins(rows, book, of, first, second, code):
    add_work(row=rows[of], code=first, who=book.owner)
    later = add_work(row=rows[of], code=second, who=book.owner)
    refused(code, start_work, work=later, who=book.owner)


@pytest.mark.parametrize(
    ("of", "first", "second"),
    [(1, "bow_underlay", "bow_leather"), (1, "bow_hair", "bow_rosin"), (0, "nut_glued", "nut_lowered")],
)
def test_hands_done_is_not_dry(rows, book, of, first, second):
    earlier = add_work(row=rows[of], code=first, who=book.owner)
    later = add_work(row=rows[of], code=second, who=book.owner)
    start_work(work=earlier, who=book.owner)
    finish_work(work=earlier, who=book.owner)
    refused("work.not_dry", start_work, work=later, who=book.owner)
    look_at_work(work=earlier, who=book.owner, dry=True)
    assert start_work(work=later, who=book.owner)[0].state == "hand"


def test_nothing_is_clamped_on_soft_varnish_even_where_the_order_does_not_name_it(rows, book):
    coat = add_work(row=rows[0], code="retouch", who=book.owner)
    pin = add_work(row=rows[0], code="bridge_feet", who=book.owner)
    start_work(work=coat, who=book.owner)
    finish_work(work=coat, who=book.owner)
    refused("work.soft_varnish", start_work, work=pin, who=book.owner)


def test_the_owner_overrules_with_a_word_and_an_assistant_cannot(rows, book):
    add_work(row=rows[1], code="bow_underlay", who=book.owner)
    leather = add_work(row=rows[1], code="bow_leather", who=book.owner)
    refused("work.not_before", start_work, work=leather, who=book.assistant)
    refused("work.owners_word", start_work, work=leather, who=book.assistant, word="in a hurry")
    begun, _ = start_work(work=leather, who=book.owner, word="no underlay under this leather")
    assert (begun.state, begun.overruled, begun.overruled_by) == (
        "hand",
        "no underlay under this leather",
        book.owner,
    )
    line = Change.objects.filter(record=leather.pk).order_by("-version").first()
    assert line.because == "no underlay under this leather" and line.who == book.owner


def test_the_class_stops_polish_and_the_owners_word_lifts_it(rows, book):
    change_object(thing=rows[0].object, who=book.owner, treat_as="conserve")
    row = VisitObject.objects.select_related("visit", "object").get(pk=rows[0].pk)
    for code in ("polish", "rubbing"):
        refused("work.breaks_class", add_work, row=row, code=code, who=book.owner)
        refused("work.owners_word", add_work, row=row, code=code, who=book.assistant, word="please")
    assert add_work(row=row, code="polish", who=book.owner, word="own varnish of 2019 only").overruled
    added, left_out = add_usual(row=row, who=book.assistant)
    assert "rubbing" not in [w.code for w in added] and len(left_out) == 1


def test_a_class_that_changed_meanwhile_stops_at_the_bench(rows, book):
    work = add_work(row=rows[0], code="polish", who=book.owner)
    change_object(thing=rows[0].object, who=book.owner, treat_as="conserve")
    refused("work.breaks_class", start_work, work=Work.objects.get(pk=work.pk), who=book.assistant)


def test_an_operation_for_another_kind_is_refused(rows, book):
    refused("work.not_for", add_work, row=rows[1], code="board", who=book.owner)
    refused("work.unknown", add_work, row=rows[0], code="gilding", who=book.owner)


def test_the_list_keeps_the_order_of_work_however_it_was_written(rows, book):
    for code in ("strings", "board", "polish", "strip", "nut_off"):
        add_work(row=rows[0], code=code, who=book.owner)
    assert [w.code for w in rows[0].work.order_by("place")] == [
        "strip",
        "nut_off",
        "board",
        "polish",
        "strings",
    ]


def test_moving_against_the_order_needs_the_owners_word(rows, book):
    add_work(row=rows[1], code="bow_underlay", who=book.owner)
    leather = add_work(row=rows[1], code="bow_leather", who=book.owner)
    refused("work.order", move_work, work=leather, earlier=True, who=book.owner)
    refused("work.owners_word", move_work, work=leather, earlier=True, who=book.assistant, word="so")
    move_work(work=leather, earlier=True, who=book.owner, word="thin leather, no underlay")
    assert [w.code for w in rows[1].work.order_by("place")] == ["bow_leather", "bow_underlay"]


def test_tension_comes_off_only_after_a_card_or_with_a_word(rows, book):
    keeping.change(rows[0], who=book.owner, strings_off_at=None, strings_off_word="")
    work = add_work(row=rows[0], code="strip", who=book.owner)
    refused("book.strings_held_back", start_work, work=work, who=book.assistant)
    start_work(work=work, who=book.assistant, word="came with the strings off")
    row = VisitObject.objects.get(pk=rows[0].pk)
    assert row.strings_off_at is not None and row.strings_off_word == "came with the strings off"


def test_what_is_found_while_working_needs_a_recorded_yes(rows, book):
    seam = add_work(row=rows[0], code="seam", who=book.assistant, found=True, note="lower bout, treble")
    assert seam.state == "asked"
    refused("work.needs_yes", start_work, work=seam, who=book.owner)
    refused("work.yes_from", answer_work, work=seam, yes=True, said=" ", who=book.owner)
    seam = answer_work(work=seam, yes=True, said="by telephone, Merle: go on", who=book.owner)
    assert seam.yes_at is not None
    assert start_work(work=seam, who=book.owner)[0].state == "hand"
    no = add_work(row=rows[0], code="bushing", who=book.assistant, found=True)
    assert answer_work(work=no, yes=False, said="not now", who=book.owner).state == "struck"


def test_an_assistant_shows_every_stop_point_before_it_is_finished(rows, book):
    work = add_work(row=rows[0], code="board", who=book.owner)
    start_work(work=work, who=book.assistant)
    refused("work.stop_point", finish_work, work=work, who=book.assistant)
    refused("work.word_missing", pass_stop, work=work, step=1, said="", who=book.assistant)
    pass_stop(work=work, step=1, said="straight, go on", who=book.assistant)
    assert refused("work.stop_point", finish_work, work=work, who=book.assistant).params["step"] == 3
    pass_stop(work=work, step=3, said="", who=book.owner)
    done = finish_work(work=work, who=book.assistant)
    assert done.state == "done" and done.stops["1"]["word"] == "straight, go on"


def test_what_is_kept_for_the_owners_hands(rows, book):
    keeping.add(
        ShopOperation(code="polish", owner_only=True, owner_only_word="mine until spring"), who=book.owner
    )
    work = add_work(row=rows[0], code="polish", who=book.assistant)
    told = refused("work.owners_hands", start_work, work=work, who=book.assistant)
    assert told.params["reason"] == "mine until spring"
    assert start_work(work=work, who=book.owner)[0].state == "hand"


def test_one_pair_of_hands_lays_the_other_work_down(rows, book):
    one = add_work(row=rows[0], code="board", who=book.owner)
    two = add_work(row=rows[1], code="bow_card", who=book.owner)
    start_work(work=one, who=book.owner)
    _, laid = start_work(work=two, who=book.owner)
    assert (laid.pk, laid.state) == (one.pk, "down")
    assert Stretch.objects.filter(work=one).count() == 1


def test_as_last_time(rows, book, owner):
    from purfling.shop.domain.visit import book_visit, close_visit, receive_visit

    refused("work.no_last_time", add_as_last_time, row=rows[1], who=owner)
    for code in ("bow_card", "bow_hair_out"):
        done(rows[1], code, owner)
    strike_work(work=add_work(row=rows[1], code="bow_lapping", who=owner), who=owner)
    close_visit(visit=book.visit, who=owner)
    again = receive_visit(visit=book_visit(player=book.player, objects=[book.bow], who=owner), who=owner)
    added, _ = add_as_last_time(row=again.rows.get(), who=owner)
    assert [w.code for w in added] == ["bow_card", "bow_hair_out"]


def test_a_later_look_says_whom_it_hits(rows, book):
    promise = moment("2026-11-24T12:00")
    from purfling.shop.domain.visit import change_visit

    change_visit(visit=book.visit, who=book.owner, promise_at=promise)
    coat = add_work(row=rows[0], code="retouch", who=book.owner)
    add_work(row=rows[0], code="polish", who=book.owner)
    with clock.held(NINE):
        start_work(work=coat, who=book.owner)
        finish_work(work=coat, who=book.owner)
    with clock.held(moment("2026-11-24T09:00")):
        _, hits = look_at_work(work=coat, who=book.owner, dry=False, hours=6)
    assert [h.visit.pk for h in hits] == [book.visit.pk]
    assert hits[0].breaks and hits[0].after > hits[0].before


def test_written_later_is_marked_and_never_lies_ahead(rows, book):
    work = add_work(row=rows[0], code="nut_glued", who=book.owner)
    with clock.held(moment("2026-11-23T19:00")):
        refused(
            "work.written_ahead",
            write_later,
            work=work,
            who=book.owner,
            minutes=5,
            ended_at=moment("2026-11-24T09:00"),
        )
        work = write_later(
            work=work, who=book.owner, minutes=7, ended_at=moment("2026-11-23T11:00"), dry=True
        )
    assert (work.later, work.state, work.spent_s) == (True, "done", 420)
    assert work.stretches.get().later and work.looks.get().later


@pytest.mark.django_db(transaction=True)
def test_two_benches_touch_the_same_operation_and_one_is_told(rows, book):
    """One wins, the other is told by whom and since when, nothing is lost: as often as it is tried."""
    for code in ("nut_off", "pegs", "cleaning", "board"):
        work = add_work(row=rows[0], code=code, who=book.owner)
        for other in rows[0].work.exclude(pk=work.pk):
            if other.is_open:
                keeping.change(other, who=book.owner, state="struck", since=None)
        told, gate = {}, threading.Barrier(2)

        def touch(who, work=work, told=told, gate=gate):
            try:
                gate.wait()
                start_work(work=work, who=who)
                told[who.name] = "won"
            except Refusal as refusal:
                told[who.name] = refusal
            finally:
                connection.close()

        hands = [threading.Thread(target=touch, args=(w,)) for w in (book.owner, book.assistant)]
        [h.start() for h in hands]
        [h.join() for h in hands]
        won = [n for n, t in told.items() if t == "won"]
        lost = [t for t in told.values() if t != "won"]
        assert len(won) == 1 and len(lost) == 1
        assert (lost[0].code, lost[0].params["who"]) == ("work.taken", won[0])
        work.refresh_from_db()
        assert work.hands.name == won[0]


def test_the_second_who_finishes_is_told_who_did_it(rows, book):
    work = add_work(row=rows[0], code="pegs", who=book.owner)
    start_work(work=work, who=book.owner)
    refused("work.taken", finish_work, work=work, who=book.assistant)
    finish_work(work=work, who=book.owner)
    told = refused("work.done_already", finish_work, work=work, who=book.assistant)
    assert told.params["who"] == "Ilse"


def test_a_finish_touched_by_mistake_is_taken_back_with_its_minutes(rows, book):
    work = add_work(row=rows[0], code="retouch", who=book.owner)
    refused("work.not_started", reopen_work, work=work, who=book.owner)
    with clock.held(NINE):
        start_work(work=work, who=book.owner)
    with clock.held(NINE + timedelta(minutes=4)):
        finish_work(work=work, who=book.owner)
        again = reopen_work(work=work, who=book.owner)
        assert (again.state, again.spent_s, again.finished_at, again.look_at) == ("down", 240, None, None)
        start_work(work=work, who=book.owner)
    with clock.held(NINE + timedelta(minutes=20)):
        assert finish_work(work=work, who=book.owner).spent_s == 1200
