"""When to ring again, when to let somebody rest, and how rings and meetings move on."""

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.meetings.rules import (
    CALL_MOVES,
    MEETING_MOVES,
    counts,
    is_decent,
    may_move_call,
    may_move_meeting,
    missing_before_form,
    next_ring,
    part_of,
    rest_until,
)
from relations.meetings.values import (
    EXPLAINED,
    PARTS,
    TOLD_BACK,
    CallState,
    Clocks,
    Kind,
    MeetingFacts,
    MeetingState,
    Missing,
    NextRing,
    Outcome,
    Part,
    SafeTimes,
    Window,
)

PARIS = ZoneInfo("Europe/Paris")
C, M, O = CallState, MeetingState, Outcome  # noqa: E741


def at(month: int, day: int, hour: int = 0, minute: int = 0, year: int = 2026) -> datetime:
    return datetime(year, month, day, hour, minute, tzinfo=PARIS)


MONDAY = at(11, 23, 10, 40)
TUESDAYS = SafeTimes(days=frozenset({1}))
AFTER_LUNCH = SafeTimes(hours=(Window(time(13), time(15)),))


def test_after_a_first_silence_the_afternoon_two_days_on() -> None:
    """Source: job.md F1, tests: Mon 2026-11-23 10:40 -> from Wed 11-25 12:00."""
    ring = next_ring(O.NO_ANSWER, 1, MONDAY)
    assert ring.kind == Kind.RING
    assert ring.not_before == at(11, 25, 12)
    assert ring.parts == (Part.AFTERNOON, Part.EVENING)
    assert ring.windows == (Window(time(14), time(17)), Window(time(17), time(19)))


def test_after_a_second_silence_four_days_on_and_not_the_afternoon() -> None:
    """Source: job.md F1, tests: 11-25 14:00 -> from Sun 11-29, other part than afternoon."""
    ring = next_ring(O.OFF, 2, at(11, 25, 14))
    assert ring.not_before is not None
    assert ring.not_before.date() == date(2026, 11, 29)
    assert ring.parts == (Part.MORNING, Part.EVENING)
    assert ring.windows == (Window(time(10), time(12)), Window(time(17), time(19)))


def test_after_a_third_silence_ninety_days_of_peace() -> None:
    """Source: job.md F1, and person 25 of job.md 6: rest until 2026-12-20."""
    ring = next_ring(O.NO_ANSWER, 3, at(9, 21, 18))
    assert ring.kind == Kind.PAUSE
    assert ring.not_before == at(12, 20, 10)
    assert ring.erase_at is None


def test_a_second_pause_ends_in_letting_go_a_year_after_the_first_try() -> None:
    ring = next_ring(O.NO_ANSWER, 3, at(9, 21, 18), pauses=1, first_try_on=date(2026, 6, 1))
    assert ring == NextRing(Kind.PAUSE, erase_at=at(6, 1, year=2027), also=("let_go",))
    leap = next_ring(O.OFF, 3, at(6, 1, 9, year=2024), pauses=1, first_try_on=date(2024, 2, 29))
    assert leap.erase_at == at(2, 28, year=2025)
    unknown = next_ring(O.OFF, 3, at(9, 21, 18), pauses=1)
    assert unknown.erase_at == at(9, 21, year=2027)


def test_letting_go_is_never_in_the_past() -> None:
    ring = next_ring(O.OFF, 4, MONDAY, pauses=2, first_try_on=date(2024, 1, 1))
    assert ring.erase_at == at(11, 23)


def test_safe_hours_that_leave_one_part_only_are_tried_in_it_again() -> None:
    """Person 10 of job.md 6: ring 13:00-15:00 only."""
    ring = next_ring(O.NO_ANSWER, 1, at(11, 23, 14), AFTER_LUNCH)
    assert ring.not_before == at(11, 25, 13)
    assert ring.windows == AFTER_LUNCH.hours
    assert ring.parts == ()


def test_safe_days_are_waited_for() -> None:
    """Person 33 of job.md 6: only Tuesdays."""
    ring = next_ring(O.NO_ANSWER, 1, at(11, 24, 11), TUESDAYS)
    assert ring.not_before == at(12, 1, 12)
    assert ring.parts == (Part.AFTERNOON, Part.EVENING)


def test_safe_hours_outside_the_day_are_kept_to() -> None:
    late = SafeTimes((Window(time(21), time(22)),), frozenset({1}))
    ring = next_ring(O.NO_ANSWER, 1, MONDAY, late)
    assert ring.not_before == at(12, 1, 21)
    assert ring.windows == late.hours


def test_someone_else_twice_then_the_introducer() -> None:
    for tries in (1, 2):
        ring = next_ring(O.SOMEONE_ELSE, tries, MONDAY)
        assert (ring.kind, ring.not_before) == (Kind.RING, at(11, 26, 10))
    assert next_ring(O.SOMEONE_ELSE, 3, MONDAY) == NextRing(
        Kind.ASK_INTRODUCER, also=("better_way",)
    )


def test_a_wrong_number_is_never_rung_again() -> None:
    ring = next_ring(O.WRONG_NUMBER, 1, MONDAY)
    assert (ring.kind, ring.not_before, ring.also) == (Kind.ASK_INTRODUCER, None, ("drop_line",))


def test_ring_later_is_as_they_asked_even_outside_safe_hours() -> None:
    asked = at(11, 26, 21, 30)
    assert next_ring(O.RING_LATER, 1, MONDAY, AFTER_LUNCH, asked_for=asked) == NextRing(
        Kind.RING, asked
    )
    with pytest.raises(ValueError, match="no day"):
        next_ring(O.RING_LATER, 1, MONDAY)


def test_thinking_gets_one_reminder_and_then_it_is_theirs() -> None:
    first = next_ring(O.THINKING, 1, MONDAY)
    assert (first.kind, first.not_before) == (Kind.RING, at(12, 7, 10))
    assert first.also == ("one_reminder",)
    theirs = next_ring(O.THINKING, 1, MONDAY, asked_for=at(11, 30, 15))
    assert theirs.not_before == at(11, 30, 15)
    assert next_ring(O.THINKING, 2, MONDAY) == NextRing(Kind.THEIRS)


def test_wanting_pictures_is_thinking_with_pictures() -> None:
    assert next_ring(O.WANTS_PICTURES, 1, MONDAY).also == ("one_reminder", "show_pictures")
    assert next_ring(O.WANTS_PICTURES, 2, MONDAY) == NextRing(Kind.THEIRS, also=("show_pictures",))


def test_a_broken_off_ring_goes_through_the_introducer_and_the_artist_is_told() -> None:
    ring = next_ring(O.BROKE_OFF, 1, MONDAY)
    assert (ring.kind, ring.not_before) == (Kind.ASK_INTRODUCER, at(11, 30, 10))
    assert ring.also == ("only_through_introducer", "tell_artist")


def test_a_no_is_erased_in_thirty_days() -> None:
    """Source: job.md F1, and person 37 of job.md 6: no on 2026-11-12, gone by 2026-12-12."""
    assert next_ring(O.NO, 1, at(11, 12, 16)) == NextRing(Kind.ERASE, erase_at=at(12, 12))


def test_never_is_at_once_and_erased_after_24_hours() -> None:
    ring = next_ring(O.NEVER_AGAIN, 1, MONDAY)
    assert ring == NextRing(Kind.NEVER, erase_at=at(11, 24, 10, 40), also=("mark_number",))


def test_on_a_shared_line_the_mark_is_number_and_who_asked() -> None:
    assert next_ring(O.NEVER_AGAIN, 1, MONDAY, shared_line=True).also == ("mark_number_and_person",)


def test_the_other_outcomes() -> None:
    assert next_ring(O.YES_MEET, 1, MONDAY) == NextRing(Kind.NONE, also=("fix_meeting",))
    speech = next_ring(O.NEEDS_INTERPRETER, 1, MONDAY)
    assert (speech.kind, speech.not_before) == (Kind.RING, at(11, 25, 10))
    assert speech.also == ("find_interpreter",)
    who = next_ring(O.ASKS_WHO, 1, MONDAY)
    assert (who.kind, who.also) == (Kind.ASK_INTRODUCER, ("may_say_who",))


def test_the_clocks_are_settings() -> None:
    short = Clocks(tries=2, pause=10, pauses=1)
    assert next_ring(O.OFF, 1, MONDAY, clocks=short).kind == Kind.RING
    assert next_ring(O.OFF, 2, MONDAY, clocks=short).also == ("let_go",)


hours = st.integers(0, 22).flatmap(
    lambda start: st.integers(start + 1, 23).map(lambda end: Window(time(start), time(end)))
)
safe_times = st.builds(
    SafeTimes, st.lists(hours, max_size=3).map(tuple), st.frozensets(st.integers(0, 6))
)
moments = st.datetimes(datetime(2024, 1, 1), datetime(2030, 1, 1), timezones=st.just(PARIS))  # noqa: DTZ001


@given(st.sampled_from(O), st.integers(1, 5), moments, safe_times)
def test_no_ring_of_ours_falls_on_an_unsafe_hour(
    outcome: Outcome, tries: int, now: datetime, safe: SafeTimes
) -> None:
    ring = next_ring(outcome, tries, now, safe, asked_for=now + timedelta(days=1))
    assert len(ring.kind) <= 16
    assert ring.erase_at is None or ring.erase_at.date() >= now.date()
    if ring.not_before is None:
        return
    assert ring.not_before.date() > now.date()
    for window in ring.windows:
        moment = datetime.combine(ring.not_before.date(), window.start, PARIS)
        assert is_decent(moment, safe)
        assert not ring.parts or part_of(window.start) in ring.parts


def test_every_outcome_fits_its_column_and_leads_somewhere() -> None:
    for outcome in O:
        assert len(outcome) <= 16
        assert next_ring(outcome, 1, MONDAY, asked_for=at(11, 26, 10)).kind in Kind


def test_four_contacts_in_thirty_days_give_rest() -> None:
    days = [date(2026, 11, day) for day in (1, 5, 9, 20)]
    assert rest_until(days, date(2026, 11, 23)) == date(2026, 12, 1)
    assert rest_until(days, date(2026, 11, 30)) == date(2026, 12, 1)
    assert rest_until(days, date(2026, 12, 1)) is None
    assert rest_until(days[1:], date(2026, 11, 23)) is None


def test_the_oldest_of_the_last_four_counts() -> None:
    days = [date(2026, 11, day) for day in (20, 2, 9, 5, 1)]
    assert rest_until(days, date(2026, 11, 23)) == date(2026, 12, 2)


@pytest.mark.parametrize(
    ("ago", "rest"),
    [
        ((0, 0, 0), None),  # three are not four
        ((0, 0, 0, 0), 30),  # four on this day: 30 days from it
        ((29, 2, 1, 0), 1),  # the oldest of the last four was 29 days ago: one day more
        ((30, 2, 1, 0), None),  # 30 days ago is not within the last 30 days
        ((31, 29, 2, 1, 0), 1),
        ((29, 28, 2, 1, 0), 2),  # of five the last four count
    ],
)
def test_rest_at_its_edges(ago: tuple[int, ...], rest: int | None) -> None:
    """F2 by hand: four in the last 30 days, then 30 days after the oldest of the last four."""
    on = date(2026, 11, 23)
    found = rest_until([on - timedelta(days=days) for days in ago], on)
    assert found == (None if rest is None else on + timedelta(days=rest))


def test_contacts_to_come_are_not_counted() -> None:
    days = [date(2026, 11, day) for day in (1, 5, 9, 24)]
    assert rest_until(days, date(2026, 11, 23)) is None


@given(st.lists(st.dates(date(2026, 1, 1), date(2026, 12, 31)), max_size=12))
def test_rest_ends_on_a_day_on_which_there_is_no_rest(days: list[date]) -> None:
    on = date(2026, 6, 30)
    until = rest_until(days, on)
    past = [day for day in days if day <= on]
    if until is not None:
        assert on < until <= on + timedelta(days=30)
        assert rest_until(past, until) is None
        assert rest_until(past, until - timedelta(days=1)) == until


@pytest.mark.parametrize(
    ("hour", "minute", "decent"),
    [(9, 59, False), (10, 0, True), (12, 0, False), (14, 0, True), (18, 59, True), (19, 0, False)],
)
def test_plain_hours_when_nothing_is_known(hour: int, minute: int, *, decent: bool) -> None:
    assert is_decent(at(11, 23, hour, minute)) == decent


def test_safe_hours_and_days_are_kept() -> None:
    assert is_decent(at(11, 23, 13), AFTER_LUNCH)
    assert not is_decent(at(11, 23, 10), AFTER_LUNCH)
    assert is_decent(at(11, 24, 10), TUESDAYS)
    assert not is_decent(at(11, 25, 10), TUESDAYS)


def test_only_an_alarm_for_somebody_at_grave_risk_breaks_the_hours() -> None:
    assert is_decent(at(11, 25, 3), TUESDAYS, alarm_for_grave=True)


def test_parts_of_the_day_meet_without_a_gap() -> None:
    """Source: job.md F1: 08-12, 12-17, 17-20."""
    assert [part_of(time(hour)) for hour in (7, 11, 12, 16, 17, 23)] == [
        Part.MORNING,
        Part.MORNING,
        Part.AFTERNOON,
        Part.AFTERNOON,
        Part.EVENING,
        Part.EVENING,
    ]
    spans = list(PARTS.values())
    assert [one.end for one in spans[:-1]] == [two.start for two in spans[1:]]


def test_the_models_have_the_states_and_moves_of_the_design() -> None:
    """Source: job.md 2, program check: Call 10/17, Meeting 9/16."""
    assert (len(CALL_MOVES), sum(map(len, CALL_MOVES.values()))) == (len(C), 17)
    assert (len(MEETING_MOVES), sum(map(len, MEETING_MOVES.values()))) == (len(M), 16)


@pytest.mark.parametrize("old", C)
@pytest.mark.parametrize("new", C)
def test_a_call_moves_only_as_drawn(old: CallState, new: CallState) -> None:
    allowed = new in CALL_MOVES[old]
    assert may_move_call(old, new, has_next_step=True) == (() if allowed else ("no_such_move",))


def test_a_ring_that_happened_is_settled_only_with_a_next_step() -> None:
    for old in (C.SPOKE, C.WRONG_NUMBER, C.BROKEN_OFF, C.NOT_REACHED, C.SOMEONE_ELSE):
        assert may_move_call(old, C.SETTLED, has_next_step=False) == ("next_step",)
    assert may_move_call(C.NOT_REACHED, C.PLANNED, has_next_step=False) == ("next_step",)
    assert may_move_call(C.MOVED, C.PLANNED, has_next_step=False) == ()
    assert may_move_call(C.PLANNED, C.UNDER_WAY, has_next_step=False) == ()


DAY = date(2026, 12, 3)
READY = MeetingFacts(
    on=DAY, planned_on=DAY, place_is_theirs=True, has_exit_signal=True, ended_why="safety"
)


@pytest.mark.parametrize("old", M)
@pytest.mark.parametrize("new", M)
def test_a_meeting_moves_only_as_drawn(old: MeetingState, new: MeetingState) -> None:
    allowed = new in MEETING_MOVES[old]
    assert may_move_meeting(old, new, READY) == (() if allowed else ("no_such_move",))


@pytest.mark.parametrize("old", [M.PROPOSED, M.MOVED])
def test_a_meeting_is_fixed_where_they_choose_and_with_a_way_out(old: MeetingState) -> None:
    assert may_move_meeting(old, M.FIXED, MeetingFacts(on=DAY)) == ("place", "exit_signal")


@pytest.mark.parametrize(
    ("on", "codes"),
    [
        (date(2026, 12, 1), ("too_early",)),
        (date(2026, 12, 2), ()),
        (date(2026, 12, 3), ()),
        (date(2026, 12, 4), ("day_passed",)),
    ],
)
def test_a_meeting_is_confirmed_on_the_day_before(on: date, codes: tuple[str, ...]) -> None:
    facts = MeetingFacts(on=on, planned_on=DAY)
    assert may_move_meeting(M.FIXED, M.CONFIRMED, facts) == codes


def test_a_meeting_without_a_day_is_not_confirmed() -> None:
    assert may_move_meeting(M.FIXED, M.CONFIRMED, MeetingFacts(on=DAY)) == ("too_early",)


def test_after_nobody_came_it_moves_once() -> None:
    again = MeetingFacts(on=DAY, times_moved=1)
    assert may_move_meeting(M.NOBODY_CAME, M.MOVED, MeetingFacts(on=DAY)) == ()
    assert may_move_meeting(M.NOBODY_CAME, M.MOVED, again) == ("moved_once",)
    assert may_move_meeting(M.FIXED, M.MOVED, again) == ()


def test_a_meeting_is_written_up_in_two_days_or_says_why_not() -> None:
    for hours_since, late_why, codes in (
        (48, False, ()),
        (49, False, ("why_late",)),
        (49, True, ()),
    ):
        facts = MeetingFacts(on=DAY, hours_since=hours_since, late_why=late_why)
        assert may_move_meeting(M.HELD, M.WRITTEN_UP, facts) == codes


def test_a_meeting_cut_short_says_safety_or_their_wish_and_no_more() -> None:
    for why, codes in (("safety", ()), ("their_wish", ()), ("", ("why",)), ("police", ("why",))):
        facts = MeetingFacts(on=DAY, ended_why=why)
        assert may_move_meeting(M.CUT_SHORT, M.WRITTEN_UP, facts) == codes


def test_the_form_is_offered_after_all_was_explained_and_told_back() -> None:
    """Source: job.md row 13 and the meeting sheet: 12 ticks, 4 told back."""
    assert (len(set(EXPLAINED)), len(set(TOLD_BACK))) == (12, 4)
    assert missing_before_form(EXPLAINED, TOLD_BACK) == Missing()
    assert missing_before_form([], []) == Missing(EXPLAINED, TOLD_BACK)
    open_still = missing_before_form(set(EXPLAINED) - {"no_pay", "who"}, set(TOLD_BACK) - {"where"})
    assert open_still == Missing(("who", "no_pay"), ("where",))


def test_a_meeting_with_somebody_in_power_does_not_count() -> None:
    """Person 23 of job.md 6: her team leader was in the room."""
    assert counts(was_held=True, was_cut_short=False, power_present=False)
    assert not counts(was_held=True, was_cut_short=False, power_present=True)


def test_a_meeting_of_which_too_little_is_known_does_not_count() -> None:
    assert not counts(was_held=True, was_cut_short=False, power_present=None)
    assert not counts(was_held=False, was_cut_short=False, power_present=False)
    assert not counts(was_held=True, was_cut_short=True, power_present=False)
