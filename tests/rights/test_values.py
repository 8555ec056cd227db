"""What may be lost has its words."""

from relations.rights.values import NAMES_NOBODY, Lost
from relations.rights.words import LOST, PRESSES


def test_everything_that_may_be_lost_has_its_words():
    assert set(LOST) == set(Lost)


def test_what_bears_no_name_is_no_press_of_the_alarm_page():
    """A blank is named with its serial where a trip is counted."""
    assert set(PRESSES) == set(Lost) - NAMES_NOBODY == set(Lost) - {Lost.BLANK}
