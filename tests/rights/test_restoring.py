"""What is restored is what was backed up, on either database, and nothing half done stays."""

import uuid
from datetime import timedelta

import pytest
from django.db import IntegrityError, connection
from django.test import Client
from django.utils import timezone

from relations.documents.models import Scan
from relations.people.models import Participant
from relations.pictures.models import Picture
from relations.privacy import ledger, log, rekeying
from relations.privacy.files import light_copies, scans
from relations.privacy.home import home
from relations.privacy.keys import Halfway, keyring
from relations.privacy.models import AccessEntry, Posted, User
from relations.rights import archive, backing_up, erasing, restoring
from relations.rights.models import Backup
from tests.rights.homes import COPY, KEEPERS, PASSPHRASE, ROLES, SCAN, counts_by_table
from tests.traces import files, opened, raw, traces, values_of

pytestmark = [pytest.mark.unlocked, pytest.mark.django_db]


def read(path, secret=PASSPHRASE):
    """Verify a backup with the key file beside it, as the command does; what `restore` needs."""
    keys = path.with_name("keys.json")
    keyring.unlock(secret, at=keys)
    key = restoring.key_of(path, keys)
    return path, keys, path.with_name("ledger"), key, archive.verify(path, key)[0]


def restore(path, secret=PASSPHRASE):
    restoring.refuse_what_is_there()
    home().root.mkdir()
    return restoring.restore(*read(path, secret))


def every_value():
    """All rows of all tables as they are kept, sealed ones as their tokens."""
    return {
        model._meta.label: sorted(
            model._base_manager.values_list(*backing_up._columns(model)), key=repr
        )
        for model in backing_up.kept_models()
        if model not in (AccessEntry, Backup) and model._meta.label != "privacy.LogHead"
    }


def test_every_value_and_file_comes_back_and_every_page_opens(a_home, shelf_folder, elsewhere):
    made = backing_up.make(shelf_folder)
    before, counts = every_value(), counts_by_table()
    with elsewhere():
        restored = restore(made.path)
        assert every_value() == before
        assert restored.faults == []
        assert restored.files == 6
        assert restored.rows == restored.manifest.counts == made.row.counts
        # The same lines: begun, then restored in place of made; the same rows of backups.
        assert counts_by_table() == counts
        assert Participant.objects.get(code="07").call_name == "Zéphirine"
        assert scans().open(Scan.objects.first().file).read() == SCAN
        copy = Picture.objects.exclude(light_copy="").first().light_copy
        assert light_copies().open(copy).read() == COPY
        assert log.broken_at() is None
        assert AccessEntry.objects.order_by("seq").last().verb == "restored"
        row = Backup.objects.exclude(restored_at=None).get()
        assert (row.log_seq, row.log_head) == (made.row.log_seq, made.row.log_head)
        assert not (home().root / restoring.MARKER).exists()
        for role, name in ROLES.items():
            client = Client()
            client.force_login(User.objects.get(username=name))
            assert client.get("/").status_code == 200, role
        # What is made next does not meet what came back.
        Posted.objects.create(token=uuid.uuid4(), by=User.objects.first())
        again = backing_up.make(shelf_folder)
        assert again.ahead is None
        assert archive.verify(again.path, restoring.key_of(again.path, home().keys))


@pytest.mark.long
def test_a_keeper_restores_without_the_artist(a_home, shelf_folder, elsewhere):
    made = backing_up.make(shelf_folder)
    with elsewhere():
        assert restore(made.path, KEEPERS).faults == []
        keyring.lock()
        assert keyring.unlock(PASSPHRASE) == "passphrase"


def test_from_one_database_into_the_other_and_back(a_home, shelf_folder, elsewhere):
    if connection.vendor != "postgresql":
        pytest.skip("needs both: run on PostgreSQL")
    made = backing_up.make(shelf_folder)
    before = every_value()
    with elsewhere(on_server=False):
        assert connection.vendor == "sqlite"
        assert restore(made.path).faults == []
        assert every_value() == before
        again = backing_up.make(shelf_folder)
        assert again.row.counts["people.participant"] == made.row.counts["people.participant"]
    with elsewhere():
        assert connection.vendor == "postgresql"
        assert restore(again.path).faults == []
        assert every_value() == before
        Posted.objects.create(token=uuid.uuid4(), by=User.objects.first())


def test_a_backup_from_before_a_rekey_comes_under_the_new_key(a_home, shelf_folder, elsewhere):
    made = backing_up.make(shelf_folder)
    new = {"passphrase": "a lamp on the third stone", "recovery": "7" * 28}
    for _ in range(2):
        rekeying.begin(new)
        rekeying.finish()
    backing_up.make(shelf_folder)
    with elsewhere():
        assert restore(made.path, new["passphrase"]).faults == []
        assert keyring.key_id == 3
        assert Participant.objects.get(code="07").call_name == "Zéphirine"
        assert scans().open(Scan.objects.first().file).read() == SCAN
        assert rekeying.faults() == []
        assert not keyring.is_halfway


@pytest.mark.long
def test_killed_before_its_end_such_a_restore_is_finished_as_a_rekey(
    a_home, shelf_folder, elsewhere, monkeypatch
):
    made = backing_up.make(shelf_folder)
    new = {"passphrase": "a lamp on the third stone", "recovery": "7" * 28}
    for _ in range(2):
        rekeying.begin(new)
        rekeying.finish()
    backing_up.make(shelf_folder)
    with elsewhere():
        with monkeypatch.context() as patch:
            patch.setattr(restoring, "open_up", list)
            restore(made.path, new["passphrase"])
        keyring.lock()
        with pytest.raises(Halfway):
            keyring.unlock(new["passphrase"])
        keyring.unlock(new["passphrase"], halfway_too=True)
        rekeying.finish()
        assert rekeying.faults() == []
        assert Participant.objects.get(code="07").call_name == "Zéphirine"


LONG = [
    pytest.param(step, marks=pytest.mark.long) for step in ("_put_rows", "_note", "_log_faults")
]


@pytest.mark.parametrize("where", ["_put_file", "_bring_keys", *LONG])
def test_interrupted_anywhere_it_is_no_home_and_begins_anew(
    a_home, shelf_folder, elsewhere, monkeypatch, where
):
    made = backing_up.make(shelf_folder)
    with elsewhere():
        with monkeypatch.context() as patch:

            def stop(*args):
                raise InterruptedError

            patch.setattr(restoring, where, stop)
            with pytest.raises(InterruptedError):
                restore(made.path)
        assert not home().keys.exists()
        assert restoring.is_half_done()
        keyring.lock()
        restoring.refuse_what_is_there()
        assert restoring.restore(*read(made.path)).faults == []
        assert not restoring.is_half_done()
        assert rekeying.faults() == []


def test_what_was_not_put_there_by_a_restore_is_never_taken_away(
    a_home, shelf_folder, elsewhere, tmp_path
):
    made = backing_up.make(shelf_folder)
    with pytest.raises(restoring.Unrestorable, match="There is a home"):
        restoring.refuse_what_is_there()
    with elsewhere():
        home().root.mkdir()
        (home().root / "letters.txt").write_text("mine")
        with pytest.raises(restoring.Unrestorable, match="not empty"):
            restoring.refuse_what_is_there()
        if connection.vendor == "postgresql":
            (home().root / "letters.txt").rename(tmp_path / "letters.txt")
            with connection.cursor() as cursor:
                cursor.execute("CREATE TABLE letters (said text)")
            with pytest.raises(restoring.Unrestorable, match="has tables"):
                restoring.refuse_what_is_there()
            # Not even where a marker is in the folder, of a restore into another database.
            (home().root / restoring.MARKER).write_text("0" * 32)
            with pytest.raises(restoring.Unrestorable, match="has tables"):
                restoring.refuse_what_is_there()
            with connection.cursor() as cursor:
                cursor.execute(f"CREATE TABLE {restoring.MARKER_TABLE} AS SELECT 'x' AS said")
            with pytest.raises(restoring.Unrestorable, match="has tables"):
                restoring.refuse_what_is_there()
    assert made.path.exists()


def test_of_a_newer_site_or_with_an_older_ledger_nothing_stays_behind(
    a_home, shelf_folder, elsewhere, monkeypatch
):
    manifest = backing_up._manifest
    newer, erased = shelf_folder / "newer", shelf_folder / "erased"
    for folder, change in (
        (newer, lambda said: said.migrations.append(["rights", "0099_later"])),
        (erased, lambda said: said.ledger.__setitem__(0, 3)),
    ):
        folder.mkdir()

        def changed(at, change=change):
            said = manifest(at)
            change(said)
            return said

        monkeypatch.setattr(backing_up, "_manifest", changed)
        backing_up.make(folder)
    for folder, told in ((newer, "newer version of the site"), (erased, "knows 3 erasings")):
        (path,) = folder.glob("*.backup")
        with elsewhere():
            with pytest.raises(restoring.Unrestorable, match=told):
                restore(path)
            assert list(home().root.iterdir()) == []
            assert not counts_by_table()


def test_rows_that_do_not_fit_together_are_not_restored(
    a_home, shelf_folder, elsewhere, monkeypatch
):
    """A backup in which a row names another that is not there: checked when all are in."""
    rows = backing_up._rows

    def without_users():
        return (part for part in rows() if part.table != "privacy.user")

    manifest = backing_up._manifest

    def with_none(at):
        said = manifest(at)
        said.tables["privacy.user"]["rows"] = 0
        return said

    monkeypatch.setattr(backing_up, "_rows", without_users)
    monkeypatch.setattr(backing_up, "_manifest", with_none)
    made = backing_up.make(shelf_folder)
    with elsewhere():
        with pytest.raises(IntegrityError):
            restore(made.path)
        assert not home().keys.exists()
        assert restoring.is_half_done()


def test_a_log_that_was_broken_already_is_told_and_all_is_restored(a_home, shelf_folder, elsewhere):
    AccessEntry.objects.filter(seq=2).update(verb="wrote")
    made = backing_up.make(shelf_folder)
    with elsewhere():
        assert "the access log is broken at line 2" in restore(made.path).faults
        assert Participant.objects.get(code="07").call_name == "Zéphirine"


def test_who_was_erased_since_is_erased_again_before_anybody_is_let_in(
    a_home, shelf_folder, elsewhere
):
    made = backing_up.make(shelf_folder)
    person = Participant.objects.get(code="07")
    keeper = User.objects.get(username="ulf")
    erasing.erase(person=person, by=keeper, at=timezone.now())
    after = backing_up.make(shelf_folder)
    assert after.row.counts["people.participant"] == made.row.counts["people.participant"] - 1
    with elsewhere():
        restored = restore(made.path)
        assert restored.rows["people.participant"] == made.row.counts["people.participant"]
        assert restored.faults == []
        assert not Participant.objects.filter(code="07").exists()
        assert AccessEntry.objects.filter(verb="erased", key=person.log_key).count() == 1
        assert ledger.last()[0] == 1
        assert keyring.is_open


def test_of_who_was_erased_a_new_backup_holds_nothing(a_home, shelf_folder, elsewhere):
    person = Participant.objects.get(code="07")
    values, log_key = values_of(person), person.log_key
    assert "people.Participant.call_name" in traces(values, opened() | raw())
    erasing.erase(person=person, by=User.objects.get(username="ulf"), at=timezone.now())
    made = backing_up.make(shelf_folder)
    keys = {log_key.bytes, log_key.hex.encode(), str(log_key).encode()}
    with elsewhere():
        restored = restore(made.path)
        # The line that says that it was erased came with the backup: nothing was erased just now.
        assert AccessEntry.objects.filter(verb="erased").count() == 1
        assert traces(values - keys, opened() | raw() | files(home().root)) == []
        assert restored.faults == []


def test_an_older_ledger_or_a_changed_one_is_named_and_nothing_stays(
    a_home, shelf_folder, elsewhere
):
    keeper = User.objects.get(username="ulf")
    erasing.erase(person=Participant.objects.get(code="07"), by=keeper, at=timezone.now())
    made = backing_up.make(shelf_folder)
    beside = shelf_folder / "ledger"
    whole = beside.read_bytes()
    for content, told in (
        (b"", "knows 1 erasings, the ledger 0"),
        (
            whole[:60] + bytes([whole[60] ^ 1]) + whole[61:],
            "line 1 of the ledger .* not as it was written",
        ),
    ):
        beside.write_bytes(content)
        with elsewhere():
            with pytest.raises(restoring.Unrestorable, match=told):
                restore(made.path)
            assert [path.name for path in home().root.iterdir()] == []


def test_a_month_whose_key_was_destroyed_opens_no_more(a_home, shelf_folder, monkeypatch):
    made = backing_up.make(shelf_folder)
    kept = home().keys.read_text()
    assert restoring.key_of(made.path, home().keys)
    assert keyring.destroy_month_keys(timezone.localdate() + timedelta(days=200))
    with pytest.raises(restoring.Unrestorable, match="Nobody can open"):
        restoring.key_of(made.path, home().keys)
    # An older copy of the key file still opens it: why the one beside the backups is renewed.
    home().keys.write_text(kept)
    assert restoring.key_of(made.path, home().keys)


def test_a_key_file_older_than_the_backup_is_named(a_home, shelf_folder):
    before = shelf_folder / "before.json"
    before.write_text(home().keys.read_text())
    made = backing_up.make(shelf_folder)
    with pytest.raises(restoring.Unrestorable, match="older than the backup"):
        restoring.key_of(made.path, before)
    other = shelf_folder / "other.backup"
    other.write_bytes(b"not one of ours, though it is long enough to be" * 4)
    with pytest.raises(restoring.Unrestorable, match="not a file that this site sealed"):
        restoring.key_of(other, before)
