"""Our own cryptographic steps against published values, each with its source."""

import io
import uuid

import pytest

from relations.privacy import fields, files
from relations.privacy.crypt import Cost, SealBroken, derive, expand, stretch, unwrap, wrap

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
