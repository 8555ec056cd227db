"""What is said at start-up: a table of days that reaches its end, a language without its words."""

from datetime import date, timedelta
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage, Error
from django.core.checks import Warning as Caution
from django.utils import timezone
from django.utils.translation import to_locale

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


# The words of the site are written in it; it needs no catalogue.
SOURCE = "en"
BUILD = "Run: python3 manage.py build_translations"


def catalogues(*_: object, **__: Any) -> list[CheckMessage]:
    """Say which language of LANGUAGES would silently be shown in English, or as it was before.

    Django looks for the built .mo alone: without it the language vanishes, and nothing is said.
    """
    folders = [Path(root) for root in settings.LOCALE_PATHS]
    codes = [code for code, _name in settings.LANGUAGES if code != SOURCE]
    return [message for code in codes for message in _of_catalogue(folders, code)]


def _of_catalogue(folders: list[Path], code: str) -> list[CheckMessage]:
    places = [root / to_locale(code) / "LC_MESSAGES" for root in folders]
    words = [place / "django.po" for place in places if (place / "django.po").is_file()]
    if not words:
        hint = f"Add locale/{to_locale(code)}/LC_MESSAGES/django.po, or take it out of LANGUAGES."
        return [Error(f"The language {code} has no catalogue.", hint=hint, id="languages.E001")]
    built = [po.with_suffix(".mo") for po in words]
    if not all(mo.is_file() for mo in built):
        said = f"The catalogue of the language {code} is not built."
        return [Error(said, hint=BUILD, id="languages.E002")]
    if any(mo.stat().st_mtime < po.stat().st_mtime for po, mo in zip(words, built, strict=True)):
        said = f"The catalogue of the language {code} was changed since it was built."
        return [Caution(said, hint=BUILD, id="languages.W002")]
    return []
