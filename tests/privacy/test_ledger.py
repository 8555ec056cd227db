"""The ledger: on the disk before it counts, one chain, and every damage found and named."""

import subprocess
import sys
import uuid
from concurrent.futures import ThreadPoolExecutor

import pytest

from relations.privacy import heads, ledger, log, opening, rekeying, slots
from relations.privacy.crypt import Cost
from relations.privacy.keys import keyring
from relations.privacy.ledger import CHANGED, MISSING, LedgerBroken
from relations.privacy.models import LedgerHead

MASTER = bytes(range(32))
pytestmark = pytest.mark.django_db
PEOPLE = [uuid.UUID(int=number) for number in range(1, 6)]


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path
    return tmp_path


@pytest.fixture
def written(own_home):
    """Five lines, and where they lie."""
    assert [ledger.append(person) for person in PEOPLE] == [1, 2, 3, 4, 5]
    return own_home / "ledger"


def broken():
    with pytest.raises(LedgerBroken) as caught:
        ledger.entries()
    return caught.value.line, caught.value.kind


def applied(number):
    """The database says that it applied the lines up to this one."""
    mac = bytes.fromhex(ledger.entries()[number - 1].mac)
    LedgerHead.objects.create(seq=number, mac=mac)


def test_an_empty_ledger_has_no_line_and_no_head():
    assert ledger.entries() == []
    assert ledger.last() == (0, "")


def test_lines_come_back_in_order_and_name_nobody(written):
    found = ledger.entries()
    assert [one.person_id for one in found] == PEOPLE
    assert ledger.last() == (5, found[-1].mac)
    first, at = found[0], found[0].at
    assert at.utcoffset().total_seconds() == 0
    text = written.read_text().splitlines()[0]
    assert text == f"1 {PEOPLE[0]} {at.isoformat()} {first.mac}"
    assert written.stat().st_mode & 0o777 == 0o600


def test_a_line_is_on_the_disk_before_it_counts(monkeypatch):
    synced = []
    monkeypatch.setattr(ledger.os, "fsync", synced.append)
    ledger.append(PEOPLE[0])
    # The line, the file's name, the head, the name of the heads.
    assert len(synced) == 4


def test_what_the_disk_took_by_half_is_no_line(written, monkeypatch):
    whole = ledger.os.pwrite
    monkeypatch.setattr(ledger.os, "pwrite", lambda handle, line, at: whole(handle, line[:20], at))
    with pytest.raises(OSError, match="took only a part"):
        ledger.append(PEOPLE[0])
    monkeypatch.undo()
    assert not written.read_bytes().endswith(b"\n")
    assert len(ledger.entries()) == 5
    assert ledger.append(PEOPLE[0]) == 6
    assert len(ledger.entries()) == 6


@pytest.mark.parametrize("place", range(0, 560, 7))
def test_a_flipped_bit_is_found_and_its_line_named(written, place):
    content = bytearray(written.read_bytes())
    content[place] ^= 1 << (place % 8)
    written.write_bytes(bytes(content))
    lengths = [len(line) + 1 for line in written.read_bytes().split(b"\n")]
    line, kind = broken()
    assert kind in (CHANGED, MISSING)
    first = bytes(content)[:place].count(b"\n") + 1
    assert line == first, lengths


def test_a_cut_tail_is_found_and_its_line_named(written):
    lines = written.read_bytes().splitlines(keepends=True)
    for kept in range(5):
        written.write_bytes(b"".join(lines[:kept]))
        assert broken() == (kept + 1, MISSING)
        written.write_bytes(b"".join(lines[:kept]) + lines[kept][:-1])
        assert broken() == (kept + 1, MISSING)
    written.unlink()
    assert broken() == (1, MISSING)


def test_an_older_file_put_back_is_found_by_the_heads_or_by_the_database_alone(written, own_home):
    older = b"".join(written.read_bytes().splitlines(keepends=True)[:3])
    applied(5)
    kept = (own_home / heads.LEDGER).read_bytes()
    (own_home / heads.LEDGER).unlink()
    written.write_bytes(older)
    assert broken() == (4, MISSING)
    (own_home / heads.LEDGER).write_bytes(kept)
    LedgerHead.objects.all().delete()
    assert broken() == (4, MISSING)


def test_another_ledger_with_a_chain_of_its_own_is_found(written, own_home):
    applied(3)
    written.unlink()
    (own_home / heads.LEDGER).unlink()
    LedgerHead.objects.all().delete()
    for person in PEOPLE[::-1]:
        ledger.append(person)
    # Nothing else knows the first one: what is put back whole cannot be told from inside.
    assert len(ledger.entries()) == 5


def test_a_chain_that_differs_from_what_was_applied_is_changed_there(written, own_home):
    applied(3)
    written.write_bytes(b"")
    (own_home / heads.LEDGER).unlink()
    row = LedgerHead.objects.get()
    LedgerHead.objects.all().delete()
    for person in PEOPLE[::-1]:
        ledger.append(person)
    LedgerHead.objects.create(seq=row.seq, mac=row.mac)
    assert broken() == (3, CHANGED)


def test_a_line_swapped_or_taken_out_is_changed_there(written):
    lines = written.read_bytes().splitlines(keepends=True)
    written.write_bytes(b"".join([lines[0], lines[2], lines[1], *lines[3:]]))
    assert broken() == (2, CHANGED)
    written.write_bytes(b"".join([*lines[:2], *lines[3:]]))
    assert broken() == (3, CHANGED)


def test_the_same_line_in_another_writing_is_changed(written):
    content = written.read_text()
    written.write_text(content.replace(str(PEOPLE[0]), PEOPLE[0].hex, 1))
    assert broken() == (1, CHANGED)


def test_nothing_is_added_to_a_ledger_that_does_not_stand(written):
    written.write_bytes(written.read_bytes()[:-40])
    before = written.read_bytes()
    with pytest.raises(LedgerBroken):
        ledger.append(PEOPLE[0])
    assert written.read_bytes() == before


def test_a_database_without_the_table_knows_nothing(written, monkeypatch):
    applied(5)
    from django.db import connection

    monkeypatch.setattr(connection.introspection, "table_names", lambda *_: [])
    assert len(ledger.entries()) == 5


def test_applied_lines_move_the_head_as_far_as_nobody_elses_waits(written):
    assert not ledger.advance(set(PEOPLE[2:]))  # the first two wait for the next opening
    assert LedgerHead.objects.get().seq == 0
    assert ledger.advance(set(PEOPLE[:2]))
    head = LedgerHead.objects.get()
    assert (head.seq, bytes(head.mac).hex()) == (2, ledger.entries()[1].mac)
    assert not ledger.advance(set(PEOPLE[2:]))  # what was erased before is not cleared yet
    assert LedgerHead.objects.get().seq == 5
    assert not ledger.advance(set(PEOPLE))


def test_eight_threads_keep_one_chain(own_home, monkeypatch):
    # The database is not asked: its connection belongs to this thread.
    monkeypatch.setattr(ledger, "_applied", list)
    with ThreadPoolExecutor(8) as pool:
        numbers = list(pool.map(lambda _: ledger.append(uuid.uuid4()), range(40)))
    assert sorted(numbers) == list(range(1, 41))
    assert [one.sequence for one in ledger.entries()] == list(range(1, 41))


WRITER = """
import sys, uuid, django
django.setup()
from relations.privacy import ledger
from relations.privacy.keys import keyring
keyring.hold(bytes(range(32)))
ledger._applied = list
for _ in range(15):
    ledger.append(uuid.uuid4())
"""


def test_two_processes_keep_one_chain(own_home):
    import os

    environment = {**os.environ, "RELATIONS_HOME": str(own_home)}
    writers = [subprocess.Popen([sys.executable, "-c", WRITER], env=environment) for _ in range(2)]
    assert [writer.wait(120) for writer in writers] == [0, 0]
    assert [one.sequence for one in ledger.entries()] == list(range(1, 31))


@pytest.fixture
def real(own_home, settings, monkeypatch):
    """A home whose keys can be changed, with three lines of which two are applied."""
    settings.RELATIONS_HOME = own_home / "real"
    monkeypatch.setattr(slots, "COSTS", dict.fromkeys(slots.COSTS, Cost(8, 1, 1)))
    opening.make_home("real", {"passphrase": "OLD", "recovery": "0" * 28})
    for person in PEOPLE[:3]:
        ledger.append(person)
    applied(2)
    yield settings.RELATIONS_HOME / "ledger"
    keyring.hold(MASTER)


NEW = {"passphrase": "NEW", "recovery": "1" * 28}


def test_a_rekey_carries_the_ledger(real):
    old = ledger.entries()
    rekeying.begin(NEW)
    with pytest.raises(LedgerBroken):
        ledger.entries()
    rekeying.finish()
    new = ledger.entries()
    assert [(one.sequence, one.person_id, one.at) for one in new] == [
        (one.sequence, one.person_id, one.at) for one in old
    ]
    assert {one.mac for one in new}.isdisjoint(one.mac for one in old)
    assert bytes(LedgerHead.objects.get().mac).hex() == new[1].mac
    assert heads.read(heads.LEDGER) == [(3, new[2].mac)]
    assert ledger.append(PEOPLE[3]) == 4


@pytest.mark.parametrize("stopped", ["_replace", "heads.replace"])
def test_a_rekey_stopped_at_the_ledger_goes_on(real, monkeypatch, stopped):
    where, name = (heads, "replace") if "." in stopped else (ledger, stopped)

    def stop(*_):
        raise InterruptedError

    rekeying.begin(NEW)
    monkeypatch.setattr(where, name, stop)
    with pytest.raises(InterruptedError):
        rekeying.finish()
    monkeypatch.undo()
    rekeying.finish()
    assert [one.person_id for one in ledger.entries()] == PEOPLE[:3]
    assert rekeying.faults() == []


def test_a_ledger_that_does_not_stand_is_named_before_a_rekey(real):
    real.write_bytes(real.read_bytes()[:-1])
    assert rekeying.faults() == [
        "Line 3 of the ledger of what was erased is missing: its end was cut off, "
        "or an older file was put back."
    ]


def test_a_rekey_does_not_carry_a_ledger_that_was_cut_meanwhile(real):
    rekeying.begin(NEW)
    real.write_bytes(real.read_bytes().splitlines(keepends=True)[0])
    with pytest.raises(LedgerBroken, match="line 2"):
        rekeying.finish()
    assert keyring.is_halfway


def test_a_home_without_a_ledger_is_rekeyed_too(real, own_home):
    real.unlink()
    (real.parent / heads.LEDGER).unlink()
    LedgerHead.objects.all().delete()
    rekeying.begin(NEW)
    rekeying.finish()
    assert ledger.entries() == []
    assert log.broken_at() is None
