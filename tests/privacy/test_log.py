"""The access log: each line is chained to the one before, and what was done to it shows."""

import re
import uuid
from datetime import UTC, datetime, timedelta

import pytest
from django.db import IntegrityError, transaction
from django.utils import timezone

from relations.privacy import heads, log
from relations.privacy.log import broken_at, head, missing_head, note, verify
from relations.privacy.models import AccessEntry, LogHead, Role, User

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def own_home(tmp_path, settings):
    settings.RELATIONS_HOME = tmp_path


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


def set_head_back(seq):
    """As somebody would who cuts the end and makes the head fit."""
    AccessEntry.objects.filter(seq__gt=seq).delete()
    last = AccessEntry.objects.get(seq=seq)
    LogHead.objects.update(seq=seq, mac=last.mac)


@pytest.fixture
def kept_outside(lines):
    heads.keep(*head())


def test_a_cut_end_is_seen_from_outside_only(kept_outside):
    set_head_back(3)
    assert verify() is None
    assert (missing_head(), broken_at()) == (4, 4)


def test_an_emptied_log_is_found(kept_outside):
    AccessEntry.objects.all().delete()
    LogHead.objects.all().delete()
    assert verify() is None
    assert broken_at() == 1


def test_a_log_that_went_on_after_the_cut_is_found(kept_outside):
    set_head_back(3)
    for _ in range(4):
        note(None, "read", "people.phone", None)
    assert verify() is None
    assert broken_at() == 5


def test_a_log_that_has_all_its_heads_stands(kept_outside):
    note(None, "read", "people.phone", None)
    heads.keep(*head())
    assert (missing_head(), broken_at()) == (None, None)


def test_a_head_is_kept_when_its_line_is_on_the_disk_and_not_before(
    user, django_capture_on_commit_callbacks
):
    with django_capture_on_commit_callbacks(execute=True):
        note(user, "signed_in", "privacy.user", user.pk)
        assert heads.read() == []
    assert heads.read() == [head()]


def test_what_was_undone_leaves_no_head(user):
    with pytest.raises(IntegrityError), transaction.atomic():
        note(user, "signed_in", "privacy.user", user.pk)
        raise IntegrityError
    assert heads.read() == []


def age(seq, days):
    """Write the first `seq` lines as if `days` ago, chained as the site would have."""
    before = b""
    for entry in AccessEntry.objects.order_by("seq"):
        if entry.seq <= seq:
            entry.at -= timedelta(days=days)
        entry.mac = before = log._mac(before, entry)
        entry.save()
    LogHead.objects.update(mac=before)


@pytest.fixture
def pruned(lines, django_capture_on_commit_callbacks):
    age(3, 400)
    for seq, mac in AccessEntry.objects.values_list("seq", "mac"):
        heads.keep(seq, bytes(mac).hex())
    with django_capture_on_commit_callbacks(execute=True):
        assert log.prune(timezone.now() - log.KEPT) == 3


def test_pruning_leaves_an_anchor_and_a_line_and_the_rest_stands(pruned):
    rows = AccessEntry.objects.order_by("seq")
    assert list(rows.values_list("seq", "verb")) == [
        (3, "anchor"),
        (4, "read"),
        (5, "read"),
        (6, "pruned"),
    ]
    assert (rows[0].by, rows[0].key) == (None, None)
    assert broken_at() is None
    assert [seq for seq, _ in heads.read()] == [3, 4, 5, 6]


def test_pruning_again_moves_the_anchor_on(pruned):
    assert log.prune(timezone.now() - log.KEPT) == 0
    assert AccessEntry.objects.count() == 4
    assert log.prune(timezone.now() + timedelta(seconds=1)) == 3
    rows = AccessEntry.objects.order_by("seq").values_list("seq", "verb")
    assert list(rows) == [(6, "anchor"), (7, "pruned")]
    assert broken_at() is None


def test_nothing_old_is_nothing_pruned(lines):
    assert log.prune(timezone.now() - log.KEPT) == 0
    assert verify() is None
    assert head()[0] == 5


def test_a_new_line_behind_a_clock_that_went_back_keeps_the_lines_before_it(lines):
    age(5, 400)
    AccessEntry.objects.filter(seq=2).update(at=timezone.now())
    assert log.prune(timezone.now() - log.KEPT) == 1


@pytest.mark.parametrize(
    ("seq", "change", "found"),
    [
        (3, {"verb": "read"}, 1),
        (3, {"kind": "people.phone"}, 1),
        (3, {"mac": bytes(32)}, 4),
        (3, {"at": datetime(2020, 1, 1, tzinfo=UTC)}, 3),
        (3, {"by": uuid.UUID(int=1)}, 3),
        (3, {"key": uuid.UUID(int=1)}, 3),
        (6, {"key": uuid.UUID(int=4)}, 6),
    ],
)
def test_a_changed_anchor_is_found(pruned, seq, change, found):
    AccessEntry.objects.filter(seq=seq).update(**change)
    assert verify() == found


def test_lines_taken_out_are_not_hidden_by_an_anchor_of_ones_own(lines):
    AccessEntry.objects.filter(seq__lt=3).delete()
    AccessEntry.objects.filter(seq=3).update(verb="anchor", kind="privacy.log", by=None, key=None)
    assert verify() == 3


def test_an_anchor_moved_on_by_hand_is_found(pruned):
    at = AccessEntry.objects.get(seq=3).at
    AccessEntry.objects.filter(seq=3).delete()
    AccessEntry.objects.filter(seq=4).update(
        verb="anchor", kind="privacy.log", by=None, key=None, at=at
    )
    assert verify() == 4


WRITERS = """
import threading
from django.db import connection
from relations.privacy.log import note

def work():
    try:
        for _ in range(25):
            note(None, "read", "people.phone", None)
    finally:
        connection.close()

threads = [threading.Thread(target=work) for _ in range(3)]
[thread.start() for thread in threads]
[thread.join() for thread in threads]
"""
COUNTED = """
from relations.privacy import log
print(log.head()[0], log.broken_at())
"""


def test_two_processes_of_three_threads_keep_one_chain(apart):
    before = int(apart.run(COUNTED).split()[0])
    assert apart.all(WRITERS, (), ()) == ["", ""]
    assert apart.run(COUNTED) == f"{before + 150} None\n"


def test_statement_that_adds_a_line_names_every_column_in_its_order():
    named = re.search(r"\((.*?)\) VALUES \((.*?)\)", log.ADD_LINE)
    assert named
    assert named[1].replace('"', "").split(", ") == [field.column for field in log.COLUMNS]
    assert named[2].count("%s") == len(log.COLUMNS)
    tables = {AccessEntry._meta.db_table, LogHead._meta.db_table}
    assert {word for word in log.ADD_LINE.split() if word.startswith("privacy_")} <= tables
    assert all(LogHead._meta.db_table in said for said in (log.READ_HEAD, log.MOVE_HEAD))
