"""The access log: each line is chained to the one before, and what was done to it shows."""

import threading
import uuid

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction

from relations.privacy.log import head, note, verify
from relations.privacy.models import AccessEntry, LogHead, Role, User

pytestmark = pytest.mark.django_db


@pytest.fixture
def user():
    return User.objects.create_user("loic", None, role=Role.ASSISTANT, called="Loïc")


@pytest.fixture
def lines(user):
    for number in range(1, 6):
        note(user if number % 2 else None, "read", "people.phone", uuid.UUID(int=number))


def test_an_empty_log_stands():
    assert verify() is None
    assert head() == (0, "")


def test_a_line_says_who_did_what_to_which_row_and_nothing_more(user):
    note(user, "read", "people.phone", uuid.UUID(int=5))
    (entry,) = AccessEntry.objects.all()
    assert (entry.seq, entry.by, entry.verb, entry.kind) == (1, user.pk, "read", "people.phone")
    assert entry.key == uuid.UUID(int=5)
    assert len(entry.mac) == 32
    assert str(entry) == "1"


def test_lines_are_numbered_without_a_gap_and_stand(lines):
    assert list(AccessEntry.objects.values_list("seq", flat=True)) == [1, 2, 3, 4, 5]
    assert verify() is None
    assert head()[0] == 5
    assert str(LogHead.objects.get()) == "5"


@pytest.mark.parametrize(
    "change", [{"verb": "wrote"}, {"kind": "people.place"}, {"by": None}, {"key": None}]
)
def test_a_changed_line_is_found(lines, change):
    AccessEntry.objects.filter(seq=3).update(**change)
    assert verify() == 3


def test_a_line_set_to_another_time_is_found(lines):
    entry = AccessEntry.objects.get(seq=2)
    AccessEntry.objects.filter(seq=2).update(at=entry.at.replace(microsecond=1, year=2020))
    assert verify() == 2


def test_a_line_taken_out_is_found(lines):
    AccessEntry.objects.filter(seq=2).delete()
    assert verify() == 2


def test_a_line_taken_out_is_found_when_the_others_close_up(lines):
    AccessEntry.objects.filter(seq=2).delete()
    for seq in (3, 4, 5):
        AccessEntry.objects.filter(seq=seq).update(seq=seq - 1)
    assert verify() == 2


def test_the_last_line_taken_out_is_found(lines):
    AccessEntry.objects.filter(seq=5).delete()
    assert verify() == 5


def test_a_line_added_past_the_head_is_found(lines):
    last = AccessEntry.objects.get(seq=5)
    AccessEntry.objects.create(
        seq=6, at=last.at, by=last.by, verb="read", kind="x", key=None, mac=bytes(32)
    )
    assert verify() == 6


def test_a_head_that_was_set_back_is_found(lines):
    LogHead.objects.update(seq=4)
    assert verify() == 6


def test_a_log_written_under_another_key_does_not_stand(lines):
    from relations.privacy.keys import keyring

    keyring.hold(bytes(32))
    try:
        assert verify() == 1
    finally:
        keyring.hold(bytes(range(32)))


def test_a_line_is_undone_with_the_action_it_belongs_to(lines):
    with pytest.raises(IntegrityError), transaction.atomic():
        note(None, "read", "people.phone", None)
        raise IntegrityError
    assert head()[0] == 5
    assert verify() is None


def test_there_is_one_head():
    with pytest.raises(IntegrityError):
        LogHead.objects.create(only=False)


@pytest.mark.django_db(transaction=True)
def test_lines_added_at_the_same_moment_stay_one_chain():
    if connection.vendor == "sqlite":
        pytest.skip("tests keep the embedded register in memory, where threads share one lock")
    faults = []

    def work():
        try:
            for _ in range(10):
                note(None, "read", "people.phone", None)
        except DatabaseError as error:
            faults.append(error)
        finally:
            connection.close()

    threads = [threading.Thread(target=work) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert faults == []
    assert (head()[0], verify()) == (60, None)
