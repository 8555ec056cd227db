"""What may go on a round, between which hours, and who sees which round."""

from datetime import time

import pytest
from django.http import Http404

from relations.people.models import PersonHold
from relations.prints import actions, walking, walks
from relations.prints.models import Round
from relations.prints.rounds import Span
from relations.privacy.refused import Refused
from tests import cast
from tests.prints import bag
from tests.prints.frames import made
from tests.rows import make

pytestmark = pytest.mark.django_db


def lacks(user=None):
    return {one.print.person.code: one.lacks for one in walks.candidates(user or cast.artist())}


def test_checked_print_with_a_safe_way_and_a_quarter_lacks_nothing():
    bag.ready(cast.danuta(), "K12")
    assert lacks() == {"12": ()}


def test_each_thing_that_is_missing_is_said():
    bag.ready(cast.danuta(), "K12", quarter="", is_safe=None)
    bag.ready(cast.marcel(), "K01", state="not_home", tries=2)
    held = bag.ready(cast.bruno(), "K19").person
    make(PersonHold, person=held)
    no = bag.ready(cast.ibrahima(), "K35").person
    no.standing = "said_no"
    no.save()
    left_alone = dict.fromkeys(("19", "35"), ("left_alone",))
    assert lacks() == {"12": ("safe_way", "quarter"), "01": ("two_tries",), **left_alone}


def test_what_is_kept_for_them_is_not_asked_for_and_goes_only_by_a_way_agreed_since():
    kept = bag.ready(cast.ibrahima(), "K35", state="kept_for_them", is_safe=False)
    assert lacks() == {}
    kept.is_safe = True
    kept.save()
    assert lacks() == {"35": ()}


def test_print_that_waits_for_the_lab_is_no_candidate_nor_one_that_is_being_walked():
    made(cast.danuta(), "K12", state="at_the_lab", is_safe=True)
    out = bag.out(bag.ready(cast.marcel(), "K01"))
    assert lacks() == {}
    (door,) = out.doors.all()
    walking.note_door(
        door=door, came="not_reached", on=cast.TODAY, by=cast.artist(), at=cast.moment()
    )
    assert lacks() == {"01": ()}, "it is still in the bag"


def test_print_that_was_noted_on_its_own_page_is_to_be_typed_on_no_round_and_goes_on_the_next():
    row = bag.out(bag.ready(cast.danuta(), "K12"))
    assert walks.round_or_404(cast.artist(), "R1").open_doors == 1
    (door,) = walks.doors(cast.artist(), row)
    said = {"on": cast.TODAY, "by": cast.artist(), "at": cast.moment()}
    actions.step(print=door.print, to="not_home", **said)
    assert walks.round_or_404(cast.artist(), "R1").open_doors == 0
    assert lacks() == {"12": ()}
    second = bag.out(door.print)
    (first, again) = (walks.doors(cast.artist(), one)[0] for one in (row, second))
    assert (walks.is_open(first), walks.is_open(again)) == (False, True)


def test_print_that_went_out_by_hand_belongs_to_no_round():
    row = bag.out(bag.ready(cast.danuta(), "K12"))
    (door,) = walks.doors(cast.artist(), row)
    said = {"on": cast.TODAY, "by": cast.artist(), "at": cast.moment()}
    for to in ("not_home", "out_on_a_round"):
        actions.step(print=door.print, to=to, **said)
    (door,) = walks.doors(cast.artist(), row)
    assert not walks.is_open(door)
    with pytest.raises(Refused, match="noted_already"):
        walking.note_door(door=door, came="given", **said)
    assert lacks() == {"12": ()}, "it is in the bag"


def test_round_that_was_called_off_has_no_doors_and_its_code_is_not_given_again():
    row = bag.planned(bag.ready(cast.danuta(), "K12"))
    walking.call_off(round=row, by=cast.assistant())
    assert walks.round_or_404(cast.artist(), "R1").all_doors == 0
    assert walks.next_code() == "R2"
    assert lacks() == {"12": ()}


def test_assistant_chooses_among_those_in_sight():
    bag.ready(cast.danuta(), "K12")
    assert lacks(cast.assistant()) == {}
    cast.in_sight(cast.danuta(), cast.assistant())
    assert lacks(cast.assistant()) == {"12": ()}


def test_time_of_a_round_ends_at_dark_or_before():
    hours = {"on": cast.TODAY, "starts_at": time(10)}
    assert walks.span(**hours, ends_by=time(12)) == Span(600, 720)
    bag.light()
    dark = walks.span(**hours, ends_by=None, starts_in=bag.DOCK)
    assert (dark.sets_out, dark.quarter) == (600, bag.DOCK)
    assert 17 * 60 <= dark.ends <= 17 * 60 + 20
    assert walks.span(**hours, ends_by=time(12)).ends == 720
    assert walks.span(**hours, ends_by=time(22)).ends == dark.ends, "never after dark"


@pytest.mark.parametrize(
    ("starts_at", "ends_by", "has_light", "code"),
    [
        (time(10), None, False, "which_end"),
        (time(6), None, True, "before_light"),
        (time(17, 30), None, True, "no_daylight"),
        (time(10), time(10, 5), False, "no_daylight"),
        (time(16), time(15), True, "no_daylight"),
    ],
)
def test_round_outside_the_daylight_is_refused(starts_at, ends_by, has_light, code):
    if has_light:
        bag.light()
    with pytest.raises(Refused, match=code):
        walks.span(on=cast.TODAY, starts_at=starts_at, ends_by=ends_by)


def test_round_of_nothing_and_of_eleven_doors_is_refused():
    with pytest.raises(Refused, match="no_doors"):
        walks.plan([], Span(600, 700))
    row = bag.ready(cast.danuta(), "K12")
    with pytest.raises(Refused, match="too_many_doors"):
        walks.plan([row] * 11, Span(600, 700))


def test_hours_agreed_bound_the_visit():
    bag.quarters()
    late = bag.ready(cast.danuta(), "K12", opens_at=time(14), closes_at=time(15))
    row = walks.plan([late], Span(600, 1000))
    assert row.stops == ((str(late.pk), 14 * 60),)
    late.closes_at = time(14, 5)
    assert walks.plan([late], Span(600, 1000)).left == ((str(late.pk), "hours_passed"),)


def test_round_is_seen_by_whoever_walks_it_and_by_the_artist():
    row = bag.planned(bag.ready(cast.danuta(), "K12"))
    assert walks.round_or_404(cast.assistant(), "R1") == row
    assert walks.round_or_404(cast.artist(), "R1").all_doors == 1
    with pytest.raises(Http404):
        walks.round_or_404(cast.second_assistant(), "R1")
    assert [one.code for one in walks.of_user(cast.second_assistant())] == []
    assert walks.next_code() == "R2"


def test_doors_are_those_of_people_in_sight_on_the_day_of_the_round():
    row = bag.planned(bag.ready(cast.danuta(), "K12"), bag.ready(cast.marcel(), "K01"))
    assert [door.letter for door in walks.doors(cast.assistant(), row)] == ["A", "B"]
    cast.danuta().in_sight.all().delete()
    (left,) = walks.doors(cast.assistant(), row)
    assert left.print.person.code == "01"
    assert len(walks.doors(cast.artist(), row)) == 2


def test_round_without_doors_has_no_end_and_quarters_are_named_once():
    assert walks.ends_at([]) is None
    row = bag.planned(bag.ready(cast.danuta(), "K12"))
    assert walks.ends_at(walks.doors(cast.artist(), row)) == time(10, 8)
    assert walks.quarters() == sorted([bag.DOCK, bag.QUAY, bag.MOLE])
    assert len(walks.table()["noted"]) == 3
    assert walks.table()["missing"] == []
    assert walks.unknown([bag.ready(cast.marcel(), "K01", quarter="the hill")], bag.DOCK) == [
        (bag.DOCK, "the hill")
    ]
    assert walks.unknown([], "") == []
    assert Round.objects.count() == 1
