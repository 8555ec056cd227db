"""Rekeying: all is under the new master, nothing is lost, and a kill at any moment only delays."""

import os
import random
import subprocess
import sys
import time
import uuid

import psycopg
import pytest
from django.contrib.sessions.models import Session
from django.db import connection
from django.utils import timezone

from relations.people.models import NeverRing, PhoneLine
from relations.people.queries import may_not_be_rung
from relations.privacy import log, opening, rekeying, slots
from relations.privacy.crypt import Cost, SealBroken
from relations.privacy.fields import header, mark
from relations.privacy.files import light_copies, scans
from relations.privacy.home import home
from relations.privacy.keys import Halfway, Keyring, WrongSecret, keyring
from relations.privacy.models import AccessEntry, Mending, Role, User
from tests.rows import make

MASTER = bytes(range(32))
OLD, NEW, CODE = "six words that nobody guesses", "a key under the third stone", "0" * 28
SECRETS = {"passphrase": NEW, "keeper": NEW + " too", "recovery": "1" * 28}
NUMBER, OTHER_NUMBER = "+33465710001", "+33465710002"
CHEAP = dict.fromkeys(slots.COSTS, Cost(8, 1, 1))

pytestmark = [pytest.mark.unlocked, pytest.mark.django_db]


@pytest.fixture(autouse=True)
def real(tmp_path, settings, monkeypatch):
    monkeypatch.setattr(slots, "COSTS", CHEAP)
    settings.RELATIONS_HOME = tmp_path / "home"
    mask = os.umask(0o022)
    opening.make_home("real", {"passphrase": OLD, "recovery": CODE})
    yield
    os.umask(mask)
    keyring.hold(MASTER)


@pytest.fixture
def filled():
    """A user, a line with its mark, a mark without its number, two files, a session, a log."""
    user = User.objects.create_user("mara", None, role=Role.ARTIST, called="Mara")
    line = make(PhoneLine, as_typed="04 65 71 00 01", number=NUMBER, mark=mark(NUMBER))
    NeverRing.objects.create(mark=mark(OTHER_NUMBER), at=timezone.now(), by=user)
    Mending.objects.create(
        kind="x", key=uuid.uuid4(), at=timezone.now(), by=user, old={"number": NUMBER}, why=""
    )
    Session.objects.create(session_key="k", session_data="d", expire_date=timezone.now())
    log.note(user, "read", "people.phone", line.pk)
    return line, scans().save(b"signed" * 50_000), light_copies().save(b"small")


def tokens():
    for model, fields in rekeying.sealed_models():
        for row in model._base_manager.values_list(*(field.attname for field in fields)):
            yield from (bytes(token) for token in row if token is not None)


def assert_all_is_new(filled):
    line, scan, copy = filled
    assert {token[:3] for token in tokens()} == {header(2)}
    assert User.objects.get().called == "Mara"
    found = PhoneLine.objects.get(mark=mark(NUMBER))
    assert (found.pk, found.number) == (line.pk, NUMBER)
    assert Mending.objects.get().old == {"number": NUMBER}
    assert scans().open(scan).read() == b"signed" * 50_000
    assert light_copies().open(copy).read() == b"small"
    assert log.broken_at() is None
    assert rekeying.faults() == []


def test_everything_opens_under_the_new_key_and_nothing_under_the_old(filled):
    old_mark, cookie = bytes(PhoneLine.objects.get().mark), (home().root / "cookie.key").read_text()
    assert rekeying.faults() == []
    rekeying.begin(SECRETS)
    rekeying.finish()
    assert_all_is_new(filled)
    assert bytes(PhoneLine.objects.get().mark) != old_mark
    assert not Session.objects.exists()
    assert (home().root / "cookie.key").read_text() != cookie
    assert not keyring.is_halfway
    assert AccessEntry.objects.order_by("seq").last().verb == "rekeyed"


def test_who_may_never_be_rung_stays_so_though_the_number_is_gone(filled):
    assert may_not_be_rung(OTHER_NUMBER)
    rekeying.begin(SECRETS)
    rekeying.finish()
    assert may_not_be_rung(OTHER_NUMBER)
    assert not may_not_be_rung(NUMBER)
    rekeying.begin(SECRETS)
    rekeying.finish()
    assert may_not_be_rung(OTHER_NUMBER)
    assert log.broken_at() is None


@pytest.mark.parametrize(("slot", "said"), SECRETS.items())
def test_the_new_secrets_open_the_home_and_the_old_ones_do_not(filled, slot, said):
    rekeying.begin(SECRETS)
    rekeying.finish()
    assert Keyring(lambda: home().keys).unlock(said) == slot
    for old in (OLD, CODE):
        with pytest.raises(WrongSecret):
            Keyring(lambda: home().keys).unlock(old)


def test_a_line_from_before_that_is_changed_shows_after_too(filled):
    rekeying.begin(SECRETS)
    rekeying.finish()
    AccessEntry.objects.filter(seq=1).update(verb="wrote")
    assert log.verify() == 1
    (fault,) = rekeying.faults()
    assert "broken at line 1:" in fault


def test_halfway_the_home_opens_for_nothing_but_the_rest(filled):
    rekeying.begin(SECRETS)
    keyring.lock()
    with pytest.raises(Halfway):
        keyring.unlock(NEW)
    assert keyring.locked
    keyring.unlock(NEW, halfway_too=True)
    rekeying.finish()
    assert_all_is_new(filled)


@pytest.mark.parametrize("after", range(6))
def test_stopped_between_two_things_it_goes_on(filled, monkeypatch, after):
    done = []

    def stopping(act):
        def acted(*args, **kwargs):
            if len(done) == after:
                raise InterruptedError
            done.append(1)
            return act(*args, **kwargs)

        return acted

    names = ["_reseal_rows", "_reseal_files", "new_cookie_key"]
    with monkeypatch.context() as patch:
        for name in names:
            patch.setattr(rekeying, name, stopping(getattr(rekeying, name)))
        rekeying.begin(SECRETS)
        with pytest.raises(InterruptedError):
            rekeying.finish()
    keyring.lock()
    keyring.unlock(NEW, halfway_too=True)
    rekeying.finish()
    assert_all_is_new(filled)


def test_what_does_not_open_is_named_before_anything_is_changed(filled):
    line, scan, _ = filled
    PhoneLine.objects.update(zone="x")
    token = bytes(PhoneLine.objects.values_list("number", flat=True).get())
    with connection.cursor() as cursor:
        broken = token[:-1] + bytes([token[-1] ^ 1])
        cursor.execute("UPDATE people_phoneline SET number = %s", [broken])
    sealed = scans().path_of(scan)
    sealed.write_bytes(sealed.read_bytes()[:-1])
    (scans().folder / "notes.txt").write_text("mine")
    value, *files = rekeying.faults()
    assert f"people_phoneline.number of row {line.pk} does not open" in value
    assert ["does not open to its end" in fault for fault in files] == [True, True]
    assert (scan in files[0], "notes.txt" in files[1]) == (True, True)


def test_a_value_under_neither_key_stops_it_and_both_masters_stay(filled):
    rekeying.begin(SECRETS)
    with connection.cursor() as cursor:
        cursor.execute("UPDATE people_phoneline SET number = as_typed")
    with pytest.raises(SealBroken):
        rekeying.finish()
    assert keyring.is_halfway


# A home with its own file: made, then rekeyed by a process that is killed.
MADE = """
import django
django.setup()
from relations.privacy import log, opening, slots, tables
from relations.privacy.crypt import Cost
slots.COSTS = dict.fromkeys(slots.COSTS, Cost(8, 1, 1))
opening.make_home("real", {"passphrase": "OLD", "recovery": "0" * 28})
tables.make_all()
from relations.privacy.files import scans
from relations.privacy.models import Role, User
for number in range(1500):
    User(username=str(number), password="!", role=Role.ARTIST, called=f"called {number}").save()
for number in range(40):
    scans().save(b"%d signed" % number * 20_000)
    log.note(None, "read", "x", None)
import uuid
from relations.privacy import ledger
from relations.privacy.models import LedgerHead
for _ in range(3):
    ledger.append(uuid.uuid4())
LedgerHead(seq=3, mac=bytes.fromhex(ledger.last()[1])).save()
print("made")
"""
REKEYED = """
import sys, time
import django
django.setup()
from relations.privacy import log, rekeying, slots
from relations.privacy.crypt import Cost
from relations.privacy.keys import WrongSecret, keyring
slots.COSTS = dict.fromkeys(slots.COSTS, Cost(8, 1, 1))
try:
    keyring.unlock("NEW", halfway_too=True)
except WrongSecret:
    time.sleep(0.6)
    keyring.unlock("OLD")
print("opened", flush=True)
if not keyring.is_halfway and keyring.key_id == 1:
    rekeying.begin({"passphrase": "NEW", "recovery": "1" * 28})
if keyring.is_halfway:
    rekeying.finish()
from relations.privacy.files import scans
from relations.privacy.models import User
called = {user.called for user in User.objects.all()}
assert called == {f"called {number}" for number in range(1500)}
read = {scans().open(name).read() for name in scans().names()}
assert read == {b"%d signed" % number * 20_000 for number in range(40)}
assert rekeying.faults() == [], rekeying.faults()
from relations.privacy import ledger
assert ledger.last()[0] == 3
assert keyring.key_id == 2
print("whole")
"""


@pytest.fixture
def register():
    """Where a home keeps its rows: in itself, or on a server in a database of its own."""
    if connection.vendor == "sqlite":
        yield ""
        return
    said, name = connection.settings_dict, f"killed_{uuid.uuid4().hex}"
    server = {"user": said["USER"], "password": said["PASSWORD"], "port": said["PORT"]}
    with psycopg.connect(
        host=said["HOST"], dbname="postgres", autocommit=True, **server
    ) as maintenance:
        maintenance.execute(f'CREATE DATABASE "{name}"')
        yield f"postgresql://{said['USER']}:{said['PASSWORD']}@{said['HOST']}:{said['PORT']}/{name}"
        maintenance.execute(f'DROP DATABASE "{name}" WITH (FORCE)')


def run(root, register, script):
    home = {"RELATIONS_HOME": str(root), "RELATIONS_DATABASE_URL": register, "RELATIONS_TODAY": ""}
    return subprocess.Popen(
        [sys.executable, "-c", script],
        env={**os.environ, **home},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def killed_again_and_again(root, register, kills, longest):
    """Rekey a home with SIGKILL at random moments; how many of them struck a process at work."""
    assert run(root, register, MADE).communicate()[0] == "made\n"
    chance, struck = random.Random(37), 0
    for _ in range(kills):
        process = run(root, register, REKEYED)
        process.stdout.readline()
        time.sleep(chance.uniform(0, longest))
        struck += process.poll() is None
        process.kill()
        process.communicate()
    said, faults = run(root, register, REKEYED).communicate()
    assert said == "opened\nwhole\n", faults
    return struck


def test_killed_at_random_moments_it_is_finished_all_the_same(tmp_path, register):
    assert killed_again_and_again(tmp_path / "killed", register, 6, 0.25) >= 3


@pytest.mark.long
def test_killed_forty_times_it_is_finished_all_the_same(tmp_path, register):
    assert killed_again_and_again(tmp_path / "killed", register, 40, 0.05) >= 20
