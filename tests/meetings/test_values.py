"""Hours and days on which somebody may be rung."""

from datetime import date, time
from enum import StrEnum

import pytest
from django.db.models import CharField, Model

from relations.meetings.models import Call, Meeting
from relations.meetings.values import (
    PLAIN_HOURS,
    CallState,
    Kind,
    MeetingState,
    Outcome,
    SafeTimes,
    Window,
)

MORNING = Window(time(8), time(12))
MONDAY = date(2026, 11, 23)


def test_a_window_cannot_end_before_it_begins() -> None:
    for end in (time(9), time(10)):
        with pytest.raises(ValueError, match="before it begins"):
            Window(time(10), end)


def test_the_end_of_a_window_is_outside() -> None:
    assert MORNING.holds(time(8))
    assert MORNING.holds(time(11, 59))
    assert not MORNING.holds(time(12))


def test_two_windows_share_what_lies_in_both() -> None:
    assert MORNING.cut(Window(time(10), time(14))) == Window(time(10), time(12))
    assert MORNING.cut(Window(time(12), time(14))) is None


def test_hours_not_known_are_plain_hours_on_every_day() -> None:
    assert SafeTimes().on(MONDAY) == PLAIN_HOURS


def test_a_day_that_is_not_safe_has_no_hours() -> None:
    tuesdays = SafeTimes((MORNING,), frozenset({1}))
    assert tuesdays.on(MONDAY) == ()
    assert tuesdays.on(date(2026, 11, 24)) == (MORNING,)


def test_hours_come_earliest_first() -> None:
    evening = Window(time(18), time(19))
    assert SafeTimes((evening, MORNING)).on(MONDAY) == (MORNING, evening)


@pytest.mark.parametrize(
    ("model", "column", "codes"),
    [
        (Call, "state", CallState),
        (Call, "outcome", Outcome),
        (Call, "next_step", Kind),
        (Meeting, "state", MeetingState),
    ],
)
def test_every_code_fits_its_column(model: type[Model], column: str, codes: type[StrEnum]) -> None:
    field = model._meta.get_field(column)
    assert isinstance(field, CharField)
    assert max(map(len, codes)) <= (field.max_length or 0)
