"""What must come down after a stop, and by when."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from relations.consent.values import Use
from relations.uses.rules import (
    EVERYWHERE,
    INK,
    Force,
    ShownUse,
    Span,
    UndoLine,
    is_everywhere,
    is_on_its_day,
    span,
    undo_lines,
    working_day,
)

ROME = ZoneInfo("Europe/Rome")
# Monday evening; journey 7 of job.md.
STOP = datetime(2026, 11, 23, 21, 10, tzinfo=ROME)
COPIES = UndoLine("copies_by_others", None, Force.CANNOT)


def end_of(year: int, month: int, day: int) -> datetime:
    return datetime(year, month, day, 23, 59, 59, tzinfo=ROME)


@pytest.mark.parametrize(
    ("use", "risk", "line"),
    [
        ("web", "ordinary", UndoLine("take_down", STOP + timedelta(hours=24), Force.FORCED)),
        ("social_media", None, UndoLine("take_down", STOP + timedelta(hours=24), Force.FORCED)),
        ("portfolio", "grave", UndoLine("out_of_box", end_of(2026, 11, 23), Force.FORCED)),
        ("exhibition", "grave", UndoLine("cover", STOP, Force.FORCED)),
        ("exhibition", "raised", UndoLine("cover", STOP, Force.FORCED)),
        ("exhibition", None, UndoLine("cover", STOP, Force.FORCED)),
        ("exhibition", "ordinary", UndoLine("off_wall", end_of(2026, 11, 25), Force.FORCED)),
        ("teaching", "ordinary", UndoLine("out_of_slides", end_of(2026, 11, 30), Force.FORCED)),
        ("press", "grave", UndoLine("ask_holder", end_of(2026, 11, 25), Force.ASKED)),
        ("fund_raising", "ordinary", UndoLine("ask_holder", end_of(2026, 11, 25), Force.ASKED)),
        ("jury", "ordinary", UndoLine("ask_holder", end_of(2026, 11, 25), Force.ASKED)),
        ("archive", "ordinary", UndoLine("seal", end_of(2026, 12, 7), Force.FORCED)),
    ],
)
def test_one_line_for_each_use(use: str, risk: str | None, line: UndoLine) -> None:
    """Source: job.md F15."""
    assert undo_lines(ShownUse(use), STOP, risk) == (line, COPIES)


def test_an_offer_ends_at_once_and_sold_prints_stay() -> None:
    assert undo_lines(ShownUse("print_sale"), STOP, "ordinary") == (
        UndoLine("withdraw_offer", STOP, Force.FORCED),
        UndoLine("sold_prints_stay", None, Force.CANNOT),
        COPIES,
    )


def test_before_the_press_day_a_picture_leaves_the_book() -> None:
    shown = ShownUse("book", press_on=date(2027, 1, 18))
    assert undo_lines(shown, STOP, "grave") == (
        UndoLine("out_of_book", end_of(2027, 1, 17), Force.FORCED),
        COPIES,
    )


def test_on_the_eve_of_the_press_day_it_still_leaves_the_book() -> None:
    shown = ShownUse("book", press_on=date(2026, 11, 24))
    assert undo_lines(shown, STOP, "ordinary")[0].due_at == end_of(2026, 11, 23)


@pytest.mark.parametrize("press_on", [date(2026, 11, 23), date(2026, 6, 1), None])
def test_from_the_press_day_on_what_is_sold_stays(press_on: date | None) -> None:
    assert undo_lines(ShownUse("book", press_on=press_on), STOP, "ordinary") == (
        UndoLine("ask_unsold_stock", end_of(2026, 11, 25), Force.ASKED),
        UndoLine("out_of_next_printing", end_of(2026, 11, 25), Force.FORCED),
        UndoLine("sold_copies_stay", None, Force.CANNOT),
        COPIES,
    )


def test_a_wall_over_the_weekend_and_a_day_off() -> None:
    friday = datetime(2026, 11, 20, 21, 10, tzinfo=ROME)
    shown = ShownUse("exhibition")
    assert undo_lines(shown, friday, "ordinary")[0].due_at == end_of(2026, 11, 24)
    off = undo_lines(shown, friday, "ordinary", closed=[date(2026, 11, 23)])
    assert off[0].due_at == end_of(2026, 11, 25)


def test_twenty_four_hours_are_hours_when_the_clock_changes() -> None:
    """Rome goes back an hour on 2026-10-25 at 03:00 (tz database)."""
    stop = datetime(2026, 10, 24, 21, 0, tzinfo=ROME)
    due_at = undo_lines(ShownUse("web"), stop, "ordinary")[0].due_at
    assert due_at is not None
    assert due_at.astimezone(UTC) - stop.astimezone(UTC) == timedelta(hours=24)
    assert due_at.time() == time(20)


@pytest.mark.parametrize("use", ["exhibition", "web", "social_media", "teaching", "portfolio"])
def test_what_was_over_before_the_stop_has_nothing_left_but_copies(use: str) -> None:
    assert undo_lines(ShownUse(use, ended_on=date(2026, 11, 22)), STOP, "ordinary") == (COPIES,)
    assert len(undo_lines(ShownUse(use, ended_on=date(2026, 11, 23)), STOP, "ordinary")) == 2


@pytest.mark.parametrize("use", sorted(INK | {"archive", "fund_raising"}))
def test_ink_and_files_given_away_outlive_their_end(use: str) -> None:
    assert len(undo_lines(ShownUse(use, ended_on=date(2026, 1, 1)), STOP, "ordinary")) > 1


def test_an_unknown_use_is_an_error_and_no_empty_list() -> None:
    with pytest.raises(KeyError):
        undo_lines(ShownUse("wall"), STOP, "ordinary")


@given(
    st.sampled_from(Use),
    st.datetimes(datetime(2020, 1, 1), datetime(2040, 1, 1), timezones=st.just(ROME)),  # noqa: DTZ001
    st.sampled_from(["ordinary", "raised", "grave", None]),
    st.none() | st.dates(date(2020, 1, 1), date(2040, 1, 1)),
)
def test_nothing_is_due_before_the_stop_and_what_cannot_be_has_no_day(
    use: str, stop: datetime, risk: str | None, press_on: date | None
) -> None:
    lines = undo_lines(ShownUse(use, press_on=press_on), stop, risk)
    assert len(lines) > 1
    assert lines[-1] == COPIES
    assert len({line.code for line in lines}) == len(lines)
    for line in lines:
        assert (line.due_at is None) == (line.force == Force.CANNOT)
        assert line.due_at is None or line.due_at >= stop.replace(microsecond=0)


@given(st.dates(date(2020, 1, 1), date(2040, 1, 1)), st.integers(0, 12))
def test_a_working_day_is_never_a_weekend(day: date, number: int) -> None:
    found = working_day(day, number)
    between = [day + timedelta(days=step) for step in range(1, (found - day).days + 1)]
    assert sum(step.weekday() < 5 for step in between) == number
    assert not number or found.weekday() < 5


def test_there_are_eleven_uses() -> None:
    assert len(Use) == 11
    assert set(Use) > INK
    assert set(Use) > EVERYWHERE


@pytest.mark.parametrize("use", Use)
def test_ink_and_one_day_are_judged_on_their_day(use: str) -> None:
    """Source: job.md 3, the weighing step by step."""
    start, end = date(2027, 2, 5), date(2027, 4, 18)
    ink = use in {"book", "press", "print_sale", "jury"}
    assert is_on_its_day(use) == ink
    assert span(use, start, end) == (Span(start, start) if ink else Span(start, end))
    assert span(use, start, end, one_day=True) == Span(start, start)


def test_an_end_may_be_open_but_not_before_the_start() -> None:
    start = date(2027, 2, 5)
    assert span("web", start, None) == Span(start, None)
    with pytest.raises(ValueError, match="before it starts"):
        span("web", start, date(2027, 2, 4))


def test_press_on_paper_alone_is_not_seen_everywhere() -> None:
    assert is_everywhere("web", paper_only=True)
    assert is_everywhere("press")
    assert not is_everywhere("press", paper_only=True)
    assert not is_everywhere("book")
