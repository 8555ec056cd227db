"""The clock of an alarm runs in hours that pass, and the gravest are told first."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from relations.people.values import Risk
from relations.rights import rules
from relations.rights.values import TakingEnd


def test_an_answer_is_due_on_the_same_day_of_a_later_month_or_its_last():
    # GDPR art. 12(3); Regulation (EEC) 1182/71 art. 3(2)(c). Published examples: tests/outside.
    assert rules.due_on(date(2026, 11, 23)) == date(2026, 12, 23)
    assert rules.due_on(date(2026, 1, 31)) == date(2026, 2, 28)
    assert rules.due_on(date(2026, 11, 23), 3) == date(2027, 2, 23)


@pytest.mark.parametrize(
    ("at", "left"),
    [
        # The period ends with the last hour of its last day: Regulation 1182/71 art. 3(2)(c).
        ("2026-12-22T00:00", 48), ("2026-12-23T00:00", 24), ("2026-12-23T23:30", 0),
        ("2026-12-24T00:00", 0), ("2026-12-24T00:30", -1), ("2026-12-26T00:00", -48),
    ],
)  # fmt: skip
def test_hours_are_left_until_the_last_hour_of_the_day(at, left):
    paris = ZoneInfo("Europe/Paris")
    hour = datetime.fromisoformat(at).replace(tzinfo=paris)
    assert rules.hours_to_answer(date(2026, 12, 23), hour) == left


def test_hours_to_answer_are_hours_that_pass():
    # Europe/Paris gains an hour on 25 October 2026 (EU directive 2000/84/EC).
    at = datetime(2026, 10, 25, 0, tzinfo=ZoneInfo("Europe/Paris"))
    assert rules.hours_to_answer(date(2026, 10, 25), at) == 25


def test_hours_to_answer_of_an_hour_without_a_zone_are_a_mistake():
    with pytest.raises(ValueError, match="zone"):
        rules.hours_to_answer(date(2026, 11, 23), datetime(2026, 11, 23, 12))  # noqa: DTZ001


def test_the_clock_ends_seventy_two_hours_after_we_knew():
    # GDPR art. 33(1): "not later than 72 hours after having become aware of it".
    known = datetime(2026, 11, 23, 21, 10, tzinfo=UTC)
    assert rules.deadline(known) == datetime(2026, 11, 26, 21, 10, tzinfo=UTC)


def test_the_clock_counts_hours_across_a_change_of_the_clock():
    # Europe/Paris goes back one hour on 25 October 2026 (EU directive 2000/84/EC).
    paris = ZoneInfo("Europe/Paris")
    known = datetime(2026, 10, 24, 12, tzinfo=paris)
    assert f"{rules.deadline(known).astimezone(paris):%d %B, %H:%M}" == "27 October, 11:00"


@pytest.mark.parametrize(
    ("zone", "known", "until", "naive"),
    # checks.md 2.4, computed with zoneinfo: GDPR art. 33(1), 72 hours that elapse from awareness.
    # The last column is the same wall clock three days later, which is wrong where it differs.
    [
        ("Europe/Paris", "2026-03-27 17:00", "2026-03-30 18:00", "2026-03-30 17:00"),
        ("Europe/Paris", "2026-10-23 17:00", "2026-10-26 16:00", "2026-10-26 17:00"),
        ("America/Toronto", "2026-03-06 20:30", "2026-03-09 21:30", "2026-03-09 20:30"),
        ("UTC", "2024-02-27 10:15", "2024-03-01 10:15", "2024-03-01 10:15"),
        ("Asia/Kathmandu", "2026-12-30 23:59", "2027-01-02 23:59", "2027-01-02 23:59"),
    ],
)
def test_seventy_two_hours_elapse_whatever_the_clocks_do(zone, known, until, naive):
    place = ZoneInfo(zone)
    began = datetime.fromisoformat(known).replace(tzinfo=place)
    ends = rules.deadline(began)
    assert f"{ends.astimezone(place):%Y-%m-%d %H:%M}" == until
    assert f"{began + timedelta(days=3):%Y-%m-%d %H:%M}" == naive
    assert ends - began.astimezone(UTC) == timedelta(hours=72)
    hour = timedelta(hours=1)
    at = [began.astimezone(UTC) + hour * passed for passed in (0, 1, 71.5, 72, 72.5)]
    assert [rules.hours_left(began, one) for one in at] == [72, 71, 0, 0, -1]


def test_an_hour_without_a_zone_is_a_mistake():
    with pytest.raises(ValueError, match="zone"):
        rules.deadline(datetime(2026, 11, 23, 12))  # noqa: DTZ001


def test_the_day_and_the_seven_before_are_affected():
    assert rules.days_affected(date(2026, 11, 23)) == (date(2026, 11, 16), date(2026, 11, 23))


def test_papers_are_of_the_day_and_the_evening_before():
    assert rules.days_printed(date(2026, 11, 23)) == (date(2026, 11, 22), date(2026, 11, 23))


def test_safe_hours_are_broken_for_grave_only():
    # job.md F18.
    assert [rules.is_first(risk) for risk in (*Risk, None)] == [False, False, True, False]


def test_grave_come_first_and_what_was_never_set_counts_as_raised():
    people = [
        ("01", Risk.ORDINARY), ("12", None), ("17", Risk.RAISED), ("35", Risk.GRAVE),
        ("02", Risk.GRAVE),
    ]  # fmt: skip
    assert rules.in_order(people) == ["02", "35", "12", "17", "01"]


@pytest.mark.parametrize(
    ("hours", "days", "is_too_old"),
    [(-5, 0, False), (0, 0, False), (23, 0, False), (24, 1, False), (8 * 24, 8, False),
     (8 * 24 + 1, 8, True), (90 * 24, 90, True)],
)  # fmt: skip
def test_a_backup_is_too_old_after_eight_days(hours, days, is_too_old):
    at = datetime(2026, 11, 25, 16, tzinfo=UTC)
    made_at = at - timedelta(hours=hours)
    assert rules.days_old(made_at, at) == days
    assert rules.is_too_old(made_at, at) is is_too_old


def test_no_backup_at_all_is_too_old():
    assert rules.is_too_old(None, datetime(2026, 11, 25, 16, tzinfo=UTC))


FOUND = {"blanks": 20, "prints": 3}
BOTH = {"blanks": 20, "prints": 3, "keys": 2, "phones": 1}


@pytest.mark.parametrize(
    ("gone", "come", "expected"),
    [
        (BOTH, BOTH, ()),
        (BOTH, {**BOTH, "keys": 1}, ("keys",)),
        ({**BOTH, "blanks": 19}, {**BOTH, "blanks": 19}, ("blanks",)),
        (BOTH, {**BOTH, "prints": 2, "phones": 0}, ("prints", "phones")),
        ({}, BOTH, ("blanks", "prints", "keys", "phones")),
        (BOTH, {}, ("blanks", "prints", "keys", "phones")),
    ],
)
def test_what_was_not_counted_alike_by_the_two_and_by_the_site(gone, come, expected):
    assert rules.differing(FOUND, gone, come) == expected


def test_who_could_not_be_asked_is_looked_for_two_years_later():
    assert rules.look_again_on(date(2026, 11, 23)) == date(2028, 11, 23)
    assert rules.look_again_on(date(2028, 2, 29)) == date(2030, 2, 28)


AT = datetime(2026, 11, 23, 9, tzinfo=UTC)
GOES_ON = {"is_alarm": False, "is_held_back": False, "both_stand": True}


@pytest.mark.parametrize(
    ("confirmed", "minutes", "stands", "end"),
    [
        (None, 0, {}, None),
        (None, 59, {}, None),
        (None, 60, {}, TakingEnd.TOO_LATE),
        (None, -1, {}, TakingEnd.TOO_LATE),  # a clock that was put back
        (50, 79, {}, None),
        (50, 80, {}, TakingEnd.TOO_LATE),
        (50, 49, {}, TakingEnd.TOO_LATE),
        (None, 1, {"is_alarm": True}, TakingEnd.ALARM),
        (50, 51, {"is_held_back": True}, TakingEnd.HELD_BACK),
        (50, 51, {"both_stand": False}, TakingEnd.ONE_IS_GONE),
        # What was lost is said first, also where the time is over.
        (None, 90, {"is_alarm": True, "is_held_back": True}, TakingEnd.ALARM),
    ],
)
def test_an_asking_for_the_register_lasts_an_hour_and_a_yes_half_of_one(
    confirmed, minutes, stands, end
):
    """Common practice, no source: 60 minutes to answer, 30 to take it."""
    said = None if confirmed is None else AT + timedelta(minutes=confirmed)
    at = AT + timedelta(minutes=minutes)
    assert rules.taking_over(AT, said, at, **GOES_ON | stands) is end
