"""What the register of prints and promises refuses."""

import pytest

from relations.people.models import Participant
from relations.pictures.models import Picture
from relations.prints.models import LabOrder, Print, Promise, QuarterMinutes, Round, Step
from relations.prints.rules import ENDINGS
from tests.constraints import cases, constraints_of, fate, links, links_of, once_in, refused_by
from tests.rows import DAY, NEXT_DAY, come_back_in_order, make, twice

pytestmark = pytest.mark.django_db

OUT = {"state": "out_on_a_round"}
NEVER = [
    ("print_state_known", lambda: make(Print, state="liked")),
    ("LabOrder.code", lambda: twice(LabOrder, code="L1")),
    ("Round.code", lambda: twice(Round, code="R1")),
    ("quarter_minutes_once", lambda: twice(QuarterMinutes, start="the docks", end="the hill")),
    (
        "print_once_a_picture",
        lambda: twice(Print, person=make(Participant), picture=make(Picture)),
    ),
    (
        "print_one_without_picture",
        lambda: twice(Print, person=make(Participant), picture=None),
    ),
    ("print_goes_out_by_a_safe_way", lambda: make(Print, **OUT, is_safe=False)),
    ("print_goes_out_by_a_safe_way", lambda: make(Print, **OUT)),
    ("print_closed_says_how", lambda: make(Print, state="closed_out")),
    ("print_step_once", lambda: twice(Step, print=make(Print))),
]
MAY = [
    ("print_state_known", lambda: make(Print, state="not_safe")),
    ("quarter_minutes_once", lambda: make(QuarterMinutes, start="the docks", end="the docks")),
    ("print_once_a_picture", lambda: twice(Print, person=make(Participant))),
    ("print_once_a_picture", lambda: twice(Print, picture=make(Picture))),
    ("print_one_without_picture", lambda: twice(Print, picture=None)),
    ("print_goes_out_by_a_safe_way", lambda: make(Print, **OUT, is_safe=True)),
    ("print_goes_out_by_a_safe_way", lambda: make(Print, state="not_safe", is_safe=False)),
    *(
        ("print_closed_says_how", lambda how=how: make(Print, state="closed_out", closed_how=how))
        for how in sorted(ENDINGS)
    ),
    ("print_step_once", lambda: twice(Step)),
]
LINKS = links(
    kept="Round.by Print.person Print.picture Step.by Promise.person",
    gone="Step.print",
    cut="LabOrder.trip Print.order Print.round",
)


@pytest.mark.parametrize(("name", "attempt"), cases(NEVER))
def test_database_refuses_what_cannot_be(name, attempt):
    with refused_by("prints", name):
        attempt()


@pytest.mark.parametrize(("name", "attempt"), cases(MAY))
def test_database_takes_what_is_near_it_and_can_be(name, attempt):
    attempt()


@pytest.mark.parametrize(("link", "expected"), LINKS)
def test_row_whose_other_end_is_deleted(link, expected):
    assert fate("prints", link) == expected


def test_no_constraint_and_no_link_is_left_out():
    assert {name for name, _ in NEVER} == constraints_of("prints") | once_in("prints")
    assert {name for name, _ in MAY} == constraints_of("prints")
    assert {name for name, _ in LINKS} == links_of("prints")


@pytest.mark.parametrize(
    ("model", "first", "second"),
    [
        (LabOrder, {"ordered_on": NEXT_DAY}, {"ordered_on": DAY}),
        (Round, {"on": NEXT_DAY}, {"on": DAY}),
        (Print, {"owed_since": DAY}, {"owed_since": NEXT_DAY}),
        (Step, {"number": 1}, {"number": 2}),
        (Promise, {"due_on": DAY}, {"due_on": NEXT_DAY}),
        (Promise, {"promised_on": DAY}, {"promised_on": NEXT_DAY}),
    ],
)
def test_rows_come_back_in_their_order(model, first, second):
    assert come_back_in_order(model, first, second)


def test_print_is_owed_at_first_and_nobody_has_said_that_its_way_is_safe():
    owed = make(Print)
    assert (owed.state, owed.is_safe, owed.tries) == ("owed", None, 0)
