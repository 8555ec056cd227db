"""Too many for a mark each: a row for every line."""

from datetime import date, timedelta

import pytest

from relations.referrals import graph
from relations.referrals.by_line import Span, by_line, spans
from relations.referrals.drawing import CODES
from relations.referrals.graph import WITHHELD, Word
from tests.referrals.grown import drawn
from tests.referrals.touching import outside, touching

DAY = date(2024, 1, 1)


def test_the_line_with_most_people_comes_first_with_its_first_day_and_its_last() -> None:
    heard = [("A", ""), ("B", "X1"), ("C", "B"), ("D", ""), ("E", "C")]
    words = [Word(who, by, DAY + timedelta(9 * n), n) for n, (who, by) in enumerate(heard)]
    words.append(Word("F", "", DAY + timedelta(99), 9, 1, is_withheld=True))
    assert spans(graph.web(words, ["X1"])) == [
        Span("X1", 3, DAY + timedelta(9), DAY + timedelta(36)),
        Span("A", 1, DAY, DAY),
        Span("D", 1, DAY + timedelta(27), DAY + timedelta(27)),
        Span(WITHHELD, 1, DAY + timedelta(99), DAY + timedelta(99)),
    ]


def test_each_line_is_a_row_from_its_first_day_to_its_last_and_no_person_is_a_mark() -> None:
    web = drawn(300).web
    lines = spans(web)
    labels = {line.code: f"{line.code}: {line.people}" for line in lines}
    found = by_line(web, lines, labels)
    assert [spot.label for spot in found.spots] == [labels[line.code] for line in lines]
    assert {spot.shape for spot in found.spots} == {-1}
    assert sum(month.count for month in found.months) == len(web.reached)
    assert all(CODES.left <= twig.start <= twig.end for twig in found.twigs)
    assert outside(found) == touching(found) == []


def test_a_line_without_a_label_is_not_given_one() -> None:
    web = drawn(9).web
    with pytest.raises(KeyError):
        by_line(web, spans(web), {})


def test_nobody_has_no_line() -> None:
    assert by_line(graph.web([]), [], {}).spots == []
