"""What is told of the introductions outside the house: counts for blocks, and maps in disguise.

Days are coarsened and names dropped here, before anything is laid out: a place on a drawing tells
the day from which it was worked out. Source: introductions.md 4.
"""

import hmac
import secrets
from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

from .graph import ARTIST, WITHHELD, Kind, Link, Reached, Web
from .said import first_day, half_year
from .values import Person

KEY_BYTES = 32


class Sharing(StrEnum):
    """What may be made to be shown to others: a drawing without people, or a map in disguise."""

    DRAWING = "drawing"
    MAP = "map"


class Part(StrEnum):
    """Which part of everybody one map in disguise shows."""

    LINE = "line"
    GROUP = "group"


@dataclass(frozen=True)
class Disguised:
    """A part of the introductions under codes that mean nothing elsewhere.

    `web` and `people` are as everywhere, each day the first of its half-year.
    """

    web: Web
    people: Mapping[str, Person]


def fresh_key() -> bytes:
    """Make the key of one export; it is forgotten when that is made."""
    return secrets.token_bytes(KEY_BYTES)


def pseudonyms(codes: Iterable[str], key: bytes) -> dict[str, str]:
    """Give each code another one, P001 and so on, in an order that only the key knows.

    HMAC-SHA256 over the code gives the order: neither that of entry nor a letter of the code is
    in it, the same key always gives the same, and two keys have nothing in common.
    Source: introductions.md 4; RFC 2104.
    """
    order = sorted(set(codes), key=lambda code: hmac.digest(key, code.encode(), "sha256"))
    return {code: f"P{number:03}" for number, code in enumerate(order, start=1)}


def counts(web: Web, groups: Mapping[str, str]) -> Counter[tuple[str, int]]:
    """Count everybody by group ("" for none) and the half-year in which they were reached.

    Whoever is told of only too early counts on the first day on which they were. Whoever was told
    of by somebody withheld counts as everybody does, and so does whoever said no or was let go.
    """
    days: dict[str, date] = {}
    for link in web.links:
        days.setdefault(link.person, link.on)
    days |= {code: one.on for code, one in web.reached.items()}
    return Counter((groups.get(code, ""), half_year(on)) for code, on in days.items())


def within_and_across(web: Web, groups: Mapping[str, str]) -> tuple[int, int]:
    """Count who was first told of by somebody of their own group, and of another one.

    Where one of the two is in no group nothing is counted.
    """
    pairs = [
        (groups.get(link.introducer), groups.get(link.person))
        for link in web.links
        if link.kind is Kind.FIRST
    ]
    known = [(one, other) for one, other in pairs if one and other]
    return sum(one == other for one, other in known), sum(one != other for one, other in known)


def of_part(web: Web, groups: Mapping[str, str], part: Part, name: str) -> list[str]:
    """List the codes of a line or of a group, in the order of being reached."""
    if part is Part.LINE:
        return [code for code, one in web.reached.items() if one.line == name]
    return [code for code in web.reached if groups.get(code, "") == name]


def disguise(
    web: Web, people: Mapping[str, Person], key: bytes, *, only: Collection[str]
) -> Disguised:
    """Put `only` these under other codes, with the half-year of each day and no name.

    An introducer who is not on the map is withheld, whatever the reason: nobody is tied to whoever
    comes before, nor made an own start. All follow half-year, wave and new code, so that no order
    says more than these do.
    """
    shown = set(only)
    beyond = {web.reached[code].first for code in shown} & web.outside
    names = pseudonyms(shown | beyond, key)
    reached = {names[code]: _reached(web.reached[code], names) for code in shown}
    order = sorted(reached, key=lambda name: (reached[name].on, reached[name].wave, name))
    links = (_link(link, names) for link in web.links if link.person in shown)
    return Disguised(
        Web.of_parts(
            {name: reached[name] for name in order},
            tuple(sorted(links, key=lambda link: (link.on, link.person, link.introducer))),
            frozenset(names[code] for code in beyond),
            {names[code]: count for code, count in web.hanging.items() if code in names},
        ),
        {names[code]: replace(people[code], code=names[code], label=names[code]) for code in shown},
    )


def coarse(on: date) -> date:
    """Give the first day of the half-year of a day."""
    return first_day(half_year(on))


def _reached(one: Reached, names: Mapping[str, str]) -> Reached:
    on = coarse(one.on)
    if one.source == ARTIST:
        return Reached(on, ARTIST, 0, line=names.get(one.line, WITHHELD), is_exact=False)
    first = names.get(one.first, "")
    line = names.get(one.line, WITHHELD)
    return Reached(on, first, one.wave, is_withheld=not first, line=line, is_exact=False)


def _link(link: Link, names: Mapping[str, str]) -> Link:
    is_named = link.introducer == ARTIST or link.introducer in names
    introducer = names.get(link.introducer, ARTIST) if is_named else WITHHELD
    return Link(introducer, names[link.person], coarse(link.on), link.kind, is_exact=False)
