"""Where one project keeps its keys, register and sealed files, and which day it is there."""

import json
from dataclasses import dataclass
from datetime import date, datetime
from functools import lru_cache
from pathlib import Path
from uuid import UUID
from zoneinfo import ZoneInfo

from django.conf import settings
from django.utils import timezone

# The moment at which the invented people of a rehearsal are met, so that lists never go stale.
REHEARSAL_MOMENT = datetime(2026, 11, 23, 9, 0, tzinfo=ZoneInfo("Europe/Rome"))


@dataclass(frozen=True)
class Travelling:
    """What a travelling set is: of which trip, until which day, and its key in the register."""

    trip: str
    until: date
    key: UUID


@dataclass(frozen=True)
class Home:
    """The folder of one project; a rehearsal has invented people and keys that open themselves.

    `travelling`: it is a set for one trip, which is read only and ends by its day.
    """

    root: Path
    is_rehearsal: bool
    travelling: Travelling | None = None

    @property
    def database(self) -> Path:
        return self.root / "register.db"

    @property
    def keys(self) -> Path:
        return self.root / "keys.json"

    @property
    def scans(self) -> Path:
        return self.root / "scans"

    @property
    def pictures(self) -> Path:
        return self.root / "pictures"


@lru_cache(maxsize=8)
def _told(path: Path, changed_at: int) -> tuple[bool, Travelling | None]:
    """Whether a key file is of a rehearsal, and what it says where it is of a travelling set."""
    kept = json.loads(path.read_text())
    said = kept.get("set")
    found = said and Travelling(said["trip"], date.fromisoformat(said["until"]), UUID(said["key"]))
    return kept["kind"] == "rehearsal", found


def home() -> Home:
    """The home that RELATIONS_HOME names; without a key file nothing in it is a rehearsal."""
    root = Path(settings.RELATIONS_HOME)
    keys = root / "keys.json"
    try:
        is_rehearsal, travelling = _told(keys, keys.stat().st_mtime_ns)
    except FileNotFoundError:
        is_rehearsal, travelling = False, None
    return Home(root, is_rehearsal, travelling)


def now() -> datetime:
    """The moment for lists, rings and weighing; never for sign-ins or the access log."""
    fixed: date | None = getattr(settings, "RELATIONS_TODAY", None)
    if fixed is not None:
        zone = timezone.get_default_timezone()
        return datetime.combine(fixed, REHEARSAL_MOMENT.time(), tzinfo=zone)
    return REHEARSAL_MOMENT if home().is_rehearsal else timezone.now()


def today() -> date:
    """The day for lists, rings and weighing, in the project's own time zone."""
    fixed: date | None = getattr(settings, "RELATIONS_TODAY", None)
    if fixed is not None:
        return fixed
    return REHEARSAL_MOMENT.date() if home().is_rehearsal else timezone.localdate()
