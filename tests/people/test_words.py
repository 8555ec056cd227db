"""The words of the people room: none is missing."""

import pytest

from relations.people import values, words
from relations.people.models import NameKind, Why


@pytest.mark.parametrize(
    ("table", "codes"),
    [
        (words.STANDINGS, values.Standing),
        (words.LEVELS, values.Risk),
        (words.CONDITIONS, values.Condition),
        (words.KINDS_OF_NAME, NameKind),
        (words.WORKS, Why),
    ],
)
def test_every_code_has_its_words(table: dict[str, object], codes: object) -> None:
    assert set(table) == set(codes)  # type: ignore[call-overload]
    assert all(str(word) for word in table.values())


def test_every_refusal_of_vouching_has_its_words() -> None:
    vouching = {"introducer_has_not_sat", "introducer_stepped_back", "introducer_may_not_vouch",
                "not_asked_first", "artist_has_not_said_yes"}  # fmt: skip
    assert vouching <= set(words.REFUSED)
    assert vouching <= set(values.Refusal)


def test_every_problem_with_a_number_has_its_words() -> None:
    problems = {"empty", "letters", "two_numbers", "country", "too_short", "too_long",
                "wrong_length", "area_code", "not_a_number"}  # fmt: skip
    assert problems <= set(words.REFUSED)
