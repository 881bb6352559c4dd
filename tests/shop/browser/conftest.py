"""A real browser on the book: Debian's Chromium, a tablet of 1024 x 768."""

import shutil
from pathlib import Path

import pytest

OUT = Path(__file__).resolve().parents[3] / "out" / "book"
CHROMIUM = shutil.which("chromium") or "/usr/bin/chromium"


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args):
    """Debian's Chromium, without anything that calls home."""
    return {
        **browser_type_launch_args,
        "executable_path": CHROMIUM,
        "args": ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-sync"],
    }


@pytest.fixture(scope="session")
def browser_context_args(browser_context_args):
    """The tablet."""
    return {
        **browser_context_args,
        "viewport": {"width": 1024, "height": 768},
        "has_touch": True,
        "locale": "en-GB",
    }


def expected(text: str) -> bool:
    """What a test brings about on purpose: a refused figure, a book out of reach."""
    return "422" in text or "ERR_FAILED" in text


@pytest.fixture
def tablet(page, live_server, transactional_db):
    """A page on the live book; a complaint of the browser's console fails the test."""
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on(
        "console",
        lambda m: complaints.append(m.text) if m.type == "error" and not expected(m.text) else None,
    )
    page.base = live_server.url
    yield page
    assert complaints == []


@pytest.fixture
def come_in(tablet, context):
    """Come in as a maker without typing the pass phrase."""
    from django.test import Client

    def enter(maker) -> None:
        client = Client()
        client.force_login(maker, backend="django.contrib.auth.backends.ModelBackend")
        value = client.cookies["purfling"].value
        context.clear_cookies()
        context.add_cookies([{"name": "purfling", "value": value, "url": tablet.base}])
        tablet.goto(tablet.base + "/")

    return enter


@pytest.fixture
def picture(tablet):
    """Keep a screenshot in out/book."""
    OUT.mkdir(parents=True, exist_ok=True)

    def take(name: str, full: bool = True) -> None:
        tablet.screenshot(path=OUT / f"{name}.png", full_page=full)

    return take
