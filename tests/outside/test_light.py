"""The sun against what almanacs and a solar position test publish.

Sources: Kathmandu, the division of forecasting of Nepal (as printed by khabarhub, 22 December
2019, and for 21 June), to the minute; London, HM Nautical Almanac Office, from memory, to the
minute; NREL/TP-560-34302 (solar position algorithm, its worked example of 17 October 2003), from
memory. The days at which a known fault of other tools lies: sunrise near 00:00 UTC in Kathmandu,
Dhaka and Yangon; their hours were worked with Skyfield 1.55 and de421 for Kathmandu.
"""

from datetime import date, datetime, time, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest

from relations.languages.daylight import light, sun_at

MINUTE = timedelta(seconds=60)
KATHMANDU = (27.7172, 85.3240, ZoneInfo("Asia/Kathmandu"))
LONDON = (51.5074, -0.1278, ZoneInfo("Europe/London"))
GOLDEN = (39.742476, -105.1786, timezone(timedelta(hours=-7)))
PUBLISHED = [
    (KATHMANDU, date(2019, 12, 22), time(6, 51), time(17, 14)),
    (KATHMANDU, date(2019, 6, 21), time(5, 9), time(19, 3)),
    (LONDON, date(2026, 6, 21), time(4, 43), time(21, 21)),
    (LONDON, date(2026, 12, 21), time(8, 3), time(15, 53)),
]


@pytest.mark.parametrize(("place", "on", "rise", "sets"), PUBLISHED)
def test_sunrise_and_sunset_are_within_a_minute_of_the_almanac(place, on, rise, sets) -> None:
    found = light(on, *place)
    assert abs(found.rise - datetime.combine(on, rise, place[2])) <= MINUTE
    assert abs(found.set - datetime.combine(on, sets, place[2])) <= MINUTE


def test_sunrise_of_the_worked_example_is_within_a_few_seconds() -> None:
    """Its sunset in the same paper is not reproduced by Skyfield either; it is not used."""
    rise = light(date(2003, 10, 17), *GOLDEN).rise
    assert abs(rise - datetime(2003, 10, 17, 6, 12, 43, tzinfo=GOLDEN[2])) < timedelta(seconds=5)


def test_sun_of_the_worked_example_stands_where_it_is_printed() -> None:
    sun = sun_at(datetime(2003, 10, 17, 12, 30, 30, tzinfo=GOLDEN[2]), *GOLDEN[:2])
    assert abs(sun.azimuth - 194.340) < 0.01
    assert abs(sun.height - 39.872) < 0.01


def test_low_sun_of_one_day_of_kathmandu_as_skyfield_gives_it() -> None:
    found = light(date(2026, 11, 25), *KATHMANDU)
    spans = [tuple(f"{at:%H:%M}" for at in span) for span in found.low]
    assert spans == [("06:16", "07:06"), ("16:34", "17:24")]
    assert abs(found.highest - 41.5) < 0.1


@pytest.mark.parametrize(
    ("place", "on"),
    [
        (KATHMANDU, date(2026, 4, 10)),
        ((23.8103, 90.4125, ZoneInfo("Asia/Dhaka")), date(2026, 3, 23)),
        ((16.8409, 96.1735, ZoneInfo("Asia/Yangon")), date(2026, 2, 19)),
    ],
)
def test_no_sunrise_is_lost_where_it_falls_on_midnight_of_universal_time(place, on) -> None:
    around = [light(on + timedelta(days=step), *place).rise for step in (-1, 0, 1)]
    first, second = around[1] - around[0], around[2] - around[1]
    assert all(abs(step - timedelta(days=1)) < 2 * MINUTE for step in (first, second))
