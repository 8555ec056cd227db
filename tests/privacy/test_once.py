"""The same form sent twice is acted on once."""

import uuid

import pytest

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


# Each of four threads sends the same form; every process waits until all of them may.
SENDING = """
import threading, uuid
from django.db import connection
from relations.privacy.models import Role, User
from relations.privacy.once import once
user = User.objects.get(username="sender")

def act():
    return f"/made/{User.objects.create(username=str(uuid.uuid4()), role=Role.KEEPER).pk}/"

def work():
    together.wait()
    sys.stdout.write(once(uuid.UUID(int=1), user, act) + "\\n")  # in one piece, unlike print
    connection.close()

connection.close()
together = threading.Barrier(4)
threads = [threading.Thread(target=work) for _ in range(4)]
print("ready", flush=True)
sys.stdin.readline()
[thread.start() for thread in threads]
[thread.join() for thread in threads]
"""
SENDER = """
from relations.privacy.models import Role, User
User.objects.create_user("sender", None, role=Role.ASSISTANT, called="Loïc")
"""
MADE = """
from relations.privacy.models import Role, User
print(User.objects.filter(role=Role.KEEPER).count())
"""


def test_a_form_sent_twice_at_the_same_moment_makes_one_row(apart):
    apart.run(SENDER)
    senders = [apart.start(SENDING) for _ in range(2)]
    assert [sender.stdout.readline() for sender in senders] == ["ready\n"] * 2
    told = [sender.communicate("go\n") for sender in senders]
    assert [fault for _, fault in told] == ["", ""]
    led = [line for said, _ in told for line in said.split()]
    assert (len(led), len(set(led))) == (8, 1)
    assert apart.run(MADE) == "1\n"
