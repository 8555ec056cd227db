"""The drawing as facts, one row a person in its order: what the table and a screen reader say."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from .drawing import Drawn
from .geometry import SHAPES
from .graph import ARTIST, WITHHELD, Kind
from .rows import in_rows
from .values import Known


@dataclass(frozen=True, slots=True)
class Fact:
    """What is said of one person: by codes, groups by key and by name.

    `source` told us first: a code, ARTIST or WITHHELD. `also` told us later; `spoke` spoke for
    them only after we had met through somebody else. `is_cut`: who told us is not drawn here.
    `opened` is the name of the group of which they were the first, or "". `is_doubled`: their shape
    is that of another group too, so that the name must stand beside it.
    """

    code: str
    community: str
    group: str
    has_sat: bool
    has_print: bool
    on: date
    is_exact: bool
    source: str
    is_outside: bool
    is_cut: bool
    also: tuple[str, ...]
    spoke: tuple[str, ...]
    only_through: int
    wave: int
    opened: str
    is_doubled: bool


def facts(drawn: Drawn, known: Mapping[str, Known], groups: Mapping[str, str]) -> list[Fact]:
    """Give one row for every person of a drawing, from the top. O(n + links)."""
    web = drawn.web
    again: dict[tuple[str, Kind], list[str]] = {}
    for link in web.links:
        if link.kind in (Kind.FURTHER, Kind.SPOKE_FOR):
            again.setdefault((link.person, link.kind), []).append(link.introducer)
    opened: dict[str, str] = {}
    for code in web.reached:
        opened.setdefault(known[code].community, code)
    rows = in_rows(web, drawn.only)
    shown = {row.code for row in rows}
    doubled = set(drawn.groups[SHAPES:])
    found = []
    for row in rows:
        if row.is_outside:
            continue
        one, mine = web.reached[row.code], known[row.code]
        found.append(
            Fact(
                code=row.code,
                community=mine.community,
                group=groups.get(mine.community, ""),
                has_sat=mine.has_sat,
                has_print=mine.has_print,
                on=one.on,
                is_exact=one.is_exact,
                source=one.source,
                is_outside=one.first in web.outside,
                is_cut=one.source not in (ARTIST, WITHHELD) and one.source not in shown,
                also=tuple(again.get((row.code, Kind.FURTHER), ())),
                spoke=tuple(again.get((row.code, Kind.SPOKE_FOR), ())),
                only_through=web.hanging.get(row.code, 0),
                wave=one.wave,
                opened=groups.get(mine.community, "") if opened[mine.community] == row.code else "",
                is_doubled=mine.community in doubled,
            )
        )
    return found
