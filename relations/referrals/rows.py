"""Whoever is drawn in rows, depth first, so that no line need ever cross another."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from .graph import ARTIST, Reached, Web


@dataclass(slots=True)
class Row:
    """One row before it is placed: `above` and `root` are numbers of rows, `above` is -1 at a root.

    `people` counts everybody who hangs under it in the drawing, and the row's own person.
    A row of somebody outside stands for a label, not for a person; `on` is then the first day on
    which they told us of somebody here.
    """

    code: str
    on: date
    above: int
    root: int
    people: int
    is_outside: bool
    is_withheld: bool


def in_rows(web: Web, only: Collection[str] | None = None) -> list[Row]:
    """Everybody reached, or `only` some, as rows; beginnings in the order of their days.

    Whoever has fewer people behind them comes first, then the latest: trunks are shortest so (less
    than half of what they are with the earliest first). Whoever was told of by somebody who is
    left out is a beginning of their own here. O(n log n). Source: introductions.md 3.
    """
    chosen, above, people = _counted(web, only)
    days = {code: web.reached[code].on for code in chosen}
    below = _below(chosen, above, days, web.outside)
    for head, codes in below.items():
        if head != ARTIST:
            codes.sort(key=lambda code: (people[code], -days[code].toordinal()))
    below[ARTIST].sort(key=lambda code: days[code])
    return _depth_first(below, above, people, days, web.reached)


def most(web: Web, only: Collection[str] | None, count: int) -> set[str]:
    """Of all, or of `only` some, so many behind whom most people stand, whoever told of them too.

    Each introducer has more behind them than whom they told of, so that nobody among these is cut
    off from theirs; of equals, who was reached first.
    """
    chosen, _, people = _counted(web, only)
    return set(sorted(chosen, key=lambda code: -people[code])[:count])


def _counted(
    web: Web, only: Collection[str] | None
) -> tuple[list[str], dict[str, str], Counter[str]]:
    """Who is chosen, in the order of being reached; who stands above each; how many hang there."""
    chosen = [code for code in web.reached if only is None or code in only]
    inside, above = set(chosen), dict[str, str]()
    for code in chosen:
        first = web.reached[code].first
        if first in inside or first in web.outside:
            above[code] = first
    people = Counter(chosen)
    for code in reversed(chosen):
        if code in above:
            people[above[code]] += people[code]
    return chosen, above, people


def _below(
    chosen: Sequence[str],
    above: Mapping[str, str],
    days: dict[str, date],
    outside: Collection[str],
) -> dict[str, list[str]]:
    """Who stands under whom, all beginnings under the artist; who is outside gets a day."""
    below: dict[str, list[str]] = {ARTIST: []}
    for code in chosen:
        head = above.get(code, ARTIST)
        if head in outside and head not in below:
            below[ARTIST].append(head)
            days[head] = days[code]
        below.setdefault(head, []).append(code)
    return below


def _depth_first(
    below: Mapping[str, Sequence[str]],
    above: Mapping[str, str],
    people: Mapping[str, int],
    days: Mapping[str, date],
    reached: Mapping[str, Reached],
) -> list[Row]:
    rows: list[Row] = []
    places: dict[str, int] = {}
    waiting = list(reversed(below[ARTIST]))
    while waiting:
        code = waiting.pop()
        place = places[code] = len(rows)
        head = places[above[code]] if code in above else -1
        one = reached.get(code)
        is_withheld = one is not None and one.is_withheld
        root = place if head < 0 else rows[head].root
        rows.append(Row(code, days[code], head, root, people[code], one is None, is_withheld))
        waiting.extend(reversed(below.get(code, ())))
    return rows
