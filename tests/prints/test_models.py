"""What the register of prints and promises refuses."""

from datetime import time
from importlib import import_module

import pytest
from django.apps import apps

from relations.languages.codes import PRINT_LENGTH, is_well_formed
from relations.people.models import Participant
from relations.pictures.models import Picture
from relations.prints.lab import Came, Fault
from relations.prints.models import (
    LabLine,
    LabOrder,
    Print,
    Promise,
    QuarterMinutes,
    Round,
    RoundDoor,
    Step,
)
from relations.prints.rules import ENDINGS
from relations.privacy.models import User
from tests.constraints import cases, constraints_of, fate, links, links_of, once_in, refused_by
from tests.rows import AT, DAY, NEXT_DAY, NOON, come_back_in_order, make, twice

pytestmark = pytest.mark.django_db


def typed():
    return {"typed_at": AT, "typed_by": make(User)}


def two_letters(owed):
    walked = make(Round)
    for letter in "AB":
        make(RoundDoor, round=walked, print=owed, letter=letter)


def let_off(**rest):
    return {"ended_how": "let_off", "ended_on": DAY, "ended_by": make(User), **rest}


OUT = {"state": "out_on_a_round"}
SUM, EUR = {"kind": "sum", "amount": 40}, {"currency": "EUR"}
NEVER = [
    ("print_state_known", lambda: make(Print, state="liked")),
    ("Print.code", lambda: twice(Print, code="ACDEFX")),
    ("print_code_shape", lambda: make(Print, code="ACOEFX")),
    ("print_code_shape", lambda: make(Print, code="ACDEF")),
    ("print_code_shape", lambda: make(Print, code="")),
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
    ("lab_order_surface_known", lambda: make(LabOrder, surface="silk")),
    ("lab_line_number_once", lambda: twice(LabLine, order=make(LabOrder), number=1)),
    (
        "lab_line_print_once",
        lambda: twice(LabLine, order=make(LabOrder), print=make(Print)),
    ),
    ("lab_line_came_known", lambda: make(LabLine, came="eaten")),
    ("lab_line_fault_of_a_faulty_one", lambda: make(LabLine, came="good", fault="colour")),
    ("lab_line_fault_of_a_faulty_one", lambda: make(LabLine, came="faulty", fault="smell")),
    ("print_hours_begin_before_they_end", lambda: make(Print, opens_at=NOON, closes_at=NOON)),
    ("round_letter_once", lambda: twice(RoundDoor, round=make(Round))),
    ("round_print_once", lambda: two_letters(make(Print))),
    ("round_door_typed_by_somebody", lambda: make(RoundDoor, came="given", typed_at=AT)),
    ("round_door_typed_by_somebody", lambda: make(RoundDoor, typed_at=AT)),
    ("round_door_came_known", lambda: make(RoundDoor, came="liked", **typed())),
    ("promise_sum_says_its_currency", lambda: make(Promise, **SUM)),
    ("promise_sum_says_its_currency", lambda: make(Promise, kind="sum", currency="EUR")),
    ("promise_sum_says_its_currency", lambda: make(Promise, **SUM | {"amount": 0}, **EUR)),
    ("promise_sum_says_its_currency", lambda: make(Promise, **SUM | {"kind": "print"}, **EUR)),
    ("promise_ends_once", lambda: make(Promise, kept_on=DAY, **let_off())),
    ("promise_ended_how_when_by_whom", lambda: make(Promise, **let_off(ended_on=None))),
    ("promise_ended_how_when_by_whom", lambda: make(Promise, **let_off(ended_by=None))),
    ("promise_ended_how_when_by_whom", lambda: make(Promise, **let_off(ended_how="forgot"))),
    ("promise_ended_how_when_by_whom", lambda: make(Promise, ended_on=DAY)),
]
MAY = [
    ("print_state_known", lambda: make(Print, state="not_safe")),
    ("print_code_shape", lambda: make(Print, code="ACDEFX")),
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
    ("lab_order_surface_known", lambda: make(LabOrder, surface="gloss")),
    ("lab_line_number_once", lambda: twice(LabLine, number=1)),
    ("lab_line_print_once", lambda: twice(LabLine, print=make(Print))),
    *(("lab_line_came_known", lambda came=came: make(LabLine, came=came)) for came in ("", *Came)),
    *(
        ("lab_line_fault_of_a_faulty_one", lambda it=it: make(LabLine, came="faulty", fault=it))
        for it in ("", *Fault)
    ),
    ("print_hours_begin_before_they_end", lambda: make(Print, opens_at=NOON, closes_at=None)),
    ("print_hours_begin_before_they_end", lambda: make(Print, opens_at=time(9), closes_at=NOON)),
    ("round_letter_once", lambda: twice(RoundDoor, letter="B")),
    ("round_print_once", lambda: twice(RoundDoor, print=make(Print))),
    ("round_door_typed_by_somebody", lambda: make(RoundDoor, came="lost", **typed())),
    ("round_door_came_known", lambda: make(RoundDoor, came="not_reached", **typed())),
    ("promise_sum_says_its_currency", lambda: make(Promise, **SUM, **EUR)),
    ("promise_sum_says_its_currency", lambda: make(Promise, kind="sum")),
    ("promise_ends_once", lambda: make(Promise, kept_on=DAY)),
    ("promise_ends_once", lambda: make(Promise, **let_off())),
    ("promise_ended_how_when_by_whom", lambda: make(Promise, **let_off(ended_how="could_not"))),
    ("promise_ended_how_when_by_whom", lambda: make(Promise)),
]
NEEDS = {"Promise.ended_by": {"ended_how": "let_off", "ended_on": DAY}}
LINKS = links(
    kept="Round.by Print.person Print.picture Step.by Promise.person RoundDoor.typed_by "
    "Promise.ended_by",
    gone="Step.print LabLine.order LabLine.print RoundDoor.print RoundDoor.round",
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
    assert fate("prints", link, **NEEDS.get(link, {})) == expected


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
        (LabLine, {"number": 1}, {"number": 2}),
        (RoundDoor, {"letter": "A"}, {"letter": "B"}),
        (Promise, {"due_on": DAY}, {"due_on": NEXT_DAY}),
        (Promise, {"promised_on": DAY}, {"promised_on": NEXT_DAY}),
    ],
)
def test_rows_come_back_in_their_order(model, first, second):
    assert come_back_in_order(model, first, second)


def test_print_is_owed_at_first_and_nobody_has_said_that_its_way_is_safe():
    owed = make(Print)
    assert (owed.state, owed.is_safe, owed.tries) == ("owed", None, 0)


def test_prints_from_before_there_were_codes_got_one_each():
    rows = [make(Print) for _ in range(3)]
    before = {row.code for row in rows}
    migration = import_module("relations.prints.migrations.0006_print_code")
    migration.give_codes(apps, None)
    found = set(Print.objects.values_list("code", flat=True))
    assert len(found) == 3 and not found & before
    assert all(is_well_formed(code, PRINT_LENGTH) for code in found)
