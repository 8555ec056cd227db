"""Which clock a telephone number most likely goes by: the zones of its country (tzdata, IANA)."""

from datetime import UTC, date, datetime, timedelta
from functools import cache
from importlib.resources import files
from zoneinfo import ZoneInfo

import phonenumbers

# Days apart at which two clocks are compared over two years: no rule lasts for less than this.
APART = 7
TWO_YEARS = 2 * 366


@cache
def by_country() -> dict[str, tuple[str, ...]]:
    """The zones of each country (ISO 3166-1 alpha-2), the most used first; from zone.tab."""
    zones: dict[str, tuple[str, ...]] = {}
    table = files("tzdata.zoneinfo").joinpath("zone.tab").read_text(encoding="utf-8")
    for line in table.splitlines():
        if line and not line.startswith("#"):
            country, _, zone = line.split("\t")[:3]
            zones[country] = (*zones.get(country, ()), zone)
    return zones


def every() -> tuple[str, ...]:
    """Every zone that a place is in, by name."""
    return tuple(sorted({zone for zones in by_country().values() for zone in zones}))


def country_of(e164: str) -> str:
    """The country that gives a number out; where no plan does, the first of its calling code.

    "" where there is none, as for a satellite telephone. A number set aside for fiction is of no
    country's plan in Britain (checks.md 0, trap 2).
    """
    number = phonenumbers.parse(e164)
    country = phonenumbers.region_code_for_number(number)
    country = country or phonenumbers.region_code_for_country_code(number.country_code or 0)
    return country if country in by_country() else ""


def of_number(e164: str, on: date) -> tuple[str, ...]:
    """The zones a number may be answered in, one of those that go by the same clock from `on`.

    One: it may be filled in. Several: somebody must be asked. None: nothing is known.
    Source: languages.md 4.3; the library's own zones are old names and suggestions only.
    """
    return of_country(country_of(e164), on)


def of_country(country: str, on: date) -> tuple[str, ...]:
    """The zones of a country, the first of those that go by the same clock for two years."""
    clocks: dict[tuple[timedelta | None, ...], str] = {}
    for zone in by_country().get(country, ()):
        clocks.setdefault(_clock(zone, on), zone)
    return tuple(clocks.values())


def _clock(zone: str, on: date) -> tuple[timedelta | None, ...]:
    begin, known = datetime(on.year, on.month, on.day, tzinfo=UTC), ZoneInfo(zone)
    days = range(0, TWO_YEARS, APART)
    return tuple((begin + timedelta(days=step)).astimezone(known).utcoffset() for step in days)
