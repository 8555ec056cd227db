"""The command that lists what is due, and with --confirm lets all of it go as the keeper."""

from datetime import date

import pytest
from django.core.management.base import CommandError

from relations.meetings.models import Recording
from relations.people.models import Participant, PersonHold
from relations.privacy.keys import keyring
from relations.privacy.models import Role, User
from relations.rights.models import LettingGo
from tests.rights.homes import PASSPHRASE
from tests.rows import make

pytestmark = [pytest.mark.unlocked, pytest.mark.django_db]


@pytest.fixture
def due(a_home):
    """A home in which 37 said no, a recording has come to its day, and nothing else is due."""
    Recording.objects.all().delete()
    Participant.objects.exclude(standing="named").delete()
    since = date(2026, 10, 24)
    person = make(Participant, code="37", call_name="Zéphirine", standing="said_no",
                  standing_since=since, heard_on=since)  # fmt: skip
    return person, make(Recording, code="R-18")


def test_it_lists_clock_code_and_day_and_no_name(due, say):
    keyring.lock()
    said = say("let_go", typed=[PASSPHRASE])
    assert "2026-11-23  said_no            37        Said no 30 days ago\n" in said
    assert "2026-11-23  recordings         R-18      Recordings whose last day has come\n" in said
    assert "Zéphirine" not in said
    assert "To let all of it go: manage.py let_go --confirm" in said
    assert Participant.objects.filter(code="37").exists()


def test_confirmed_all_of_it_goes_as_the_keeper(due, say):
    _person, recording = due
    said = say("let_go", "--confirm")
    assert "let go. What is erased here also leaves the backups within 90 days." in said
    assert not Participant.objects.filter(code="37").exists()
    recording.refresh_from_db()
    assert recording.destroyed_on == date(2026, 11, 23)
    rows = LettingGo.objects.filter(confirmed_on=date(2026, 11, 23))
    assert {row.confirmed_by.role for row in rows} == {Role.KEEPER}
    assert "No clock has run out." in say("let_go", "--confirm")


def test_what_cannot_go_yet_is_said_and_the_rest_goes(due, say):
    person, recording = due
    make(PersonHold, person=person)
    with pytest.raises(CommandError, match="1 could not go yet"):
        say("let_go", "--confirm")
    assert Participant.objects.filter(code="37").exists()
    recording.refresh_from_db()
    assert recording.destroyed_on is not None


def test_postponed_it_is_on_no_list_until_its_day(due, say):
    person, _ = due
    LettingGo.objects.create(person=person, clock="said_no", due_on=date(2026, 11, 23),
                             postponed_until=date(2026, 11, 24), sentence="Not yet.")  # fmt: skip
    assert "said_no" not in say("let_go")


def test_without_a_keeper_nothing_goes(due, say):
    User.objects.filter(role=Role.KEEPER).update(is_active=False)
    with pytest.raises(CommandError, match="there is no keeper"):
        say("let_go", "--confirm")
    assert Participant.objects.filter(code="37").exists()
