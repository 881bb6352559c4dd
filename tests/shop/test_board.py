"""The board of a visit: touched, planned as the command line plans it, compared after planing, kept."""

import json
import re

import pytest
from django.urls import reverse

from purfling.craft.refusals import Refusal
from purfling.reckonings.dressing.compute import compute
from purfling.shop.domain import keeping
from purfling.shop.domain.board import set_board
from purfling.shop.models import BoardReading, Change, Reckoning, VisitObject
from purfling.shop.queries.board import board_of, board_slip, places_of, reckoned_board
from purfling.slips.reader import check_slip
from tests.shop.board_book import EXAMPLE, gap, with_board


def row_of(book):
    """The row as the views fetch it."""
    return (
        VisitObject.objects.select_related("object")
        .prefetch_related("cards__readings")
        .get(pk=book.rows[0].pk)
    )


def slip_of_book(book):
    row = row_of(book)
    return board_slip(row, board_of(row))


@pytest.fixture(scope="module")
def expected():
    """What the command line says of the example, with the book's own gauge and tables."""
    plain = {k: v for k, v in EXAMPLE.items() if k not in ("slip", "weights", "gauge", "nut", "bridge")}
    plain["board"] = {"length_mm": 270.0}
    plain["wish"] = {k: v for k, v in EXAMPLE["wish"].items() if k != "leave_mm"}
    return compute(check_slip(plain)).answer.results


def test_the_book_plans_what_the_command_line_plans(book, expected):
    with_board(book)
    results = reckoned_board(slip_of_book(book))[0].answer.results
    for key in ("objective_mm", "max_removal_mm", "nut_change_mm", "projection_change_mm"):
        assert results[key] == pytest.approx(expected[key], abs=1e-9), key
    assert results["bridge_change_mm"] == pytest.approx(expected["bridge_change_mm"], abs=1e-9)
    assert results["max_removal_mm"] > 0.05


def test_gaps_that_agree_with_the_plan_are_the_card_as_left_and_wood_that_stands_is_named(book):
    with_board(book)
    for station in (33, 67, 101, 135, 169, 203, 237):
        gap(book, "gap", station, 0.5, "low", "left")
    first = reckoned_board(slip_of_book(book))[0].answer.results["after"][0]
    for station, planned in zip(first["station_mm"], first["planned_gap_mm"], strict=True):
        gap(book, "gap", station, f"{planned:.4f}", "low", "left")
    case, tables = reckoned_board(slip_of_book(book))
    assert max(abs(h) for h in case.answer.results["after"][0]["still_high_mm"]) < 1e-3
    assert "dressing.as_planned" in [n.code for n in case.answer.warnings]
    assert tables["after"][0]["string"] == "low"
    # a gap less by 0.10 leaves 0.10 of wood at that place and nowhere else
    gap(book, "gap", 101, f"{first['planned_gap_mm'][2] - 0.10:.4f}", "low", "left")
    high = reckoned_board(slip_of_book(book))[0].answer.results["after"][0]["still_high_mm"]
    assert high[2] == pytest.approx(0.10, abs=1e-3)
    assert max(abs(h) for i, h in enumerate(high) if i != 2) < 1e-3


def test_after_planing_says_what_one_whole_reckoning_says(book):
    """The gaps after planing laid against a plan in memory, against everything reckoned at once."""
    with_board(book)
    for station, value in ((33, 0.3), (135, 0.75), (237, 0.2)):
        gap(book, "gap", station, value, "high", "left")
    case, tables = reckoned_board(slip_of_book(book))
    whole = compute(check_slip(tables)).answer
    assert case.answer.results["after"] == whole.results["after"]
    assert {n.code for n in case.answer.warnings} == {n.code for n in whole.warnings}


def test_a_figure_changed_or_struck_keeps_its_old_value_in_the_history(book):
    first = gap(book, "gap", 33, "0.45", "low")
    gap(book, "gap", 33, "0,50", "low")
    assert BoardReading.objects.get().value_mm == 0.5
    assert gap(book, "gap", 33, " ", "low") is None
    assert not BoardReading.objects.exists()
    lines = [(c.before.get("value_mm"), c.after.get("value_mm")) for c in keeping.history_of([first.pk])]
    assert lines == [(0.5, None), (0.45, 0.5), (None, 0.45)]


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"kind": "gap", "line": "middle", "text": "0.5"}, "board.no_such_place"),
        ({"kind": "hump", "line": "low", "text": "0.5"}, "board.no_such_place"),
        ({"kind": "across", "line": "low", "text": "42"}, "board.no_such_place"),
        ({"kind": "pit", "line": "low", "text": "0.5", "moment": "left"}, "board.no_such_place"),
        ({"kind": "gap", "line": "low", "text": "45"}, "board.out_of_range"),
        ({"kind": "gap", "line": "low", "text": "-0.1"}, "board.out_of_range"),
        ({"kind": "across", "line": "", "text": "4"}, "board.out_of_range"),
        ({"kind": "gap", "line": "low", "text": "much"}, "book.not_a_figure"),
    ],
)
def test_what_is_no_place_or_no_figure_is_refused_and_leaves_nothing(book, given, code):
    with pytest.raises(Refusal) as told:
        gap(book, given["kind"], 33, given["text"], given["line"], given.get("moment", "found"))
    assert told.value.code == code
    assert not BoardReading.objects.exists() and not Change.objects.filter(what="boardreading").exists()


def test_a_bow_has_no_board(book, as_owner):
    answer = as_owner.get(reverse("board", args=[book.rows[1].pk]))
    assert answer.status_code == 422 and "a bow has no board" in answer.content.decode()


def test_the_page_takes_up_where_it_was(book, as_owner):
    gap(book, "gap", 34, "0.45", "low")
    data = json.loads(
        re.search(
            r'id="board-data" type="application/json">(.*?)</script>',
            as_owner.get(reverse("board", args=[book.rows[0].pk])).content.decode(),
        ).group(1)
    )
    places = data["places"]
    assert [p["text"] for p in places].count("0.45") == 1
    assert [(p["line"], p["station"]) for p in places if p["text"]] == [("low", 34.0)]
    assert sum(p["kind"] == "gap" for p in places) == 21 and sum(p["kind"] == "across" for p in places) == 3


def test_places_stand_where_the_board_is_and_apart_by_a_finger(book):
    """Drawn from its own numbers: x in proportion to the station, lines at least 48 px apart."""
    from purfling.shop.board_sheet import TOUCH, board_picture

    with_board(book)
    slip = slip_of_book(book)
    places = places_of(slip, "found", "en")
    _, plan = board_picture(slip, places, "en")
    (x0, _), (x1, _), (x2, _) = (plan.at(s, 0.0) for s in (0.0, 135.0, 270.0))
    assert x1 - x0 == pytest.approx(x2 - x1)
    for station in (33.0, 237.0):
        rows = [plan.on_line(line, station)[1] for line in ("low", "centre", "high")]
        assert rows[1] - rows[0] >= TOUCH and rows[2] - rows[1] >= TOUCH
    # spacing at the end of the outer lines: the strings' spacing, 270/328 of the way from nut to bridge
    wide = (plan.on_line("high", 270.0)[1] - plan.on_line("low", 270.0)[1]) / plan.px / plan.stretch
    nut, bridge = (wide_of(slip, t) for t in ("nut", "bridge"))
    assert wide == pytest.approx(nut + (bridge - nut) * 270 / 328, abs=0.05)


def wide_of(slip, table):
    from purfling.reckonings.dressing.take import Taker, take_strings

    strings, _ = take_strings(Taker(check_slip(slip.tables)), 270.0, 328.0)
    places = strings.nut_mm if table == "nut" else strings.bridge_mm
    return float(places[-1] - places[0])


def test_the_plan_says_what_to_do_first_then_the_plan_then_what_blocks(book, as_owner):
    address = reverse("board_plan", args=[book.rows[0].pk])
    assert "Board length and string length first" in as_owner.get(address).content.decode()
    with_board(book)
    text = as_owner.get(address).content.decode()
    assert "<svg" in text and "Planing order" in text and "mask" in text
    set_board(row=book.rows[0], who=book.owner, figures={"edge.least_mm": "5.4"}, asked={})
    text = as_owner.get(address).content.decode()
    assert "what it must become" in text and "<svg" not in text and "5.400" in text and "mask" in text
    set_board(row=book.rows[0], who=book.owner, figures={}, asked={"neck_straight": "no"})
    text = as_owner.get(address).content.decode()
    assert "goes to a repair first" in text and "<svg" not in text


def test_a_kept_plan_never_changes_by_itself_and_its_page_shows_it(book, as_owner):
    with_board(book)
    as_owner.post(reverse("board_keep", args=[book.rows[0].pk]), {"word": "before the scraper"})
    kept = Reckoning.objects.get(name="dressing")
    assert kept.inputs["line"][0]["gap_mm"] == EXAMPLE["line"][0]["gap_mm"]
    before = json.dumps(kept.answer, sort_keys=True)
    gap(book, "gap", 33, "0.9", "low")
    kept.refresh_from_db()
    assert json.dumps(kept.answer, sort_keys=True) == before
    text = as_owner.get(reverse("reckoning", args=[kept.pk])).content.decode()
    assert "before the scraper" in text and f"{kept.answer['results']['max_removal_mm']:.2f}" in text


def test_the_list_of_reckonings_leads_to_the_board(book, as_owner):
    address = reverse("opened", args=[book.rows[0].pk])
    board = reverse("board", args=[book.rows[0].pk])
    assert f'href="{board}"' in as_owner.get(address).content.decode()
    assert as_owner.get(address + "?name=dressing").url == board


def test_nothing_is_kept_where_there_is_no_plan(book, as_owner):
    answer = as_owner.post(reverse("board_keep", args=[book.rows[0].pk]))
    assert answer.status_code == 422 and not Reckoning.objects.exists()


def test_a_whole_card_brings_its_own_clearances_and_half_a_card_does_not(book):
    from tests.shop.test_setup_page import card_of_example

    card_of_example(book, only=("end.clearance_mm", "neck.string_length_mm", "board.length_mm"))
    slip = slip_of_book(book)
    assert not slip.card_is_whole and "end" not in slip.tables and slip.assumed == []


def test_a_whole_card_is_taken_whole(book):
    from tests.shop.test_setup_page import EXAMPLE as SETUP_EXAMPLE
    from tests.shop.test_setup_page import card_of_example

    card_of_example(book)
    slip = slip_of_book(book)
    assert slip.card_is_whole
    assert slip.tables["end"]["clearance_mm"] == SETUP_EXAMPLE["end"]["clearance_mm"]


def test_the_page_and_the_plan_ask_no_more_with_more_readings(book, as_owner, django_assert_num_queries):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    gap(book, "gap", 33, "0.45", "low")
    addresses = [reverse(name, args=[book.rows[0].pk]) for name in ("board", "board_plan")]
    counts = []
    for address in addresses:
        with CaptureQueriesContext(
            connection,
        ) as asked:
            as_owner.get(address)
        counts.append(len(asked))
    assert max(counts) <= 16
    with_board(book)
    for address, count in zip(addresses, counts, strict=True):
        with django_assert_num_queries(count):
            as_owner.get(address)


def test_the_boards_card_shows_found_planned_left(book, as_owner):
    with_board(book)
    gap(book, "gap", 33, "0.31", "low", "left")
    gap(book, "gap", 101, "0.62", "low", "left")
    gap(book, "gap", 237, "0.23", "low", "left")
    text = as_owner.get(reverse("board_card", args=[book.board.pk])).content.decode()
    row = re.search(r"<th class=\"figure\">33</th>(.*?)</tr>", text).group(1)
    cells = re.findall(r"<td[^>]*>([^<]*)</td>", row)
    found, planned, left, high = (float(c) for c in cells)
    assert (found, left) == (0.45, 0.31) and high == pytest.approx(planned - left, abs=0.011)
