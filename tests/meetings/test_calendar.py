"""A calendar file against RFC 5545 and as the icalendar package reads it (checks.md 4.1)."""

from datetime import UTC, date, datetime, timedelta
from uuid import UUID
from zoneinfo import ZoneInfo

import icalendar
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from relations.meetings.calendar import Entry, Hour, write

KEY = UUID("00000000-0000-4000-8000-000000000007")
AT = datetime(2026, 11, 23, 9, 0, tzinfo=ZoneInfo("Europe/Rome"))
DAY = Entry(KEY, date(2026, 2, 28), date(2026, 3, 1), "Last word 20", "B1 E1")


def lines(*entries: Entry) -> list[str]:
    """The file unfolded."""
    return write(entries, at=AT).decode().replace("\r\n ", "").split("\r\n")


def test_an_entry_says_what_the_standard_asks_for() -> None:
    assert lines(DAY) == [
        "BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Relations//Register//EN", "BEGIN:VEVENT",
        f"UID:{KEY}", "DTSTAMP:20261123T080000Z", "DTSTART;VALUE=DATE:20260228",
        "DTEND;VALUE=DATE:20260301", "SUMMARY:Last word 20", "DESCRIPTION:B1 E1",
        "TRANSP:TRANSPARENT", "END:VEVENT", "END:VCALENDAR", "",
    ]  # fmt: skip


def test_commas_semicolons_breaks_and_backslashes_are_escaped() -> None:
    said = "Sitting, second visit; bring\r\nprint \\ back"
    assert r"SUMMARY:Sitting\, second visit\; bring\nprint \\ back" in lines(
        Entry(KEY, DAY.first, DAY.until, said)
    )


def test_no_line_is_longer_than_75_octets_and_no_letter_is_cut() -> None:
    whole = write([Entry(KEY, DAY.first, DAY.until, "é" * 60)], at=AT)
    pieces = whole.split(b"\r\n")
    assert max(map(len, pieces)) <= 75
    assert all(piece.decode() is not None for piece in pieces)
    assert f"SUMMARY:{'é' * 60}" in lines(Entry(KEY, DAY.first, DAY.until, "é" * 60))


def test_an_entry_lasts_at_least_a_day() -> None:
    with pytest.raises(ValueError, match="at least a day"):
        write([Entry(KEY, DAY.first, DAY.first, "")], at=AT)


def test_an_empty_calendar_is_a_calendar() -> None:
    assert lines()[0] == "BEGIN:VCALENDAR"


PARIS = ZoneInfo("Europe/Paris")
TALK = Hour(KEY, datetime(2026, 3, 29, 10, 30, tzinfo=PARIS), timedelta(hours=1), "Talk 23M")


def read(*entries: Entry | Hour) -> list[icalendar.Event]:
    """The events of the file as the icalendar package reads them; what it finds amiss fails."""
    whole = icalendar.Calendar.from_ical(write(entries, at=AT))
    assert whole.errors == []
    assert (whole["VERSION"], bool(whole["PRODID"])) == ("2.0", True)
    assert all(event.errors == [] for event in whole.walk("VEVENT"))
    return whole.walk("VEVENT")


def test_hour_is_read_back_as_the_same_moment_on_the_day_the_clocks_change() -> None:
    [event] = read(TALK)
    assert event["UID"] == str(KEY)
    assert event["DTSTAMP"].dt == AT
    assert event["DTSTART"].dt == TALK.at == datetime(2026, 3, 29, 8, 30, tzinfo=UTC)
    assert event["DTEND"].dt == TALK.at + timedelta(hours=1)
    assert (event["SUMMARY"], event["CLASS"]) == ("Talk 23M", "PRIVATE")


def test_days_are_read_back_as_days_and_the_last_is_not_one_of_them() -> None:
    [event] = read(DAY)
    assert (event["DTSTART"].dt, event["DTEND"].dt) == (DAY.first, DAY.until)
    assert event["DTEND"].dt - event["DTSTART"].dt == timedelta(days=1)
    assert (event["SUMMARY"], event["DESCRIPTION"]) == (DAY.says, DAY.more)


def test_hour_ends_after_it_begins() -> None:
    with pytest.raises(ValueError, match="ends after it begins"):
        write([Hour(KEY, AT, timedelta(), "")], at=AT)


@settings(deadline=None, max_examples=60)
@given(st.text(st.characters(exclude_categories=("C", "Zl", "Zp")), max_size=90))
def test_any_words_are_read_back_equal_and_folded_by_the_octet(said: str) -> None:
    hour = Hour(KEY, AT, timedelta(minutes=90), said)
    [event] = read(hour)
    assert str(event["SUMMARY"]) == said
    for line in write([hour], at=AT).split(b"\r\n"):
        assert len(line) <= 75
        line.decode()
