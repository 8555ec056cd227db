"""The register's file opened by hand, page by page, as SQLCipher's published design says.

Another implementation than the one that wrote it: `cryptography`'s AES, Python's HMAC and PBKDF2.
Source: zetetic.net/sqlcipher/design, version 4 with a raw key (from memory, and what is found
here): pages of 4,096 bytes; the first 16 bytes of the file are its salt; each page ends in a random
IV of 16 bytes and an HMAC-SHA-512 of 64 over ciphertext, IV and page number (little-endian); the
key of the HMAC is PBKDF2-HMAC-SHA-512 of the raw key, the salt with every byte XOR 0x3a, 2 rounds.
"""

import hashlib
import hmac

import pytest
from cryptography.hazmat.primitives.ciphers import Cipher, algorithms, modes

from tests.clone import ROOT, Clone

PAGE, RESERVE, SALT = 4096, 80, 16
WORD = b"a lamp beside the water"
WRITTEN = """
import django
django.setup()
from django.db import connection
from relations.privacy.keys import keyring
keyring.hold(bytes(range(32)))
print(keyring.subkey("database").hex())
with connection.cursor() as cursor:
    cursor.execute("CREATE TABLE said (word text)")
    cursor.execute("INSERT INTO said VALUES ('a lamp beside the water')")
    cursor.execute("CREATE TABLE other (word text)")
    cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
"""


@pytest.fixture(scope="module")
def register(tmp_path_factory):
    """The key of the register and the bytes of its file."""
    folder = tmp_path_factory.mktemp("home")
    key = Clone(ROOT).read(WRITTEN, RELATIONS_HOME=str(folder))
    return bytes.fromhex(key.strip()), (folder / "register.db").read_bytes()


def pages(key, file):
    """The pages in clear; ValueError names the first whose HMAC does not fit."""
    salt = file[:SALT]
    mac_key = hashlib.pbkdf2_hmac("sha512", key, bytes(byte ^ 0x3A for byte in salt), 2, 32)
    for number in range(len(file) // PAGE):
        page = file[number * PAGE : (number + 1) * PAGE]
        start = 0 if number else SALT
        body, iv = page[start:-RESERVE], page[-RESERVE : -RESERVE + 16]
        said = body + iv + (number + 1).to_bytes(4, "little")
        if not hmac.compare_digest(hmac.digest(mac_key, said, "sha512"), page[-64:]):
            raise ValueError(f"page {number + 1}")
        opened = Cipher(algorithms.AES(key), modes.CBC(iv)).decryptor()
        yield opened.update(body) + opened.finalize()


# RFC 7914, section 11; there with SHA-256, and here for the function itself.
@pytest.mark.parametrize(
    ("said", "salt", "rounds", "made"),
    [
        (
            b"passwd",
            b"salt",
            1,
            "55ac046e56e3089fec1691c22544b605f94185216dde0465e68b9d57c20dacbc"
            "49ca9cccf179b645991664b39d77ef317c71b845b1e30bd509112041d3a19783",
        ),
        (
            b"Password",
            b"NaCl",
            80_000,
            "4ddcd8f60b98be21830cee5ef22701f9641a4418d04c0414aeff08876b34ab56"
            "a1d425a1225833549adb841b51c9b3176a272bdebba1d078478f62b397f33c8d",
        ),
    ],
)
def test_pbkdf2_gives_the_published_keys(said, salt, rounds, made):
    assert hashlib.pbkdf2_hmac("sha256", said, salt, rounds, 64).hex() == made


def test_register_opens_by_hand_as_the_design_says(register):
    key, file = register
    assert len(file) % PAGE == 0
    assert WORD not in file
    assert WORD in b"".join(pages(key, file))


def test_one_bit_turned_in_any_page_is_found(register):
    key, file = register
    for number in range(len(file) // PAGE):
        turned = bytearray(file)
        turned[number * PAGE + 100] ^= 1
        with pytest.raises(ValueError, match=f"page {number + 1}"):
            list(pages(key, bytes(turned)))


def test_pages_that_changed_places_are_found(register):
    key, file = register
    first, second, third = (file[at : at + PAGE] for at in range(0, 3 * PAGE, PAGE))
    assert list(pages(key, first + second + third))
    with pytest.raises(ValueError, match="page 2"):
        list(pages(key, first + third + second))
