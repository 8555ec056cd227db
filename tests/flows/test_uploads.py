"""A scan over a bad line is taken in whole or not at all, and may be sent again, and in parts."""

import json
import socket
import struct
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from subprocess import Popen

import pikepdf
import pytest
from django.db import connection

from tests import postgres
from tests.apart import Apart
from tests.browsing import Browser
from tests.killing import MAKE, Site, scan
from tests.worked_in import PASSWORD, serial

pytestmark = pytest.mark.django_db
FILE = "/forms/file/"
MIB = 1024 * 1024
NUMBERS = (3, 7, 11, 15)  # acts that have a paper, one for each test
# For each line it is sent: pages of each scan that is kept, how many files, what is wrong.
KEPT = """
from django.db import connection
from relations.documents.models import Scan
from relations.privacy import damage
from relations.privacy.files import scans
for line in sys.stdin:
    rows = [scan.pages for scan in Scan.objects.order_by("filed_at")]
    files = list(scans().folder.glob("*"))
    said = [rows, len(scans().names()), len(files), damage.faults()]
    connection.close()
    print(json.dumps(said), flush=True)
"""


@dataclass
class Kept:
    """A site, a process that looks at what its home keeps, and what that was before a test."""

    site: Site
    temporary: Path
    looker: Popen
    before: list = field(default_factory=lambda: [[], 0, 0, []])

    def now(self) -> list:
        """All there is: pages of each scan, number of files, of files with parts, faults."""
        assert self.looker.stdin
        assert self.looker.stdout
        self.looker.stdin.write("look\n")
        self.looker.stdin.flush()
        return json.loads(self.looker.stdout.readline())

    def since(self) -> list:
        """The same, of what came since the test began; whatever is wrong, whenever it came."""
        old, named, stored, _ = self.before
        rows, names, files, faults = self.now()
        assert rows[: len(old)] == old
        return [rows[len(old) :], names - named, files - stored, faults]


@pytest.fixture(scope="module")
def served(tmp_path_factory, django_db_setup) -> Iterator[Kept]:
    """One home, served once: each test sends what belongs to a paper of its own."""
    folder = tmp_path_factory.mktemp("uploads")
    (folder / "tmp").mkdir()
    (folder / "home").mkdir()
    with ExitStack() as stack:
        address = ""
        if connection.vendor == "postgresql":
            # `serve` refuses the server of this run, which is set to forget.
            server = stack.enter_context(postgres.running(postgres.DURABLE))
            address = server.new_database("uploads")
        home = Apart(folder / "home", address)
        home.run(MAKE, str(4 * len(NUMBERS)))
        with socket.socket() as listener:
            listener.bind(("127.0.0.1", 0))
            port = listener.getsockname()[1]
        made = Site(home, port, more={"TMPDIR": str(folder / "tmp")})
        looker = home.start(KEPT)
        stack.callback(looker.communicate)
        stack.callback(made.end)
        made.start()
        yield Kept(made, folder / "tmp", looker)


@pytest.fixture
def kept(served) -> Kept:
    served.before = served.now()
    assert served.before[-1] == []
    return served


@pytest.fixture
def ada(kept) -> Browser:
    browser = Browser(kept.site.port, follows=False)
    assert browser.send("/in/", username="ada", password=PASSWORD).status == 302
    return browser


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


@pytest.mark.parametrize("number, hard", [(NUMBERS[0], False), (NUMBERS[1], True)])
def test_line_that_breaks_leaves_nothing_and_the_same_form_may_be_sent_again(
    kept, ada, number, hard
):
    said = {"serial": serial(number), "code": ""}
    form = ada.filled_with_file(FILE, "scan", scan(number), "image/png", **said)
    for part in (0.01, 0.5, 0.99):
        cut_off(ada, form, part, hard=hard)
    assert ada.ask("/").status == 200
    assert kept.since() == [[], 0, 0, []]
    assert ada.ask(FILE, *form).status == 302
    assert ada.ask(FILE, *form).status == 302
    assert kept.since() == [[1], 1, 1, []]
    assert list(kept.temporary.iterdir()) == []


def pages(count: int, first: int) -> bytes:
    """A PDF of so many pages; the size of the first says which part it is."""
    document = pikepdf.new()
    for number in range(count):
        document.add_blank_page(page_size=(595, 842 + first + number))
    made = BytesIO()
    document.save(made)
    return made.getvalue()


def test_two_hundred_pages_are_sent_in_parts_and_a_part_twice_is_kept_once(kept, ada):
    parts = [pages(50, first) for first in (1, 51, 101, 151)]
    said = {"serial": serial(NUMBERS[2]), "code": ""}
    for content in (parts[0], parts[1], parts[1], parts[2], parts[0], parts[3]):
        answer = ada.send_file(FILE, "scan", content, "application/pdf", **said)
        assert answer.status == 302, answer.text
    assert kept.since() == [[50] * 4, 4, 4, []]
    shown = ada.ask(f"/forms/{serial(NUMBERS[2])}/").text
    assert all(f"/forms/{serial(NUMBERS[2])}/scan/{number}/" in shown for number in (1, 2, 3, 4))


def test_file_a_little_too_large_is_said_beside_it_and_what_was_typed_stays(kept, ada):
    answer = ada.send_file(FILE, "scan", bytes(26 * MIB), "image/png", serial=serial(NUMBERS[3]))
    assert answer.status == 422
    assert "25 MB" in answer.text
    assert f'value="{serial(NUMBERS[3])}"' in answer.text
    assert kept.since()[1] == 0


def test_file_far_too_large_is_answered_in_words(kept, ada):
    answer = ada.send_file(FILE, "scan", bytes(40 * MIB), "image/png", serial=serial(NUMBERS[3]))
    assert answer.status == 413
    assert "larger than 25 MB. Nothing of it was kept." in answer.text
    assert ada.ask("/").status == 200
    assert kept.since() == [[], 0, 0, []]
