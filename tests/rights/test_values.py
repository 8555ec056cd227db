"""What may be lost has its words."""

from relations.rights.values import Lost
from relations.rights.words import LOST


def test_everything_that_may_be_lost_has_its_words():
    assert set(LOST) == set(Lost)
