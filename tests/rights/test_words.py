"""The card has five lines, none of them a reproach."""

from relations.prints.rules import PrintState
from relations.rights import words
from relations.rights.closing import Ending, Lack, against_closing, against_ending
from relations.rights.closing_forms import EndPrintForm

KEPT = PrintState.KEPT_FOR_THEM
NONE = {"has_speaker": False, "is_agreed_to_archive": False}


def test_the_card_has_five_lines():
    assert len(words.CARD) == 5
    assert all(str(line).endswith(".") for line in words.CARD)


def test_every_ending_and_every_lack_has_its_words():
    assert set(words.ENDED) == set(Ending)
    assert set(words.LACKS) == set(Lack)


def test_every_refusal_of_closing_has_its_words():
    codes = {
        *against_closing([Lack.OPEN], has_begun=False),
        *(code for how in ("", *Ending) for code in against_ending(KEPT, how, **NONE)),
    }
    assert codes == {"not_begun", "still_lacking", "ending", "no_speaker", "archive_not_agreed"}
    assert codes <= set(EndPrintForm.refusals)
