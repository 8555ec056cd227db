"""Our own cryptographic steps against published values, each with its source."""

import base64
import hashlib
import io
import uuid
from datetime import UTC, datetime

import pytest
from argon2 import low_level
from django.contrib.auth.hashers import make_password

from relations.privacy import fields, files, log, slots
from relations.privacy.crypt import Cost, SealBroken, derive, expand, stretch, unwrap, wrap
from relations.privacy.hashers import SiteArgon2
from relations.privacy.keys import keyring
from relations.privacy.models import AccessEntry

LONG_PLAIN = (
    "d9313225f88406e5a55909c5aff5269a86a7a9531534f7da2e4c303d8a318a72"
    "1c3c0c95956809532fcf0e2449a6b525b16aedf5aa0de657ba637b39"
)
LONG_CIPHER = (
    "522dc1f099567d07f47f37a32a84427d643a8cdcbfe5c0c97598a2bd2555d1aa"
    "8cb08e48590dbb3da7b08b1056828838c5f61e6393ba7a0abcc9f662"
)
# McGrew and Viega, The Galois/Counter Mode of Operation (GCM), appendix B: case, key, IV,
# plaintext, additional data, ciphertext, tag. Cases 13, 14 and 16 are AES-256, as we use it.
GCM = [
    ("1", "00" * 16, "00" * 12, "", "", "", "58e2fccefa7e3061367f1d57a4e7455a"),
    (
        "2",
        "00" * 16,
        "00" * 12,
        "00" * 16,
        "",
        "0388dace60b6a392f328c2b971b2fe78",
        "ab6e47d42cec13bdf53a67b21257bddf",
    ),
    ("13", "00" * 32, "00" * 12, "", "", "", "530f8afbc74536b9a963b4f1c4cb738b"),
    (
        "14",
        "00" * 32,
        "00" * 12,
        "00" * 16,
        "",
        "cea7403d4d606b6e074ec5d3baf39d18",
        "d0d1c8a799996bf0265b98b5d48ab919",
    ),
    (
        "16",
        "feffe9928665731c6d6a8f9467308308" * 2,
        "cafebabefacedbaddecaf888",
        LONG_PLAIN,
        "feedfacedeadbeeffeedfacedeadbeefabaddad2",
        LONG_CIPHER,
        "76fc6ece0f4e1768cddf8853bb2d551b",
    ),
]


@pytest.mark.parametrize(
    ("key", "iv", "plain", "bound", "cipher", "tag"),
    [[bytes.fromhex(part) for part in row[1:]] for row in GCM],
    ids=[f"case {row[0]}" for row in GCM],
)
def test_aes_gcm_gives_the_published_ciphertext_and_tag(key, iv, plain, bound, cipher, tag):
    assert wrap(key, iv, plain, bound) == cipher + tag
    assert unwrap(key, iv, cipher + tag, bound) == plain
    turned = bytes([(cipher + tag)[0] ^ 1]) + (cipher + tag)[1:]
    with pytest.raises(SealBroken):
        unwrap(key, iv, turned, bound)


def test_no_single_bit_of_the_published_case_may_turn():
    key, iv, plain, bound, cipher, tag = (bytes.fromhex(part) for part in GCM[4][1:])
    whole = {"nonce": iv, "sealed": cipher + tag, "bound": bound}
    assert unwrap(key, **whole) == plain
    for name, part in whole.items():
        for bit in range(len(part) * 8):
            turned = bytearray(part)
            turned[bit // 8] ^= 1 << bit % 8
            with pytest.raises(SealBroken):
                unwrap(key, **whole | {name: bytes(turned)})


# FIPS 180-4, the examples NIST publishes with it; as digests of papers and scans are made.
@pytest.mark.parametrize(
    ("said", "digest"),
    [
        (b"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
        (b"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
        (
            b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
        ),
    ],
)
def test_sha_256_gives_the_published_digest(said, digest):
    assert hashlib.sha256(said).hexdigest() == digest


# RFC 4231, section 4: key, data, HMAC-SHA-256. The marks by which an equal number is found are its
# first 128 bits, as in case 5, where the document itself cuts it so.
MACS = [
    ("1", "0b" * 20, "Hi There", "b0344c61d8db38535ca8afceaf0bf12b"),
    ("2", b"Jefe".hex(), "what do ya want for nothing?", "5bdcc146bf60754e6a042426089575c7"),
    ("5", "0c" * 20, "Test With Truncation", "a3b6167473100ee06e0c796c2955552b"),
    (
        "6",
        "aa" * 131,
        "Test Using Larger Than Block-Size Key - Hash Key First",
        "60e431591ee0b67f0d8a26aacbf5b77f",
    ),
]


@pytest.mark.parametrize(("case", "key", "said", "mark"), MACS)
def test_mark_of_a_value_is_the_published_one(case, key, said, mark, monkeypatch):
    monkeypatch.setattr(keyring, "mark_keys", lambda: [bytes.fromhex(key)])
    assert fields.mark(said).hex() == mark


def test_line_of_the_log_is_chained_as_another_program_does(monkeypatch):
    """By OpenSSL 3: printf of the 32 bytes and the line, openssl dgst -sha256 -mac HMAC."""
    monkeypatch.setattr(keyring, "log_key", lambda seq: b"Jefe")
    entry = AccessEntry(
        seq=7,
        at=datetime(2026, 11, 23, 9, 0, tzinfo=UTC),
        by=uuid.UUID(int=1),
        verb="read",
        kind="people.phone",
        key=uuid.UUID(int=2),
    )
    assert log._mac(bytes(range(32)), entry).hex() == (
        "27bec91ef299d675183bda565727bff7f8d1421d77b4973830e7ef6090386662"
    )


# RFC 5869, appendix A: input key, salt, info, length, key after extraction, output.
HKDF = [
    (
        "0b" * 22,
        "000102030405060708090a0b0c",
        "f0f1f2f3f4f5f6f7f8f9",
        42,
        "077709362c2e32df0ddc3f0dc47bba6390b6c73bb50f9c3122ec844ad7c2b3e5",
        "3cb25f25faacd57a90434f64d0362f2a2d2d0a90cf1a5a4c5db02d56ecc4c5bf34007208d5b887185865",
    ),
    (
        "0b" * 22,
        "",
        "",
        42,
        "19ef24a32c717b167f33a91d6f648bdf96596776afdb6377ac434c1c293ccb04",
        "8da4e775a563c18f715f802a063c5a31b8a11f5c5ee1879ec3454e5f3c738d2d9d201395faa4b61a96c8",
    ),
]


@pytest.mark.parametrize(("key", "salt", "info", "length", "extracted", "made"), HKDF)
def test_hkdf_gives_the_published_keys(key, salt, info, length, extracted, made):
    key, salt, info = (bytes.fromhex(part) for part in (key, salt, info))
    assert derive(key, salt, info, length).hex() == made
    assert expand(bytes.fromhex(extracted), info, length).hex() == made


def test_argon2id_gives_the_published_tag():
    # RFC 9106, section 5.3.
    made = stretch(
        b"\x01" * 32, b"\x02" * 16, Cost(32, 3, 4), secret=b"\x03" * 8, bound=b"\x04" * 12
    )
    assert made.hex() == "0d640df58d78766c08c037a34a8b53c9d01ef0452d75b65eb52520e96b01e659"


def test_argon2id_of_the_library_under_the_passwords_gives_its_published_tag():
    # argon2-cffi's and the reference program's own check ([P]): 64 MiB, two passes, one lane.
    made = low_level.hash_secret_raw(b"password", b"somesalt", 2, 65_536, 1, 32, low_level.Type.ID)
    assert made.hex() == "09316115d5cf24ed5a15a31a3ba326e5cf32edc24702987c02b6566f61913cf7"


@pytest.mark.parametrize("name", ["passphrase", "recovery"])
def test_key_of_a_slot_is_the_same_from_another_program(name):
    # Ours is OpenSSL's Argon2id; the other is the reference one, at the costs that slots pay.
    said, salt, cost = b"six words that nobody guesses", bytes(range(16)), slots.COSTS[name]
    other = low_level.hash_secret_raw(
        said, salt, cost.passes, cost.memory, cost.lanes, 32, low_level.Type.ID
    )
    assert stretch(said, salt, cost) == other


@pytest.mark.costly
def test_hash_of_a_password_is_the_same_from_another_program():
    kept = make_password("a boat, a lamp, a wall")
    kind, version, cost, salt, tag = kept.removeprefix("argon2$").split("$")
    assert (kind, version, cost) == ("argon2id", "v=19", "m=47104,t=2,p=1")
    salt, tag = (base64.b64decode(part + "=" * (-len(part) % 4)) for part in (salt, tag))
    cost = Cost(SiteArgon2.memory_cost, SiteArgon2.time_cost, SiteArgon2.parallelism)
    assert stretch(b"a boat, a lamp, a wall", salt, cost) == tag
    assert len(salt) >= 4  # NIST SP 800-63B-4 asks for 32 bits


# What our own tokens and files must look like for ever: made from the published case 16 and from
# these lines, so that a register and its files written today open in later versions of the site.
def test_a_token_is_the_published_cipher_under_our_header():
    key, iv = bytes.fromhex(GCM[4][1]), bytes.fromhex(GCM[4][2])
    token = fields.seal(key, bytes.fromhex(LONG_PLAIN), b"", iv)
    assert token[:3].hex() == "010001"
    assert token[3:15] == iv
    # The header is bound too, so the ciphertext is the published one and the tag is not.
    assert token[15:-16].hex() == LONG_CIPHER
    assert token[-16:].hex() != GCM[4][6]
    assert token[15:] == wrap(key, iv, bytes.fromhex(LONG_PLAIN), bytes.fromhex("010001"))


def test_a_sealed_file_is_hkdf_and_aes_gcm_in_numbered_chunks():
    key, salt, name = bytes(32), bytes(range(32)), str(uuid.UUID(int=1))
    data = bytes(65_536) + b"end"
    made = b"".join(files.seal_chunks([data], key, name, salt))
    header = b"RELF" + bytes([1, 0, 1, 16]) + salt
    own = derive(key, salt, header + name.encode())
    # STREAM: seven zero bytes, the number of the chunk in four, one byte for the last of all.
    first = wrap(own, bytes(12), data[:65_536], b"")
    last = wrap(own, bytes(10) + b"\x01\x01", b"end", b"")
    assert made == header + first + last
    assert b"".join(files.open_chunks(io.BytesIO(made), key, name)) == data
