"""Every code that a page can show has its words."""

import re
from pathlib import Path

import pytest

from relations.consent import words
from relations.consent.boxes import BLANK
from relations.consent.completeness import HOLDERS, Missing
from relations.consent.states import BY_HAND, Refusal, State
from relations.consent.values import ClauseState, NameForm, Use, Wish
from relations.pictures.values import PlaceWord

CONSENT = Path(words.__file__).parent


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
        (words.CLAUSES, ClauseState),
        (words.CLAUSE_STAMPS, ClauseState),
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


def refusals():
    """Every code with which an action of this room refuses, as it is written there."""
    for module in ("actions", "papers", "printing", "readings", "spoken", "wordings"):
        text = (CONSENT / f"{module}.py").read_text(encoding="utf-8")
        yield from re.findall(r'Refused\("([a-z_]+)"\)|codes\.append\("([a-z_]+)"\)', text)
    yield from ((code.value, "") for code in Refusal)


def test_every_refusal_has_its_sentence():
    codes = {first or second for first, second in refusals()}
    assert len(codes) > 40
    assert codes <= set(words.REFUSALS)
    filing = {"too_large", "too_many_pixels", "not_a_scan", "broken", "filed_under_another"}
    assert filing | {"shape", "mistyped", "first_unread"} <= set(words.REFUSALS)
