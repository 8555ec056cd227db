"""Passwords at the edges that NIST SP 800-63B-4 names."""

import pytest
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from relations.privacy.models import User
from relations.privacy.passwords import LongEnough

ALONE, BESIDE = None, User(asks_code=True)


def refusals(password: str, user: User | None) -> list[str]:
    try:
        validate_password(password, user)
    except ValidationError as error:
        return [refusal.code for refusal in error.error_list]
    return []


@pytest.mark.parametrize(
    ("password", "user", "refused"),
    [
        ("quatorze signe", ALONE, ["password_too_short"]),
        ("quinze signes !", ALONE, []),
        ("sept qu", BESIDE, ["password_too_short"]),
        ("huit qua", BESIDE, []),
        ("quinze signes !", User(asks_code=False), []),
        ("lantern " * 8, ALONE, []),  # 64, with spaces
        ("aaaaaaaaaaaaaab", ALONE, []),  # no rule of composition
        ("password1", BESIDE, ["password_too_common"]),
        ("Football", BESIDE, ["password_too_common"]),  # however it is written
        ("1q2w3e4r5t6y7u8i9o0p", ALONE, ["password_too_common"]),
    ],
)
def test_password_is_long_enough_and_not_common(password, user, refused):
    assert refusals(password, user) == refused


def test_character_typed_as_two_counts_as_one():
    assert len("e\u0301" * 14) == 28
    assert refusals("e\u0301" * 14, ALONE) == ["password_too_short"]
    assert refusals("e\u0301" * 15, ALONE) == refusals("\u00e9" * 15, ALONE) == []


def test_refusal_says_how_long():
    with pytest.raises(ValidationError, match="15 characters or more"):
        validate_password("short", ALONE)


def test_nothing_is_said_of_composition_beside_the_field():
    assert LongEnough().get_help_text() == ""
