"""What the actions of pictures refuse can be said on a screen."""

from pathlib import Path

from relations.people.values import Refusal
from relations.pictures import words
from relations.pictures.leaks import Where
from tests.meetings.test_words import refused_in

ROOM = Path(words.__file__).parent


def test_every_refusal_has_words() -> None:
    modules = ("actions", "light", "strangers", "written")
    codes = {code for name in modules for code in refused_in(ROOM / f"{name}.py")}
    assert len(codes) > 10
    assert codes <= set(words.REFUSED)
    leaks = {f"{where}_leaks{far}" for where in Where for far in ("", "_elsewhere")}
    assert leaks <= set(words.REFUSED)
    assert {Refusal.NO_SHEET_EXPOSED, Refusal.NO_SUCH_MOVE} <= set(words.REFUSED)
