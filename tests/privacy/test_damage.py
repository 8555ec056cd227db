"""A flipped bit, a cut tail, an older file put back: each is found, and named in words."""

import json
import os
import shutil
import time
from pathlib import Path

import psycopg
import pytest
from django.conf import settings as site
from django.db import DatabaseError, connection

from relations.documents.models import Scan
from relations.privacy import damage, heads, log
from relations.privacy.files import scans
from relations.privacy.models import AccessEntry, LogHead
from tests import cast, postgres
from tests.apart import TABLES, Apart
from tests.rows import make

pytestmark = pytest.mark.django_db


def flip(path: Path, at: int) -> None:
    """One bit of one byte; `at` from the end where it is below nothing."""
    content = bytearray(path.read_bytes())
    content[at] ^= 1
    path.write_bytes(content)


@pytest.fixture
def home(tmp_path, settings):
    """A home of this process with a sealed file, a sealed value and a log."""
    settings.RELATIONS_HOME = tmp_path
    for _ in range(4):
        log.note(None, "read", "people.phone", None)
    heads.keep(*log.head())
    return tmp_path


@pytest.fixture
def scan(home):
    return make(Scan, file=scans().save(b"signed" * 50_000))


def test_whole_home_has_no_fault(scan):
    cast.marcel()
    assert damage.faults() == []


@pytest.mark.parametrize("at", [0, 20, 5000, -1])
def test_flipped_bit_in_a_sealed_file_is_named(scan, at):
    flip(scans().path_of(scan.file), at)
    (fault,) = damage.faults()
    assert fault == f"The sealed file {scan.file} is damaged: it does not open to its end."


@pytest.mark.parametrize("cut", [1, 70_000])
def test_cut_tail_of_a_sealed_file_is_named(scan, cut):
    path = scans().path_of(scan.file)
    path.write_bytes(path.read_bytes()[:-cut])
    (fault,) = damage.faults()
    assert scan.file in fault


def test_another_file_under_its_name_is_named(scan):
    other = make(Scan, file=scans().save(b"another"))
    shutil.copy(scans().path_of(other.file), scans().path_of(scan.file))
    (fault,) = damage.faults()
    assert scan.file in fault


def test_sealed_file_that_is_gone_is_named(scan):
    scans().delete(scan.file)
    assert damage.faults() == [f"The sealed file {scan.file} is not there."]


def test_flipped_bit_in_a_sealed_value_is_named_by_its_place(home):
    person = cast.marcel()
    token = bytearray(person.__class__._base_manager.values_list("call_name", flat=True).get())
    token[-1] ^= 1
    with connection.cursor() as cursor:
        cursor.execute("UPDATE people_participant SET call_name = %s", [bytes(token)])
    (fault,) = damage.faults()
    assert f"people_participant.call_name of row {person.pk} does not open" in fault


def test_flipped_bit_in_the_log_is_named_by_its_line(home):
    entry = AccessEntry.objects.get(seq=2)
    mac = bytearray(entry.mac)
    mac[7] ^= 1
    AccessEntry.objects.filter(seq=2).update(mac=bytes(mac))
    (fault,) = damage.faults()
    assert "broken at line 2: it was changed" in fault


def test_cut_end_of_the_log_is_named_with_its_new_end(home):
    AccessEntry.objects.filter(seq__gt=2).delete()
    LogHead.objects.update(seq=2, mac=AccessEntry.objects.get(seq=2).mac)
    (fault,) = damage.faults()
    assert "older than it was: its log ends at line 2, and line 4" in fault


def test_line_taken_off_the_end_is_said_with_where_it_ends(home):
    AccessEntry.objects.filter(seq=4).delete()
    LogHead.objects.update(seq=3)
    (fault,) = damage.faults()
    assert "broken at line 4" in fault
    assert "ends at line 3" in fault


def test_log_that_went_on_another_way_is_named(home):
    AccessEntry.objects.filter(seq__gt=2).delete()
    LogHead.objects.update(seq=2, mac=AccessEntry.objects.get(seq=2).mac)
    for _ in range(3):
        log.note(None, "read", "people.place", None)
    assert damage.faults() == [
        "The access log is broken at line 4: it is not the line that was there."
    ]


def test_register_that_breaks_off_while_it_is_read_says_so(home, monkeypatch):
    def breaks():
        raise DatabaseError("database disk image is malformed")
        yield

    monkeypatch.setattr(damage, "_values", breaks)
    (fault,) = damage.faults()
    assert "cannot be read to its end: database disk image is malformed." in fault


def test_files_of_presses_that_were_cut_off_are_known_after_a_day(scan):
    left, fresh = (scans().save(b"never acknowledged") for _ in range(2))
    (scans().folder / "notes.txt").write_text("mine")
    old = time.time() - 2 * 24 * 3600
    for name in (left, scan.file, "notes.txt"):
        os.utime(scans().folder / name, (old, old))
    assert [name for _, name in damage.unreferenced()] == [left]
    assert fresh in scans().names()


def test_every_key_of_a_sealed_file_is_looked_at():
    from django.apps import apps

    kept = {
        (model._meta.label, field.name)
        for model in apps.get_models()
        for field in model._meta.local_concrete_fields
        if field.name in {"file", "kept", "light_copy"}
    }
    named = [place for places in site.RELATIONS_SEALED_FILES.values() for place in places]
    assert sorted(kept) == sorted(named)


# Fills a home on the disk with rows and sealed values, some pages of them.
FILL = """
from datetime import date
from django.db import connection
from relations.people.models import Participant
from relations.privacy import heads, log
day = date(2026, 11, 1)
Participant.objects.bulk_create(
    Participant(code=f"{sys.argv[1]}{n}", call_name="X" * 200, heard_on=day, standing_since=day)
    for n in range(600)
)
for _ in range(3):
    log.note(None, "read", "people.phone", None)
heads.keep(*log.head())
if connection.vendor == "sqlite":
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()
"""
LOOK = """
from relations.privacy import damage
print(json.dumps(damage.faults()))
"""


# From here on homes have an embedded register of their own, or a server of their own, whatever the
# other tests stand on: once is enough.
@pytest.fixture(scope="module")
def filled(tmp_path_factory) -> Path:
    """A home on the disk with its embedded register, two thirds of which are rows."""
    home = Apart(tmp_path_factory.mktemp("filled"))
    home.run(TABLES)
    home.run(FILL, "A")
    return home.home


@pytest.fixture
def register(filled, tmp_path) -> Path:
    """The register of a copy of that home, to be damaged."""
    return shutil.copytree(filled, tmp_path / "home") / "register.db"


def faults(path: Path) -> list[str]:
    return json.loads(Apart(path.parent).run(LOOK))


@pytest.mark.once
def test_register_as_it_was_written_has_no_fault(register):
    assert faults(register) == []


# Rows were written last; before them lie pages that say what the tables are, without which nothing
# opens.
@pytest.mark.once
@pytest.mark.parametrize("part", [0.6, 0.75, 0.9])
def test_flipped_bit_in_the_register_is_named_by_its_page(register, part):
    flip(register, int(register.stat().st_size * part))
    found = faults(register)
    assert "The register is damaged: HMAC verification failed for page" in found[0]


@pytest.mark.once
def test_flipped_bit_in_its_first_page_is_named(register):
    flip(register, 100)
    assert faults(register)[-1].startswith("The register does not open")


@pytest.mark.once
@pytest.mark.parametrize("cut", [100, 3 * 4096, 3 * 4096 + 100])
def test_cut_tail_of_the_register_is_named(register, cut):
    register.write_bytes(register.read_bytes()[:-cut])
    said = "is damaged: page" if cut < 4096 else "does not open: it was cut"
    assert faults(register)[0].startswith(f"The register {said}")


@pytest.mark.once
def test_older_register_put_back_is_named(register):
    older = register.read_bytes()
    Apart(register.parent).run(FILL, "B")
    register.write_bytes(older)
    (fault,) = faults(register)
    assert "An older file was put back" in fault


@pytest.mark.once
def test_journal_whose_end_was_damaged_is_named(register):
    """What it held of lines that the heads know is missing then: not a page that is broken."""
    script = FILL.replace("if connection.vendor", "os._exit(0) if connection.vendor", 1)
    home = Apart(register.parent)
    home.run(
        script.replace('os._exit(0) if connection.vendor == "sqlite":', "os._exit(0)\nif 0:"), "C"
    )
    journal = register.with_name("register.db-wal")
    assert journal.stat().st_size > 0
    flip(journal, 5000)
    (fault,) = faults(register)
    assert "An older file was put back, or the end of this one was cut." in fault


@pytest.mark.once
@pytest.mark.needs("postgres")
def test_flipped_bit_in_a_table_of_a_server_is_named(tmp_path):
    with postgres.running() as server:
        home = Apart(tmp_path, server.new_database("damaged"))
        home.run(TABLES)
        home.run(FILL, "A")
        assert json.loads(home.run(LOOK)) == []
        with psycopg.connect(home.address) as asked:
            (path,) = asked.execute("SELECT pg_relation_filepath('people_participant')").fetchone()
        server.stop()
        flip(server.folder / "data" / path, 8192 + 5000)
        server.start()
        first = json.loads(home.run(LOOK))[0]
    assert first.startswith("The register is damaged: people_participant cannot be read: invalid")
