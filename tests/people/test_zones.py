"""The clock of a number: filled in where its country has one, asked where it has several."""

from datetime import date
from zoneinfo import ZoneInfo

import phonenumbers
import pytest

from relations.people import zones

ON = date(2026, 11, 23)


# Source: zone.tab of tzdata 2026.6, and languages.md 4.3 (where the library's own answers differ).
@pytest.mark.parametrize(
    ("e164", "expected"),
    [
        ("+33465710007", "Europe/Paris"),
        ("+33639980042", "Europe/Paris"),
        ("+9779841234567", "Asia/Kathmandu"),
        ("+442079460958", "Europe/London"),
        # Of no plan's region: checks.md 0, trap 2.
        ("+447700900123", "Europe/London"),
        ("+493023125042", "Europe/Berlin"),
        # The library says Atlantic/Canary for Morocco, Europe/Bucharest for Palestine.
        ("+212612345678", "Africa/Casablanca"),
        ("+970599123456", "Asia/Gaza"),
    ],
)
def test_one_clock_is_filled_in(e164: str, expected: str) -> None:
    assert zones.of_number(e164, ON) == (expected,)


@pytest.mark.parametrize(
    ("e164", "some"),
    [
        ("+12125550142", {"America/New_York", "America/Los_Angeles", "Pacific/Honolulu"}),
        ("+14165550142", {"America/Toronto", "America/Vancouver"}),
        ("+34612345678", {"Europe/Madrid", "Atlantic/Canary"}),
        ("+61491570006", {"Australia/Brisbane", "Australia/Perth"}),
    ],
)
def test_several_clocks_are_asked_about(e164: str, some: set[str]) -> None:
    found = zones.of_number(e164, ON)
    assert some <= set(found)


def test_zones_that_go_by_the_same_clock_are_asked_once() -> None:
    assert set(zones.by_country()["DE"]) == {"Europe/Berlin", "Europe/Busingen"}
    assert zones.of_country("DE", ON) == ("Europe/Berlin",)
    assert "Africa/Ceuta" not in zones.of_country("ES", ON)


@pytest.mark.parametrize("e164", ["+881612345678", "+38344123456"])
def test_a_number_of_no_country_in_the_table_has_no_clock(e164: str) -> None:
    """A satellite telephone; Kosovo, which zone.tab leaves out."""
    assert zones.country_of(e164) == ""
    assert zones.of_number(e164, ON) == ()


def test_every_zone_is_one_that_the_machine_knows() -> None:
    assert len(zones.every()) > 400
    for name in zones.every():
        assert ZoneInfo(name).key == name


def test_only_three_countries_with_telephones_are_without_a_clock() -> None:
    without = set(phonenumbers.SUPPORTED_REGIONS) - set(zones.by_country())
    assert without == {"XK", "AC", "TA"}
