"""The room: typed, from a logger's file, its wood moisture, its bands; the season beside a card."""

from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st
from shop.conftest import moment

from purfling.craft.refusals import Refusal
from purfling.shop.domain import clock
from purfling.shop.domain.card import begin_card, take_reading
from purfling.shop.domain.room import read_room, rows_of_file, set_bands, take_file, the_bands
from purfling.shop.models import Change, RoomReading
from purfling.shop.queries.room import days, moisture, outside, room_now

COMMA = "Time,Temperature (°C),Humidity (%RH)\n2026-01-05 08:00:00,20.5,41.2\n2026-01-05 09:00:00,20.9,40.8\n"
GERMAN = (
    "﻿Datum;Uhrzeit;Temperatur °C;rel. Feuchte %\n05.01.2026;08:00;20,5;41,2\n05.01.2026;09:00;20,9;40,8\n"
)
TABS = "humidity\ttimestamp\n41.2\t2026-01-05T08:00\n"


def test_a_logger_speaks_english_or_german_and_says_the_same():
    assert rows_of_file(COMMA) == rows_of_file(GERMAN)
    assert rows_of_file(COMMA)[0] == {
        "at": moment("2026-01-05 08:00"),
        "humidity_percent": 41.2,
        "temperature_c": 20.5,
    }
    assert rows_of_file(TABS)[0]["temperature_c"] is None


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "varnish.room_header"),
        ("a,b\n1,2\n", "varnish.room_header"),
        ("time,humidity\nyesterday,40\n", "varnish.room_time"),
        ("time,humidity\n2026-01-05 08:00,damp\n", "varnish.room_number"),
        ("time,humidity\n2026-01-05 08:00,nan\n", "varnish.room_number"),
        ("time,humidity\n2026-01-05 08:00,\n", "varnish.room_empty"),
        ("time,humidity\n" + "2026-01-05 08:00,40\n" * 6001, "varnish.room_many"),
    ],
)
def test_a_bad_file_is_refused_with_its_line(text, code):
    with pytest.raises(Refusal) as refused:
        rows_of_file(text)
    assert refused.value.code == code


@given(st.text(max_size=300))
def test_any_text_is_read_or_refused_and_never_more(text):
    try:
        rows = rows_of_file(text)
    except Refusal:
        return
    assert all(r["humidity_percent"] is not None or r["temperature_c"] is not None for r in rows)


def test_a_file_is_taken_whole_or_not_at_all_and_twice_is_once(owner):
    assert take_file(text=COMMA, who=owner) == (2, 0)
    assert take_file(text=COMMA, who=owner) == (0, 2)
    with pytest.raises(Refusal):
        take_file(text=COMMA.replace("09:00", "10:00").replace("40.8", "140.8"), who=owner)
    assert RoomReading.objects.count() == 2
    assert Change.objects.filter(what="roomreading").count() == 2


def test_a_reading_that_cannot_be_is_refused(owner):
    for wrong in (
        {},
        {"humidity_percent": 101},
        {"temperature_c": 99},
        {"humidity_percent": 40, "at": moment("2099-01-01")},
    ):
        with pytest.raises(Refusal):
            read_room(who=owner, **wrong)


@pytest.mark.parametrize(("humidity", "printed"), [(30, 6.2), (50, 9.2), (65, 12.0), (80, 16.0), (95, 23.9)])
def test_wood_moisture_is_the_wood_handbooks(humidity, printed):
    """USDA Wood Handbook FPL-GTR-190, table 4-2, row of 70 F (21.1 C): printed to 0.1 %."""
    assert moisture(humidity, 21.11) == pytest.approx(printed, abs=0.06)


def test_wood_moisture_is_not_told_where_the_formula_does_not_hold():
    assert moisture(99, 20) is None and moisture(None, 20) is None and moisture(50, None) is None


def test_bands_are_the_shops_own_and_warn_outside(owner, assistant):
    row = read_room(who=owner, humidity_percent=35.0, temperature_c=21.0)
    assert outside(row, the_bands()) == []
    bands = set_bands(bands=the_bands(), who=owner, humidity_low=40.0, humidity_high=60.0)
    assert outside(row, bands) == [("humidity", "low", 35.0, 40.0)]
    with pytest.raises(Refusal):
        set_bands(bands=bands, who=owner, humidity_low=60.0, humidity_high=40.0)
    with pytest.raises(Refusal):
        set_bands(bands=bands, who=assistant, humidity_low=1.0)


def test_only_a_fresh_reading_is_put_into_a_form(owner):
    assert room_now() == {}
    with clock.held(moment("2026-01-05 08:00")):
        read_room(who=owner, humidity_percent=41.0)
        assert room_now()["humidity_percent"] == 41.0
    with clock.held(moment("2026-01-05 12:00")):
        assert room_now() == {}


def test_a_day_is_the_mean_of_its_readings(owner):
    take_file(text=COMMA, who=owner)
    (day,) = days(moment("2026-01-01"))
    assert (day.humidity, day.temperature) == (pytest.approx(41.0), pytest.approx(20.7))
    assert day.moisture == pytest.approx(moisture(41.0, 20.7))


def test_the_page_takes_a_reading_a_file_and_bands(as_owner, owner):
    as_owner.post(
        reverse("room"), {"humidity_percent": "38,5", "temperature_c": "21"}, HTTP_ACCEPT_LANGUAGE="de"
    )
    upload = SimpleUploadedFile("log.csv", GERMAN.encode(), "text/csv")
    text = as_owner.post(reverse("room_file"), {"file": upload}, follow=True).content.decode()
    assert "2 new readings" in text
    as_owner.post(reverse("room_bands"), {"humidity_low": "40", "humidity_high": "60"})
    page = as_owner.get(reverse("room")).content.decode()
    assert RoomReading.objects.count() == 3
    assert "is below the shop&#x27;s band" in page or "is below the shop's band" in page
    assert "room-chart" in page
    bad = SimpleUploadedFile("log.csv", b"\xff\xfe\x00", "text/csv")
    assert as_owner.post(reverse("room_file"), {"file": bad}).status_code == 422


def test_the_season_beside_action_and_projection(book, as_assistant, owner):
    start = moment("2026-01-05 08:00")
    for n in range(20):
        with clock.held(start + timedelta(days=n)):
            read_room(who=owner, humidity_percent=40.0 + n, temperature_c=20.0)
    with clock.held(start + timedelta(days=3)):
        row = next(r for r in book.rows if r.object_id == book.violin.pk)
        card = begin_card(row=row, moment="found", kind="usual", who=owner)
        take_reading(card=card, key="neck.projection_mm", place=0, text="27.25", who=owner)
        for place, text in ((0, "5.5"), (3, "3.5")):
            take_reading(card=card, key="end.clearance_mm", place=place, text=text, who=owner)
    text = as_assistant.get(reverse("season", args=[book.violin.pk])).content.decode()
    for word in (
        "Humidity, %",
        "Equilibrium moisture of wood, %",
        "Projection, mm",
        "lowest string",
        "27.25",
        "3.50",
    ):
        assert word in text
    bare = as_assistant.get(reverse("season", args=[book.bow.pk])).content.decode()
    assert "No card of this object" in bare
