"""The codes of pictures are the strings of the shared examples."""

import pytest

from relations.pictures.values import Became, Others, PlaceWord, Recognisable, others


def test_codes_are_those_of_the_examples() -> None:
    assert list(Others) == ["none", "settled", "unresolved", "erased"]
    assert list(PlaceWord) == ["none", "country", "city", "district", "exact"]
    assert list(Recognisable) == ["yes", "no", "unsure"]


# Source: job.md, the code STRANGER: somebody recognisable is unresolved. What settles it is common
# practice, no source.
@pytest.mark.parametrize(
    ("became", "expected"),
    [
        ([], "none"),
        (["not_recognisable"], "none"),
        (["said_yes"], "settled"),
        (["said_yes", "not_recognisable"], "settled"),
        (["not_asked"], "unresolved"),
        (["said_no"], "unresolved"),
        (["said_yes", "said_no"], "unresolved"),
        (["said_yes", "not_recognisable", "not_asked"], "unresolved"),
    ],
)
def test_one_stranger_who_has_not_said_yes_keeps_a_frame_off(became, expected) -> None:
    assert others([Became(one) for one in became]) == expected
