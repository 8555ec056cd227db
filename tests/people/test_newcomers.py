"""Whoever does not want somebody who signs in is out of that one's sight, by every way."""

import pytest
from django.http import Http404

from relations.people import access, newcomers, queries
from relations.people.newcomers import Unwanted
from relations.privacy.models import AccessEntry
from relations.privacy.refused import Refused
from relations.today.actions import lay_out_the_day
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db


def refuse(by=None, user=None, person=None):
    said = {"person": person or cast.danuta(), "user": user or cast.assistant()}
    return newcomers.refuse(**said, on=cast.TODAY, by=by or cast.artist())


def refused(act, **said):
    with pytest.raises(Refused) as caught:
        act(**said)
    return caught.value.codes


def test_who_refuses_is_absent_for_that_assistant_alone():
    for user in (cast.assistant(), cast.second_assistant()):
        cast.in_sight(cast.danuta(), user)
    refuse()
    assert access.somebody(cast.assistant(), "12") is None
    with pytest.raises(Http404):
        access.person(cast.assistant(), "12")
    assert not access.in_sight(cast.assistant(), cast.danuta())
    assert queries.seen_today(cast.assistant(), cast.TODAY) == []
    for user in (cast.artist(), cast.second_assistant()):
        assert access.somebody(user, "12") == cast.danuta()


def test_lifted_it_holds_no_more():
    cast.in_sight(cast.danuta(), cast.assistant())
    row = refuse()
    assert [one.person.code for one in newcomers.standing()] == ["12"]
    newcomers.lift(row=row, on=cast.TODAY, by=cast.artist())
    newcomers.lift(row=row, on=cast.days(1), by=cast.artist())
    assert row.lifted_on == cast.TODAY
    assert access.somebody(cast.assistant(), "12") == cast.danuta()
    assert not newcomers.standing().exists()


def test_said_twice_is_once_and_again_after_it_was_lifted_is_new():
    first = refuse()
    assert refuse() == first
    newcomers.lift(row=first, on=cast.days(-1), by=cast.artist())
    assert first.lifted_on == cast.TODAY
    assert refuse() != first
    verbs = AccessEntry.objects.filter(kind="people.unwanted").values_list("verb", flat=True)
    assert list(verbs) == ["refused", "lifted", "refused"]


def test_an_assistant_says_it_of_themselves_and_of_nobody_else():
    assert refuse(by=cast.assistant()).user == cast.assistant()
    said = {"person": cast.danuta(), "user": cast.second_assistant(), "on": cast.TODAY}
    assert refused(newcomers.refuse, by=cast.assistant(), **said) == ("not_yours_to_say",)
    said["user"] = cast.keeper()
    assert refused(newcomers.refuse, by=cast.artist(), **said) == ("not_an_assistant",)


def test_only_the_artist_lifts_it():
    row = refuse()
    said = {"row": row, "on": cast.TODAY, "by": cast.assistant()}
    assert refused(newcomers.lift, **said) == ("artist_only",)
    assert newcomers.unwanted_or_404(row.pk) == row
    with pytest.raises(Http404):
        newcomers.unwanted_or_404(make(Unwanted).person.pk)


def test_the_day_that_is_laid_out_leaves_them_out(rings_due_for_danuta):
    assert lay_out_the_day(user=cast.second_assistant(), on=cast.TODAY) == 1
    refuse()
    assert lay_out_the_day(user=cast.assistant(), on=cast.TODAY) == 0


@pytest.fixture
def rings_due_for_danuta():
    from relations.meetings.models import Call

    person = cast.danuta()
    return make(Call, person=person, state="planned", due_on=cast.TODAY)
