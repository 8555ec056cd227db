"""Every code of the room has its words, and amounts are said without a sign."""

import pytest

from relations.trips import words
from relations.trips.rules import open_ends
from relations.trips.templatetags import trips_words
from relations.trips.values import COUNTS, Counted, How
from tests.trips.test_rules import balance, papers, tally


def test_every_thing_and_heap_and_sum_has_its_words():
    assert set(words.THINGS) == set(words.SUMS) == set(COUNTS)
    assert set(words.HOWS) == set(How)
    assert trips_words.thing("film") == "Film, in sheets"
    assert trips_words.how("lost") == "Lost"
    assert "exposed" in trips_words.sum_of("film")


def test_every_open_end_has_its_words():
    lost = balance(papers(missing=1, carried=1))
    codes = open_ends(lost, [tally(thing, taken=0, made=9) for thing in COUNTS], ())
    assert {trips_words.open_end(code) for code in codes} == set(words.OPEN.values())


@pytest.mark.parametrize(
    ("thing", "number", "said"),
    [(Counted.MONEY, -50, "0.50"), (Counted.MONEY, 24_050, "240.50"), (Counted.FILM, -1, "1")],
)
def test_amount_is_said_without_its_sign_and_money_with_two_places(thing, number, said):
    assert trips_words.amount(thing, number) == said
