"""What is carried over from earlier keys opens under its own master and number only."""

import pytest

from relations.privacy import carried
from relations.privacy.carried import Carried
from relations.privacy.crypt import SealBroken

MASTER, OTHER = bytes(range(32)), bytes(32)
KEPT = Carried(marks=(b"m" * 32,), logs=((7, b"l" * 32),), former=b"f" * 32)


def test_what_is_carried_comes_back():
    token = carried.seal(KEPT, MASTER, 2)
    assert carried.unseal({"carried": token}, MASTER, 2) == KEPT
    assert carried.unseal({"carried": carried.seal(Carried(), MASTER, 2)}, MASTER, 2) == Carried()


def test_a_home_that_was_never_rekeyed_carries_nothing():
    assert carried.unseal({}, MASTER, 1) == Carried()


@pytest.mark.parametrize(
    ("kept", "master", "key_id"),
    [
        ({}, MASTER, 2),
        ({"carried": {"nonce": "AA==", "sealed": "AA=="}}, MASTER, 2),
        ({"carried": {"nonce": "?", "sealed": "A"}}, MASTER, 2),
        ({"carried": carried.seal(KEPT, MASTER, 2)}, OTHER, 2),
        ({"carried": carried.seal(KEPT, MASTER, 2)}, MASTER, 3),
    ],
)
def test_taken_out_or_of_another_time_it_is_missed(kept, master, key_id):
    with pytest.raises(SealBroken):
        carried.unseal(kept, master, key_id)


def test_each_line_of_the_log_has_the_key_of_its_time():
    twice = Carried(logs=((9, b"second"), (4, b"first")))
    keys = [twice.log_key(seq, b"now") for seq in (1, 4, 5, 9, 10)]
    assert keys == [b"first", b"first", b"second", b"second", b"now"]
