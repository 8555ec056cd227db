"""Every code that a page can show has its words."""

import pytest

from relations.consent import words
from relations.consent.boxes import BLANK
from relations.consent.completeness import HOLDERS, Missing
from relations.consent.states import BY_HAND, State
from relations.consent.values import ClauseState, NameForm, Use, Wish
from relations.pictures.values import PlaceWord


@pytest.mark.parametrize(
    ("table", "codes"),
    [
        (words.STATES, State),
        (words.USES, Use),
        (words.LETTERS, Use),
        (words.NAME_FORMS, NameForm),
        (words.PLACE_WORDS, PlaceWord),
        (words.WISHES, Wish),
        (words.AUTHORITIES, HOLDERS),
        (words.CLAUSES, [*ClauseState, "sent_back", "behind"]),
        (words.CLAUSE_STAMPS, [*ClauseState, "sent_back", "behind"]),
        (words.BOXES, [box for box in BLANK if box != "uses"]),
        (words.SAID, [box for box in BLANK if box != "uses"]),
    ],
)
def test_table_has_words_for_exactly_its_codes(table, codes):
    assert set(table) == set(codes)


def test_what_a_hand_may_say_has_words():
    assert set(words.MOVES) >= BY_HAND


def test_every_line_but_the_guardians_can_be_read_as_missing():
    assert set(Missing) - set(words.LINES) == {Missing.DAY, Missing.HOLDERS}
    assert set(words.LINES) < set(words.MISSING)
