"""What the actions of pictures refuse can be said on a screen."""

from pathlib import Path

from relations.people.values import Refusal
from relations.pictures import words
from tests.meetings.test_words import refused_in

ROOM = Path(words.__file__).parent


def test_every_refusal_has_words() -> None:
    codes = refused_in(ROOM / "actions.py") | refused_in(ROOM / "light.py")
    assert len(codes) > 10
    assert codes <= set(words.REFUSED)
    assert {Refusal.NO_SHEET_EXPOSED, Refusal.NO_SUCH_MOVE} <= set(words.REFUSED)
