"""Which prints and promises a user sees, late first, and which steps may be noted."""

import pytest
from django.http import Http404

from relations.prints import actions, queries
from relations.prints.rules import PrintState
from tests import cast
from tests.cast import days
from tests.prints.frames import made

pytestmark = pytest.mark.django_db


def test_prints_come_late_first_then_by_how_long_they_are_owed():
    made(cast.marcel(), "K01", owed_since=days(-10))
    made(cast.danuta(), "K12", owed_since=days(-90))
    made(cast.bruno(), "K19", "kept_for_them", owed_since=days(-200))
    made(cast.lucas(), "K39", "acknowledged", owed_since=days(-90))
    rows = queries.owed(cast.artist(), days(0))
    assert [(row.picture.code, row.late) for row in rows] == [
        ("K12", True),
        ("K19", False),
        ("K01", False),
    ]


def test_an_assistant_sees_prints_of_people_in_sight_and_others_none():
    made(cast.danuta(), "K12")
    for user in cast.everyone()[1:]:
        assert queries.owed(user, days(0)) == []
    with pytest.raises(Http404):
        queries.print_or_404(cast.assistant(), "12", "K12")
    cast.in_sight(cast.danuta(), cast.assistant())
    assert queries.print_or_404(cast.assistant(), "12", "K12").person.code == "12"


def test_a_print_without_a_picture_has_an_address_too():
    row = made(cast.danuta(), code="", state="nothing_to_print")
    assert queries.print_or_404(cast.artist(), "12", queries.NO_PICTURE) == row


def test_counts_are_those_of_the_whole_project():
    made(cast.danuta(), "K12", "acknowledged")
    made(cast.marcel(), "K01", owed_since=days(-90))
    made(cast.bruno(), "K19", "declined")
    found = queries.counts(days(0))
    assert (found.rows, found.owed, found.returned, found.late) == (3, 2, 1, 1)


def test_the_next_step_is_one_and_the_others_follow():
    ways = queries.ways_on(made(cast.danuta(), state="collected"), days(0))
    assert (ways.next, ways.others, ways.not_yet) == (PrintState.CHECKED, (PrintState.FAULTY,), ())


def test_keeping_comes_first_where_home_is_not_safe_or_harm_grave():
    not_safe = made(cast.danuta(), state="asked_how", is_safe=False)
    assert queries.ways_on(not_safe, days(0)).next is PrintState.KEPT_FOR_THEM
    grave = made(cast.ibrahima(), "K35", "asked_how")
    assert queries.ways_on(grave, days(0)).next is PrintState.KEPT_FOR_THEM
    safe = made(cast.marcel(), "K01", "asked_how", is_safe=True)
    assert queries.ways_on(safe, days(0)).next is PrintState.FILE_READY


def test_a_step_that_must_wait_says_why():
    ways = queries.ways_on(made(cast.danuta(), state="posted"), days(0))
    assert ways.not_yet == ((PrintState.LOOKING_FOR_A_WAY, ("thirty_days",)),)
    tried = queries.ways_on(made(cast.marcel(), "K01", "not_home", tries=2), days(0))
    assert tried.not_yet == ((PrintState.OUT_ON_A_ROUND, ("two_tries",)),)
    assert tried.next is PrintState.LOOKING_FOR_A_WAY


def test_from_an_end_nothing_is_offered():
    ways = queries.ways_on(made(cast.danuta(), state="acknowledged"), days(0))
    assert (ways.next, ways.others, ways.not_yet) == (None, (), ())


def test_promises_to_be_kept_come_first_and_are_of_people_in_sight():
    said = {"person": cast.danuta(), "by": cast.artist(), "on": days(-9)}
    kept = actions.promise(kind="print", **said, due_on=days(-5))
    actions.keep_promise(promise=kept, on=days(-1), by=cast.artist())
    actions.promise(kind="sum", **said)
    due = actions.promise(kind="book_copy", **said, due_on=days(9))
    found = [row.kind for row in queries.promises(cast.artist())]
    assert found == ["book_copy", "sum", "print"]
    with pytest.raises(Http404):
        queries.promise_or_404(cast.assistant(), due.pk)
    assert queries.promise_or_404(cast.artist(), due.pk) == due
