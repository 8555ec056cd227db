"""Laying out a day: who comes into an assistant's sight, and who does not."""

import re
from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from relations.consent.models import Form, TakenBack
from relations.documents.models import Sheet
from relations.meetings.models import Call, Meeting, Trip
from relations.people import access
from relations.people.models import InSight, Participant
from relations.pictures.models import Picture, Sitting
from relations.prints.models import LabOrder, Print
from relations.today import actions
from tests import cast

pytestmark = pytest.mark.django_db


def lay_out() -> int:
    return actions.lay_out_the_day(user=cast.assistant(), on=cast.TODAY)


def seen() -> list[tuple[str, str]]:
    return sorted(InSight.objects.values_list("person__code", "why"))


def a_print(who: Participant, state: str, **rest: object) -> Print:
    sitting = Sitting.objects.create(code=f"S{who.code}", on=date(2026, 11, 1))
    picture = Picture.objects.create(code=f"K{who.code}", sitting=sitting, made_on=sitting.on)
    return Print.objects.create(
        person=who, picture=picture, state=state, state_on=sitting.on, owed_since=sitting.on, **rest
    )


def a_whole_day() -> None:
    """One person for each work, and Edelmira about whom nothing is due."""
    cast.edelmira()
    Call.objects.create(person=cast.bruno(), due_on=cast.TODAY)
    Meeting.objects.create(person=cast.rachid(), state="fixed", at=cast.moment(hour=15))
    sheet = Sheet.objects.create(serial="10003-62", kind="form")
    Form.objects.create(
        sheet=sheet, person=cast.marcel(), is_from_before=True, state="scanned",
        state_on=cast.TODAY,
    )  # fmt: skip
    Form.objects.create(
        sheet=Sheet.objects.create(serial="20011-11", kind="form"), is_from_before=True,
        state="scanned", state_on=cast.TODAY,
    )  # fmt: skip
    a_print(cast.lucas(), "checked")
    a_print(cast.ibrahima(), "out_on_a_round", is_safe=True)
    TakenBack.objects.create(
        person=cast.danuta(), scope="all", said_on=cast.TODAY, heard_at=cast.moment(),
        heard_by=cast.assistant(), answer_due_on=cast.days(14),
    )  # fmt: skip


def test_the_work_of_the_day_brings_people_into_sight() -> None:
    a_whole_day()
    assert lay_out() == 6
    assert seen() == [
        ("01", "form"), ("12", "stop"), ("17", "meeting"), ("19", "ring"), ("35", "print"),
        ("40", "print"),
    ]  # fmt: skip
    codes = [person.code for person in access.people(cast.assistant())]
    assert codes == ["01", "12", "17", "19", "35", "40"]


def test_kept_prints_bring_into_sight_whoever_is_to_be_asked_on_a_trip() -> None:
    a_print(cast.danuta(), "kept_for_them")
    assert lay_out() == 0
    Trip.objects.create(code="T7", first_day=cast.days(-2), last_day=cast.days(9))
    assert lay_out() == 1
    assert seen() == [("12", "print")]


def test_prints_of_an_order_bring_into_sight_whoever_is_on_them() -> None:
    """Also while nothing is to be done with a print: whoever fetches it looks at the face."""
    row = a_print(cast.danuta(), "at_the_lab")
    assert lay_out() == 0
    order = LabOrder.objects.create(code="L1234", ordered_on=cast.TODAY)
    Print.objects.filter(pk=row.pk).update(order=order)
    assert lay_out() == 1
    assert seen() == [("12", "print")]


def test_laying_out_a_day_twice_is_once() -> None:
    a_whole_day()
    lay_out()
    assert lay_out() == 0
    assert len(seen()) == 6


def test_who_has_two_works_is_in_sight_for_both() -> None:
    Call.objects.create(person=cast.bruno(), due_on=cast.TODAY)
    a_print(cast.bruno(), "owed")
    lay_out()
    assert seen() == [("19", "print"), ("19", "ring")]


def test_whose_work_is_done_stays_in_sight_until_the_day_ends() -> None:
    call = Call.objects.create(person=cast.bruno(), due_on=cast.TODAY)
    lay_out()
    call.delete()
    lay_out()
    assert seen() == [("19", "ring")]
    assert not access.people(cast.assistant(), cast.days(1)).exists()


@pytest.mark.parametrize("who", [cast.artist, cast.wording_reader, cast.keeper])
def test_nothing_is_written_for_other_roles(who: object) -> None:
    a_whole_day()
    assert actions.lay_out_the_day(user=who(), on=cast.TODAY) == 0  # type: ignore[operator]
    assert seen() == []


def test_nobody_of_whom_all_is_let_go_comes_into_sight() -> None:
    a_print(cast.marcel(), "owed")
    Participant.objects.update(standing="closed")
    assert lay_out() == 0


def test_no_question_of_the_day_lists_everybody() -> None:
    """Whose a row is, is asked of it by its key: a list of all was written anew for each question.

    The embedded database did so for the day of one assistant, twelve times, among 100,000 people.
    """
    loic = cast.assistant()
    cast.marcel()
    with CaptureQueriesContext(connection) as asked:
        actions.lay_out_the_day(user=loic, on=cast.TODAY)
        list(access.people(loic))
    lists = re.compile(r'IN \(SELECT (?:DISTINCT )?\w+\."id" FROM "people_participant"')
    assert [one["sql"] for one in asked if lists.search(one["sql"])] == []
    with CaptureQueriesContext(connection) as asked:
        list(Print.objects.filter(person__in=access.people(loic)))
    assert lists.search(asked[0]["sql"]), "else nothing would be found here"
