"""What it costs to open the register once more, beside the bare library with the same key."""

import json

from tests.clone import ROOT, Clone

TIMES_BARE = 3

# Each is opened to its first read: before that neither the key nor the file was looked at.
OPENED = """
import json
import django
django.setup()
from django.db import connection
from sqlcipher3 import dbapi2
from relations.privacy.cipher.base import key_pragma
from relations.privacy.home import home
from relations.privacy import tables
from relations.privacy.keys import keyring
from tests.bench.timing import side_by_side
keyring.hold(bytes(range(32)))
tables.make_all()
READ = "SELECT count(*) FROM people_participant"
pragma = key_pragma(keyring.subkey("database"))
def ours():
    connection.close()
    with connection.cursor() as cursor:
        cursor.execute(READ)
        assert cursor.fetchone() == (0,)
def bare():
    opened = dbapi2.connect(home().database)
    opened.execute(pragma)
    assert opened.execute(READ).fetchone() == (0,)
    opened.close()
def often(act):
    for _ in range(5):
        act()
pair = side_by_side(lambda: often(ours), lambda: often(bare), rounds=9)
print(json.dumps([pair.seconds / 5, pair.ratio]))
"""


def test_connection_costs_little_more_than_the_bare_librarys(tmp_path, figure) -> None:
    seconds, ratio = json.loads(Clone(ROOT).read(OPENED, RELATIONS_HOME=str(tmp_path)))
    figure("a connection opened", seconds * 1000, unit="ms", guide="1")
    figure("a connection beside the bare library's", ratio, bar=f"<= {TIMES_BARE}")
    assert ratio <= TIMES_BARE
