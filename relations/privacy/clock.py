"""A clock that is behind what the home already knows: found before a wrong day is kept."""

from datetime import datetime, timedelta

from django.db.migrations.recorder import MigrationRecorder
from django.db.models import Max
from django.http import HttpRequest
from django.utils import timezone

from .log import note
from .models import AccessEntry, User

# A clock that is put right by the network goes back by seconds at most.
TOLERANCE = timedelta(minutes=5)
TOLD = "clock_is_right"
# A no acts on hearing, whatever the clock says; and somebody must get in to put it right.
AT_ANY_HOUR = frozenset(
    {
        *("uses:stop_whom", "uses:stop_unseen", "uses:stop", "rights:alarm", "meetings:never"),
        *("people:hold", "people:hold_by_code", "people:never_ring", "pictures:hold"),
        *("today:write", "today:send"),  # these look themselves whether it is a Stop
        *("privacy:sign_in", "privacy:code", "privacy:sign_out", "privacy:sure", "privacy:clock"),
        "privacy:speak",  # writes nothing here
    }
)


class _Seen:
    """The latest moment that this process knows of; the register is asked when in doubt."""

    moment: datetime | None = None


def last_known() -> datetime | None:
    """The latest moment in the access log since the clock was last said to be right.

    Without a line, when the tables were made. None: the home has neither.
    """
    told = AccessEntry.objects.filter(verb=TOLD).aggregate(last=Max("seq"))["last"]
    since = AccessEntry.objects.filter(seq__gte=told or 0)
    found: datetime | None = since.aggregate(last=Max("at"))["last"]
    if found is None:
        found = MigrationRecorder.Migration.objects.aggregate(last=Max("applied"))["last"]
    return found


def behind() -> datetime | None:
    """The moment of the last entry, where this computer's clock is before it; else None.

    While the clock goes forward nothing is asked of the register but once in a process.
    """
    at = timezone.now()
    if _Seen.moment is None or at < _Seen.moment - TOLERANCE:
        _Seen.moment = last_known()
        if _Seen.moment and at < _Seen.moment - TOLERANCE:
            last, _Seen.moment = _Seen.moment, None
            return last
    _Seen.moment = max(at, _Seen.moment or at)
    return None


def refuses(request: HttpRequest) -> datetime | None:
    """The same, for what somebody signed in sends, other than a Stop, a Hold or an alarm."""
    if request.method in {"GET", "HEAD"} or not isinstance(request.user, User):
        return None
    match = request.resolver_match
    return None if match and match.view_name in AT_ANY_HOUR else behind()


def is_right(*, by: User) -> None:
    """The artist or the keeper says that the clock is right and the last entries were not."""
    note(by, TOLD, "privacy.clock", by.pk)
    _Seen.moment = None
