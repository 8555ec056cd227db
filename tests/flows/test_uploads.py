"""A scan over a bad line is taken in whole or not at all, and may be sent again, and in parts."""

import json
import socket
import struct
from contextlib import ExitStack
from io import BytesIO

import pikepdf
import pytest
from django.db import connection

from tests import postgres
from tests.apart import Apart
from tests.browsing import Browser
from tests.killing import MAKE, PASSWORD, Site, scan, serial

pytestmark = pytest.mark.django_db
FILE = "/forms/file/"
MIB = 1024 * 1024
NUMBER = 3  # an act that has a paper
KEPT = """
from relations.documents.models import Scan
from relations.privacy import damage
from relations.privacy.files import scans
rows = [scan.pages for scan in Scan.objects.order_by("filed_at")]
files = list(scans().folder.glob("*"))
print(json.dumps([rows, len(scans().names()), len(files), damage.faults()]))
"""


@pytest.fixture
def site(tmp_path):
    (tmp_path / "tmp").mkdir()
    (tmp_path / "home").mkdir()
    with ExitStack() as stack:
        address = ""
        if connection.vendor == "postgresql":
            # `serve` refuses the server of this run, which is set to forget.
            server = stack.enter_context(postgres.running(postgres.DURABLE))
            address = server.new_database("uploads")
        home = Apart(tmp_path / "home", address)
        home.run(MAKE, "8")
        with socket.socket() as listener:
            listener.bind(("127.0.0.1", 0))
            port = listener.getsockname()[1]
        made = Site(home, port, more={"TMPDIR": str(tmp_path / "tmp")})
        stack.callback(made.end)
        made.start()
        yield made


@pytest.fixture
def ada(site) -> Browser:
    browser = Browser(site.port, follows=False)
    assert browser.send("/in/", username="ada", password=PASSWORD).status == 302
    return browser


def kept(site):
    """Pages of each scan that is kept, how many files there are, parts too, what is wrong."""
    return json.loads(site.apart.run(KEPT))


def cut_off(browser: Browser, form: tuple[bytes, str], part: float, *, hard: bool) -> None:
    """Send so much of a form, then break the line: `hard` as when the telephone loses it."""
    body, kind = form
    cookies = "; ".join(f"{one.name}={one.value}" for one in browser.jar)
    head = (
        f"POST {FILE} HTTP/1.1\r\nHost: 127.0.0.1\r\nCookie: {cookies}\r\n"
        f"Content-Type: {kind}\r\nContent-Length: {len(body)}\r\n\r\n"
    )
    line = socket.create_connection(("127.0.0.1", browser.port))
    line.sendall(head.encode() + body[: int(len(body) * part)])
    if hard:
        line.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
    line.close()


@pytest.mark.parametrize("hard", [False, True])
def test_line_that_breaks_leaves_nothing_and_the_same_form_may_be_sent_again(
    site, ada, tmp_path, hard
):
    said = {"serial": serial(NUMBER), "code": ""}
    form = ada.filled_with_file(FILE, "scan", scan(NUMBER), "image/png", **said)
    for part in (0.01, 0.5, 0.99):
        cut_off(ada, form, part, hard=hard)
    assert ada.ask("/").status == 200
    assert kept(site) == [[], 0, 0, []]
    assert ada.ask(FILE, *form).status == 302
    assert ada.ask(FILE, *form).status == 302
    assert kept(site) == [[1], 1, 1, []]
    assert list((tmp_path / "tmp").iterdir()) == []


def pages(count: int, first: int) -> bytes:
    """A PDF of so many pages; the size of the first says which part it is."""
    document = pikepdf.new()
    for number in range(count):
        document.add_blank_page(page_size=(595, 842 + first + number))
    made = BytesIO()
    document.save(made)
    return made.getvalue()


def test_two_hundred_pages_are_sent_in_parts_and_a_part_twice_is_kept_once(site, ada):
    parts = [pages(50, first) for first in (1, 51, 101, 151)]
    said = {"serial": serial(NUMBER), "code": ""}
    for content in (parts[0], parts[1], parts[1], parts[2], parts[0], parts[3]):
        answer = ada.send_file(FILE, "scan", content, "application/pdf", **said)
        assert answer.status == 302, answer.text
    assert kept(site) == [[50] * 4, 4, 4, []]
    shown = ada.ask(f"/forms/{serial(NUMBER)}/").text
    assert all(f"/forms/{serial(NUMBER)}/scan/{number}/" in shown for number in (1, 2, 3, 4))


def test_file_a_little_too_large_is_said_beside_it_and_what_was_typed_stays(site, ada):
    answer = ada.send_file(FILE, "scan", bytes(26 * MIB), "image/png", serial=serial(NUMBER))
    assert answer.status == 422
    assert "25 MB" in answer.text
    assert f'value="{serial(NUMBER)}"' in answer.text
    assert kept(site)[1] == 0


def test_file_far_too_large_is_answered_in_words(site, ada):
    answer = ada.send_file(FILE, "scan", bytes(40 * MIB), "image/png", serial=serial(NUMBER))
    assert answer.status == 413
    assert "larger than 25 MB. Nothing of it was kept." in answer.text
    assert ada.ask("/").status == 200
    assert kept(site) == [[], 0, 0, []]
