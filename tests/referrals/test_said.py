"""What a drawing says, as values that are kept."""

import json
from datetime import date

import pytest

from relations.referrals.said import (
    NOTHING,
    Block,
    Row,
    Said,
    as_json,
    first_day,
    from_json,
    half_year,
)

SAID = Said(
    (Row(("a",), (Block(1, 2, 5), Block(3, 3, 9)), since=1), Row(("b", ""), (Block(1, 1, 6),))),
    within=10,
    across=5,
)


@pytest.mark.parametrize("said", [SAID, NOTHING, Said(about=25)])
def test_what_is_kept_is_read_back_the_same(said):
    assert from_json(json.loads(json.dumps(as_json(said)))) == said


def test_a_row_says_its_total_whether_it_is_joined_and_what_it_is_known_by():
    alone, joined = SAID.rows
    assert (alone.total, alone.is_joined, alone.name) == (14, False, ("a", 1))
    assert (joined.total, joined.is_joined, joined.name) == (6, True, ("b", 0))
    assert SAID.people == 20


@pytest.mark.parametrize(
    ("on", "half", "begins"),
    [
        (date(2024, 1, 1), 4048, date(2024, 1, 1)),
        (date(2024, 6, 30), 4048, date(2024, 1, 1)),
        (date(2024, 7, 1), 4049, date(2024, 7, 1)),
        (date(2024, 12, 31), 4049, date(2024, 7, 1)),
    ],
)
def test_a_half_year_begins_in_january_and_in_july(on, half, begins):
    assert half_year(on) == half
    assert first_day(half) == begins
