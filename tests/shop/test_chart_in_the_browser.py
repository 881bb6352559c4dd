"""The chart by touch and keys in a real browser: 25 marks with photographs, three new ones a year later."""

import hashlib
import json

import pytest
from django.urls import reverse

from purfling.shop.domain import clock
from purfling.shop.domain.photograph_store import original_path
from purfling.shop.domain.survey import begin_survey, freeze_survey
from purfling.shop.domain.visit import book_visit, close_visit, receive_visit
from purfling.shop.models import Photograph, Survey
from purfling.shop.queries.survey import sheet_of
from tests.shop.conftest import PHRASE, moment
from tests.shop.mark_help import jpeg, texture, violin_row

pytestmark = [pytest.mark.full, pytest.mark.browser, pytest.mark.django_db(transaction=True)]
KINDS = ("bump", "chip", "scratch", "crack", "wear", "varnish_loss", "retouch")
VIEWS = ("front", "back", "bass_ribs", "scroll_treble", "neck_board")


@pytest.fixture(scope="session")
def browser_type_launch_args():
    """The system's browser, offline and without its own sandbox."""
    return {
        "executable_path": "/usr/bin/chromium",
        "args": ["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
    }


@pytest.fixture
def bench(book, live_server, page):
    """A page of the owner's, with every complaint of the browser collected."""
    page.complaints = []
    page.on("pageerror", lambda e: page.complaints.append(str(e)))
    page.on("console", lambda m: page.complaints.append(m.text) if "Content Security" in m.text else None)
    page.set_viewport_size({"width": 1280, "height": 900})
    page.goto(live_server.url + "/enter")
    page.fill("input[name=username]", "Ilse")
    page.fill("input[name=password]", PHRASE)
    page.keyboard.press("Enter")
    page.wait_for_selector(".rail")
    return page


def screen_place(page, x, y):
    """Where a place of the sheet (y up) stands on the screen."""
    return page.evaluate(
        """([x, y]) => {
          const svg = document.querySelector(".marks-sheet svg");
          svg.scrollIntoView({block: "center"});
          const height = Number(document.getElementById("chart").dataset.height);
          const at = new DOMPoint(x, height - y).matrixTransform(svg.getScreenCTM());
          return [at.x, at.y];
        }""",
        [x, y],
    )


def touch(page, x, y):
    px, py = screen_place(page, x, y)
    page.mouse.click(px, py)


def come_closer(page, live_server, survey, view):
    """One view as large as it goes, where it is not shown already."""
    if f"closer={view}" not in page.url:
        page.goto(live_server.url + reverse("survey", args=[survey.pk]) + f"?closer={view}")


def put(page, kind):
    """Choose the kind in the drawer and put the mark on the chart."""
    page.locator(f"#drawer input[value={kind}] + span").click()
    with page.expect_navigation():
        page.locator("#put").click()


def test_twenty_five_marks_with_photographs_then_three_new_ones_a_year_later(
    book, live_server, bench, tmp_path
):
    with clock.held(moment("2025-03-03T10:20")):
        survey = begin_survey(row=violin_row(book), who=book.owner)
    hashes = []
    for i in range(25):
        view = VIEWS[i // 5]
        come_closer(bench, live_server, survey, view)
        u = 0.5 if view not in ("front", "back") else 0.2 * (i % 5) - 0.4
        touch(bench, *sheet_of(survey, view).place(view).on_sheet(u, 0.1 + 0.18 * (i % 5)))
        put(bench, KINDS[i % 7])
        data = jpeg(texture(900, 700, seed=i))
        hashes.append(hashlib.sha256(data).hexdigest())
        path = tmp_path / f"IMG_{i}.jpg"
        path.write_bytes(data)
        bench.locator("#mark input[type=file]").first.set_input_files(str(path))
        bench.wait_for_selector("#mark .arriving .kept")
    assert survey.sightings.count() == 25
    assert [s.view for s in survey.sightings.order_by("mark__number")] == [VIEWS[i // 5] for i in range(25)]
    for number, sha256 in enumerate(hashes, 1):
        kept = Photograph.objects.get(marks__number=number)
        assert kept.sha256 == sha256
        assert hashlib.sha256(original_path(sha256, "jpeg").read_bytes()).hexdigest() == sha256
    with bench.expect_navigation():
        bench.get_by_role("button", name="Freeze this survey").click()
    assert bench.locator("#new-mark").count() == 0
    survey.refresh_from_db()
    assert survey.is_frozen and len(survey.content["marks"]) == 25

    close_visit(visit=book.visit, who=book.owner)
    visit = receive_visit(
        visit=book_visit(player=book.player, objects=[book.violin], who=book.owner), who=book.owner
    )
    bench.goto(live_server.url + reverse("visit", args=[visit.pk]))
    with bench.expect_navigation():
        bench.get_by_role("button", name="Begin the chart of marks").click()
    with bench.expect_navigation():
        bench.get_by_role("button", name="All are still there").click()
    planted = [("front", -0.1, 0.9), ("back", -0.1, 0.93), ("treble_ribs", 0.5, 0.5)]
    survey = Survey.objects.get(visit_object__visit=visit)
    for view, u, v in planted:
        come_closer(bench, live_server, survey, view)
        touch(bench, *sheet_of(survey, view).place(view).on_sheet(u, v))
        put(bench, "chip")
    come_closer(bench, live_server, survey, "back")
    touch(bench, *sheet_of(survey, "back").place("back").on_sheet(0.5, 0.15))
    bench.locator("#drawer select[name=age]").select_option("uncovered")
    put(bench, "wear")
    listed = bench.locator("main > .told a").all_inner_texts()
    assert listed == ["26", "27", "28"]
    assert bench.complaints == []


def test_a_run_along_an_edge_by_touch_and_a_point_by_keys(book, live_server, bench):
    survey = begin_survey(row=violin_row(book), who=book.owner)
    sheet = sheet_of(survey)
    bench.goto(live_server.url + reverse("survey", args=[survey.pk]))
    bench.locator("[data-mode=edge]").click()
    for u, v in ((0.79, 0.86), (0.6, 0.96)):
        touch(bench, *sheet.place("front").on_sheet(u, v))
    put(bench, "wear")
    run = survey.sightings.get()
    assert run.along_edge and len(run.points) == 2 and 30 < run.length_mm < 60
    bench.locator(".marks-sheet").focus()
    for key in ("ArrowLeft",) * 22 + ("Enter",):
        bench.keyboard.press(key)
    bench.keyboard.press("Space")  # the first kind of the glossary has the focus
    with bench.expect_navigation():
        bench.locator("#put").press("Enter")
    assert survey.sightings.count() == 2
    assert bench.complaints == []


def test_a_photograph_goes_on_by_itself_when_the_network_comes_back(book, live_server, bench, tmp_path):
    survey = begin_survey(row=violin_row(book), who=book.owner)
    bench.goto(live_server.url + reverse("survey", args=[survey.pk]))
    import numpy as np
    from PIL import Image

    noise = Image.fromarray(np.random.default_rng(1).integers(0, 255, (1500, 2000, 3), dtype="uint8"))
    path = tmp_path / "IMG.jpg"
    path.write_bytes(jpeg(noise))
    assert path.stat().st_size > 2 * 1024 * 1024
    pieces = []

    def sometimes(route):
        if route.request.method == "POST":
            pieces.append(route.request.url)
            if len(pieces) == 2:
                return route.abort()
        return route.continue_()

    bench.route("**/arriving*", sometimes)
    bench.locator(".chart-below input[type=file]").last.set_input_files(str(path))
    bench.wait_for_selector(".arriving .kept", timeout=30_000)
    kept = Photograph.objects.get()
    assert original_path(kept.sha256, "jpeg").read_bytes() == path.read_bytes()
    offsets = [int(u.split("offset=")[1].split("&")[0]) for u in pieces]
    assert offsets.count(0) == 1  # nothing was sent twice from the start
    assert bench.complaints == []


def test_the_chart_is_readable_for_those_who_do_not_see_it(book, live_server, bench):
    from axe_playwright_python.sync_playwright import Axe

    survey = begin_survey(row=violin_row(book), who=book.owner)
    bench.goto(live_server.url + reverse("survey", args=[survey.pk]))
    grave = [v for v in Axe().run(bench).response["violations"] if v["impact"] in ("serious", "critical")]
    assert grave == [], json.dumps([(v["id"], v["nodes"][0]["html"][:150]) for v in grave], indent=1)
    freeze_survey(survey=Survey.objects.get(pk=survey.pk), who=book.owner)
