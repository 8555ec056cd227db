"""A use's standing is told from the forms, and has one name in the open record."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given

from relations.consent.record import (
    CONSENT,
    Around,
    UseStatus,
    usable,
    use_status,
)
from relations.consent.rules import weigh
from relations.consent.values import ALL, Form, Person, Picture, Plan, Sitter, Use
from relations.pictures.values import Others, Recognisable

from .strategies import DAYS, TODAY, people, sixty_times

FORM = Form(
    given_on=date(2026, 5, 20),
    sittings=frozenset({"s1"}),
    uses=frozenset({Use.BOOK}),
    is_filed=True,
    is_read=True,
    is_complete=True,
)
NEVER = Person("a")
SITTER = Person("a", forms=(FORM,))
OLD = replace(FORM, given_on=date(2024, 5, 20))


def status(person: Person, use: Use = Use.BOOK, on: date = TODAY, **around: bool) -> UseStatus:
    """Where the use stands for the pictures of s1."""
    return use_status(person, use, "s1", on=on, around=Around(**around))


@pytest.mark.parametrize(
    ("found", "wanted"),
    [
        (status(NEVER), UseStatus.NOT_ASKED),
        (status(NEVER, is_asked=True), UseStatus.ASKED),
        (status(NEVER, is_asked=True, is_left_with_them=True), UseStatus.THINKING),
        (status(replace(SITTER, forms=(replace(FORM, is_filed=False),))), UseStatus.UNSETTLED),
        (status(SITTER), UseStatus.YES),
        (status(SITTER, Use.WEB), UseStatus.NO),
        (status(replace(SITTER, forms=(OLD, FORM))), UseStatus.YES_AGAIN),
        (status(replace(SITTER, forms=(replace(OLD, uses=frozenset()), FORM))), UseStatus.YES),
        (status(replace(SITTER, forms=(replace(FORM, last_day=TODAY),))), UseStatus.YES),
        (
            status(replace(SITTER, forms=(replace(FORM, last_day=TODAY - timedelta(days=1)),))),
            UseStatus.ENDED,
        ),
        (status(replace(SITTER, taken_back={ALL: TODAY})), UseStatus.TAKEN_BACK),
        (status(replace(SITTER, taken_back={Use.BOOK: TODAY})), UseStatus.TAKEN_BACK),
        (status(replace(SITTER, taken_back={Use.WEB: TODAY})), UseStatus.YES),
        (
            status(replace(SITTER, taken_back={ALL: TODAY}), was_taken_back_for_them=True),
            UseStatus.TAKEN_BACK_FOR_THEM,
        ),
        (status(SITTER, was_found_void=True), UseStatus.FOUND_VOID),
    ],
)
def test_where_a_use_stands(found: UseStatus, wanted: UseStatus) -> None:
    assert found is wanted


def test_status_on_an_earlier_day_knows_nothing_of_what_came_later() -> None:
    person = replace(SITTER, taken_back={ALL: date(2026, 6, 1)})
    assert status(person, on=date(2026, 5, 19)) is UseStatus.NOT_ASKED
    assert status(person, on=date(2026, 5, 31)) is UseStatus.YES
    assert status(person, on=date(2026, 6, 1)) is UseStatus.TAKEN_BACK
    assert use_status(person, Use.BOOK, "s1", on=TODAY) is UseStatus.TAKEN_BACK


def test_newer_no_that_does_not_stand_yet_acts() -> None:
    newer = replace(FORM, given_on=TODAY, is_filed=False, uses=frozenset())
    assert status(replace(SITTER, forms=(FORM, newer))) is UseStatus.NO


def test_only_a_yes_is_usable() -> None:
    yes = {status for status in UseStatus if usable(CONSENT[status])}
    assert yes == {UseStatus.YES, UseStatus.YES_AGAIN}


@sixty_times
@given(people("a"), DAYS, DAYS)
def test_nobody_slides_from_a_no_to_a_yes_without_a_new_form(
    person: Person, one: date, other: date
) -> None:
    """Source: the edges of DPV's consent lifecycle; Given follows a no only over a new notice."""
    before, after = sorted((one, other))
    was, now = (CONSENT[use_status(person, Use.BOOK, "s1", on=day)] for day in (before, after))
    if usable(now) and not usable(was):
        assert any(before < form.given_on <= after for form in person.forms)


@sixty_times
@given(people("a"))
def test_use_that_the_record_does_not_call_usable_is_never_cleared(person: Person) -> None:
    person = replace(person, taken_back=dict.fromkeys(person.taken_back, TODAY))
    plan = Plan(Use.EXHIBITION, TODAY, frozenset({"FR"}))
    picture = Picture("p1", "s1", TODAY, (Sitter("a", Recognisable.NO),), Others.NONE)
    if not usable(CONSENT[use_status(person, plan.use, "s1", on=TODAY)]):
        answer = weigh(picture, {"a": person}, plan, today=TODAY)
        assert answer.stops
