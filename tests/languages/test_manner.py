"""The manner is that of now, and of nobody else's now."""

from threading import Thread

import pytest

from relations.languages.local_calendars import Calendar
from relations.languages.manner import Figures, Manner, manner, speaking

NEPALI = Manner("ne", Figures.EUROPEAN, Calendar.BIKRAM_SAMBAT)


def test_nobody_asked_for_anything_speaks_english_as_usual():
    assert manner() == Manner("en", Figures.USUAL, Calendar.GREGORIAN)


def test_manner_holds_until_its_end_and_the_one_before_comes_back():
    before = manner()
    with speaking(NEPALI):
        with speaking(Manner("fr")):
            assert manner() == Manner("fr", Figures.USUAL, Calendar.GREGORIAN)
        assert manner() is NEPALI
    assert manner() is before


def test_manner_ends_with_a_fault_too():
    before = manner()
    with pytest.raises(LookupError), speaking(NEPALI):
        raise LookupError
    assert manner() is before


def test_another_thread_speaks_for_itself():
    heard = []
    with speaking(NEPALI):
        other = Thread(target=lambda: heard.append(manner()))
        other.start()
        other.join()
    assert heard == [Manner()]
