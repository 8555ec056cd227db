"""Who signs in, as artist and keeper see it."""

import uuid
from datetime import timedelta

import pytest
from django.utils import timezone

from relations.privacy import queries
from relations.privacy.log import note
from relations.privacy.models import User, WrongTries
from relations.privacy.words import BECAME
from tests import cast
from tests.rows import make

pytestmark = pytest.mark.django_db


def test_accounts_come_with_those_first_who_may_sign_in():
    gone, here = cast.artist(), cast.assistant()
    gone.is_active = False
    gone.save()
    assert [account.user for account in queries.accounts()] == [here, gone]


def test_account_says_how_somebody_signs_in_and_until_when_they_cannot():
    user = cast.assistant()
    until = timezone.now() + timedelta(minutes=9)
    make(WrongTries, user=user, count=5, held_until=until)
    user.code_devices.create(secret="A", made_at=timezone.now(), is_set_up=True)
    user.paper_codes.create(number=1, hashed="argon2$")
    account = queries.account(user)
    assert (account.held_until, account.paper_codes, account.has_device) == (until, 1, True)
    nobody = queries.account(cast.keeper())
    assert (nobody.held_until, nobody.paper_codes, nobody.has_device) == (None, 0, False)


def told(user):
    return [(one.whose, str(one.became), one.by) for one in queries.told(user)]


def test_what_became_of_accounts_is_told_to_whoever_did_not_do_it_newest_first():
    ines, loic, aude = cast.artist(), cast.assistant(), cast.keeper()
    note(aude, "let_go", "privacy.user", loic.pk)
    note(loic, "password_changed", "privacy.user", loic.pk)
    note(None, "codes_lost", "privacy.user", ines.pk)
    lost = (ines, str(BECAME["codes_lost"]), None)
    chose = (loic, str(BECAME["password_changed"]), loic)
    assert told(aude) == [lost, chose]
    assert told(ines) == [lost, chose, (loic, str(BECAME["let_go"]), aude)]
    ines.told_up_to = queries.told(ines)[0].seq
    assert told(ines) == []


def test_what_is_no_change_or_of_nobody_is_not_told():
    ines, loic = cast.artist(), cast.assistant()
    note(loic, "signed_in", "privacy.user", loic.pk)
    note(loic, "let_go", "people.participant", loic.pk)
    note(loic, "let_go", "privacy.user", uuid.uuid4())
    note(loic, "let_go", "privacy.user", None)
    assert told(ines) == []
    assert User.objects.count() == 2
