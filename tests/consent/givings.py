"""A form that was signed as it should be, from which the tests take one thing away at a time."""

from datetime import date

from relations.consent.completeness import Giving, Way

DAY = date(2026, 5, 20)
# Reads, and it is their own language: the signer alone. 45 CFR 46.117(a) [from memory].
SIGNED = Giving(
    Way.SIGNED,
    given_on=DAY,
    has_mark=True,
    can_read=True,
    is_in_own_language=True,
    was_explained_first=True,
    explained_by="artist",
    copy_settled=True,
)
