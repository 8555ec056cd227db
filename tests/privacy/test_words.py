"""What is told of an account has words and is noted under the same verb; so has each calendar."""

import re
from pathlib import Path

from django.utils import translation

from relations.languages.local_calendars import Calendar
from relations.privacy import words

ROOM = Path(words.__file__).parent


def test_every_verb_that_is_told_is_one_that_is_noted():
    noted = {
        verb
        for path in ROOM.glob("*.py")
        # Tries are noted of a user, or of another door that is named.
        for verb in re.findall(
            r'note\(\w+, "(\w+)", (?:"privacy\.user"|\*about)', path.read_text("utf-8")
        )
    }
    assert words.BECAME.keys() <= noted
    untold = noted - words.BECAME.keys()
    assert untold == {
        *("signed_in", "signed_out", "made_sure", "held_off", "freed"),
        *("sessions_ended", "paper_code_used", "wrong_try"),
    }


def test_every_calendar_has_its_words_and_the_buddhist_one_says_whose_it_is():
    """Elsewhere the Buddhist year is one more than in Thailand (relations/languages)."""
    assert list(words.CALENDARS) == list(Calendar)
    countries = {"en": "Thailand", "fr": "Thaïlande", "ar": "تايلند", "ne": "थाइल्यान्ड"}
    for lang, country in countries.items():
        with translation.override(lang):
            assert f"({country})" in str(words.CALENDARS[Calendar.BUDDHIST])
