"""A whole home in which somebody is erased: its file page by page, and an older one put back."""

import json
import shutil
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.ciphers import Cipher, algorithms, modes

from tests.clone import Clone
from tests.traces import files, traces

# SQLCipher 4: pages of 4096 bytes, of which the last 80 are the page's IV (16) and its HMAC (64);
# the first page begins with 16 bytes of salt. Source: zetetic.net/sqlcipher/design, from memory;
# the control below fails if it is not so.
PAGE, RESERVED, SALT = 4096, 80, 16
JOURNAL_HEAD, FRAME_HEAD = 32, 24  # bytes; source: sqlite.org/fileformat2.html, from memory

LOOK = """
import json, django
django.setup()
from relations.privacy.opening import open_home
open_home()
from relations.people.models import Participant
from relations.privacy.keys import keyring
from tests.traces import values_of
person = Participant.objects.get(code="37")
log_key = {person.log_key.bytes, person.log_key.hex.encode(), str(person.log_key).encode()}
print(json.dumps({
    "key": keyring.subkey("database").hex(),
    "values": [value.hex() for value in values_of(person) - log_key],
    "log_key": str(person.log_key),
}))
"""
ERASE = """
import django
django.setup()
from relations.privacy.opening import open_home
open_home()
from django.utils import timezone
from relations.people.models import Participant
from relations.privacy.models import User
from relations.rights import erasing
person = Participant.objects.get(code="37")
print(erasing.erase(person=person, by=User.objects.get(username="aude"), at=timezone.now()))
"""
OPEN = """
import django
django.setup()
from django.core.management.base import CommandError
from relations.privacy.opening import open_home
try:
    open_home()
except CommandError as error:
    print(error)
else:
    from relations.people import search
    from relations.privacy import log
    from relations.privacy.models import LedgerHead
    head = LedgerHead.objects.get()
    print(len(search.find("37") + search.find("Latifa")), log.broken_at(), head.seq, head.cleared)
"""


def opened_pages(path: Path, key: bytes) -> bytes:
    """Every page of the register's file as it is inside, free ones too."""
    content = path.read_bytes()
    pages = [content[at : at + PAGE] for at in range(0, len(content), PAGE)]
    return b"".join(_opened(page, key, SALT if at == 0 else 0) for at, page in enumerate(pages))


def opened_frames(path: Path, key: bytes) -> bytes:
    """Every page in the journal beside the register."""
    content = path.read_bytes() if path.exists() else b""
    starts = range(JOURNAL_HEAD + FRAME_HEAD, len(content), FRAME_HEAD + PAGE)
    numbers = [
        int.from_bytes(content[at - FRAME_HEAD : at - FRAME_HEAD + 4], "big") for at in starts
    ]
    return b"".join(
        _opened(content[at : at + PAGE], key, SALT if number == 1 else 0)
        for at, number in zip(starts, numbers, strict=True)
    )


def _opened(page: bytes, key: bytes, salt: int) -> bytes:
    iv = page[PAGE - RESERVED :][:16]
    opener = Cipher(algorithms.AES(key), modes.CBC(iv)).decryptor()
    return opener.update(page[salt : PAGE - RESERVED])


def inside(home: Path, key: bytes) -> dict[str, bytes]:
    """What lies in a home: the register's pages opened, and every file as it lies there."""
    register = home / "register.db"
    return {
        "register": opened_pages(register, key),
        "journal": opened_frames(home / "register.db-wal", key),
        **files(home),
    }


def erased(copy: Clone, home: Path) -> str:
    """Erase 37 in a home, once; the number of the line in its ledger."""
    return "1\n" if (home / "ledger").exists() else copy.read(ERASE, RELATIONS_HOME=str(home))


@pytest.fixture(scope="module")
def homes(filled_clone: Clone, tmp_path_factory: pytest.TempPathFactory):
    """The same home twice, one of them a day older: in it nobody has been erased yet."""
    home = tmp_path_factory.mktemp("erased") / "home"
    shutil.copytree(filled_clone.rehearsal, home)
    told = json.loads(filled_clone.read(LOOK, RELATIONS_HOME=str(home)))
    older = home.with_name("older")
    shutil.copytree(home, older)
    return home, older, told


def test_nothing_of_37_is_left_and_an_older_home_put_back_forgets_them_too(filled_clone, homes):
    home, older, told = homes
    key, values = bytes.fromhex(told["key"]), {bytes.fromhex(one) for one in told["values"]}
    assert "register" in traces(values, inside(home, key))
    assert erased(filled_clone, home) == "1\n"
    assert traces(values, inside(home, key)) == []
    assert told["log_key"] in (home / "ledger").read_text()
    assert filled_clone.read(OPEN, RELATIONS_HOME=str(home)) == "0 None 1 1\n"
    # Yesterday's home put back whole, with today's ledger, as a restored backup is.
    shutil.copy(home / "ledger", older)
    assert "register" in traces(values, inside(older, key))
    assert filled_clone.read(OPEN, RELATIONS_HOME=str(older)) == "0 None 1 1\n"
    assert traces(values, inside(older, key)) == []


def test_older_register_put_back_alone_is_named_by_the_log_and_forgets_37_all_the_same(
    filled_clone, homes, tmp_path
):
    """What was noted since is gone from the log; the heads kept beside it know of it."""
    home, _, told = homes
    erased(filled_clone, home)
    key, values = bytes.fromhex(told["key"]), {bytes.fromhex(one) for one in told["values"]}
    copy = tmp_path / "home"
    shutil.copytree(home, copy)
    for path in copy.glob("register.db*"):
        path.unlink()
    shutil.copy(filled_clone.rehearsal / "register.db", copy)
    assert "register" in traces(values, inside(copy, key))
    found, broken, *applied = filled_clone.read(OPEN, RELATIONS_HOME=str(copy)).split()
    assert (found, applied) == ("0", ["1", "1"])
    assert broken.isdecimal()
    assert traces(values, inside(copy, key)) == []


@pytest.mark.parametrize(
    ("damage", "said"),
    [
        (lambda path: path.unlink(), "line 1 of the ledger of what was erased is missing"),
        (lambda path: path.write_bytes(path.read_bytes()[:-9]), "line 1"),
        (lambda path: path.write_bytes(b"2" + path.read_bytes()[1:]), "is not as it was written"),
    ],
    ids=["taken away", "cut", "changed"],
)
def test_home_whose_ledger_does_not_stand_is_not_opened(
    filled_clone, homes, tmp_path, damage, said
):
    home, *_ = homes
    erased(filled_clone, home)
    copy = tmp_path / "home"
    shutil.copytree(home, copy)
    damage(copy / "ledger")
    told = filled_clone.read(OPEN, RELATIONS_HOME=str(copy))
    assert told.startswith("The home stays locked: line 1 of the ledger")
    assert said in told
