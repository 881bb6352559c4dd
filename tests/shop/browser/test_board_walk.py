"""The board at the bench in a real browser: a whole board by touch, and by keyboard alone."""

import re

import pytest
from django.urls import reverse

from purfling.shop.domain.board import set_board
from purfling.shop.models import BoardReading, Reckoning
from purfling.shop.queries.board import reckoned_board
from tests.shop.board_book import EXAMPLE, figures_of_example, gap, with_board

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
LINES = {row["string"]: row for row in EXAMPLE["line"]}
PLAN = "#plan .removal svg"


def stored(moment="found"):
    """What the book holds of a moment."""
    rows = BoardReading.objects.filter(moment=moment)
    return {(r.kind, r.line, r.station_mm): r.value_mm for r in rows}


def wait_for(page, count, moment="found"):
    """Until so many figures are stored."""
    for _ in range(80):
        if BoardReading.objects.filter(moment=moment).count() >= count:
            return
        page.wait_for_timeout(50)


def begin(book):
    """Lengths, edges, wishes and what was looked at."""
    asked = dict.fromkeys(EXAMPLE["asked"], "yes") | {"blackened": "no"}
    set_board(row=book.rows[0], who=book.owner, figures=figures_of_example(), asked=asked)


def place(page, kind, line, station):
    """The number of a place on the page."""
    return page.evaluate(
        """([kind, line, station]) => JSON.parse(document.getElementById("board-data").textContent).places
        .findIndex((p) => p.kind === kind && p.line === line && Math.abs(p.station - station) < 2)""",
        [kind, line, station],
    )


def test_a_board_by_touch_planned_planed_and_left(book, tablet, come_in, picture):
    page = tablet
    begin(book)
    come_in(book.owner)
    page.goto(page.base + reverse("visit", args=[book.visit.pk]))
    page.tap("text=Board >> nth=0")
    page.wait_for_selector("#board .place.chosen")
    # every place is a target of 48 px and lies within the tablet
    boxes = [b.bounding_box() for b in page.locator("#board .place rect").all()]
    assert len(boxes) == 24
    assert min(min(b["width"], b["height"]) for b in boxes) >= 47.9
    assert all(b["x"] >= 0 and b["x"] + b["width"] <= 1024 for b in boxes)
    picture("board-empty")
    for line, row in LINES.items():
        for station, value in zip(row["station_mm"], row["gap_mm"], strict=True):
            page.tap(f"#board [data-place='{place(page, 'gap', line, station)}'] rect")
            for digit in f"{round(value * 100)}":
                page.tap(f".digits [data-digit='{digit}']")
            if line == "low" and station == 33:
                assert page.locator("#said").inner_text() == "= 0.45 mm"
    for one in EXAMPLE["across"]:
        page.tap(f"#board [data-place='{place(page, 'across', '', one['station_mm'])}'] rect")
        for digit in "42":
            page.tap(f".digits [data-digit='{digit}']")
    page.tap("#back")
    wait_for(page, 24)
    values = stored()
    assert len(values) == 24
    assert sorted(v for (k, _, _), v in values.items() if k == "gap") == sorted(
        v for row in EXAMPLE["line"] for v in row["gap_mm"]
    )
    page.wait_for_selector(PLAN, timeout=20000)
    # a groove is touched on the line itself, between two places of the straight edge
    first, second = (page.locator(f"#board [data-place='{n}'] rect").bounding_box() for n in (1, 2))
    x = (first["x"] + first["width"] + second["x"]) / 2
    page.touchscreen.tap(x, (first["y"] + second["y"]) / 2 + 24)
    for digit in "95":
        page.tap(f".digits [data-digit='{digit}']")
    page.tap("[data-nudge='1']")
    page.tap("#back")
    wait_for(page, 25)
    ((_, line, station),) = [k for k in stored() if k[0] == "pit"]
    assert line == "low" and 70 < station < 100
    page.wait_for_timeout(1500)
    picture("board-planned")
    page.fill("#word", "first look")
    with page.expect_navigation():
        page.tap("text=Keep with the visit")
    assert Reckoning.objects.get(name="dressing").word == "first look"
    # after planing: what stands too high is named at its place
    page.tap("text=After planing")
    page.wait_for_selector(".moments strong >> text=After planing")
    after = ("0.30", "0.55", "0.70", "0.75", "0.70", "0.55", "0.30")
    for text in after:
        for digit in text.replace("0.", ""):
            page.tap(f".digits [data-digit='{digit}']")
        page.tap("#next")
    wait_for(page, 7, "left")
    for _ in range(200):
        if len([t for t in page.locator("#board .still").all_text_contents() if t]) == 7:
            break
        page.wait_for_timeout(50)
    assert set(stored("left")) == {k for k in stored() if k[:2] == ("gap", "low")}
    said = [t for t in page.locator("#board .still").all_text_contents() if t]
    assert len(said) == 7 and all(re.match(r"[▲▼] \d|✓", t) for t in said)
    picture("board-after")
    page.tap("text=The board's card")
    page.wait_for_selector("table.board-card")
    picture("board-card")


def test_a_board_by_keyboard_alone_and_taken_up_again(book, tablet, come_in, picture):
    page = tablet
    begin(book)
    come_in(book.assistant)
    page.goto(page.base + reverse("board", args=[book.rows[0].pk]))
    page.wait_for_selector("#board .place.chosen")
    keys = page.keyboard
    for value in LINES["low"]["gap_mm"]:
        keys.type(f"{value:.2f}")
        keys.press("Enter")
    keys.press("+")
    keys.press("+")
    keys.press("Enter")
    wait_for(page, 8)
    assert stored()["gap", "centre", 34.0] == 0.1
    # taken up again where it was left
    page.reload()
    page.wait_for_selector("#board .place.chosen")
    assert page.locator("#words").inner_text() == "centre line, gap at 68 mm"
    keys.type("12")
    keys.press("Enter")
    keys.press("g")
    assert page.locator("#words").inner_text().startswith("groove, centre line")
    keys.press(">")
    keys.type("30")
    keys.press("Enter")
    wait_for(page, 10)
    pits = {k: v for k, v in stored().items() if k[0] == "pit"}
    assert list(pits.values()) == [0.3]
    # what is no gap comes back with a sentence
    keys.type("99.5")
    keys.press("ArrowUp")
    page.wait_for_selector("#notes:not(:empty)")
    assert "lies outside" in page.locator("#notes").inner_text()
    # the picture itself by arrows: from the centre line down to the highest string
    words = page.locator("#words").inner_text()
    assert words == "centre line, gap at 101 mm"
    page.fill("#figure", "")
    page.focus("#board .place.chosen")
    keys.press("ArrowDown")
    assert page.locator("#words").inner_text() == "highest string, gap at 101 mm"
    picture("board-keyboard", full=False)
    page.wait_for_timeout(1500)


def test_the_plan_answers_within_a_blink_after_a_gap_left(book, tablet, come_in, picture):
    """The plan is in memory; what the gaps after planing say needs no new search."""
    page = tablet
    with_board(book)
    from purfling.shop.models import VisitObject
    from purfling.shop.queries.board import board_of, board_slip

    row = VisitObject.objects.select_related("object").get(pk=book.rows[0].pk)
    reckoned_board(board_slip(row, board_of(row)))
    for station in (33, 101):
        gap(book, "gap", station, "0.4", "low", "left")
    come_in(book.owner)
    page.context.add_cookies([{"name": "purfling_language", "value": "de", "url": page.base}])
    page.goto(page.base + reverse("board", args=[book.rows[0].pk]) + "?moment=left")
    page.wait_for_selector(PLAN, timeout=20000)
    page.tap(f"#board [data-place='{place(page, 'gap', 'low', 237)}'] rect")
    page.keyboard.type("20")
    page.keyboard.press("Enter")
    page.wait_for_selector("#board .still:not(:empty)", timeout=20000)
    assert "Nach dem Hobeln" in page.content()
    picture("board-left-de")
    # a wish that cannot be had: what blocks, and what it must become
    page.tap(".wished-board summary")
    page.fill("[name='edge.least_mm']", "5,4")
    page.locator("[name='edge.least_mm']").blur()
    page.wait_for_selector("#plan table td.wished", timeout=20000)
    assert "5,400" in page.locator("#plan").inner_text()
    picture("board-blocked-de")
