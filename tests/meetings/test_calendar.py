"""A calendar file against RFC 5545, as checks.md 4.1 gives it (read there by icalendar)."""

from datetime import date, datetime
from uuid import UUID
from zoneinfo import ZoneInfo

import pytest

from relations.meetings.calendar import Entry, write

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
