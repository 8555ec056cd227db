"""A full or read-only disk: one clear sentence, nothing by halves, nothing typed is lost."""

import errno
import json
import subprocess

import psycopg
import pytest
from django.db import DatabaseError, OperationalError
from django.test import Client

from relations.documents.models import Scan
from relations.prints import actions as prints
from relations.privacy import failing, files
from relations.privacy.failing import Why, why
from relations.privacy.files import scans
from relations.privacy.models import Role, User
from tests import cast
from tests.apart import TABLES, Apart
from tests.at_the_door import come_in

pytestmark = pytest.mark.django_db
NEW = "/prints/promises/new/"


@pytest.fixture
def client():
    """A browser that is answered, where the test's own would be handed the exception."""
    made = Client(raise_request_exception=False)
    user = User.objects.create_user("mara", None, role=Role.ARTIST, called="Mara")
    come_in(made, user)
    return made


def cause(error, of):
    error.__cause__ = of
    return error


@pytest.mark.parametrize(
    ("error", "found"),
    [
        (OSError(errno.ENOSPC, "No space left on device"), Why.FULL),
        (OSError(errno.EDQUOT, "Disk quota exceeded"), Why.FULL),
        (OSError(errno.EROFS, "Read-only file system"), Why.READ_ONLY),
        (OSError(errno.EIO, "Input/output error"), Why.BROKEN),
        (OSError(errno.ENOENT, "No such file"), None),
        (OSError("said without a number"), None),
        (OperationalError("database or disk is full"), Why.FULL),
        (OperationalError("attempt to write a readonly database"), Why.READ_ONLY),
        (OperationalError("unable to open database file"), Why.READ_ONLY),
        (OperationalError("disk I/O error"), Why.BROKEN),
        (OperationalError("database is locked"), None),
        (cause(OperationalError("x"), psycopg.errors.DiskFull("could not extend")), Why.FULL),
        (
            cause(DatabaseError("x"), psycopg.errors.ReadOnlySqlTransaction("cannot")),
            Why.READ_ONLY,
        ),
        (cause(ValueError("x"), OSError(errno.ENOSPC, "full")), Why.FULL),
        (ValueError("database or disk is full"), None),
        (None, None),
    ],
)
def test_what_the_system_says_is_told_apart(error, found):
    assert why(error) == found


def test_exceptions_that_go_round_in_a_circle_end():
    first, second = ValueError(), KeyError()
    first.__cause__, second.__cause__ = second, first
    assert why(first) is None


def sent(client, **more):
    page = client.get(NEW)
    token = page.context["form"]["token"].value()
    said = {"code": "01", "kind": "invitation", "on": "2026-11-20", "others_may_see": ""}
    return {"token": token, **said, **more}


def fails(monkeypatch, error):
    def failing_promise(**_):
        raise error

    monkeypatch.setattr(prints, "promise", failing_promise)


@pytest.mark.parametrize(
    ("error", "status", "sentence"),
    [
        (OperationalError("database or disk is full"), 507, "is full"),
        (OSError(errno.EROFS, "x"), 503, "cannot be written to"),
        (OSError(errno.EIO, "x"), 503, "does not answer"),
    ],
)
def test_one_sentence_and_the_form_to_send_again(client, monkeypatch, error, status, sentence):
    person = cast.marcel()
    data = sent(client)
    with monkeypatch.context() as patch:
        fails(patch, error)
        answer = client.post(NEW, data)
    assert answer.status_code == status
    assert sentence in answer.text
    assert "Nothing of this was kept" in answer.text
    assert "write it on paper with the hour" in answer.text
    assert f'name="token" value="{data["token"]}"' in answer.text
    assert '<li><bdi dir="ltr" class="words para">2026-11-20</bdi></li>' in answer.text
    assert "invitation</bdi>" not in answer.text, "a code is no word"
    assert answer.headers["Cache-Control"] == "no-store"
    assert not person.promises.exists()
    assert client.post(NEW, data).status_code == 302
    assert client.post(NEW, data).status_code == 302
    assert person.promises.count() == 1


def test_another_mistake_is_answered_as_before(client, monkeypatch):
    cast.marcel()
    data = sent(client)
    fails(monkeypatch, ValueError("a mistake of ours"))
    answer = client.post(NEW, data)
    assert (answer.status_code, "Something went wrong on our side" in answer.text) == (500, True)


def test_scan_that_finds_no_room_leaves_neither_part_nor_row(
    client, monkeypatch, tmp_path, settings
):
    from django.core.files.uploadedfile import SimpleUploadedFile

    from tests.consent import desk
    from tests.killing import scan

    settings.RELATIONS_HOME = tmp_path
    paper = desk.paper(person=cast.marcel())

    def full(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    page = client.get("/forms/file/")
    data = {
        "token": page.context["form"]["token"].value(),
        "serial": paper.sheet.serial,
        "code": "",
        "scan": SimpleUploadedFile("scan.png", scan(1), "image/png"),
    }
    monkeypatch.setattr(files.os, "fsync", full)
    answer = client.post("/forms/file/", data)
    assert answer.status_code == 507
    assert paper.sheet.serial in answer.text
    assert "choose it again" in answer.text
    assert not Scan.objects.exists()
    assert list(scans().folder.iterdir()) == []


def test_what_is_read_is_shown_though_the_session_cannot_be_written(client, monkeypatch):
    from django.contrib.sessions.backends.db import SessionStore

    def full(*_, **__):
        raise OperationalError("database or disk is full")

    monkeypatch.setattr(SessionStore, "save", full)
    assert client.get("/people/").status_code == 200
    answer = client.post(NEW, {})
    assert answer.status_code == 507


def test_a_session_that_cannot_be_written_for_another_reason_is_an_error(client, monkeypatch):
    from django.contrib.sessions.backends.db import SessionStore

    def broken(*_, **__):
        raise OperationalError("no such table")

    monkeypatch.setattr(SessionStore, "save", broken)
    assert client.get("/people/").status_code == 500


def test_secrets_of_the_door_are_not_shown_again(client, monkeypatch):
    from relations.privacy import tries

    def full(*_, **__):
        raise OperationalError("database or disk is full")

    monkeypatch.setattr(tries, "attempt", full)
    stranger = Client(raise_request_exception=False)
    answer = stranger.post("/in/", {"username": "mara", "password": "a boat, a lamp"})
    assert answer.status_code == 507
    assert "a boat" not in answer.text
    assert "mara" not in answer.text


def test_page_is_shown_where_not_even_reading_works(client, rf, monkeypatch):
    request = rf.get("/people/")

    def gone(*_):
        raise OperationalError("disk I/O error")

    monkeypatch.setattr("relations.privacy.context._ways", gone)
    request.user = User.objects.get()
    request.resolver_match = None
    answer = failing.page(request, Why.BROKEN)
    assert (answer.status_code, "does not answer" in answer.content.decode()) == (503, True)


def test_body_that_cannot_be_read_any_more_is_not_asked_for(rf):
    from django.http.request import UnreadablePostError
    from django.urls import resolve

    class Gone:
        method, resolver_match = "POST", resolve(NEW)

        @property
        def POST(self):  # noqa: N802 - Django's name
            raise UnreadablePostError

    assert failing._sent(Gone()) == []


# A home on a real disk with little room: written until it is full, then looked at.
FILLING = """
from datetime import date
from django.db import DatabaseError
from relations.people.models import Participant
from relations.privacy import damage
from relations.privacy.failing import why
from relations.privacy.files import scans
from relations.privacy.home import home
day, kept, files, refused = date(2026, 11, 1), 0, 0, set()
for n in range(4000):
    try:
        Participant.objects.create(code=f"F{n}", call_name="X" * 3000, heard_on=day,
                                   standing_since=day)
        kept += 1
    except DatabaseError as error:
        refused.add(str(why(error)))
        break
for n in range(200):
    try:
        scans().save(os.urandom(100_000))
        files += 1
    except OSError as error:
        refused.add(str(why(error)))
        break
told = damage.faults()
os.unlink(home().root / "filler")  # room is made
parts = [path.name for path in scans().folder.glob(".part*")]
print(json.dumps([kept, Participant.objects.count(), files, len(scans().names()),
                  sorted(refused), told, damage.faults(), parts]))
"""
READ_ONLY = """
from datetime import date
from django.db import DatabaseError
from relations.people.models import Participant
from relations.privacy.failing import why
from relations.privacy.files import scans
said, day = [], date(2026, 11, 1)

def write():
    Participant.objects.create(code="R", heard_on=day, standing_since=day)

for act in (Participant.objects.count, write, lambda: scans().save(b"signed")):
    try:
        act()
    except (DatabaseError, OSError) as error:
        said.append(str(why(error)))
print(json.dumps(said))
"""


@pytest.fixture
def small_disk(tmp_path):
    """A home on a disk of eight megabytes of its own, as only root can mount one."""
    small = tmp_path / "small"
    small.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=8m", "tmpfs", str(small)]
    if subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("this account may not mount a disk")
    home = Apart(small)
    home.run(TABLES)
    yield home
    subprocess.run(["umount", str(small)], check=True)


def test_real_disk_that_is_full_or_read_only_says_so(small_disk):
    (small_disk.home / "filler").write_bytes(bytes(2 * 1024 * 1024))
    kept, there, files_kept, files_there, refused, told, after, parts = json.loads(
        small_disk.run(FILLING)
    )
    assert (refused, after, parts) == (["full"], [], [])
    assert told in ([], ["The disk is full. Make room on it first, then look again."])
    assert (kept, files_kept) == (there, files_there)
    assert kept > 0
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk.home)], check=True)
    assert json.loads(small_disk.run(READ_ONLY)) == ["read_only"] * 3
