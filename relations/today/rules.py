"""Whether the clock of a telephone may be believed, and what moment it most likely meant."""

from datetime import datetime, timedelta

# Clocks of telephones are right to seconds or wrong by hours (a default of ours, no source).
SLACK = timedelta(minutes=15)


def doubts(
    *,
    written_at: datetime | None,
    known_at: datetime | None,
    phone_at: datetime | None,
    received_at: datetime,
) -> tuple[str, ...]:
    """Give the codes of what speaks against a telephone's clock; () is none, and it is believed.

    All aware. `written_at`, `phone_at`: by the telephone, when the entry was written and when it
    was sent; `known_at`: our own time that the telephone had last heard when it was written;
    `received_at`: ours, when it came. A time that is missing is a doubt. Codes: "no_time";
    "wrong_now", the telephone differs from us while it sends; "written_later", it was written
    after it was sent; "written_before", it was written before a moment that had already been.
    """
    if written_at is None or phone_at is None:
        return ("no_time",)
    found = {
        "wrong_now": abs(phone_at - received_at) > SLACK,
        "written_later": written_at > phone_at + SLACK,
        "written_before": known_at is not None and written_at < known_at - SLACK,
    }
    return tuple(code for code, holds in found.items() if holds)


def likely(
    happened: datetime, written_at: datetime, phone_at: datetime, received_at: datetime
) -> datetime:
    """Give the moment most likely meant by `happened`, for the writer to look at and correct.

    Where its day is the day on which the telephone believed to write, it is moved by as much as
    the telephone was wrong while it sent; a day that somebody chose stays. In the zone of
    `happened`, to the minute.
    """
    zone = happened.tzinfo
    if happened.date() != written_at.astimezone(zone).date():
        return happened
    moved = (happened + (received_at - phone_at)).astimezone(zone)
    return min(moved, received_at.astimezone(zone)).replace(second=0, microsecond=0)
