"""Days on a paper stand in the language and the digits of their column, apart from its words."""

from datetime import date

import pytest

from relations.documents.columns import Cell
from relations.documents.templatetags import paper_words
from relations.languages.paper_days import paper_day
from relations.languages.templatetags.words import iso

DAY = date(2026, 11, 25)


@pytest.mark.parametrize("lang", ["en", "es", "ne", "bn", "ar"])
def test_day_is_said_in_the_language_of_the_column(lang):
    assert paper_words.dated(DAY, lang) == iso(paper_day(DAY, lang))


def test_day_stands_in_its_place_and_words_are_escaped():
    cell = Cell("en", "ltr", "first", "<done> on {day}.")
    assert paper_words.filled(cell, DAY) == (f"&lt;done&gt; on {iso(paper_day(DAY, 'en'))}.")


def test_no_day_is_nothing():
    assert paper_words.dated(None, "fr") == ""


def test_a_line_that_a_wording_lacks_is_a_fault():
    with pytest.raises(KeyError):
        paper_words.at({}, "title")
