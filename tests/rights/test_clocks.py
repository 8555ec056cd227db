"""Every clock proposes on its day and not the day before.

Source of every number: job.md F-keep. The month rule (the same day, or the last of a shorter
month) is Regulation (EEC) 1182/71 art. 3(2)(c), from memory, as in `rights.rules.due_on`; the days
were counted by hand on a calendar.
"""

from datetime import date, timedelta

import pytest

from relations.people.values import Standing
from relations.rights import clocks, rules
from relations.rights.clocks import Clock, Kept, Proposal

A_DAY = timedelta(days=1)
S = Standing


def kept(standing, since, **more):
    return Kept(standing, date.fromisoformat(since), **more)


def day(said):
    return date.fromisoformat(said)


# A person as kept, the clock that runs for them, the first day on which it proposes.
PERSONS = [
    (kept(S.NAMED, "2026-11-02"), Clock.NAMED, "2027-01-01"),
    (kept(S.NAMED, "2027-12-31"), Clock.NAMED, "2028-02-29"),
    (kept(S.NAMED, "2026-12-31"), Clock.NAMED, "2027-03-01"),
    # 37 of the demo.
    (kept(S.SAID_NO, "2026-11-12"), Clock.SAID_NO, "2026-12-12"),
    (kept(S.SAID_NO, "2027-01-30"), Clock.SAID_NO, "2027-03-01"),
    (kept(S.SAID_NO, "2028-01-30"), Clock.SAID_NO, "2028-02-29"),
    (
        kept(S.PAUSE, "2026-09-21", first_try_on=day("2026-08-31")),
        Clock.NEVER_REACHED,
        "2027-08-31",
    ),
    (
        kept(S.BEING_RUNG, "2028-02-01", first_try_on=day("2028-02-29")),
        Clock.NEVER_REACHED,
        "2029-02-28",
    ),
    (
        kept(S.VOUCHED_FOR, "2027-02-01", first_try_on=day("2027-03-01")),
        Clock.NEVER_REACHED,
        "2028-03-01",
    ),
    (
        kept(S.PAUSE, "2027-02-28", first_try_on=day("2026-01-01"), was_reached=True),
        Clock.PAUSED,
        "2028-02-28",
    ),
    (kept(S.PAUSE, "2027-02-28"), Clock.PAUSED, "2028-02-28"),
    (kept(S.STEPPED_BACK, "2026-06-09"), Clock.STEPPED_BACK, "2026-06-09"),
    (
        kept(S.STEPPED_BACK, "2026-06-09", in_use_until=(day("2026-06-30"), day("2024-02-29"))),
        Clock.STEPPED_BACK,
        "2031-06-30",
    ),
    (
        kept(S.STEPPED_BACK, "2032-01-01", in_use_until=(day("2024-02-29"),)),
        Clock.STEPPED_BACK,
        "2032-01-01",
    ),
]
# A clock's function with what it is given, and the first day.
THINGS = [
    (clocks.ways(yes_until=[day("2024-02-29")], seen_on=day("2026-01-01")), "2026-02-28"),
    (clocks.ways(yes_until=[day("2024-01-31"), day("2024-03-15")], seen_on=day("2023-01-01")),
     "2026-03-15"),
    (clocks.ways(yes_until=[], seen_on=day("2026-05-19")), "2028-05-19"),
    (clocks.ring(day("2026-11-30")), "2028-11-30"),
    (clocks.ring(day("2024-02-29")), "2026-02-28"),
    (clocks.link(sat_on=day("2023-11-14"), closed_on=None), "2026-11-14"),
    (clocks.link(sat_on=day("2024-02-29"), closed_on=None), "2027-02-28"),
    (clocks.link(sat_on=None, closed_on=day("2026-02-03")), "2026-02-03"),
    (clocks.link(sat_on=day("2025-01-01"), closed_on=day("2026-02-03")), "2026-02-03"),
    (clocks.recording(day("2026-12-01"), is_theirs=False), "2026-12-01"),
    (clocks.recording(day("2026-12-01"), is_theirs=False, proves=[day("2024-02-29")]),
     "2029-02-28"),
    (clocks.recording(day("2030-12-01"), is_theirs=False, proves=[day("2024-02-29")]),
     "2030-12-01"),
    (clocks.recording(day("2026-12-01"), is_theirs=True, proves=[None]), "2026-12-01"),
    (clocks.form(day("2024-02-29")), "2029-02-28"),
    (clocks.form(day("2023-12-31")), "2028-12-31"),
    (clocks.see_log(day("2026-01-31")), "2027-01-31"),
    (clocks.see_log(day("2028-02-29")), "2029-02-28"),
    # 90 days are full on the 31st of January; the next day the key of October may go.
    (clocks.backup(day("2026-10-31")), "2027-01-30"),
    (clocks.backup(day("2027-12-31")), "2028-03-31"),
]  # fmt: skip


def proposed(found, on):
    return [one.clock for one in clocks.proposals([found], on)]


@pytest.mark.parametrize(("person", "clock", "first"), PERSONS)
def test_person_is_proposed_on_the_day_and_not_before(person, clock, first):
    said = clocks.person(person)
    assert said == (clock, day(first))
    found = (said[0], "37", said[1], "key")
    assert proposed(found, day(first)) == [clock]
    assert proposed(found, day(first) - A_DAY) == []


@pytest.mark.parametrize(("due_on", "first"), THINGS)
def test_thing_is_proposed_on_the_day_and_not_before(due_on, first):
    assert due_on == day(first)
    found = (Clock.FORMS, "70042-74", due_on, "key")
    assert proposed(found, day(first)) == [Clock.FORMS]
    assert proposed(found, day(first) - A_DAY) == []


@pytest.mark.parametrize(
    "person",
    [
        kept(S.VOUCHED_FOR, "2020-01-01"),
        kept(S.BEING_RUNG, "2020-01-01", first_try_on=day("2020-01-01"), was_reached=True),
        *(kept(one, "2020-01-01") for one in (S.THINKING_IT_OVER, S.MEETING_AGREED, S.MET)),
        *(kept(one, "2020-01-01") for one in (S.SITTING_AGREED, S.TAKING_PART, S.GONE_QUIET)),
        *(kept(one, "2020-01-01") for one in (S.SPOKEN_FOR, S.NEVER_RING, S.CLOSED)),
        kept(S.STEPPED_BACK, "2020-01-01", in_use_until=(day("2010-01-01"), None)),
    ],
    ids=lambda one: one.standing,
)
def test_for_nobody_else_a_clock_runs(person):
    assert clocks.person(person) is None


def test_nothing_is_due_while_it_is_in_use():
    assert clocks.ways(yes_until=[day("2020-01-01"), None], seen_on=day("2020-01-01")) is None
    assert clocks.link(sat_on=None, closed_on=None) is None
    assert clocks.recording(day("2020-01-01"), is_theirs=False, proves=[None]) is None
    assert clocks.form(None) is None
    found = (Clock.FORMS, "70042-74", None, "key")
    assert clocks.proposals([found], day("2099-12-31")) == []


def test_what_ended_is_the_last_of_its_days():
    assert clocks.ended([day("2026-01-01"), day("2026-03-01"), day("2026-02-01")]) == day(
        "2026-03-01"
    )
    assert clocks.ended([day("2026-01-01"), None]) is None
    assert clocks.ended([]) is None


@pytest.mark.parametrize(
    "on", ["2026-12-12", "2028-02-29", "2029-02-28", "2029-03-01", "2027-02-28", "2028-12-31"]
)
def test_lines_of_the_log_go_that_are_due_and_no_other(on):
    first = clocks.log_from(day(on))
    assert clocks.see_log(first) > day(on)
    assert clocks.see_log(first - A_DAY) <= day(on)


def test_months_end_as_the_regulation_counts_them():
    """The same rule in both rooms, every day of five years, a leap year among them."""
    for count in range(5 * 366):
        begun = date(2026, 1, 1) + count * A_DAY
        assert clocks.ring(begun) == rules.due_on(begun, 24)
        assert clocks.form(begun) == rules.due_on(begun, 60)


def test_postponing_is_ninety_days_from_that_day():
    assert clocks.postponed(day("2026-12-12")) == day("2027-03-12")
    assert clocks.postponed(day("2027-12-01")) == day("2028-02-29")


def test_list_is_by_clock_then_by_day_then_by_name():
    found = [
        (Clock.FORMS, "2", day("2026-01-02"), "b"),
        (Clock.FORMS, "1", day("2026-01-02"), "c"),
        (Clock.FORMS, "9", day("2026-01-01"), "d"),
        (Clock.SAID_NO, "37", day("2026-12-12"), "a"),
    ]
    said = [one.called for one in clocks.proposals(found, day("2026-12-12"))]
    assert said == ["37", "9", "1", "2"]
    assert clocks.proposals(found[:1], day("2026-01-02")) == [
        Proposal(Clock.FORMS, "2", day("2026-01-02"), "b")
    ]
