"""The few cryptographic steps: what must not open does not; values are in tests/outside."""

import pytest

from relations.privacy.crypt import Cost, SealBroken, derive, expand, stretch, unwrap, wrap

KEY, NONCE = bytes(32), bytes(12)


def test_what_was_wrapped_opens_with_the_same_key_nonce_and_place():
    assert unwrap(KEY, NONCE, wrap(KEY, NONCE, b"words", b"here"), b"here") == b"words"


@pytest.mark.parametrize(
    ("key", "nonce", "place", "turn"),
    [
        (bytes([1]) + bytes(31), NONCE, b"here", 0),
        (KEY, bytes([1]) + bytes(11), b"here", 0),
        (KEY, NONCE, b"there", 0),
        (KEY, NONCE, b"here", 1),
    ],
)
def test_another_key_nonce_place_or_bit_breaks_the_seal(key, nonce, place, turn):
    sealed = bytearray(wrap(KEY, NONCE, b"words", b"here"))
    sealed[0] ^= turn
    with pytest.raises(SealBroken):
        unwrap(key, nonce, bytes(sealed), place)


def test_a_piece_shorter_than_its_tag_breaks_the_seal():
    with pytest.raises(SealBroken):
        unwrap(KEY, NONCE, b"short", b"")


def test_subkeys_differ_by_what_they_are_for():
    assert expand(KEY, b"one") != expand(KEY, b"two")
    assert derive(KEY, b"salt", b"one") != derive(KEY, b"salt", b"two")
    assert len(expand(KEY, b"one")) == len(derive(KEY, b"", b"")) == 32


def test_a_stretched_secret_depends_on_its_salt_and_cost():
    made = {
        stretch(b"secret", salt, cost)
        for salt in (bytes(16), bytes(15) + b"\1")
        for cost in (Cost(8, 1, 1), Cost(16, 1, 1), Cost(8, 2, 1))
    }
    assert len(made) == 6
