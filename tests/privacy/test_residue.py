"""What erased rows leave in files, free pages and the journal, and that it is cleared."""

import pytest
from django.db import DatabaseError, connection
from django.db.backends.utils import CursorWrapper

from relations.people.models import Name, Participant
from relations.privacy import residue
from relations.privacy.files import light_copies, scans
from relations.privacy.models import GoneFile, LedgerHead
from tests.rows import make

TABLES = ["people_name", "people_participant"]
WORD, OPEN = "Zéphirine de la rue du quai", "ring after the boats are in"


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path
    return tmp_path


@pytest.fixture
def head(transactional_db):
    return LedgerHead.objects.create(seq=3, cleared=1)


def test_files_go_and_then_their_rows(head):
    kept, gone = scans().save(b"kept"), scans().save(b"gone")
    copy = light_copies().save(b"small")
    residue.let_go(residue.SCANS, [gone, ""])
    residue.let_go(residue.PICTURES, [copy])
    assert GoneFile.objects.count() == 2
    residue.clear(TABLES)
    assert scans().names() == [kept]
    assert light_copies().names() == []
    assert not GoneFile.objects.exists()
    head.refresh_from_db()
    assert head.cleared == 3


def test_a_file_that_is_gone_already_stops_nothing(head):
    residue.let_go(residue.SCANS, ["1b671a64-40d5-491e-99b0-da01ff1f3341", "no key at all"])
    residue.clear(TABLES)
    assert not GoneFile.objects.exists()


def test_what_somebody_reads_just_then_is_tried_again(head, monkeypatch):
    monkeypatch.setattr(residue, "_take_over_journal", lambda: False)
    monkeypatch.setattr(residue, "_vacuum", lambda tables: False)
    residue.clear(TABLES)
    head.refresh_from_db()
    assert head.cleared == 1


def test_a_table_that_may_not_be_written_anew_is_said_and_tried_again(head, monkeypatch, caplog):
    def refuse(self, sql, params=None):
        raise DatabaseError("permission denied")

    with monkeypatch.context() as patch:
        patch.setattr(CursorWrapper, "execute", refuse)
        assert residue._vacuum(TABLES) is False
    assert caplog.messages == ["what was erased waits in free pages until the next opening"]


def test_each_table_is_written_anew(transactional_db, monkeypatch):
    said = []
    with monkeypatch.context() as patch:
        patch.setattr(CursorWrapper, "execute", lambda self, sql, params=None: said.append(sql))
        assert residue._vacuum(["a", "b"]) is True
    assert [line for line in said if line.startswith("VACUUM")] == [
        'VACUUM (FULL) "a"',
        'VACUUM (FULL) "b"',
    ]


def on_the_disk(what, *arguments):
    with connection.cursor() as cursor:
        cursor.execute("CHECKPOINT")
        cursor.execute(what, arguments)
        return b"".join(bytes(row[0]) for row in cursor.fetchall())


HEAP = "SELECT pg_read_binary_file(pg_relation_filepath(%s))"
JOURNAL = "SELECT pg_read_binary_file('pg_wal/' || name) FROM pg_ls_waldir()"


def test_a_server_keeps_nothing_in_its_tables_and_nothing_sealed_in_clear_in_its_journal(head):
    if connection.vendor != "postgresql":
        pytest.skip("PostgreSQL's own files; the embedded file is in tests/flows")
    person = make(Participant, call_name=WORD, instruction=OPEN)
    name = make(Name, person=person, text=WORD)
    token = bytes(Name.objects.values_list("text", flat=True).get(pk=name.pk))
    person.delete()
    assert token in on_the_disk(HEAP, "people_name")
    assert OPEN.encode() in on_the_disk(HEAP, "people_participant")
    residue.clear(TABLES)
    for table in TABLES:
        heap = on_the_disk(HEAP, table)
        assert not [one for one in (token, OPEN.encode(), name.pk.bytes) if one in heap]
    journal = on_the_disk(JOURNAL)
    # What the page tells the keeper: sealed there, but for what was never sealed.
    assert WORD.encode() not in journal
    assert OPEN.encode() in journal
    head.refresh_from_db()
    assert head.cleared == 3
