"""What was read travels sealed in the page: for one user, one step and half an hour."""

import base64
import random
from datetime import timedelta

import pytest

from relations.people.contacts_carried import LASTS, LONGEST, brought, carry
from relations.people.contacts_tables import MOST_SIGNS
from tests import cast

pytestmark = pytest.mark.django_db

WHAT = [["Nélida", ["06 39 98 00 51"]], 1]


def test_it_opens_for_the_same_user_at_the_same_step_for_half_an_hour() -> None:
    artist, at = cast.artist(), cast.moment()
    sealed = carry(WHAT, step="lines", user=artist, at=at)
    own = {"step": "lines", "user": artist, "at": at + LASTS - timedelta(seconds=1)}
    assert brought(sealed, **own) == WHAT
    for other in (
        {"user": cast.assistant()},
        {"step": "columns"},
        {"at": at + LASTS},
        {"at": at - timedelta(seconds=1)},
    ):
        assert brought(sealed, **{**own, **other}) is None


def test_nothing_of_it_can_be_read_or_changed_in_the_page() -> None:
    own = {"step": "lines", "user": cast.artist(), "at": cast.moment()}
    sealed = carry(WHAT, **own)
    token = base64.b64decode(sealed)
    assert "Nélida".encode() not in token
    assert sealed != carry(WHAT, **own)
    changed = bytes([*token[:-1], token[-1] ^ 1])
    for bad in ("", "é", "AAAA", sealed[:-4], base64.b64encode(changed).decode()):
        assert brought(bad, **own) is None


def test_the_largest_table_comes_back_whatever_its_letters_and_usually_small(settings) -> None:
    own = {"step": "lines", "user": cast.artist(), "at": cast.moment()}
    letters = random.Random(1).choices([chr(sign) for sign in range(0x4E00, 0x9FA6)], k=MOST_SIGNS)
    sealed = carry(["".join(letters)], **own)
    assert len(sealed) <= LONGEST < 0.97 * settings.DATA_UPLOAD_MAX_MEMORY_SIZE
    assert brought(sealed, **own) == ["".join(letters)]
    usual = [[f"Nélida {number}", f"06 39 98 {number:04}"] for number in range(500)]
    assert len(carry(usual, **own)) < 10_000
