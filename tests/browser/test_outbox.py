"""What is written while nothing answers is kept sealed, survives everything, and comes in once.

One telephone with a profile on the disk, the real worker and the real store; the site is stopped
and begun again under it. Source of the steps: the design of the screens, 3.1.
"""

import json
import shutil
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from django.db import connections
from django.test import Client
from django.test.testcases import LiveServerThread
from playwright.sync_api import Browser, BrowserContext, Page, expect

from relations import bootstrap
from relations.consent.models import TakenBack
from relations.people.models import InSight
from relations.prints.models import Print, Step
from relations.privacy.models import OutboxEntry
from relations.privacy.outbox import stand
from tests import cast
from tests.at_the_door import come_in
from tests.browser.conftest import FLAGS, PHONE, OneAtATime
from tests.rows import make

SENT = "/outbox/send/"
# Codes long enough not to stand in any profile by chance.
CODES = ("QQ71XW", "QQ72XW", "QQ73XW", "QQ74XW")


class Losing(OneAtATime):
    """Does what it is asked, and loses the answer as often as it is told to."""

    to_lose = 0
    bodies: list[bytes] = []  # what came, for the whole test

    def __call__(self, environ: dict, start_response: Callable) -> Any:
        if environ["PATH_INFO"] != SENT:
            return super().__call__(environ, start_response)
        body = environ["wsgi.input"].read(int(environ["CONTENT_LENGTH"]))
        Losing.bodies.append(body)
        environ["wsgi.input"] = BytesIO(body)
        if not Losing.to_lose:
            return super().__call__(environ, start_response)
        Losing.to_lose -= 1
        list(super().__call__(environ, lambda *_: None))
        start_response("504 Gateway Timeout", [])
        return [b""]


class Site:
    """A site that can be stopped, and begun again at the same address."""

    def __init__(self) -> None:
        self.port, self.server = 0, None
        self.begin()

    def begin(self) -> None:
        held = {connection.alias: connection for connection in connections.all()}
        self.server = LiveServerThread(
            "127.0.0.1", Losing, connections_override=held, port=self.port
        )
        self.server.daemon = True
        self.server.start()
        self.server.is_ready.wait()
        assert not self.server.error, self.server.error
        self.port = self.server.port

    def stop(self) -> None:
        self.server.terminate()

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.port}"


@pytest.fixture
def site(db: None, settings: Any) -> Iterator[Site]:
    settings.ALLOWED_HOSTS = ["127.0.0.1", "plain.test"]
    stand()
    for connection in connections.all():
        connection.inc_thread_sharing()
    Losing.to_lose = 0
    Losing.bodies.clear()
    found = Site()
    yield found
    found.stop()


@pytest.fixture
def phone(browser: Browser, tmp_path: Path) -> Iterator[Callable[[], BrowserContext]]:
    """`phone()`: the same telephone, opened again; what was open before is closed."""
    opened: list[BrowserContext] = []

    def open_again() -> BrowserContext:
        for one in opened:
            one.close()
        opened[:] = [
            browser.browser_type.launch_persistent_context(
                str(tmp_path / "profile"), executable_path=bootstrap.find("chromium"),
                args=FLAGS, viewport=PHONE,
            )
        ]  # fmt: skip
        opened[0].set_default_timeout(30_000)
        return opened[0]

    yield open_again
    for one in opened:
        one.close()


def come(context: BrowserContext, site: Site) -> None:
    """The session of the assistant in a browser."""
    client = Client()
    come_in(client, cast.assistant())
    cookie = {"name": "sessionid", "value": client.cookies["sessionid"].value, "url": site.address}
    context.add_cookies([cookie])


def owed(code: str) -> None:
    """Somebody whose print is out on a round, in sight of the assistant."""
    person = cast.person(code, f"Called {code}", "taking_part")
    InSight.objects.create(person=person, user=cast.assistant(), day=cast.TODAY, why="print")
    make(
        Print, person=person, state="out_on_a_round", state_on=cast.days(-1), is_safe=True,
        owed_since=cast.days(-30),
    )  # fmt: skip


def worker_stands(page: Page) -> None:
    page.evaluate("navigator.serviceWorker.ready.then(() => 1)")
    page.wait_for_function("caches.keys().then(names => names.some(n => n.startsWith('shell-')))")


def waits(page: Page, count: int) -> None:
    """As many entries wait in the store of the telephone, within a while."""
    for _ in range(150):
        found = len(page.evaluate(ALL))
        if found == count:
            return
        page.wait_for_timeout(100)
    raise AssertionError(f"{found} entries wait, not {count}")


ALL = """() => new Promise((done) => {
  const asked = indexedDB.open("outbox", 1);
  asked.onupgradeneeded = () => asked.result.createObjectStore("entries", { keyPath: "key" });
  asked.onsuccess = () => {
    const rows = asked.result.transaction("entries").objectStore("entries").getAll();
    rows.onsuccess = () => { asked.result.close(); done(rows.result); };
  };
})"""


def deliver(page: Page, code: str) -> None:
    form = page.locator("form[data-outbox=delivery]")
    if not form.is_visible():
        page.locator("summary").first.click()
    form.locator("[name=code]").fill(code)
    form.get_by_role("button").click()
    expect(form.locator("[name=code]")).to_have_value("")


def stop(page: Page, code: str) -> None:
    form = page.locator("form[data-outbox=stop]")
    form.locator("[name=code]").fill(code)
    form.get_by_role("button").click()


def profile_says(folder: Path, *words: str) -> list[str]:
    """The files of a profile in which one of these stands, in the ways a browser writes text."""
    wanted = [word.encode(how) for word in words for how in ("utf-8", "utf-16-le")]
    files = [path for path in folder.rglob("*") if path.is_file()]
    assert len(files) > 20, "a profile"
    return [str(path) for path in files if any(one in path.read_bytes() for one in wanted)]


def test_four_entries_written_while_nothing_answers_come_in_once(
    site: Site, phone: Callable[[], BrowserContext], tmp_path: Path
) -> None:
    for code in CODES:
        owed(code)
    context = phone()
    come(context, site)
    page = context.new_page()
    page.goto(site.address)
    worker_stands(page)

    # The site is stopped; whatever is opened is the empty form. Hide, in between, loses nothing.
    site.stop()
    context.set_offline(True)  # a line that was kept open would still be answered on
    page.goto(f"{site.address}/people/")
    expect(page.locator("h1")).to_have_text("Write it down")
    for code in CODES[:2]:
        deliver(page, code)
    waits(page, 2)
    deliver_and_hide(page)
    expect(page.locator("h1")).to_have_text("Empty page")
    page.goto(f"{site.address}/outbox/write/")
    waits(page, 3)
    stop(page, CODES[3])
    waits(page, 4)
    expect(page.locator("#outbox")).to_contain_text("4")
    page.close()
    context.close()
    assert not profile_says(tmp_path / "profile", *CODES)

    # The power is back. The first thing told is that somebody hid; then one signs in again.
    site.begin()
    context = phone()
    page = context.new_page()
    page.goto(f"{site.address}/in/")
    waits(page, 4)
    expect(page.locator("#outbox")).to_contain_text("Sign in to send it.")
    assert not OutboxEntry.objects.exists()

    # The first answer is lost: the row is there, and the entry still waits.
    come(context, site)
    Losing.to_lose = 1
    page.goto(f"{site.address}/outbox/write/")
    page.wait_for_function("() => !document.querySelector('#outbox').hidden")
    page.wait_for_timeout(1_000)
    assert OutboxEntry.objects.count() == 1
    waits(page, 4)

    # Two tabs send at once.
    other = context.new_page()
    other.goto(f"{site.address}/outbox/write/")
    for tab in (page, other):
        tab.evaluate("dispatchEvent(new Event('online'))")
    waits(page, 0)
    assert_four_rows()

    # The same bodies twice again, by hand.
    bodies = [body.decode() for body in {json.loads(b)["key"]: b for b in Losing.bodies}.values()]
    assert len(bodies) == 4
    answers = page.evaluate(
        """async (bodies) => {
          const { token } = await (await fetch("/hello/")).json(), found = [];
          for (const body of [...bodies, ...bodies])
            found.push((await fetch("/outbox/send/", { method: "POST", body,
              headers: { "X-CSRFToken": token } })).status);
          return found;
        }""",
        bodies,
    )
    assert answers == [200] * 8
    assert_four_rows()


def deliver_and_hide(page: Page) -> None:
    """The third delivery, with Hide pressed in the same breath: while it is still being sealed."""
    form = page.locator("form[data-outbox=delivery]")
    form.locator("[name=code]").fill(CODES[2])
    page.evaluate(
        """() => {
          document.querySelector("form[data-outbox=delivery]").requestSubmit();
          document.querySelector("#hide").requestSubmit();
        }"""
    )
    page.wait_for_url("**/out/")


def assert_four_rows() -> None:
    assert OutboxEntry.objects.count() == 4
    assert set(OutboxEntry.objects.values_list("state", flat=True)) == {"done"}
    assert Step.objects.count() == 3
    assert TakenBack.objects.count() == 1


def test_signing_out_asks_while_something_waits_and_leaves_nothing(
    site: Site, phone: Callable[[], BrowserContext]
) -> None:
    owed(CODES[0])
    context = phone()
    come(context, site)
    page = context.new_page()
    page.goto(f"{site.address}/outbox/write/")
    worker_stands(page)
    Losing.to_lose = 99  # a line on which no answer ever comes through
    deliver(page, CODES[0])
    waits(page, 1)
    asked: list[str] = []
    stays = lambda box: (asked.append(box.message), box.dismiss())  # noqa: E731
    page.once("dialog", stays)
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_timeout(1_500)
    assert asked == ["What waits on this telephone is not sent yet. Sign out and lose it?"]
    waits(page, 1)
    page.once("dialog", lambda box: box.accept())
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/away/")
    left = page.evaluate(
        """async () => [
          (await indexedDB.databases()).length,
          (await caches.keys()).length,
          (await navigator.serviceWorker.getRegistrations()).length,
        ]"""
    )
    assert left == [0, 0, 0]


def test_without_a_safe_line_the_form_is_posted_as_it_is(
    site: Site, browser: Browser, tmp_path: Path
) -> None:
    """On http under a name there is no worker and no seal; the press works all the same."""
    owed(CODES[0])
    name = "plain.test"
    context = browser.browser_type.launch_persistent_context(
        str(tmp_path / "plain"), executable_path=bootstrap.find("chromium"), viewport=PHONE,
        args=[*FLAGS, f"--host-resolver-rules=MAP {name} 127.0.0.1"],
    )  # fmt: skip
    faults: list[str] = []
    try:
        page = context.new_page()
        page.on("pageerror", lambda error: faults.append(str(error)))
        client = Client()
        come_in(client, cast.assistant())
        address = f"http://{name}:{site.port}"
        session = client.cookies["sessionid"].value
        context.add_cookies([{"name": "sessionid", "value": session, "url": address}])
        page.goto(f"{address}/outbox/write/")
        assert not page.evaluate("isSecureContext")
        form = page.locator("form[data-outbox=delivery]")
        page.locator("summary").first.click()
        form.locator("[name=code]").fill(CODES[0])
        form.get_by_role("button").click()
        page.wait_for_url("**/prints/**")
        assert not faults
        assert Step.objects.count() == 1
        assert not OutboxEntry.objects.exists()
    finally:
        context.close()
        shutil.rmtree(tmp_path / "plain", ignore_errors=True)


def test_hiding_without_a_signal_ends_the_session_as_soon_as_there_is_one(
    site: Site, phone: Callable[[], BrowserContext]
) -> None:
    context = phone()
    come(context, site)
    page = context.new_page()
    page.goto(site.address)
    worker_stands(page)
    context.set_offline(True)
    page.goto(f"{site.address}/people/")
    page.get_by_role("button", name="Hide").click()
    expect(page.locator("h1")).to_have_text("Empty page")
    context.set_offline(False)
    page.goto(f"{site.address}/people/")
    page.wait_for_url("**/in/**")
    assert page.evaluate("caches.has('left')") is False
