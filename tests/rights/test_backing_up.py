"""A backup is of one moment, whole or not there, and holds all that the home does."""

import threading

import pytest
from django.contrib.sessions.models import Session
from django.db import connection, connections, transaction
from django.utils import timezone

from relations.people.models import Participant
from relations.pictures.models import Picture
from relations.privacy import log
from relations.privacy.files import STORES, light_copies, scans
from relations.privacy.home import home
from relations.privacy.keys import keyring
from relations.privacy.models import AccessEntry
from relations.rights import archive, backing_up
from relations.rights.archive import Manifest, Rows, SealedFile
from relations.rights.models import Backup
from tests.rights.homes import SCAN, counts_by_table
from tests.rows import make

pytestmark = [pytest.mark.unlocked, pytest.mark.django_db]


def parts(path):
    """Everything in a backup, files as bytes."""
    key = keyring.month_key_numbered(archive.number_of(path))
    found = []
    for part in archive.contents(path, key):
        if isinstance(part, SealedFile):
            found.append((part.folder, part.name, b"".join(part.pieces)))
        else:
            found.append(part)
    return found


def rows(path, label):
    return [row for part in parts(path) if isinstance(part, Rows) and part.table == label
            for row in part.rows]  # fmt: skip


def test_it_holds_every_row_and_every_file_of_the_home(a_home, shelf_folder):
    made = backing_up.make(shelf_folder)
    manifest, *rest = parts(made.path)
    assert isinstance(manifest, Manifest)
    there = counts_by_table()
    named = {model._meta.db_table: model._meta.label_lower for model in backing_up.kept_models()}
    assert set(there) - set(named) == {"django_migrations", "django_session"}
    # Since the moment of the backup: the line that it was made, and its row.
    after = {"privacy_accessentry": 1, "rights_backup": 1}
    assert manifest.counts == {
        label: there[table] - after.get(table, 0) for table, label in named.items()
    }
    assert sum(len(part.rows) for part in rest if isinstance(part, Rows)) == sum(
        manifest.counts.values()
    )
    files = {(folder, name): data for folder, name, data in rest[-6:]}
    assert files == {
        (folder, name): storage().path_of(name).read_bytes()
        for folder, storage in STORES.items()
        for name in storage().names()
    }
    assert len(files) == 6
    assert manifest.log == [made.row.log_seq, made.row.log_head]
    assert made.row.files == 6
    assert made.faults == made.removed == made.months == []
    assert Backup.objects.get(pk=made.row.pk).size == made.path.stat().st_size


def test_what_is_sealed_stays_sealed_in_it_and_nothing_is_in_clear_on_the_disk(
    a_home, shelf_folder
):
    made = backing_up.make(shelf_folder)
    (row,) = [row for row in rows(made.path, "people.participant") if "07" in row]
    assert not [value for value in row if value == "Zéphirine"]
    lying = b"".join(path.read_bytes() for path in shelf_folder.iterdir())
    # Four letters alone are met by chance in so many sealed bytes; a row holds them in quotes.
    for word in ("Zéphirine", '"mara"', "people.participant", "signed on the quay"):
        assert word.encode() not in lying
    assert keyring.master_to_seal() not in lying


def test_its_name_says_when_and_the_end_of_the_log_and_nothing_else(a_home, shelf_folder):
    made = backing_up.make(shelf_folder)
    line = AccessEntry.objects.get(verb="backup_begun")
    day = timezone.localtime(made.row.made_at).strftime("%Y-%m-%d-%H%M")
    assert made.path.name == f"{day}-{line.seq}-{bytes(line.mac).hex()[:8]}.backup"
    assert AccessEntry.objects.order_by("seq").last().verb == "backed_up"
    assert log.verify() is None
    assert {path.name for path in shelf_folder.iterdir()} == {made.path.name, "keys.json"}
    assert (shelf_folder / "keys.json").read_text() == home().keys.read_text()


def test_sessions_are_not_in_it(a_home, shelf_folder):
    Session.objects.create(session_key="k", session_data="d", expire_date=timezone.now())
    assert "sessions.session" not in parts(backing_up.make(shelf_folder).path)[0].tables


def test_it_is_of_one_moment_while_others_write(a_home, shelf_folder):
    """Each writer adds a person and then counts it in a picture, in one transaction."""
    ends = threading.Event()
    written, faults = [], []

    def write(number):
        try:
            while not ends.is_set():
                with transaction.atomic():
                    person = make(Participant, call_name=f"writer {number}")
                    name = light_copies().save(b"copy of " + str(person.pk).encode())
                    make(Picture, light_copy=name, file_name=str(person.pk))
                    log.note(None, "read", "people.participant", person.pk)
                written.append(person.pk)
                ends.wait(0.02)  # the embedded register queues nobody: a rest lets the others in
        except Exception as error:  # noqa: BLE001 - told by the test
            faults.append(error)
        finally:
            connections.close_all()

    threads = [threading.Thread(target=write, args=(number,)) for number in range(4)]
    for thread in threads:
        thread.start()
    try:
        made = [backing_up.make(shelf_folder) for _ in range(3)]
    finally:
        ends.set()
        for thread in threads:
            thread.join()
    assert faults == []
    assert len(written) > 20
    for one in made:
        said, *rest = parts(one.path)
        columns = said.tables["pictures.picture"]["columns"]
        pictures = [
            dict(zip(columns, row, strict=True)) for row in rows(one.path, "pictures.picture")
        ]
        people = {str(row[said.tables["people.participant"]["columns"].index("id")])
                  for row in rows(one.path, "people.participant")}  # fmt: skip
        beside = {picture["file_name"] for picture in pictures if len(picture["file_name"]) == 36}
        assert beside <= people
        lines = rows(one.path, "privacy.accessentry")
        assert len(lines) == said.log[0] == said.counts["privacy.accessentry"]
        names = {name for folder, name, _ in [p for p in rest if isinstance(p, tuple)]}
        assert {picture["light_copy"] for picture in pictures} - {""} <= names
        assert one.faults == []
    counted = [one.row.counts["people.participant"] for one in made]
    assert counted == sorted(counted)
    assert counted[-1] > counted[0]
    assert log.verify() is None


def test_nobody_waits_for_it(a_home, shelf_folder):
    """While the register of a moment is read, somebody writes and is done."""
    done = []

    def write():
        make(Participant)
        done.append(1)
        connections.close_all()

    before = Participant.objects.count()
    with backing_up.snapshot():
        assert Participant.objects.count() == before
        writer = threading.Thread(target=write)
        writer.start()
        writer.join(10)
        assert done == [1]
        assert Participant.objects.count() == before
    assert Participant.objects.count() == before + 1


def test_a_backup_is_not_made_inside_another_transaction(a_home):
    with (
        transaction.atomic(),
        pytest.raises(RuntimeError, match="another transaction"),
        backing_up.snapshot(),
    ):
        pass  # pragma: no cover


def test_a_copy_that_is_replaced_meanwhile_makes_it_begin_anew(a_home, shelf_folder, monkeypatch):
    picture = Picture.objects.exclude(light_copy="").first()
    began, named = [], backing_up.named

    def replaced_meanwhile(folder):
        found = named(folder)
        if folder != "pictures":
            return found
        began.append(1)
        if len(began) == 1:
            threading.Thread(target=replace).start()
            replaced.wait(10)
        return found

    replaced = threading.Event()

    def replace():
        old = picture.light_copy
        Picture.objects.filter(pk=picture.pk).update(light_copy=light_copies().save(b"better"))
        light_copies().delete(old)
        connections.close_all()
        replaced.set()

    monkeypatch.setattr(backing_up, "named", replaced_meanwhile)
    made = backing_up.make(shelf_folder)
    assert len(began) == 2
    assert made.faults == []
    assert made.row.files == 6
    assert [path.name for path in shelf_folder.glob("*.backup")] == [made.path.name]


def test_a_home_with_damaged_files_is_backed_up_and_they_are_named(a_home, shelf_folder):
    first, second, _ = scans().names()
    data = bytearray(scans().path_of(first).read_bytes())
    data[70_000] ^= 1
    scans().path_of(first).write_bytes(data)
    scans().path_of(second).unlink()
    (scans().folder / "notes.txt").write_text("mine")
    made = backing_up.make(shelf_folder)
    assert sorted(made.faults) == sorted(
        [f"scans/{first} does not open", f"scans/{second} is missing"]
    )
    assert made.row.files == 5
    assert Backup.objects.get(pk=made.row.pk).faults == 2
    assert ("scans", first, bytes(data)) in parts(made.path)


def test_what_does_not_read_back_gets_no_name(a_home, shelf_folder, monkeypatch):
    forget = backing_up._forget_pages

    def worn_out(part):
        forget(part)
        data = bytearray(part.read_bytes())
        data[len(data) // 2] ^= 4
        part.write_bytes(data)

    monkeypatch.setattr(backing_up, "_forget_pages", worn_out)
    with pytest.raises(archive.Damaged, match="changed near byte"):
        backing_up.make(shelf_folder)
    assert list(shelf_folder.iterdir()) == []
    assert not Backup.objects.exclude(log_head="ab" * 32).exists()


def test_a_register_older_than_the_site_is_not_backed_up(a_home, shelf_folder):
    with connection.cursor() as cursor:
        cursor.execute("DELETE FROM django_migrations WHERE app = 'rights'")
    with pytest.raises(backing_up.Unfit, match=r"manage\.py update"):
        backing_up.make(shelf_folder)


def test_about_as_many_bytes_are_needed_as_it_takes(a_home, shelf_folder):
    needed = backing_up.bytes_needed()
    assert needed > 3 * len(SCAN)
    assert backing_up.make(shelf_folder).row.size < needed
