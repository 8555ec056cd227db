"""Sunrise, sunset, low sun, and where the sun stands, at a coarse place; worked out here.

Source: the formulas for the sun of NOAA's solar calculator, after J. Meeus, Astronomical
Algorithms, 2nd ed., chapters 12, 13, 16, 22 and 25. Good to about 0.01 degrees, which is seconds
of a sunrise below the polar circles. Hills, buildings and weather are not known. Degrees
throughout: latitude north, longitude east, azimuth from north by east, height above a level
horizon without the lift of the air (which RISEN allows for).
"""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from itertools import pairwise
from math import asin, atan2, cos, degrees, radians, sin, tan

# The upper edge of the sun stands on the horizon, lifted by the air.
RISEN = -0.833
# Low sun: soft light, from the end of dusk's deep blue to a hand above the horizon.
LOW, HIGH = -4.0, 6.0
NOON_2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)
STEP = timedelta(minutes=10)
Span = tuple[datetime, datetime]


@dataclass(frozen=True, slots=True)
class Sun:
    """Where the sun stands: azimuth 0 to 360, height -90 to 90, in degrees."""

    azimuth: float
    height: float


@dataclass(frozen=True, slots=True)
class Light:
    """One day: when the sun rises and sets (None: it does not), the low-sun windows, the highest.

    `highest` is the height in degrees at `highest_at`.
    """

    rise: datetime | None
    set: datetime | None
    low: tuple[Span, ...]
    highest_at: datetime
    highest: float


def sun_at(at: datetime, latitude: float, longitude: float) -> Sun:
    """Where the sun stands at a moment (aware), seen from a place."""
    days = (at - NOON_2000) / timedelta(days=1)
    century = days / 36525
    mean = radians(357.52911 + century * (35999.05029 - 0.0001537 * century))
    node = radians(125.04 - 1934.136 * century)
    centre = (
        sin(mean) * (1.914602 - century * (0.004817 + 0.000014 * century))
        + sin(2 * mean) * (0.019993 - 0.000101 * century)
        + sin(3 * mean) * 0.000289
    )
    along = 280.46646 + century * (36000.76983 + 0.0003032 * century) + centre
    along = radians(along - 0.00569 - 0.00478 * sin(node))
    tilt = radians(23.4392911 - 0.0130042 * century + 0.00256 * cos(node))
    north = asin(sin(tilt) * sin(along))
    east = degrees(atan2(cos(tilt) * sin(along), cos(along)))
    turned = 280.46061837 + 360.98564736629 * days - 0.00478 * sin(node) * cos(tilt)
    hour, lat = radians((turned + longitude - east) % 360), radians(latitude)
    height = asin(sin(lat) * sin(north) + cos(lat) * cos(north) * cos(hour))
    azimuth = atan2(sin(hour), cos(hour) * sin(lat) - tan(north) * cos(lat))
    return Sun((degrees(azimuth) + 180) % 360, degrees(height))


def light(on: date, latitude: float, longitude: float, zone: tzinfo) -> Light:
    """Give the light of one day, midnight to midnight in `zone`, at a place; hours in `zone`.

    A day of the far north or south may hold no rise, no set, or one window that lasts all day.
    """
    first, last = (
        datetime.combine(day, time(), zone).astimezone(UTC) for day in (on, on + timedelta(days=1))
    )
    moments = [first + STEP * step for step in range((last - first) // STEP + 1)]
    heights = [sun_at(at, latitude, longitude).height for at in moments]

    def crossings(level: float) -> list[datetime]:
        """The moments at which the sun passes a height, earliest first."""
        return [
            _between(moments[step], moments[step + 1], level, latitude, longitude)
            for step in range(len(moments) - 1)
            if (heights[step] < level) != (heights[step + 1] < level)
        ]

    passed = crossings(RISEN)
    up = [at for at in passed if _rises(at, latitude, longitude)]
    down = [at for at in passed if at not in up]
    edges = [first, *sorted([*crossings(LOW), *crossings(HIGH)]), last]
    low = [
        (begin.astimezone(zone), end.astimezone(zone))
        for begin, end in pairwise(edges)
        if LOW <= sun_at(begin + (end - begin) / 2, latitude, longitude).height <= HIGH
    ]
    top = _top(moments[heights.index(max(heights))], latitude, longitude)
    return Light(
        rise=up[0].astimezone(zone) if up else None,
        set=down[-1].astimezone(zone) if down else None,
        low=tuple(low),
        highest_at=top.astimezone(zone),
        highest=sun_at(top, latitude, longitude).height,
    )


def _rises(at: datetime, latitude: float, longitude: float) -> bool:
    later = sun_at(at + timedelta(minutes=1), latitude, longitude)
    return later.height > sun_at(at, latitude, longitude).height


def _between(
    begin: datetime, end: datetime, level: float, latitude: float, longitude: float
) -> datetime:
    """The moment between two at which the sun passes a height, to the second, by halving."""
    is_below = sun_at(begin, latitude, longitude).height < level
    while end - begin > timedelta(seconds=1):
        half = begin + (end - begin) / 2
        if (sun_at(half, latitude, longitude).height < level) == is_below:
            begin = half
        else:
            end = half
    return begin


def _top(near: datetime, latitude: float, longitude: float) -> datetime:
    """The moment near another at which the sun is highest, to the minute."""
    around = [near + timedelta(minutes=step) for step in range(-10, 11)]
    return max(around, key=lambda at: sun_at(at, latitude, longitude).height)
