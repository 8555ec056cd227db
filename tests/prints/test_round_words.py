"""Every code of a round has its words."""

from relations.prints import round_words as words
from relations.prints.doors import AtDoor
from relations.prints.words import REFUSED


def test_everything_that_can_come_of_a_door_has_its_words_and_its_stamp():
    assert set(words.CAME) == set(words.STAMPS) == set(AtDoor)


def test_what_a_step_refuses_is_said_alike_on_a_round():
    assert REFUSED.items() <= words.REFUSED.items()


def test_what_a_print_lacks_and_why_a_door_is_left_have_words():
    assert set(words.LACKS) == {"left_alone", "two_tries", "safe_way", "quarter"}
    assert set(words.LEFT) == {"minutes_unknown", "hours_passed", "dark", "not_together"}
