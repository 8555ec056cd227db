"""What is said at start-up about a table of days that reaches its end."""

from datetime import date, timedelta
from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage
from django.core.checks import Warning as Caution
from django.utils import timezone

from .local_calendars import confirmed_until

# Long enough for somebody to ask in Nepal; the official almanac is out before the year begins.
AHEAD = timedelta(days=60)


def almanac(on: date) -> list[CheckMessage]:
    """Ask for the next year of Bikram Sambat, from 60 days before the confirmed ones end."""
    last = confirmed_until()
    if on < last - AHEAD:
        return []
    return [
        Caution(
            f"The table of Bikram Sambat is confirmed until {last.day} {last:%B %Y} only.",
            hint="Compare the next year with the official almanac, correct its row in "
            "relations/languages/bikram_sambat.csv and call it agreed. Until then, days after "
            "that one are printed as provisional.",
            id="languages.W001",
        )
    ]


def almanac_of_today(*_: object, **__: Any) -> list[CheckMessage]:
    """Ask on the day that the site goes by."""
    return almanac(settings.RELATIONS_TODAY or timezone.localdate())
