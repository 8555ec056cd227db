"""Which prints and promises a user sees, late first, and which steps may be noted."""

import pytest
from django.http import Http404

from relations.meetings.models import Trip
from relations.people import actions as people
from relations.people.models import Participant
from relations.prints import actions, queries
from relations.prints.models import Print
from relations.prints.rules import PrintState
from tests import cast
from tests.cast import days
from tests.prints.frames import made, picture

pytestmark = pytest.mark.django_db


def test_prints_come_late_first_then_by_how_long_they_are_owed():
    made(cast.marcel(), "K01", owed_since=days(-10))
    made(cast.danuta(), "K12", owed_since=days(-90))
    made(cast.bruno(), "K19", "kept_for_them", owed_since=days(-200))
    made(cast.lucas(), "K39", "acknowledged", owed_since=days(-90))
    rows = queries.owed(cast.artist(), days(0))
    assert [(row.picture.code, row.late) for row in rows] == [
        ("K12", True),
        ("K19", False),
        ("K01", False),
    ]


def test_an_assistant_sees_prints_of_people_in_sight_and_others_none():
    made(cast.danuta(), "K12")
    for user in cast.everyone()[1:]:
        assert queries.owed(user, days(0)) == []
    with pytest.raises(Http404):
        queries.print_or_404(cast.assistant(), "12", "K12")
    cast.in_sight(cast.danuta(), cast.assistant())
    assert queries.print_or_404(cast.assistant(), "12", "K12").person.code == "12"


def test_a_print_without_a_picture_has_an_address_too():
    row = made(cast.danuta(), code="", state="nothing_to_print")
    assert queries.print_or_404(cast.artist(), "12", queries.NO_PICTURE) == row


def test_counts_are_those_of_the_whole_project():
    made(cast.danuta(), "K12", "acknowledged")
    made(cast.marcel(), "K01", owed_since=days(-90))
    made(cast.bruno(), "K19", "declined")
    found = queries.counts(days(0))
    assert (found.rows, found.owed, found.returned, found.late) == (3, 2, 1, 1)


def test_the_next_step_is_one_and_the_others_follow():
    ways = queries.ways_on(made(cast.danuta(), state="collected"), days(0))
    assert (ways.next, ways.others, ways.not_yet) == (PrintState.CHECKED, (PrintState.FAULTY,), ())


def test_keeping_comes_first_where_home_is_not_safe_or_harm_grave():
    not_safe = made(cast.danuta(), state="asked_how", is_safe=False)
    assert queries.ways_on(not_safe, days(0)).next is PrintState.KEPT_FOR_THEM
    grave = made(cast.ibrahima(), "K35", "asked_how", not_at_the_lab=True)
    assert queries.ways_on(grave, days(0)).next is PrintState.KEPT_FOR_THEM
    safe = made(cast.marcel(), "K01", "asked_how", is_safe=True)
    assert queries.ways_on(safe, days(0)).next is PrintState.FILE_READY


def test_a_step_that_must_wait_says_why():
    ways = queries.ways_on(made(cast.danuta(), state="posted"), days(0))
    assert ways.not_yet == ((PrintState.LOOKING_FOR_A_WAY, ("thirty_days",)),)
    tried = queries.ways_on(made(cast.marcel(), "K01", "not_home", tries=2), days(0))
    assert tried.not_yet == ((PrintState.OUT_ON_A_ROUND, ("two_tries",)),)
    assert tried.next is PrintState.LOOKING_FOR_A_WAY


def test_after_thirty_days_of_silence_it_is_looked_for_first():
    silent = made(cast.danuta(), state="handed_on", state_on=days(-30))
    assert queries.ways_on(silent, days(0)).next is PrintState.LOOKING_FOR_A_WAY
    recent = made(cast.marcel(), "K01", "handed_on", state_on=days(-29))
    assert queries.ways_on(recent, days(0)).next is PrintState.ACKNOWLEDGED


@pytest.mark.parametrize("standing", ["said_no", "never_ring"])
def test_nobody_is_sent_to_whoever_said_no_meanwhile(standing):
    row = made(cast.danuta(), state="checked", is_safe=True)
    row.person.standing = standing
    ways = queries.ways_on(row, days(0))
    assert ways.next is PrintState.KEPT_FOR_THEM
    assert dict(ways.not_yet) == {
        PrintState.OUT_ON_A_ROUND: ("left_alone",),
        PrintState.POSTED: ("left_alone",),
    }


@pytest.mark.parametrize("state", ["owed", "kept_for_them"])
def test_nobody_is_sent_to_ask_whoever_is_left_alone(state):
    row = made(cast.danuta(), state=state)
    assert queries.ways_on(row, days(0)).next is PrintState.ASKED_HOW
    people.hold(person=row.person, by=cast.artist(), at=cast.moment())
    ways = queries.ways_on(row, days(0))
    assert (ways.next, ways.is_left_alone) == (None, True)
    assert PrintState.ASKED_HOW in ways.others, "they may come and say it themselves"
    assert list(Print.objects.filter(queries.of_left_alone())) == [row]


def test_a_hold_keeps_everybody_away_and_everything_taken_back_does_not():
    row = made(cast.danuta(), state="checked", is_safe=True)
    row.person.standing = "stepped_back"
    assert not queries.is_left_alone(row.person)
    assert queries.ways_on(row, days(0)).next is PrintState.OUT_ON_A_ROUND
    people.hold(person=row.person, by=cast.artist(), at=cast.moment())
    assert queries.is_left_alone(row.person)


@pytest.mark.parametrize(
    ("state", "standing", "may"),
    [
        ("in_hand", "taking_part", True),
        ("acknowledged", "taking_part", True),
        ("out_on_a_round", "spoken_for", True),
        ("in_hand", "stepped_back", False),
        ("in_hand", "never_ring", False),
        ("checked", "taking_part", False),
    ],
)
def test_the_talk_is_offered_to_whoever_holds_the_print_and_was_not_asked_before(
    state, standing, may
):
    row = made(cast.danuta(), state=state, is_safe=True)
    row.person.standing = standing
    assert queries.may_be_offered_a_talk(row) == may


def test_kept_prints_are_asked_about_on_the_trip_kept_longest_first():
    trip = Trip.objects.create(code="T7", first_day=days(-2), last_day=days(9))
    assert queries.trip_on(days(0)) == trip
    assert queries.trip_on(days(-3)) is None
    made(cast.danuta(), "K12", "kept_for_them", state_on=days(-10))
    made(cast.marcel(), "K01", "kept_for_them", state_on=days(-20))
    made(cast.lucas(), "K39", "kept_for_them", state_on=days(-1))
    made(cast.bruno(), "K19", "checked", state_on=days(-20))
    made(cast.rachid(), "K17", "kept_for_them", state_on=days(-20))
    people.hold(person=cast.rachid(), by=cast.artist(), at=cast.moment())
    made(cast.person("06", "Nell", "never_ring"), "K06", "kept_for_them", state_on=days(-20))
    everybody = Participant.objects.all()
    found = [row.person.code for row in queries.to_ask_again(everybody, trip)]
    assert found == ["01", "12"]


def test_counts_are_made_group_by_group_with_those_in_none_last():
    made(cast.person("33", "Nour", community=cast.erable()), "K33", "acknowledged")
    made(cast.marcel(), "K01", owed_since=days(-90))
    made(cast.person("34", "Sol"), "K34")
    found = queries.counts_by_group(days(0))
    assert [(one.name, one.counts.owed, one.counts.late) for one in found] == [
        ("Aulne", 1, 1),
        ("Érable", 1, 0),
        ("", 1, 0),
    ]


def test_somebody_at_grave_risk_in_the_frame_keeps_all_prints_of_it_from_the_lab():
    frame = picture("G01", cast.danuta(), cast.ibrahima())
    assert queries.is_grave(cast.ibrahima())
    assert not queries.is_grave(cast.danuta())
    assert queries.is_grave(cast.danuta(), frame)
    assert not queries.is_grave(cast.danuta(), picture("K12", cast.danuta()))


def test_from_an_end_nothing_is_offered():
    ways = queries.ways_on(made(cast.danuta(), state="acknowledged"), days(0))
    assert (ways.next, ways.others, ways.not_yet) == (None, (), ())


def test_promises_to_be_kept_come_first_and_are_of_people_in_sight():
    said = {"person": cast.danuta(), "by": cast.artist(), "on": days(-9)}
    kept = actions.promise(kind="print", **said, due_on=days(-5))
    actions.keep_promise(promise=kept, on=days(-1), by=cast.artist())
    actions.promise(kind="sum", **said)
    due = actions.promise(kind="book_copy", **said, due_on=days(9))
    found = [row.kind for row in queries.promises(cast.artist())]
    assert found == ["book_copy", "sum", "print"]
    with pytest.raises(Http404):
        queries.promise_or_404(cast.assistant(), due.pk)
    assert queries.promise_or_404(cast.artist(), due.pk) == due
