"""Age, risk, vouching and the standings behave as they do on paper."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from relations.people.rules import (
    ENDS,
    HOLDS,
    MOVES,
    age_on,
    birthday,
    counted,
    ends,
    higher,
    is_child,
    link_over,
    look_again_on,
    may_move,
    months_after,
    ripeness,
    starts,
    too_many,
    vouch,
)
from relations.people.values import (
    Birth,
    Clocks,
    Condition,
    Facts,
    LinkOver,
    Precision,
    Refusal,
    Ripeness,
    Risk,
    Standing,
    Vouching,
)

sixty_times = settings(deadline=None)
TODAY = date(2026, 11, 23)
LONG_AGO = TODAY - timedelta(days=2000)
BORN = st.dates(date(1930, 1, 1), date(2020, 12, 31))
DAYS = st.dates(date(2020, 12, 31), date(2040, 12, 31))
R, S = Refusal, Standing

GOOD = Vouching(has_sat=True, may_vouch=True, asked_first=True)
ALL_HOLDS = Facts(
    on=TODAY, since=LONG_AGO, vouching=GOOD, artist_says_yes=True, is_new_introducer=True,
    came_to_us=True, language_is_settled=True, hours_are_settled=True, tries=3, ways_tried=3,
    first_try_on=LONG_AGO, ring_again_on=TODAY, power_was_absent=True, told_back=4,
    sheets_exposed=1, took_all_back=True, by_speaker=True, has_new_form=True, has_ending=True,
    is_sealed=True,
)  # fmt: skip
NOTHING = Facts(on=TODAY, since=TODAY)


@sixty_times
@given(BORN, DAYS)
def test_age_grows_by_one_on_the_birthday_and_on_no_other_day(born: date, day: date) -> None:
    age = age_on(born, day)
    assert birthday(born, age) <= day < birthday(born, age + 1)
    assert age_on(born, birthday(born, age)) == age
    assert age_on(born, birthday(born, age) - timedelta(days=1)) == age - 1


def test_born_on_29_february_is_a_year_older_on_1_march() -> None:
    leap = date(2008, 2, 29)
    assert birthday(leap, 18) == date(2026, 3, 1)
    assert birthday(leap, 16) == date(2024, 2, 29)


@sixty_times
@given(st.integers(1930, 2020), DAYS, st.dates(date(2000, 1, 1), date(2000, 12, 31)))
def test_year_only_is_sure_only_where_every_day_of_it_agrees(
    year: int, day: date, some_day: date
) -> None:
    found = ripeness(Birth.in_year(year), day)
    if some_day.month == 2 and some_day.day == 29:
        some_day = date(2000, 3, 1)
    exact = ripeness(Birth.on(some_day.replace(year=year)), day)
    assert exact in (Ripeness.CHILD, Ripeness.ADULT)
    assert found is Ripeness.UNSURE or found is exact


def test_known_year_wins_over_met_as_adult() -> None:
    year = Birth.in_year(2008)
    assert ripeness(year, TODAY, met_as_adult=True) is Ripeness.UNSURE
    assert ripeness(None, TODAY, met_as_adult=True) is Ripeness.ADULT
    assert ripeness(None, TODAY) is Ripeness.UNKNOWN


def test_only_who_is_surely_under_age_is_a_child() -> None:
    child, adult, either = Birth.in_year(2012), Birth.in_year(1990), Birth.in_year(2008)
    assert [is_child(birth, TODAY) for birth in (child, adult, either, None)] == [
        True, False, False, False,
    ]  # fmt: skip


def test_birth_cannot_end_before_it_begins() -> None:
    with pytest.raises(ValueError, match="before"):
        Birth(TODAY, LONG_AGO)


def test_unset_risk_counts_as_raised_and_the_higher_view_counts() -> None:
    assert counted(None) is Risk.RAISED
    assert counted(Risk.ORDINARY) is Risk.ORDINARY
    assert higher(Risk.ORDINARY, Risk.ORDINARY) is Risk.ORDINARY
    assert higher(Risk.ORDINARY, None) is Risk.RAISED
    assert higher(None, Risk.GRAVE) is Risk.GRAVE
    assert higher(Risk.GRAVE, Risk.ORDINARY) is Risk.GRAVE


@pytest.mark.parametrize(
    ("vouching", "refused"),
    [
        (GOOD, ()),
        (Vouching(is_accepted_outside=True, may_vouch=True, asked_first=True), ()),
        (Vouching(may_vouch=True, asked_first=True), (R.INTRODUCER_HAS_NOT_SAT,)),
        (Vouching(True, asked_first=True), (R.INTRODUCER_MAY_NOT_VOUCH,)),
        (
            Vouching(True, False, True, may_vouch=True, asked_first=True),
            (R.INTRODUCER_STEPPED_BACK,),
        ),
        (Vouching(True, may_vouch=True), (R.NOT_ASKED_FIRST,)),
        (Vouching(True, may_vouch=True, community_is_raised=True), (R.NOT_ASKED_FIRST,)),
        (Vouching(True, may_vouch=True, community_is_raised=False), ()),
        (
            Vouching(True, may_vouch=True, asked_first=False, community_is_raised=False),
            (R.NOT_ASKED_FIRST,),
        ),
        (
            Vouching(),
            (R.INTRODUCER_HAS_NOT_SAT, R.INTRODUCER_MAY_NOT_VOUCH, R.NOT_ASKED_FIRST),
        ),
    ],
)
def test_who_may_vouch(vouching: Vouching, refused: tuple[Refusal, ...]) -> None:
    assert vouch(vouching) == refused


def test_standings_have_61_moves_no_dead_end_and_none_unreachable() -> None:
    assert len(Standing) == 16
    assert sum(len(moves) for moves in MOVES.values()) == 61
    assert {S.NEVER_RING, S.LET_GO, S.CLOSED} == ENDS
    reached = {S.NAMED}
    for _ in Standing:
        reached |= {after for before in reached for after in MOVES.get(before, {})}
    assert reached == set(Standing)
    ending = set(ENDS)
    for _ in Standing:
        ending |= {before for before, moves in MOVES.items() if ending & set(moves)}
    assert ending == set(Standing)


@pytest.mark.parametrize("standing", [s for s in Standing if s not in ENDS])
def test_never_ring_is_open_from_every_standing_without_a_guard(standing: Standing) -> None:
    assert may_move(standing, S.NEVER_RING, NOTHING) == ()


WAYS = [(before, after) for before, moves in MOVES.items() for after in moves]


@pytest.mark.parametrize(("before", "after"), WAYS)
def test_guarded_move_is_refused_while_nothing_is_known(before: Standing, after: Standing) -> None:
    guards = MOVES[before][after]
    met = {R.INTRODUCER_STEPPED_BACK, R.CANNOT_ANSWER}  # nothing known against them
    refused = may_move(before, after, NOTHING)
    assert set(refused) == set(guards) - met


@pytest.mark.parametrize(("before", "after"), WAYS)
def test_move_is_open_once_all_its_guards_hold(before: Standing, after: Standing) -> None:
    gone = R.CAN_ANSWER in MOVES[before][after]
    facts = ALL_HOLDS
    if gone:
        facts = Facts(on=TODAY, since=LONG_AGO, condition=Condition.CANNOT_ANSWER)
    assert may_move(before, after, facts) == ()


@pytest.mark.parametrize("before", list(Standing))
def test_move_that_is_not_in_the_table_is_refused(before: Standing) -> None:
    for after in set(Standing) - set(MOVES.get(before, {})):
        assert may_move(before, after, ALL_HOLDS) == (R.NO_SUCH_MOVE,)


def test_every_guard_can_be_given_and_every_refusal_is_used() -> None:
    used = {code for moves in MOVES.values() for guards in moves.values() for code in guards}
    assert used | {R.NO_SUCH_MOVE} == set(Refusal)
    assert used - set(HOLDS) == {
        R.INTRODUCER_HAS_NOT_SAT, R.INTRODUCER_STEPPED_BACK, R.INTRODUCER_MAY_NOT_VOUCH,
        R.NOT_ASKED_FIRST,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("before", "after", "days", "code"),
    [
        (S.NAMED, S.LET_GO, 60, R.NAME_IS_FRESH),
        (S.SAID_NO, S.LET_GO, 30, R.NO_IS_FRESH),
        (S.THINKING_IT_OVER, S.BEING_RUNG, 14, R.STILL_THINKING),
    ],
)
def test_clock_runs_from_the_day_the_standing_began(
    before: Standing, after: Standing, days: int, code: Refusal
) -> None:
    over = Facts(on=TODAY, since=TODAY - timedelta(days=days))
    early = Facts(on=TODAY, since=TODAY - timedelta(days=days - 1))
    assert may_move(before, after, over) == ()
    assert may_move(before, after, early) == (code,)


def test_their_own_date_goes_before_the_clock() -> None:
    facts = Facts(on=TODAY, since=LONG_AGO, ring_again_on=TODAY + timedelta(days=1))
    assert may_move(S.THINKING_IT_OVER, S.BEING_RUNG, facts) == (R.STILL_THINKING,)
    assert may_move(S.PAUSE, S.BEING_RUNG, facts) == (R.REST_NOT_OVER,)


def test_who_cannot_answer_is_not_back_and_clocks_are_settings() -> None:
    gone = Facts(on=TODAY, since=TODAY, condition=Condition.DIED)
    assert may_move(S.SPOKEN_FOR, S.TAKING_PART, gone) == (R.CANNOT_ANSWER,)
    assert may_move(S.NAMED, S.LET_GO, NOTHING, Clocks(named=0)) == ()


def test_name_from_somebody_who_has_not_sat_cannot_be_taken_up() -> None:
    named_by_28 = Facts(on=TODAY, since=TODAY, vouching=Vouching(may_vouch=True, asked_first=True))
    refused = may_move(S.NAMED, S.VOUCHED_FOR, named_by_28)
    assert refused == (R.INTRODUCER_HAS_NOT_SAT, R.ARTIST_HAS_NOT_SAID_YES)


@pytest.mark.parametrize(("shown", "told"), [(0, False), (29, False), (30, False), (31, True)])
def test_more_than_thirty_numbers_a_day_are_too_many(shown: int, *, told: bool) -> None:
    assert too_many(shown) is told
    assert too_many(shown, limit=shown) is False


@pytest.mark.parametrize(
    ("risk", "days"), [(Risk.ORDINARY, 730), (Risk.RAISED, 180), (Risk.GRAVE, 30)]
)
def test_risk_talk_holds_as_long_as_a_last_word_of_its_level(risk, days) -> None:
    """The plain days of job.md F12."""
    assert look_again_on(risk, date(2026, 11, 23)) == date(2026, 11, 23) + timedelta(days=days)


@pytest.mark.parametrize(
    ("precision", "first", "last"),
    [
        (Precision.DAY, date(2024, 2, 10), date(2024, 2, 10)),
        (Precision.MONTH, date(2024, 2, 1), date(2024, 2, 29)),
        (Precision.YEAR, date(2024, 1, 1), date(2024, 12, 31)),
    ],
)
def test_month_and_year_run_from_their_first_day_to_their_last(precision, first, last) -> None:
    on = date(2024, 2, 10)
    assert (starts(on, precision), ends(on, precision)) == (first, last)


@given(st.dates(date(1950, 1, 1), date(2090, 1, 1)), st.sampled_from(Precision))
def test_a_day_lies_within_what_is_known_of_it(on, precision) -> None:
    first, last = starts(on, precision), ends(on, precision)
    assert first <= on <= last
    assert (starts(last, precision), ends(first, precision)) == (first, last)


@pytest.mark.parametrize(
    ("day", "months", "later"),
    [
        (date(2023, 11, 18), 36, date(2026, 11, 18)),
        (date(2024, 2, 29), 36, date(2027, 2, 28)),
        (date(2024, 1, 31), 1, date(2024, 2, 29)),
        (date(2024, 12, 5), 1, date(2025, 1, 5)),
        (date(2024, 11, 5), 1, date(2024, 12, 5)),
    ],
)
def test_months_later_is_the_same_day_or_the_last_of_a_shorter_month(day, months, later) -> None:
    """By the calendar, worked by hand."""
    assert months_after(day, months) == later


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ({"sat_on": date(2023, 11, 23)}, LinkOver.SAT_LONG_AGO),
        ({"sat_on": date(2023, 11, 24)}, None),
        ({"sat_on": None}, None),
        ({"sat_on": None, "standing": S.CLOSED}, LinkOver.CLOSED),
        ({"sat_on": date(2026, 5, 1), "standing": S.LET_GO}, LinkOver.CLOSED),
        ({"sat_on": date(2020, 1, 1), "is_rung_through": True}, None),
        ({"sat_on": None, "standing": S.CLOSED, "is_rung_through": True}, None),
        ({"sat_on": date(2026, 10, 23), "clocks": Clocks(links=1)}, LinkOver.SAT_LONG_AGO),
    ],
)
def test_link_is_over_three_years_after_the_sitting_or_at_closing(said, why) -> None:
    """36 months, or closing, and never while somebody is rung through them (job.md F4)."""
    usual = {"standing": S.TAKING_PART, "is_rung_through": False, "on": date(2026, 11, 23)}
    assert link_over(**{**usual, **said}) is why
