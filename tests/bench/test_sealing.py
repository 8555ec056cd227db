"""What sealing costs: the register with its key beside the same one without, and the guides."""

import json
import os

import pytest

from relations.privacy import slots
from relations.privacy.files import SealedStorage
from relations.privacy.keys import Keyring
from tests.bench.timing import best, side_by_side, turn_by_turn
from tests.clone import ROOT, Clone

SEALED_BAR = 1.5
LIST_BAR = 3
SCAN_BYTES = 20 * 1024 * 1024
PAGES = 40

# Runs inside a copy whose rehearsal is filled: the same pages from the sealed register and from
# its twin without a key, by the same engine, in turn.
SIDE_BY_SIDE = """
import django, json, os, sys
django.setup()
from django.db import connections
from relations.privacy.cipher import base
from relations.privacy.home import home
from relations.privacy.models import User
from relations.privacy.opening import open_home
from tests.bench.site import Site
from tests.bench.timing import side_by_side
open_home()
sealed, plain = connections["default"], connections.create_connection("default")
twin = home().root.parent / "twin.db"
twin.unlink(missing_ok=True)
with sealed.cursor() as cursor:
    cursor.execute("ATTACH DATABASE %s AS twin KEY ''", [str(twin)])
    cursor.execute("SELECT sqlcipher_export('twin')")
    cursor.execute("DETACH DATABASE twin")
plain.settings_dict = {**plain.settings_dict, "NAME": twin}
turned = base.key_pragma
base.key_pragma = lambda key: "SELECT 1"
plain.ensure_connection()
base.key_pragma = turned
assert twin.read_bytes()[:16] == b"SQLite format 3\\0"
assert home().database.read_bytes()[:16] != b"SQLite format 3\\0"
def site(connection):
    connections["default"] = connection
    return Site(User.objects.get(username="ines"))
sites = {one: site(one) for one in (sealed, plain)}
def ask(connection):
    connections["default"] = connection
    for _ in range(PAGES):
        page = sites[connection].ask("/person/01/")
    assert b"Marcel" in page.body
pair = side_by_side(lambda: ask(sealed), lambda: ask(plain), rounds=7)
plain.close()
twin.unlink()
print(json.dumps([pair.seconds / PAGES, pair.beside / PAGES, pair.ratio]))
"""


@pytest.mark.whole
def test_sealed_register_serves_a_person_nearly_as_fast_as_a_plain_one(
    filled_clone: Clone, figure
) -> None:
    script = SIDE_BY_SIDE.replace("PAGES", str(PAGES))
    said = filled_clone.read(script, RELATIONS_HOME=str(filled_clone.rehearsal))
    sealed, plain, ratio = json.loads(said)
    figure("the page of a person, sealed", sealed * 1000, unit="ms")
    figure("the page of a person, from a file without a key", plain * 1000, unit="ms")
    figure("the page of a person, sealed beside without a key", ratio, bar=f"<= {SEALED_BAR}")
    assert ratio <= SEALED_BAR


def test_opening_a_home_is_slow_on_purpose_and_not_too_slow(tmp_path, figure) -> None:
    """A guide only: the cost is set in slots.py, the machine sets the seconds.

    The recovery code is tried last, after both passphrases.
    """
    passphrase, keeper = "six words that nobody guesses", "a key under the third stone"
    said = {"passphrase": passphrase, "keeper": keeper, "recovery": slots.new_recovery_code()}
    slots.write_key_file(tmp_path / "keys", slots.new_key_file("real", said, bytes(32)))
    shut = Keyring(lambda: tmp_path / "keys")
    seconds = best(lambda: shut.unlock(passphrase), rounds=1)
    figure("opening a home", seconds, unit="s", guide="1.5")
    seconds = best(lambda: shut.unlock(said["recovery"]), rounds=1)
    figure("opening a home with the recovery code", seconds, unit="s")


def test_scan_of_twenty_megabytes_is_sealed_beside_a_plain_copy(tmp_path, figure) -> None:
    """Both on the disk before they count, the name too; a guide, since the disk sets it."""
    scan, storage = os.urandom(SCAN_BYTES), SealedStorage(tmp_path / "sealed")
    storage.folder.mkdir()
    names = []

    def seal() -> None:
        names.append(storage.save(scan))

    def copy() -> None:
        path = storage.folder / "plain"
        with path.open("wb") as file:
            file.write(scan)
            file.flush()
            os.fsync(file.fileno())
        slots.sync_folder(storage.folder)
        path.unlink()

    pair = turn_by_turn(seal, copy, times=9)
    figure("a scan of 20 MB sealed", pair.seconds * 1000, unit="ms", guide="150")
    figure("a scan of 20 MB sealed beside a plain copy, both on the disk", pair.ratio)
    assert storage.open(names[-1]).read() == scan
    work = side_by_side(seal, copy, rounds=3)
    figure("a scan of 20 MB, the work of sealing", work.seconds * 1000, unit="ms")


# The people of one page of the list, with their three sealed fields opened, beside a table of the
# same columns in clear in the same sealed register.
LIST = """
import json
from datetime import date
import django
django.setup()
from django.db import connection, models
from relations.people.models import Participant
from relations.privacy.fields import SealedDate, SealedField, SealedText
from relations.privacy import tables
from relations.privacy.keys import keyring
from tests.bench.timing import side_by_side
keyring.hold(bytes(range(32)))
tables.make_all()
CLEAR = {SealedText: models.TextField, SealedDate: models.DateField}
columns = {
    field.name: CLEAR[type(field)](null=field.null)
    if isinstance(field, SealedField) else field.clone()
    for field in Participant._meta.concrete_fields if not field.is_relation
}
named = {"__module__": Participant.__module__, "Meta": type("Meta", (), {"app_label": "people"})}
Twin = type("Twin", (models.Model,), named | columns)
with connection.schema_editor() as editor:
    editor.create_model(Twin)
for number in range(50):
    said = dict(
        code=f"{number:02}", call_name=f"called {number}", born_earliest=date(1980, 1, 1),
        born_latest=date(1980, 12, 31), standing_since=date(2026, 1, 1), heard_on=date(2026, 1, 1),
    )
    Participant(**said).save(), Twin(**said).save()
def listed(kind):
    people = kind.objects.order_by("code")[:50]
    return [(one.call_name, one.born_earliest, one.born_latest) for one in people]
assert listed(Participant) == listed(Twin) and len(listed(Twin)) == 50
def often(kind):
    for _ in range(10):
        listed(kind)
pair = side_by_side(lambda: often(Participant), lambda: often(Twin), rounds=9)
print(json.dumps([pair.seconds / 10, pair.ratio]))
"""


def test_list_of_fifty_people_opens_little_slower_than_one_in_clear(tmp_path, figure) -> None:
    seconds, ratio = json.loads(Clone(ROOT).read(LIST, RELATIONS_HOME=str(tmp_path)))
    figure("50 people, three sealed fields each", seconds * 1000, unit="ms", guide="5")
    figure("50 people, sealed fields beside the same list in clear", ratio, bar=f"<= {LIST_BAR}")
    assert ratio <= LIST_BAR
