"""What sealing costs: the register with its key beside the same one without, and the guides."""

import json
from uuid import uuid4

import pytest

from relations.privacy import slots
from relations.privacy.log import note
from tests import cast
from tests.bench.timing import best
from tests.clone import Clone

SEALED_BAR = 1.5
PAGES = 40

# Runs inside a copy whose rehearsal is filled: the same pages from the sealed register and from
# its twin without a key, by the same engine, in turn.
SIDE_BY_SIDE = """
import django, json, os, sys
django.setup()
from django.db import connections
from relations.privacy.cipher import base
from relations.privacy.home import home
from relations.privacy.keys import keyring
from relations.privacy.models import User
from tests.bench.site import Site
from tests.bench.timing import side_by_side
keyring.unlock_rehearsal()
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


def test_sealed_register_serves_a_person_nearly_as_fast_as_a_plain_one(
    filled_clone: Clone, figure
) -> None:
    script = SIDE_BY_SIDE.replace("PAGES", str(PAGES))
    said = filled_clone.read(script, RELATIONS_HOME=str(filled_clone.rehearsal))
    sealed, plain, ratio = json.loads(said)
    figure("the page of a person, sealed, milliseconds", sealed * 1000)
    figure("the same from a file without a key, milliseconds", plain * 1000)
    figure("sealed beside without a key", ratio, bar=f"<= {SEALED_BAR}")
    assert ratio <= SEALED_BAR


def test_opening_a_home_is_slow_on_purpose_and_not_too_slow(figure) -> None:
    """A guide only: the cost is set in slots.py, the machine sets the seconds."""
    said = "six words that nobody guesses"
    kept = slots.make_slot("passphrase", said, bytes(32), "real")
    seconds = best(lambda: slots.open_slot(kept, said, "real"), rounds=2)
    figure("opening a home, processor seconds", seconds, guide="1.5")


@pytest.mark.django_db
def test_line_of_the_access_log_costs_little(figure) -> None:
    by, about = cast.artist(), uuid4()
    seconds = best(lambda: note(by, "read", "people.phoneline", about), rounds=30)
    figure("a line of the access log, milliseconds", seconds * 1000, guide="0.2")
