"""The register's file: sealed from its first byte, and no way in without the right key."""

import datetime
import decimal
import threading
import uuid

import pytest
from cryptography.hazmat.primitives.ciphers import Cipher, algorithms, modes
from django.core.exceptions import ImproperlyConfigured
from django.core.management import call_command
from django.db import connection, transaction
from django.db.utils import DatabaseError, OperationalError
from sqlcipher3 import dbapi2

from relations.privacy.cipher import base
from relations.privacy.cipher.base import DatabaseWrapper, WrongKey, key_pragma
from relations.privacy.keys import Locked, keyring

MASTER = bytes(range(32))
PLAIN = b"SQLite format 3\x00"


@pytest.fixture
def path(tmp_path):
    return tmp_path / "register.db"


@pytest.fixture
def register(path, django_db_blocker):
    """A connection to a real file, outside Django's own list of databases."""
    made = []

    def connect(**options):
        wrapper = DatabaseWrapper({**connection.settings_dict, "NAME": path, "OPTIONS": options})
        made.append(wrapper)
        return wrapper

    with django_db_blocker.unblock():
        yield connect
        for wrapper in made:
            wrapper.inc_thread_sharing()
            wrapper.close()
    keyring.hold(MASTER)


@pytest.fixture
def letters(register):
    """A register that holds one letter."""
    database = register()
    with database.cursor() as cursor:
        cursor.execute("CREATE TABLE letter (words text)")
        cursor.execute("INSERT INTO letter VALUES (%s)", ["said in trust"])
    return database


def words(database):
    with database.cursor() as cursor:
        cursor.execute("SELECT words FROM letter")
        return [row[0] for row in cursor.fetchall()]


def ask(database, pragma):
    with database.cursor() as cursor:
        return cursor.execute(f"PRAGMA {pragma}").fetchone()[0]


def test_the_file_and_its_journal_hold_nothing_in_clear(letters, path):
    for file in path.parent.iterdir():
        content = file.read_bytes()
        assert b"trust" not in content
        assert not content.startswith(PLAIN)
    assert path.stat().st_size >= 4096
    assert path.read_bytes()[:16] != PLAIN


def test_without_a_key_no_file_is_made(register, path):
    keyring.lock()
    with pytest.raises(Locked), register().cursor():
        pass
    assert not path.exists()


def test_to_djangos_own_commands_a_locked_register_is_a_database_that_is_away(register):
    keyring.lock()
    with pytest.raises(OperationalError), register().cursor():
        pass


def test_a_wrong_key_opens_nothing_and_says_so(letters, register):
    letters.close()
    keyring.hold(bytes(32))
    other = register()
    with pytest.raises(WrongKey, match="does not open with this key"), other.cursor():
        pass
    assert isinstance(WrongKey(), DatabaseError)
    assert other.connection is None
    keyring.hold(MASTER)
    assert words(register()) == ["said in trust"]


@pytest.mark.parametrize("length", [0, 2, 31, 33])
def test_a_key_of_another_length_is_refused_before_it_becomes_a_passphrase(length):
    with pytest.raises(ImproperlyConfigured, match="32 bytes"):
        key_pragma(bytes(length))


def test_the_plain_library_cannot_read_the_file(letters, path):
    plain = dbapi2.connect(path)
    with pytest.raises(dbapi2.DatabaseError, match="not a database"):
        plain.execute("SELECT * FROM letter")
    plain.close()


def test_a_file_that_is_not_a_sealed_register_is_not_taken_for_one(register, path):
    plain = dbapi2.connect(path)
    plain.execute("CREATE TABLE letter (words text)")
    plain.close()
    assert path.read_bytes().startswith(PLAIN)
    with pytest.raises(WrongKey), register().cursor():
        pass


def test_every_connection_is_set_as_the_design_says(letters):
    assert ask(letters, "secure_delete") == 1
    assert ask(letters, "journal_mode") == "wal"
    assert ask(letters, "foreign_keys") == 1
    assert ask(letters, "busy_timeout") == 20_000
    assert letters.transaction_mode == "IMMEDIATE"
    assert letters.display_name == "SQLCipher"


def test_as_much_is_kept_as_the_register_is_large_within_limits(register, path, monkeypatch):
    assert ask(register(), "cache_size") == -16_000
    filled = register()
    with filled.cursor() as cursor:
        cursor.execute("CREATE TABLE letter (scan blob)")
        cursor.execute("INSERT INTO letter VALUES (randomblob(20000000))")
    filled.close()
    assert ask(register(), "cache_size") == -(path.stat().st_size // 1000) < -20_000
    monkeypatch.setattr(base, "KEPT", (16_000, 18_000))
    assert ask(register(), "cache_size") == -18_000


def test_a_project_may_add_a_command_of_its_own(register):
    assert ask(register(init_command="PRAGMA cache_size = -123; "), "cache_size") == -123


def test_a_connection_of_an_earlier_opening_is_closed_before_it_is_used(letters):
    assert words(letters) == ["said in trust"]
    old = letters.connection
    keyring.lock()
    with pytest.raises(Locked):
        words(letters)
    assert letters.connection is None
    with pytest.raises(dbapi2.ProgrammingError):
        old.execute("SELECT 1")
    keyring.hold(MASTER)
    assert words(letters) == ["said in trust"]
    assert letters.connection is not old


def test_every_thread_loses_its_connection_when_the_home_is_locked(letters, register):
    opened, locked, found = threading.Event(), threading.Event(), []

    def work():
        database = register()
        found.append(words(database))
        opened.set()
        locked.wait(10)
        try:
            words(database)
        except Locked:
            found.append("locked")
        database.close()

    thread = threading.Thread(target=work)
    thread.start()
    assert opened.wait(10)
    keyring.lock()
    locked.set()
    thread.join(10)
    assert found == [["said in trust"], "locked"]


def pages(database, path):
    """Every page of the file, opened by hand, free space included.

    SQLCipher 4: AES-256-CBC, the last 80 bytes of a page are its IV (16) and HMAC (64), the first
    16 of the file are its salt; a raw key is used as it is (SQLCipher's design page, from memory).
    """
    with database.cursor() as cursor:
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    content, key = path.read_bytes(), keyring.subkey("database")
    clear = b""
    for start in range(0, len(content), 4096):
        page = content[start : start + 4096]
        body, iv = page[0 if start else 16 : -80], page[-80:-64]
        opening = Cipher(algorithms.AES(key), modes.CBC(iv)).decryptor()
        clear += opening.update(body) + opening.finalize()
    return clear


def test_what_was_erased_does_not_stay_in_the_pages(letters, path):
    assert b"said in trust" in pages(letters, path)
    with letters.cursor() as cursor:
        cursor.execute("DELETE FROM letter")
    left = pages(letters, path)
    assert b"CREATE TABLE letter" in left
    assert b"said in trust" not in left


def test_there_is_no_shell_on_the_register(register):
    with pytest.raises(ImproperlyConfigured, match="no shell"):
        register().client.runshell([])


@pytest.mark.django_db
def test_dbshell_is_refused():
    if connection.vendor != "sqlite":
        pytest.skip("PostgreSQL has its own client")
    with pytest.raises(ImproperlyConfigured, match="no shell"):
        call_command("dbshell")


def test_placeholders_values_and_many_rows_work_as_in_djangos_own_backend(register):
    database = register()
    moment = datetime.datetime(2026, 11, 23, 9, 0, tzinfo=datetime.UTC)
    with database.cursor() as cursor:
        cursor.execute("CREATE TABLE t (a text, d date, n decimal, b bool, m text)")
        cursor.executemany("INSERT INTO t (a) VALUES (%s)", ([str(i)] for i in range(3)))
        cursor.executemany("INSERT INTO t (a) VALUES (%(a)s)", [{"a": "x"}, {"a": "y"}])
        cursor.executemany("INSERT INTO t (a) VALUES (%s)", [])
        cursor.execute(
            "INSERT INTO t VALUES (%(a)s, %(d)s, %(n)s, 1, %(m)s)",
            {"a": "100%", "d": moment.date(), "n": decimal.Decimal("1.50"), "m": moment},
        )
        cursor.execute("SELECT a, d, n, b, m FROM t WHERE a LIKE '100%%' AND a = %s", ["100%"])
        assert cursor.fetchone()[:2] == ("100%", moment.date())
        cursor.execute("SELECT count(*) FROM t")
        assert cursor.fetchone() == (6,)


def test_two_who_write_at_once_wait_for_each_other(letters, register):
    failed = []

    def work():
        database = register()
        try:
            for _ in range(20):
                with database.cursor() as cursor:
                    cursor.execute("BEGIN IMMEDIATE")
                    cursor.execute("SELECT count(*) FROM letter")
                    cursor.fetchone()
                    cursor.execute("INSERT INTO letter VALUES (%s)", [str(uuid.uuid4())])
                    cursor.execute("COMMIT")
        except DatabaseError as error:
            failed.append(error)
        finally:
            database.close()

    threads = [threading.Thread(target=work) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
    assert failed == []
    assert len(words(letters)) == 81


@pytest.mark.django_db(transaction=True)
def test_a_transaction_begins_as_a_writer():
    if connection.vendor != "sqlite":
        pytest.skip("PostgreSQL locks rows")
    with transaction.atomic(), connection.cursor() as cursor:
        assert connection.transaction_mode == "IMMEDIATE"
        cursor.execute("SELECT 1")
        assert connection.in_atomic_block


def test_tests_run_in_memory_without_a_key(django_db_blocker):
    wrapper = DatabaseWrapper({**connection.settings_dict, "NAME": ":memory:", "OPTIONS": {}})
    keyring.lock()
    with django_db_blocker.unblock(), wrapper.cursor() as cursor:
        cursor.execute("CREATE TABLE t (a text)")
        keyring.hold(MASTER)
        cursor.execute("SELECT * FROM t")
        assert cursor.fetchall() == []
    wrapper.connection.close()
