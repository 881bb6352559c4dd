"""A real browser at the bench: Debian's Chromium, a tablet with touch, the clock held."""

import shutil
from pathlib import Path

import pytest
from django.test import Client

from purfling.shop.domain import clock

OUT = Path(__file__).resolve().parents[3] / "out" / "work"


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args):
    """Debian's Chromium, without anything that calls home."""
    return {
        **browser_type_launch_args,
        "executable_path": shutil.which("chromium") or "/usr/bin/chromium",
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


class Tablet:
    """The page, who is in, and the hand: by touch or by keyboard."""

    def __init__(self, page, context, base: str, hand: str) -> None:
        self.page, self.context, self.base, self.hand = page, context, base, hand
        self.touches = 0

    def enter(self, maker) -> None:
        """Come in without typing the pass phrase."""
        client = Client()
        client.force_login(maker, backend="django.contrib.auth.backends.ModelBackend")
        self.context.clear_cookies()
        value = client.cookies["purfling"].value
        self.context.add_cookies([{"name": "purfling", "value": value, "url": self.base}])

    def go(self, path: str) -> None:
        """Open a page of the book."""
        self.page.goto(self.base + path)

    def do(self, control, key: str = "") -> None:
        """Touch a control; by keyboard its letter, or focus and Enter."""
        self.touches += 1
        with self.page.expect_navigation():
            if self.hand == "touch":
                control.scroll_into_view_if_needed()
                control.tap()
            elif key:
                self.page.keyboard.press(key)
            else:
                control.focus()
                self.page.keyboard.press("Enter")

    def picture(self, name: str) -> None:
        """Keep a screenshot in out/work."""
        OUT.mkdir(parents=True, exist_ok=True)
        self.page.screenshot(path=OUT / f"{name}.png", full_page=True)


@pytest.fixture
def tablet(request, page, context, live_server, transactional_db):
    """A tablet at the live book; a complaint of the browser's console fails the test, 422 is a stop of
    ours."""
    complaints: list[str] = []
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on(
        "console",
        lambda m: complaints.append(m.text) if m.type == "error" and "422" not in m.text else None,
    )
    yield Tablet(page, context, live_server.url, getattr(request, "param", "touch"))
    clock.hold(None)
    assert complaints == []
