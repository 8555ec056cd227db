"""Debian's Chromium by Playwright: one browser a run, a fresh context a test."""

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any
from urllib.parse import urlsplit

import pytest
from django.contrib.staticfiles.handlers import StaticFilesHandler
from django.db import connections
from django.test import Client
from django.test.testcases import LiveServerThread
from playwright.sync_api import Browser, BrowserContext, Page, Request, sync_playwright

from relations import bootstrap
from relations.privacy.models import User
from tests import at_the_door, fonts

FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
PHONE = {"width": 360, "height": 740}
DESK = {"width": 1280, "height": 900}
VIEWS: dict[str, dict[str, Any]] = {
    "phone": {"viewport": PHONE},
    "phone dark": {"viewport": PHONE, "color_scheme": "dark"},
    "desk": {"viewport": DESK},
    "desk dark": {"viewport": DESK, "color_scheme": "dark"},
}

Opener = Callable[..., Page]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Playwright keeps an event loop running, in which Django would open a connection of its own.

    A register that lives in memory, or in a transaction that is still open, would not be seen in
    it: so the loop is given the connections that were there before.
    """
    held = {connection.alias: connection for connection in connections.all()}
    with sync_playwright() as playwright:
        for alias, connection in held.items():
            connections[alias] = connection
        opened = playwright.chromium.launch(
            executable_path=bootstrap.find("chromium"),
            args=FLAGS,
            env=fonts.environment(),
            timeout=60_000,
        )
        yield opened
        opened.close()


@pytest.fixture
def open_page(browser: Browser) -> Iterator[Opener]:
    """`open_page(**options)`: a page in a context of its own; options are Playwright's.

    Scripts run unless `java_script_enabled=False`; `axe=True` lets axe past the site's policy.
    Every request must go to this machine, and no page may raise an error.
    """
    contexts: list[BrowserContext] = []
    faults: list[str] = []

    def seen(request: Request) -> None:
        address = urlsplit(request.url)
        if address.scheme not in {"data", "about"} and address.hostname not in HOSTS:
            faults.append(f"a request left the machine: {request.url}")

    def opener(*, axe: bool = False, **options: Any) -> Page:
        options.setdefault("viewport", PHONE)
        context = browser.new_context(bypass_csp=axe, service_workers="block", **options)
        context.set_default_timeout(15_000)
        contexts.append(context)
        page = context.new_page()
        page.on("request", seen)
        page.on("pageerror", lambda error: faults.append(f"script error: {error}"))
        return page

    yield opener
    for context in contexts:
        context.close()
    assert not faults, "\n".join(faults)


class OneAtATime(StaticFilesHandler):
    """All threads of the site share one connection here, which answers one of them at a time."""

    turn = threading.Lock()

    def __call__(self, environ: dict, start_response: Callable) -> Any:
        with self.turn:
            return super().__call__(environ, start_response)


@contextmanager
def served() -> Iterator[str]:
    """The address of the site as this test has it; what a browser does there is undone after it.

    The connection stays shared: a browser lets go of its last request when it likes.
    """
    held = {connection.alias: connection for connection in connections.all()}
    for connection in held.values():
        connection.inc_thread_sharing()
    server = LiveServerThread("127.0.0.1", OneAtATime, connections_override=held)
    server.daemon = True
    server.start()
    server.is_ready.wait()
    if server.error:
        raise server.error
    yield f"http://127.0.0.1:{server.port}"
    server.terminate()


@pytest.fixture
def site(rehearsal: int) -> Iterator[str]:
    """The address of the filled rehearsal."""
    with served() as address:
        yield address


def come_in(page: Page, site: str, username: str) -> None:
    """Give a browser the session of somebody who has signed in."""
    client = Client()
    at_the_door.come_in(client, User.objects.get(username=username))
    session = client.cookies["sessionid"].value
    page.context.add_cookies([{"name": "sessionid", "value": session, "url": site}])


HOSTS = {"127.0.0.1", "localhost"}


def seen_as(page: Page, view: dict[str, Any]) -> None:
    """Show the page that is open in one of VIEWS, without loading it again."""
    page.set_viewport_size(view["viewport"])
    page.emulate_media(color_scheme=view.get("color_scheme", "light"))


def scrolls_sideways(page: Page) -> bool:
    """Whether the page is wider than its window: never, down to 360 px."""
    return bool(page.evaluate("document.documentElement.scrollWidth > innerWidth"))
