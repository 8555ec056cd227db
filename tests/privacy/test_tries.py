"""Wrong tries: five from one address, a hundred from anywhere, never more in many hands."""

import json
from datetime import timedelta

import pytest
from django.test import RequestFactory
from django.utils import timezone

from relations.privacy import tries
from relations.privacy.models import AccessEntry, Role, User, WrongTries

pytestmark = pytest.mark.django_db


def request(address="192.0.2.1"):
    return RequestFactory().post("/in/", REMOTE_ADDR=address)


def wrong(times=1, name="loic", address="192.0.2.1"):
    for _ in range(times):
        tries.attempt(request(address), name, lambda: None)


def right(name="loic", address="192.0.2.1"):
    return tries.attempt(request(address), name, lambda: "in")


@pytest.fixture
def user():
    return User.objects.create_user("loic", None, role=Role.ASSISTANT, called="Loïc")


def later(**by):
    """Let time pass by making everything that was noted older."""
    for row in WrongTries.objects.all():
        row.last_at -= timedelta(**by)
        row.held_until = row.held_until and row.held_until - timedelta(**by)
        row.save()


def test_fifth_wrong_try_holds_off_for_fifteen_minutes(user):
    wrong(4)
    with pytest.raises(tries.HeldOff) as held:
        wrong()
    assert abs(held.value.until - timezone.now() - timedelta(minutes=15)) < timedelta(seconds=5)
    assert tries.held_off(user) == held.value.until
    noted = AccessEntry.objects.values_list("verb", "by", "key")
    assert list(noted) == [("wrong_try", None, user.pk)] * 5 + [("held_off", None, user.pk)]


def test_right_one_is_refused_too_and_not_even_looked_at(user):
    with pytest.raises(tries.HeldOff):
        wrong(5)
    looked = []
    with pytest.raises(tries.HeldOff):
        tries.attempt(request(), "loic", lambda: looked.append(1))
    assert looked == []


def test_tries_while_held_off_do_not_make_it_longer(user):
    with pytest.raises(tries.HeldOff) as first:
        wrong(5)
    with pytest.raises(tries.HeldOff) as second:
        right()
    assert first.value.until == second.value.until


def test_after_fifteen_minutes_five_tries_are_open_again(user):
    with pytest.raises(tries.HeldOff):
        wrong(5)
    later(minutes=14)
    with pytest.raises(tries.HeldOff):
        right()
    later(minutes=1, seconds=1)
    wrong(4)
    assert right() == "in"


def test_another_address_and_another_name_are_still_open(user):
    with pytest.raises(tries.HeldOff):
        wrong(5)
    assert right(address="192.0.2.2") == "in"
    assert right(name="ines") == "in"


def test_name_of_nobody_is_held_off_alike():
    wrong(4, name="nobody")
    with pytest.raises(tries.HeldOff):
        wrong(name="nobody")
    assert set(AccessEntry.objects.values_list("verb", "key")) == {
        ("wrong_try", None),
        ("held_off", None),
    }


def test_right_try_counts_for_nothing_but_ends_no_row_of_wrong_ones(user):
    wrong(4)
    assert right() == "in"
    with pytest.raises(tries.HeldOff):
        wrong()


def test_signing_in_ends_the_row_of_wrong_ones(user):
    wrong(4)
    tries.forget(request(), "loic")
    wrong(4)
    assert right() == "in"


def test_hundred_and_first_try_from_anywhere_is_refused_for_a_day(user):
    for n in range(24):
        wrong(4, address=f"192.0.2.{n}")
    wrong(3, address="198.51.100.1")
    with pytest.raises(tries.HeldOff) as held:
        wrong(address="198.51.100.2")
    assert held.value.until > timezone.now() + timedelta(hours=23)
    with pytest.raises(tries.HeldOff):
        right(address="198.51.100.3")


def test_tries_at_the_same_moment_are_no_more_than_five(user):
    """Each begins while the ones before are still being looked at."""
    looked = []

    def look():
        looked.append(1)
        tries.attempt(request(), "loic", look)

    with pytest.raises(tries.HeldOff):
        tries.attempt(request(), "loic", look)
    assert len(looked) == 5


def test_somebody_freed_may_try_at_once(user):
    with pytest.raises(tries.HeldOff):
        wrong(5)
    tries.free(user)
    assert tries.held_off(user) is None
    assert right() == "in"


def test_neither_name_nor_address_can_be_read_in_what_is_kept(user):
    wrong()
    kept = [bytes(row.mark) for row in WrongTries.objects.all()]
    assert {len(mark) for mark in kept} == {16}
    assert not [mark for mark in kept if b"loic" in mark or b"192" in mark]


def test_what_was_noted_goes_after_a_day(user):
    wrong(name="long ago")
    later(days=1, seconds=1)
    wrong()
    assert WrongTries.objects.count() == 2


@pytest.mark.parametrize(
    ("address", "taken"),
    [
        ("192.0.2.1", "192.0.2.1"),
        ("2001:db8:1:2:3:4:5:6", "2001:db8:1:2::/64"),
        ("2001:db8:1:2::9", "2001:db8:1:2::/64"),
        ("", ""),
        ("somewhere", ""),
    ],
)
def test_address_is_that_of_a_connection(address, taken):
    assert tries.address_of(request(address)) == taken


# Each of ten threads sends one wrong password through the sign-in page, all at the same moment.
TRYING = """
import threading
from django.db import connection
from django.test import Client
from relations.privacy.models import User

def work(number):
    client = Client(REMOTE_ADDR="192.0.2.7")
    together.wait()
    client.post("/in/", {"username": "tried", "password": f"wrong {number}"})
    connection.close()

def check(user, said):
    looked.append(said)
    return False

User.check_password = check
from django.conf import settings
settings.ALLOWED_HOSTS = ["testserver"]
connection.close()
together, looked = threading.Barrier(10), []
threads = [threading.Thread(target=work, args=[number]) for number in range(10)]
print("ready", flush=True)
sys.stdin.readline()
[thread.start() for thread in threads]
[thread.join() for thread in threads]
print(len(looked))
"""
TRIED = """
from relations.privacy.models import Role, User
User.objects.create_user("tried", "a boat, a lamp, a wall", role=Role.ASSISTANT, called="Loïc")
"""
COUNTED = """
from relations.privacy.models import WrongTries
print(json.dumps(sorted(WrongTries.objects.filter(user__username="tried")
                        .values_list("count", flat=True))))
"""


def test_twenty_tries_at_the_same_moment_are_no_more_than_five(apart):
    apart.run(TRIED)
    processes = [apart.start(TRYING) for _ in range(2)]
    assert [process.stdout.readline() for process in processes] == ["ready\n"] * 2
    told = [process.communicate("go\n") for process in processes]
    assert sum(int(said) for said, _ in told) == 5, [fault for _, fault in told]
    assert json.loads(apart.run(COUNTED)) == [5, 5]


def test_another_door_is_counted_alike_and_logged_as_what_it_is(user):
    """A name that is also somebody's is no try at that person."""
    about = ("uses.clearancesheet", user.pk)
    for _ in range(4):
        tries.attempt(request(), "loic", lambda: None, about=about)
    with pytest.raises(tries.HeldOff):
        tries.attempt(request(), "loic", lambda: None, about=about)
    assert tries.held_off(user) is None
    assert set(AccessEntry.objects.values_list("kind", "key")) == {about}
