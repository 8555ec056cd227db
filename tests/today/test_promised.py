"""What was promised is due on the day that was said, or before the use they are to be told of."""

import pytest

from relations.people.models import Participant
from relations.prints import actions, endings
from relations.today import promised
from relations.uses.models import PlannedPicture, PlannedUse
from tests import cast
from tests.cast import days
from tests.prints.frames import picture

pytestmark = pytest.mark.django_db
EVERYBODY = Participant.objects.all()


def promise(who, kind, **said):
    return actions.promise(person=who, kind=kind, on=days(-30), by=cast.artist(), **said)


def due(*, with_uses=True):
    return promised.due(EVERYBODY, days(0), with_uses=with_uses)


def planned(code, starts_on, *pictures, **said):
    plan = PlannedUse.objects.create(code=code, use="book", starts_on=starts_on)
    for one in pictures:
        PlannedPicture.objects.create(plan=plan, picture=one, **said)
    return plan


def test_what_is_due_within_two_weeks_stands_first_due_first():
    promise(cast.danuta(), "book_copy", due_on=days(14))
    promise(cast.marcel(), "invitation", due_on=days(-1))
    promise(cast.bruno(), "thank_you", due_on=days(15))
    promise(cast.lucas(), "sum")
    found = [(one.promise.kind, one.by, one.is_late) for one in due()]
    assert found == [("invitation", days(-1), True), ("book_copy", days(14), False)]


def test_what_is_kept_is_due_no_more():
    made = promise(cast.danuta(), "book_copy", due_on=days(-1))
    actions.keep_promise(promise=made, on=days(0), by=cast.artist())
    assert due() == []
    (one,) = promised.of_person(cast.danuta(), days(0), with_uses=True)
    assert (one.promise.kept_on, one.is_late) == (days(0), False)


@pytest.mark.parametrize("how", ["let_off", "could_not"])
def test_what_ended_otherwise_is_neither_due_nor_late(how):
    planned("B1", days(9), picture("K12", cast.danuta()))
    late = promise(cast.danuta(), "book_copy", due_on=days(-1))
    told = promise(cast.danuta(), "tell_before")
    assert [one.is_late for one in due()] == [True, False]
    for made in (late, told):
        endings.end_promise(
            promise=made, how=how, why="no copies", on=days(0), by=cast.artist(), at=cast.moment()
        )
    assert due() == []
    found = promised.of_person(cast.danuta(), days(0), with_uses=True)
    said = [(one.promise.is_open, one.is_late, one.use) for one in found]
    assert said == [(False, False, "")] * 2


def test_what_ended_otherwise_comes_after_what_is_open():
    ended = promise(cast.danuta(), "book_copy", due_on=days(1))
    endings.end_promise(
        promise=ended, how="let_off", why="", on=days(0), by=cast.artist(), at=cast.moment()
    )
    promise(cast.danuta(), "sum")
    found = promised.of_person(cast.danuta(), days(0), with_uses=False)
    assert [one.promise.kind for one in found] == ["sum", "book_copy"]


def test_to_tell_them_before_is_due_by_the_next_use_of_a_picture_of_theirs():
    theirs, other = picture("K12", cast.danuta()), picture("K01", cast.marcel())
    promise(cast.danuta(), "tell_before")
    promise(cast.marcel(), "book_copy")
    assert due() == []
    planned("E1", days(12), theirs)
    planned("B1", days(9), theirs, other)
    planned("B0", days(-1), theirs)
    planned("B2", days(3), theirs, dropped_on=days(-2))
    planned("B3", days(2), other)
    (one,) = due()
    assert (one.by, one.use, one.is_late) == (days(9), "B1", False)


def test_whoever_may_not_know_of_uses_is_told_no_day_and_no_use():
    planned("B1", days(9), picture("K12", cast.danuta()))
    promise(cast.danuta(), "tell_before")
    assert due(with_uses=False) == []
    (one,) = promised.of_person(cast.danuta(), days(0), with_uses=False)
    assert (one.by, one.use) == (None, "")


def test_a_day_that_they_named_goes_before_that_of_the_use():
    planned("B1", days(9), picture("K12", cast.danuta()))
    promise(cast.danuta(), "tell_before", due_on=days(2))
    (one,) = due()
    assert one.by == days(2)


def test_what_is_still_to_be_kept_comes_first_on_the_page_of_a_person():
    kept = promise(cast.danuta(), "substitute_print", due_on=days(1))
    actions.keep_promise(promise=kept, on=days(0), by=cast.artist())
    promise(cast.danuta(), "book_copy")
    promise(cast.marcel(), "sum")
    found = promised.of_person(cast.danuta(), days(0), with_uses=False)
    assert [one.promise.kind for one in found] == ["book_copy", "substitute_print"]
