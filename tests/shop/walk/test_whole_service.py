"""A whole service of a violin and its bow, from arrival to hand-over, as a maker's hand goes through it."""

from datetime import timedelta

import pytest
from django.urls import reverse

from purfling.craft.operations import usual_service
from purfling.shop.asked import AT_PITCH
from purfling.shop.domain import clock
from purfling.shop.domain.card import begin_card, let_tension_off, missing_at_pitch, take_reading
from purfling.shop.domain.object import change_object
from purfling.shop.domain.sheet import print_sheet
from purfling.shop.domain.visit import change_visit
from purfling.shop.domain.work import add_usual
from purfling.shop.models import Card, HandOver, LoosePart, Stretch, VisitObject, Work

from ..conftest import moment

pytestmark = [pytest.mark.browser]
S = Work.State
VALUES = {
    "post.behind_mm": "3",
    "bridge.lean_deg": "0",
    "neck.string_length_mm": "328",
    "neck.projection_mm": "27",
    "end.clearance_mm": "5",
}


def start_of_day():
    """A Monday at nine."""
    return moment("2026-11-23T09:00")


@pytest.fixture
def service(book):
    """A violin and its bow, arrived with three things in the case and a question owed."""
    clock.hold(start_of_day())
    change_visit(
        visit=book.visit,
        who=book.owner,
        contents=["two bows", "rosin", "mute"],
        question="Did the A stay?",
        promise_at=moment("2026-11-27T17:00"),
    )
    violin, bow = sorted(book.rows, key=lambda r: r.object.is_bow)
    book.violin_row, book.bow_row = (VisitObject.objects.get(pk=r.pk) for r in (violin, bow))
    return book


def read_card(row, who):
    """What must be read at pitch, taken by the verb (the pad has its own proof)."""
    card = begin_card(row=row, moment="found", kind="full", who=who)
    for asked in missing_at_pitch(row):
        take_reading(card=card, key=asked.key, place=asked.place, text=VALUES[asked.key], who=who)
    assert set(VALUES) == set(AT_PITCH)


def pass_minutes(minutes: float) -> None:
    """The hands work, or something dries."""
    clock.hold(clock.now() + timedelta(minutes=minutes))


def show_stops(tablet, work, assistant: bool) -> None:
    """Every stop point shown; an assistant writes what the owner said."""
    for _ in range(5):
        form = tablet.page.locator("form.stopform").first
        if not form.count():
            return
        if assistant:
            form.get_by_role("textbox").fill("seen, go on")
        tablet.do(form.get_by_role("button"))


def one_operation(tablet, work, assistant: bool, leave: str = "") -> None:
    """Start, tray, stop points, finish: everything by its page."""
    tablet.go(reverse("operation", args=[work.pk]))
    tablet.do(tablet.page.get_by_role("button", name="Start"), "s")
    work.refresh_from_db()
    assert work.state == S.HAND, work.code
    pass_minutes(work.minutes)
    for key in ("t", "b"):
        tablet.go(reverse("operation", args=[work.pk]))
        touch = tablet.page.locator(f'button[data-key="{key}"]')
        if touch.count() and work.code != leave:
            tablet.do(touch, key)
    tablet.go(reverse("operation", args=[work.pk]))
    if assistant:
        show_stops(tablet, work, assistant)
    tablet.do(tablet.page.get_by_role("button", name="Finish"), "f")
    work.refresh_from_db()
    assert work.state in (S.WAITING, S.DONE), work.code


def next_by_the_page(tablet, maker):
    """What the start page says is next: due to be looked at, or to be begun."""
    tablet.go("/")
    line = tablet.page.locator(".work-now .nowline")
    if not line.count():
        return None
    return Work.objects.get(pk=line.get_attribute("href").rsplit("/", 1)[1])


def walk(tablet, service, maker, assistant: bool, leave: str = "") -> int:
    """Follow the page until nothing is left; returns how many times something had to be waited for."""
    waits = 0
    for _ in range(80):
        work = next_by_the_page(tablet, maker)
        if work is None or work.state in (S.DONE, S.STRUCK):
            left = Work.objects.filter(state=S.WAITING).order_by("look_at").first()
            if left is None:
                return waits
            clock.hold(max(clock.now(), left.look_at))
            continue
        if work.state == S.WAITING:
            waits += 1
            if waits == 2:
                tablet.do(tablet.page.locator(".work-now form.again button"))
                work.refresh_from_db()
                assert work.state == S.WAITING and work.look_at == clock.now() + timedelta(hours=3)
                continue
            tablet.do(tablet.page.locator(".work-now").get_by_role("button", name="Looked"), "d")
            work.refresh_from_db()
            assert work.state == S.DONE
            continue
        if work.code == "board":
            tablet.picture(f"bench-{'assistant' if assistant else 'owner'}")
        one_operation(tablet, work, assistant, leave)
    raise AssertionError("the service does not end")


def give_out(tablet, service) -> None:
    """The hand-over's page filled in and sent."""
    page = tablet.page
    tablet.go(reverse("hand_over", args=[service.visit.pk]))
    for row in service.visit.rows.all():
        page.locator(f'[name="tag-{row.pk}"]').fill(row.tag)
        box = page.locator(f'[name="no-card-{row.pk}"]')
        if box.count():
            box.fill("read at the second look")
    for n in range(3):
        page.locator(f'[name="there-{n}"]').check()
    page.locator('[name="asked"]').check()
    page.locator('[name="player_words"]').fill("freer than before")
    page.locator('[name="collector"]').fill("Merle")
    tablet.do(page.get_by_role("button", name="Hand over"))


@pytest.mark.full
@pytest.mark.parametrize("tablet", ["touch", "keyboard"], indirect=True)
@pytest.mark.parametrize("who", ["owner", "assistant"])
def test_a_whole_service_of_a_violin_and_its_bow(tablet, service, who):
    maker = getattr(service, who)
    tablet.enter(maker)
    for row in (service.violin_row, service.bow_row):
        tablet.go(reverse("work_list", args=[row.pk]))
        tablet.do(tablet.page.get_by_role("button", name="Usual service"), "u")
    wished = [usual_service(kind, "violin", "working")[0] for kind in ("instrument", "bow")]
    assert sorted(Work.objects.values_list("code", flat=True)) == sorted(wished[0] + wished[1])
    read_card(service.violin_row, maker)
    waits = walk(tablet, service, maker, who == "assistant", leave="chinrest")
    assert waits >= 8
    works = list(Work.objects.all())
    assert {w.state for w in works} == {S.DONE}
    assert all(w.spent_s == w.minutes * 60 for w in works)
    assert Stretch.objects.count() == len(works)
    # The chinrest was left in the tray: the hand-over is stopped and says so.
    give_out(tablet, service)
    assert "chinrest" in tablet.page.locator(".reason").inner_text()
    tablet.picture(f"stopped-tray-{who}-{tablet.hand}")
    assert not HandOver.objects.exists()
    part = LoosePart.objects.get(went="tray")
    tablet.go(reverse("tray", args=[service.violin_row.pk]))
    tablet.do(tablet.page.get_by_role("button", name="Back on"))
    part.refresh_from_db()
    assert part.went == "back"
    give_out(tablet, service)
    out = HandOver.objects.get()
    assert out.player_words == "freer than before" and out.second_look_at is not None
    service.visit.refresh_from_db()
    assert service.visit.closed_at == clock.now()
    tablet.picture(f"handed-over-{who}-{tablet.hand}")
    assert Card.objects.filter(visit_object=service.violin_row, moment="found").exists()


@pytest.mark.parametrize("tablet", ["touch", "keyboard"], indirect=True)
def test_an_assistant_meets_the_reason_and_the_owner_a_word(tablet, service):
    tablet.enter(service.assistant)
    tablet.go(reverse("work_list", args=[service.bow_row.pk]))
    tablet.do(tablet.page.get_by_role("button", name="Usual service"), "u")
    leather = Work.objects.get(code="bow_leather")
    tablet.go(reverse("operation", args=[leather.pk]))
    tablet.do(tablet.page.locator(".bigtouches").get_by_role("button", name="Start"), "s")
    text = tablet.page.locator("main").inner_text()
    assert "underlay" in text and "Ilse" in text and not tablet.page.locator("#word").count()
    tablet.picture("stopped-assistant")
    tablet.do(tablet.page.get_by_role("link", name="Back", exact=True))
    assert Work.objects.get(pk=leather.pk).state == S.LISTED
    tablet.enter(service.owner)
    tablet.go(reverse("operation", args=[leather.pk]))
    tablet.do(tablet.page.locator(".bigtouches").get_by_role("button", name="Start"), "s")
    tablet.page.locator("#word").fill("the old underlay holds")
    tablet.picture("stopped-owner")
    tablet.do(tablet.page.get_by_role("button", name="Overrule"))
    leather.refresh_from_db()
    assert (leather.state, leather.overruled) == (S.HAND, "the old underlay holds")


def test_polish_on_a_conserve_instrument_is_stopped_on_its_page(tablet, service):
    change_object(thing=service.violin_row.object, who=service.owner, treat_as="conserve")
    tablet.enter(service.assistant)
    tablet.go(reverse("work_list", args=[service.violin_row.pk]))
    tablet.do(tablet.page.get_by_role("button", name="polish"))
    assert "conserve" in tablet.page.locator(".reason").inner_text()
    assert not Work.objects.exists()


def test_the_sheet_of_a_day_comes_back_with_one_touch_a_line(tablet, service):
    """Under five minutes: a touch a line that went as planned, a choice a look, one to write."""
    add_usual(row=service.violin_row, who=service.owner)
    let_tension_off(row=service.violin_row, who=service.owner, word="came slack")
    clock.hold(moment("2026-11-23T09:00"))
    sheet = print_sheet(who=service.owner)
    clock.hold(moment("2026-11-23T19:00"))
    tablet.enter(service.owner)
    tablet.go(reverse("bench_sheet"))
    page, touches = tablet.page, 0
    hands = [line for line in sheet.lines if line["kind"] == "hands"]
    assert len(hands) >= 6
    for line in hands:
        page.locator(f'[name="done-{line["work"]}"]').tap()
        touches += 1
        look = page.locator(f'[name="look-{line["work"]}"]')
        if look.count():
            look.select_option("dry")
            touches += 2
    page.locator(f'[data-for="min-{hands[0]["work"]}"][data-step="5"]').tap()
    touches += 2
    tablet.picture("sheet-coming-back")
    tablet.do(page.get_by_role("button", name="Write it down"))
    works = list(Work.objects.filter(pk__in=[line["work"] for line in hands]))
    assert {(w.state, w.later) for w in works} == {(S.DONE, True)}
    first = next(w for w in works if str(w.pk) == hands[0]["work"])
    assert first.spent_s == (first.minutes + 5) * 60
    # At a slow 4 seconds a touch the whole day is written in under five minutes.
    assert touches * 4 < 300
    assert touches <= 3 * len(sheet.lines) + 3
