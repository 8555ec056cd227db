"""What the answer to a stop says: done, not yet, asked, cannot; each sentence of a day once."""

from datetime import date, timedelta

import pytest

from relations.consent.models import TakenBack
from relations.pictures.models import Picture
from relations.uses import telling
from relations.uses.models import Shown, UndoLine
from tests.rows import AT, DAY, NEXT_DAY, make

pytestmark = pytest.mark.django_db


def line(code: str, force: str, picture: str = "K12", **rest) -> UndoLine:
    found = Picture.objects.filter(code=picture).first() or make(Picture, code=picture)
    rest.setdefault("shown", make(Shown, use="web"))
    return make(UndoLine, code=code, force=force, picture=found, **rest)


@pytest.mark.parametrize(
    "force, rest, part, how, on",
    [
        ("forced", {"done_on": DAY}, "done", "done_on", DAY),
        ("asked", {"done_on": DAY}, "done", "done_on", DAY),
        ("forced", {"due_at": AT + timedelta(days=1)}, "to_do", "by_day", NEXT_DAY),
        ("asked", {"due_at": AT + timedelta(days=1)}, "asked", "by_day", NEXT_DAY),
        ("forced", {"due_at": None}, "to_do", "", None),
        ("cannot", {}, "cannot", "", None),
        ("asked", {"done_on": DAY, "cannot": True}, "cannot", "could_not", DAY),
    ],
)
def test_line_stands_under_how_far_it_has_come(force, rest, part, how, on):
    [found] = telling.parts([line("take_down", force, **rest)])
    [told] = found.lines
    assert (found.words, told.words, told.how, told.on) == (part, "undo_take_down", how, on)
    assert told.about == [telling.Shown("use_web", "K12")]


def test_day_of_a_line_is_the_day_at_the_place_of_the_project(settings):
    # 23:59:59 in Paris is 22:59:59 in UTC; 23:30 in UTC is the day after in Paris.
    late = AT.replace(hour=23, minute=30)
    [found] = telling.parts([line("take_down", "forced", due_at=late)])
    assert found.lines[0].on == NEXT_DAY


def test_same_sentence_of_one_day_is_said_once_of_all_it_is_about():
    lines = [line("copies_by_others", "cannot", code) for code in ("K12", "K30")]
    [found] = telling.parts(lines)
    [told] = found.lines
    assert [shown.picture for shown in told.about] == ["K12", "K30"]


def test_parts_come_in_the_order_in_which_they_are_read_aloud():
    lines = [line("copies_by_others", "cannot"), line("ask_holder", "asked", due_at=AT)]
    lines += [line("cover", "forced", due_at=AT), line("take_down", "forced", done_on=DAY)]
    assert [part.words for part in telling.parts(lines)] == list(telling.PARTS)


def back(**rest) -> TakenBack:
    return make(TakenBack, **{"scope": "all", "use": "", "picture": None, **rest})


def test_what_was_not_answered_yet_is_told_or_all_where_all_was():
    old = back(scope="use", use="web", said_on=date(2026, 11, 1), answered_on=DAY)
    new = back(scope="picture", picture=make(Picture, code="K12"), said_on=DAY)
    assert telling.taken([new, old]) == [telling.Taken("said_picture", "K12", DAY)]
    assert telling.taken([old]) == [telling.Taken("use_web", "", date(2026, 11, 1))]
    assert telling.taken([back(said_on=DAY)]) == [telling.Taken("said_all", "", DAY)]
