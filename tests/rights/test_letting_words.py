"""What is said of each clock: all of them have their words, with the numbers by which they run."""

import re

import pytest
from django.utils.translation import override

from relations.rights import clocks, impact_words
from relations.rights.clocks import OF_PERSONS, Clock
from relations.rights.letting_words import CLOCKS, LET_GO_OF, NUMBERS, STAYS, THINGS, said

TEXTS = [
    *CLOCKS.values(),
    *LET_GO_OF.values(),
    *STAYS.values(),
    *impact_words.CLOCKS.values(),
    impact_words.WHOLE_PERSON,
    *(words for risk in impact_words.RISKS for words in risk),
]


def test_every_clock_has_its_words():
    assert set(CLOCKS) == set(LET_GO_OF) == set(THINGS) == set(Clock)
    assert set(STAYS) == set(Clock) - OF_PERSONS


def test_a_line_names_its_code_where_it_has_one():
    without = {clock for clock, words in THINGS.items() if "%(code)s" not in str(words)}
    assert without == {Clock.RINGS, Clock.SEE_LOG}


def test_numbers_are_those_of_the_design():
    """Source: job.md F-keep; rows 4 (numbers a day) and 15 (recordings)."""
    assert NUMBERS == {
        "named": 60,
        "said_no": 30,
        "reached": 12,
        "ways": 24,
        "rings": 24,
        "links": 36,
        "recordings": 12,
        "forms": 5,
        "log": 12,
        "backups": 90,
        "device": 180,
        "numbers": 30,
    }


def test_another_number_is_said_as_soon_as_a_clock_runs_by_it(monkeypatch):
    monkeypatch.setitem(NUMBERS, "links", clocks.LINKS_MONTHS + 7)
    assert "43 months" in said(CLOCKS[Clock.LINKS])
    assert "43 months" in said(impact_words.CLOCKS["links"])


@pytest.mark.parametrize("language", ["en", "fr"])
def test_no_number_of_days_or_months_is_written_into_the_words(language):
    with override(language):
        for words in TEXTS:
            filled = said(words)
            assert "%" not in filled
            assert re.findall(r"\d+", str(words)) == []
