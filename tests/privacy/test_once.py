"""The same form sent twice is acted on once."""

import threading
import uuid

import pytest
from django.db import connection

from relations.privacy.models import Posted, Role, User
from relations.privacy.once import once

pytestmark = pytest.mark.django_db
TOKEN = uuid.UUID(int=1)


@pytest.fixture
def user():
    return User.objects.create_user("loic", None, role=Role.ASSISTANT, called="Loïc")


def act(user):
    """An act that leaves a row, so that doing it twice shows."""

    def acting():
        made = User.objects.create(username=str(uuid.uuid4()), role=Role.KEEPER)
        return f"/made/{made.pk}/"

    return acting


def test_a_form_sent_twice_makes_one_row_and_leads_to_the_same_page(user):
    first = once(TOKEN, user, act(user))
    assert once(TOKEN, user, act(user)) == first
    assert User.objects.filter(role=Role.KEEPER).count() == 1
    assert str(Posted.objects.get()) == str(TOKEN)


def test_two_forms_are_two_acts(user):
    assert once(TOKEN, user, act(user)) != once(uuid.UUID(int=2), user, act(user))
    assert User.objects.filter(role=Role.KEEPER).count() == 2


def test_another_person_with_the_same_token_is_not_led_to_the_firsts_page(user):
    other = User.objects.create_user("mara", None, role=Role.ARTIST, called="Mara")
    assert once(TOKEN, user, act(user)) != once(TOKEN, other, act(other))


def test_an_act_that_fails_leaves_nothing_and_may_be_sent_again(user):
    def failing():
        act(user)()
        raise ValueError("no")

    with pytest.raises(ValueError, match="no"):
        once(TOKEN, user, failing)
    assert not User.objects.filter(role=Role.KEEPER).exists()
    assert not Posted.objects.exists()
    assert once(TOKEN, user, act(user)).startswith("/made/")


@pytest.mark.django_db(transaction=True)
def test_a_form_sent_twice_at_the_same_moment_makes_one_row(user):
    if connection.vendor == "sqlite":
        pytest.skip("tests keep the embedded register in memory, where threads share one lock")
    together, led = threading.Barrier(4), []

    def work():
        together.wait()
        led.append(once(TOKEN, user, act(user)))
        connection.close()

    threads = [threading.Thread(target=work) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(led) == 4
    assert len(set(led)) == 1
    assert User.objects.filter(role=Role.KEEPER).count() == 1
