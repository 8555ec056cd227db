"""Who signs in, as artist and keeper see it."""

from datetime import timedelta

import pytest
from django.utils import timezone

from relations.privacy import queries
from relations.privacy.models import WrongTries
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
