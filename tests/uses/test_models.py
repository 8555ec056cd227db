"""What the register of planned uses, clearances and shown pictures refuses."""

import pytest

from relations.people.models import Participant
from relations.pictures.models import Picture
from relations.privacy.models import User
from relations.uses.models import (
    ClearanceSheet,
    ClearedPicture,
    NameShown,
    PlannedPicture,
    PlannedUse,
    Shown,
    Standstill,
    UndoLine,
    Weighing,
)
from tests.constraints import cases, constraints_of, fate, links, links_of, once_in, refused_by
from tests.rows import AT, DAY, LATER, NEXT_DAY, come_back_in_order, make, twice

pytestmark = pytest.mark.django_db


def same_line(**given):
    at = {"shown": make(Shown), "picture": make(Picture), "person": make(Participant)}
    return twice(UndoLine, **at, **given)


def over_at_once(model):
    make(model, starts_on=DAY, ends_on=DAY)


def over_before(model):
    make(model, starts_on=NEXT_DAY, ends_on=DAY)


def with_link(**given):
    make(ClearanceSheet, link_digest="a" * 64, phrase="x", **given)


def all_and_one(*pictures):
    at = {"plan": make(PlannedUse), "person": make(Participant)}
    for picture in (None, *pictures):
        make(NameShown, picture=picture, **at)


LIFTED = {"is_current": None, "lifted_at": LATER, "sentence": "Her sister follows."}
NEVER = [
    ("Standstill.is_current", lambda: twice(Standstill)),
    ("standstill_lifted_by_whom_and_why", lambda: make(Standstill, is_current=None)),
    ("standstill_lifted_by_whom_and_why", lambda: make(Standstill, is_current=False)),
    ("standstill_lifted_by_whom_and_why", lambda: make(Standstill, sentence="Settled.")),
    ("standstill_lifted_by_whom_and_why", lambda: make(Standstill, **LIFTED)),
    (
        "standstill_lifted_by_whom_and_why",
        lambda: make(Standstill, **{**LIFTED, "sentence": ""}, lifted_by=make(User)),
    ),
    ("PlannedUse.code", lambda: twice(PlannedUse, code="E1")),
    ("plan_ends_after_it_starts", lambda: over_before(PlannedUse)),
    (
        "picture_asked_once_a_plan",
        lambda: twice(PlannedPicture, plan=make(PlannedUse), picture=make(Picture)),
    ),
    (
        "name_shown_once_a_plan",
        lambda: twice(NameShown, plan=make(PlannedUse), person=make(Participant)),
    ),
    (
        "name_shown_once_a_picture",
        lambda: twice(
            NameShown, plan=make(PlannedUse), person=make(Participant), picture=make(Picture)
        ),
    ),
    ("weighing_result_known", lambda: make(Weighing, result="yes")),
    ("weighing_result_known", lambda: make(Weighing, result="")),
    ("ClearanceSheet.number", lambda: twice(ClearanceSheet, number=900_001)),
    ("ClearanceSheet.replaces", lambda: twice(ClearanceSheet, replaces=make(ClearanceSheet))),
    (
        "ClearanceSheet.link_digest",
        lambda: twice(ClearanceSheet, link_digest="a" * 64, phrase="x", link_ends_on=DAY),
    ),
    *(
        ("sheet_link_is_whole", lambda half=half: make(ClearanceSheet, **half))
        for half in (
            {"link_digest": "a" * 64},
            {"phrase": "x"},
            {"link_ends_on": DAY},
            {"link_digest": "a" * 64, "link_ends_on": DAY},
        )
    ),
    ("sheet_link_ends_with_it", lambda: with_link(valid_until=DAY, link_ends_on=NEXT_DAY)),
    (
        "cleared_once_a_sheet",
        lambda: twice(ClearedPicture, sheet=make(ClearanceSheet), weighing=make(Weighing)),
    ),
    ("Shown.code", lambda: twice(Shown, code="U1")),
    ("shown_has_a_holder", lambda: make(Shown, holder="")),
    ("shown_ends_after_it_starts", lambda: over_before(Shown)),
    ("undo_line_once", same_line),
]
MAY = [
    ("standstill_lifted_by_whom_and_why", lambda: make(Standstill)),
    (
        "standstill_lifted_by_whom_and_why",
        lambda: twice(Standstill, **LIFTED, lifted_by=make(User)),
    ),
    ("plan_ends_after_it_starts", lambda: over_at_once(PlannedUse)),
    ("plan_ends_after_it_starts", lambda: make(PlannedUse, ends_on=None)),
    ("picture_asked_once_a_plan", lambda: twice(PlannedPicture, picture=make(Picture))),
    ("name_shown_once_a_plan", lambda: twice(NameShown, plan=make(PlannedUse))),
    # In one picture otherwise than in the others, and otherwise again in a third.
    ("name_shown_once_a_plan", lambda: all_and_one(make(Picture))),
    ("name_shown_once_a_picture", lambda: all_and_one(make(Picture), make(Picture))),
    *(
        ("weighing_result_known", lambda result=result: make(Weighing, result=result))
        for result in ("cleared", "conditions", "not_cleared")
    ),
    ("sheet_link_is_whole", lambda: with_link(link_ends_on=DAY)),
    ("sheet_link_is_whole", lambda: make(ClearanceSheet)),
    ("sheet_link_ends_with_it", lambda: with_link(valid_until=DAY, link_ends_on=DAY)),
    ("cleared_once_a_sheet", lambda: twice(ClearedPicture, weighing=make(Weighing))),
    ("shown_has_a_holder", lambda: make(Shown, holder="the union hall")),
    ("shown_ends_after_it_starts", lambda: over_at_once(Shown)),
    # What came down once may have to come down again.
    ("undo_line_once", lambda: same_line(done_on=DAY)),
]
NEEDS = {"Standstill.lifted_by": LIFTED}
LINKS = links(
    kept="Weighing.by ClearanceSheet.plan ClearanceSheet.made_by ClearanceSheet.replaces "
    "ClearedPicture.weighing Shown.plan UndoLine.shown UndoLine.picture UndoLine.person "
    "UndoLine.done_by Standstill.laid_by Standstill.lifted_by",
    gone="PlannedPicture.plan PlannedPicture.picture NameShown.plan NameShown.person "
    "NameShown.picture "
    "Weighing.asked ClearedPicture.sheet",
    cut="PlannedPicture.caption",
)


@pytest.mark.parametrize(("name", "attempt"), cases(NEVER))
def test_database_refuses_what_cannot_be(name, attempt):
    with refused_by("uses", name):
        attempt()


@pytest.mark.parametrize(("name", "attempt"), cases(MAY))
def test_database_takes_what_is_near_it_and_can_be(name, attempt):
    attempt()


@pytest.mark.parametrize(("link", "expected"), LINKS)
def test_row_whose_other_end_is_deleted(link, expected):
    assert fate("uses", link, **NEEDS.get(link, {})) == expected


def test_no_constraint_and_no_link_is_left_out():
    assert {name for name, _ in NEVER} == constraints_of("uses") | once_in("uses")
    assert {name for name, _ in MAY} == constraints_of("uses")
    assert {name for name, _ in LINKS} == links_of("uses")


@pytest.mark.parametrize(
    ("model", "first", "second"),
    [
        (PlannedUse, {"starts_on": DAY}, {"starts_on": NEXT_DAY}),
        (PlannedUse, {"code": "B1"}, {"code": "E1"}),
        (Weighing, {"weighed_at": LATER}, {"weighed_at": AT}),
        (ClearanceSheet, {"number": 900_002}, {"number": 900_001}),
        (Shown, {"starts_on": NEXT_DAY}, {"starts_on": DAY}),
        (Shown, {"code": "U1"}, {"code": "U2"}),
        (UndoLine, {"due_at": AT}, {"due_at": LATER}),
    ],
)
def test_rows_come_back_in_their_order(model, first, second):
    assert come_back_in_order(model, first, second)


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (PlannedUse(code="E1"), "E1"),
        (ClearanceSheet(number=7), "7"),
        (Shown(code="U1", holder="Ines", reach_holder="04 65 71 00 09"), "U1"),
    ],
)
def test_rows_are_called_by_what_says_nothing(row, said):
    assert str(row) == said


def test_pictures_of_a_plan_are_those_that_were_asked_for():
    asked = make(PlannedPicture)
    make(Picture)
    assert list(asked.plan.pictures.all()) == [asked.picture]


def test_standstills_come_back_newest_first():
    earlier = {**LIFTED, "laid_at": AT, "lifted_by": make(User)}
    assert come_back_in_order(Standstill, {"laid_at": LATER}, earlier)
