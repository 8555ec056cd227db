"""Where the register lies and what shuts it, as this site is set: read, never typed."""

from dataclasses import dataclass

from django.conf import settings
from django.db import connection

from relations.languages.said import listed
from relations.privacy.month_keys import KEPT


@dataclass(frozen=True)
class Place:
    """What the impact assessment says of the machine; countries as two letters, or empty."""

    project: str
    address: str
    contact: str
    law_of: list[str]
    stored_in: list[str]
    is_on_server: bool
    backup_days: int
    idle_minutes: int
    session_minutes: int
    session_hours: int
    has_tls: bool
    languages: str


def place() -> Place:
    """What is set now."""
    return Place(
        project=settings.RELATIONS_PROJECT,
        address=settings.RELATIONS_PROJECT_ADDRESS,
        contact=settings.RELATIONS_PROJECT_CONTACT,
        law_of=[code for code in (settings.RELATIONS_LAW_OF,) if code],
        stored_in=[code for code in (settings.RELATIONS_STORED_IN,) if code],
        is_on_server=connection.vendor == "postgresql",
        backup_days=KEPT.days,
        idle_minutes=settings.RELATIONS_IDLE_MINUTES,
        session_minutes=settings.SESSION_COOKIE_AGE // 60,
        session_hours=settings.SESSION_TOTAL_AGE // 3600,
        has_tls=settings.SECURE_COOKIES,
        languages=listed(name for _, name in settings.LANGUAGES),
    )
