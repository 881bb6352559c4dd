"""The history of an object: the string height of two years ago, with all that makes it worth something."""

import re

from django.urls import reverse
from shop.conftest import moment

from purfling.shop.domain import clock
from purfling.shop.domain.card import begin_card, take_reading
from purfling.shop.domain.visit import book_visit, close_visit, receive_visit


def years_of_cards(book):
    """Three visits with a card as found, a year apart; the first by wedge."""
    close_visit(visit=book.visit, who=book.owner)
    for year, direction, text in ((2023, "wedge", "5.2"), (2024, "upright", "5.6"), (2025, "upright", "5.5")):
        with clock.held(moment(f"{year}-06-01T10:00")):
            visit = book_visit(player=book.player, objects=[book.violin], who=book.owner)
            row = receive_visit(visit=visit, who=book.owner).rows.select_related("object").get()
            card = begin_card(
                row=row,
                moment="found",
                kind="usual",
                who=book.owner,
                datums={"end.direction": direction},
                strings_name="set with a gut core",
            )
            take_reading(card=card, key="end.clearance_mm", text=text, who=book.owner)
            take_reading(card=card, key="state.humidity_percent", text="47", who=book.owner)
            if year < 2025:
                close_visit(visit=visit, who=book.owner)
    return row


def test_string_height_two_years_ago_in_two_touches_from_the_start_page(book, as_owner):
    row = years_of_cards(book)
    first = reverse("visit", args=[row.visit_id])
    assert f'href="{first}"' in as_owner.get("/").content.decode()
    second = reverse("history", args=[row.object_id])
    assert f'href="{second}"' in as_owner.get(first).content.decode()
    page = as_owner.get(second).content.decode()
    for shown in ("Jun 2023", "5.2", "by wedge", "47 %", "set with a gut core", "strung", "Ilse"):
        assert shown in page


def test_readings_of_another_direction_are_not_joined_by_a_line(book, as_owner):
    row = years_of_cards(book)
    page = as_owner.get(reverse("history", args=[row.object_id])).content.decode()
    lines = re.findall(r'<path class="line s0" d="([^"]+)"', page)
    assert sorted(line.count("L") for line in lines)[-1] == 1  # 2024 and 2025 are joined, 2023 stands alone
    assert sum(line.count("L") for line in lines) == 1


def test_the_band_of_a_reading_is_its_gauge_error(book, as_owner):
    row = years_of_cards(book)
    page = as_owner.get(reverse("history", args=[row.object_id])).content.decode()
    bars = re.findall(r'<path class="error s0" d="M[\d.]+ ([\d.]+)V([\d.]+)"', page)
    ys = [float(y) for y in re.findall(r'<circle class="s0 found" cx="[\d.]+" cy="([\d.]+)"', page)]
    assert len(bars) == 3
    # 5.2 and 5.6 lie 0.4 apart, an error bar is 2 x 0.1 long
    scale = abs(ys[1] - ys[0]) / 0.4
    for low, high in bars:
        assert abs(abs(float(low) - float(high)) - 0.2 * scale) < 0.3


def test_the_history_page_asks_as_often_for_one_visit_as_for_many(
    book, as_owner, django_assert_max_num_queries
):
    row = years_of_cards(book)
    with django_assert_max_num_queries(12):
        as_owner.get(reverse("history", args=[row.object_id]))
