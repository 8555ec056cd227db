"""What was written in a set is taken in once, by its writer, and by a clock that is as it was."""

import uuid
from datetime import timedelta

import pytest
from django.utils import timezone

from relations.consent.models import TakenBack
from relations.meetings import travelling
from relations.meetings.models import Call, Trip
from relations.privacy import sets
from relations.privacy.models import OutboxEntry
from relations.privacy.outbox import stand
from relations.privacy.sets import NoSet
from relations.today import coming_home
from tests import cast, phone
from tests.rows import make

pytestmark = pytest.mark.django_db
DAY = cast.TODAY.isoformat()
RING = {"kind": "ring", "code": "12", "outcome": "no_answer", "day": DAY, "hour": "08:30"}
STOP = {"kind": "stop", "code": "12", "what": "all", "day": DAY}


@pytest.fixture
def row():
    stand()
    cast.in_sight(cast.danuta(), cast.assistant())
    trip = make(Trip, first_day=cast.TODAY, last_day=cast.days(3))
    return travelling.make(
        trip=trip, made_for=cast.assistant(), secret="what home knows", at=cast.moment()
    )


@pytest.fixture
def a_set(monkeypatch, tmp_path, row):
    """A set as its own process speaks of it: it says what is in `held`."""
    told = {"held": [], "alarms": 0, "asked": [], "wiped": []}

    def inside(root, command, said):
        told["asked"].append((command, said))
        return {"entries": told["held"], "alarms": told["alarms"]}

    monkeypatch.setattr(sets, "statement", lambda root: {"key": str(row.pk)})
    monkeypatch.setattr(sets, "inside", inside)
    monkeypatch.setattr(sets, "wipe", told["wiped"].append)
    told["root"] = tmp_path
    return told


def entry(said, ago=timedelta(days=9), wrong=timedelta(0)):
    """One as it lies in a set: written and sent some days ago, by a clock that is wrong so much."""
    key, at = uuid.uuid4(), timezone.now() - ago
    times = {"written_at": (at + wrong).isoformat(), "known_at": at.isoformat()}
    return {
        "key": str(key),
        "sealed": phone.seal({**times, "asked_on": "", "asked_hour": "", **said}, key),
        "phone_at": (at + wrong).isoformat(),
        "received_at": at.isoformat(),
    }


def states():
    return sorted(OutboxEntry.objects.values_list("state", flat=True))


def test_entries_act_as_their_writers_press_and_once(a_set, row):
    a_set["held"] = [entry(RING), entry(STOP)]
    came = coming_home.bring(a_set["root"])
    assert (came.held, came.new, came.waiting, came.was_ended) == (2, 2, 0, False)
    assert a_set["asked"] == [("come_home", {"secret": "what home knows"})]
    assert a_set["wiped"] == [a_set["root"]]
    assert Call.objects.filter(person=cast.danuta(), outcome="no_answer").count() == 1
    assert {one.by for one in OutboxEntry.objects.all()} == {cast.assistant()}
    row.refresh_from_db()
    assert (row.came_home_at is not None, row.secret) == (True, "")


def test_set_that_comes_again_is_wiped_and_asked_nothing(a_set):
    a_set["held"] = [entry(RING)]
    coming_home.bring(a_set["root"])
    came = coming_home.bring(a_set["root"])
    assert (came.held, len(a_set["asked"]), len(a_set["wiped"])) == (0, 1, 2)
    assert states() == ["done"]


def test_run_that_was_killed_between_two_entries_stores_each_once(a_set, monkeypatch):
    a_set["held"] = [entry(RING), entry(STOP)]
    take, taken = coming_home.outbox.take_in, []

    def killed(**said):
        if taken:
            raise KeyboardInterrupt
        taken.append(said)
        return take(**said)

    with monkeypatch.context() as patched:
        patched.setattr(coming_home.outbox, "take_in", killed)
        with pytest.raises(KeyboardInterrupt):
            coming_home.bring(a_set["root"])
    assert (states(), a_set["wiped"]) == (["done"], [])
    came = coming_home.bring(a_set["root"])
    assert (came.held, came.new) == (2, 1)
    assert states() == ["done", "done"]
    assert Call.objects.filter(outcome="no_answer").count() == 1


@pytest.mark.parametrize("where", ["here", "in the set"])
def test_after_an_alarm_all_waits_but_a_stop_which_acts(a_set, where):
    if where == "here":
        travelling.end_all(at=cast.moment())
    else:
        a_set["alarms"] = 1
    a_set["held"] = [entry(RING), entry(STOP)]
    came = coming_home.bring(a_set["root"])
    assert (came.waiting, came.was_ended) == (2, True)
    assert not Call.objects.filter(outcome="no_answer").exists()
    assert TakenBack.objects.filter(person=cast.danuta()).count() == 1
    assert all("set_ended" in one.said["doubts"] for one in OutboxEntry.objects.all())


def test_page_says_why_such_an_entry_waits(a_set, client):
    travelling.end_all(at=cast.moment())
    a_set["held"] = [entry(RING)]
    coming_home.bring(a_set["root"])
    cast.signed_in(client, cast.assistant())
    assert "in a travelling set that was ended before" in client.get("/outbox/").content.decode()


def test_telephone_that_was_wrong_beside_the_set_is_in_doubt_here_too(a_set):
    a_set["held"] = [entry(RING, wrong=timedelta(hours=26))]
    coming_home.bring(a_set["root"])
    assert states() == ["asked"]
    assert OutboxEntry.objects.get().said["doubts"] == ["wrong_now"]


def test_entry_that_does_not_open_is_kept_and_the_others_act(a_set):
    broken = entry(RING)
    broken["sealed"]["closed"] = phone.text(b"something else")
    a_set["held"] = [broken, entry(STOP)]
    assert coming_home.bring(a_set["root"]).waiting == 1
    assert states() == ["done", "unread"]


def test_clock_of_ours_that_is_behind_leaves_the_set_as_it_is(a_set, monkeypatch):
    monkeypatch.setattr(coming_home.outbox.clock, "behind", timezone.now)
    a_set["held"] = [entry(RING)]
    with pytest.raises(coming_home.outbox.NotNow):
        coming_home.bring(a_set["root"])
    assert (states(), a_set["wiped"]) == ([], [])


def test_set_of_another_register_is_left_alone(a_set, monkeypatch):
    monkeypatch.setattr(sets, "statement", lambda root: {"key": str(uuid.uuid4())})
    with pytest.raises(NoSet, match="another register"):
        coming_home.bring(a_set["root"])
    assert (a_set["asked"], a_set["wiped"]) == ([], [])


def test_set_says_its_entries_in_the_order_in_which_they_came_still_sealed(monkeypatch):
    opened = []
    monkeypatch.setattr(coming_home, "guard_process", lambda: None)
    monkeypatch.setattr(coming_home.keyring, "unlock", opened.append)
    for hour in (11, 9):
        at = cast.moment(hour=hour)
        said = {"sealed": {"closed": str(hour)}}
        make(OutboxEntry, state="unread", phone_at=at, received_at=at, said=said)
    told = coming_home.written("what home knows")
    assert opened == ["what home knows"]
    assert [one["sealed"]["closed"] for one in told["entries"]] == ["9", "11"]
    assert told["alarms"] == 0
