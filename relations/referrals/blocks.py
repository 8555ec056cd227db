"""The share drawing as numbers: groups by half-years in blocks of at least five people.

No number that leaves the house says fewer than five people, nor does what is left when one drawing
is taken from the next. Three things see to that. A block, once drawn, is never cut up or moved: it
stays as it is, grows at its ends, or has new ones beside it. Groups that were joined stay joined
for all that was said. And a number stays as it was said until five people have come or gone.
Sources: introductions.md 4; cell thresholds of 3 or 5: OECD glossary 7010, SDC Handbook ch. 5.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from .said import NOTHING, Block, Row, Said

K = 5  # the fewest people that a number may speak of
FEWEST = 30  # people, under which nothing but a rounded total is said

# How many people of a group (its key, "" for none) were reached in a half-year.
Counts = Mapping[tuple[str, int], int]
Halves = Mapping[int, int]
Rows = Sequence[Row]


def down(number: int, k: int = K) -> int:
    """Round down to a multiple of `k`."""
    return number - number % k


def say(
    counts: Counts, before: Said = NOTHING, *, within: int = 0, across: int = 0, k: int = K
) -> Said:
    """Say what may leave the house now, `before` being what was said last.

    Under 30 people only a rounded total is said, until blocks have been said once.
    """
    people = sum(counts.values())
    if people < FEWEST and not before.rows:
        return Said(about=down(people, k))
    rows = tuple(sorted(_rows(counts, before.rows, k), key=_place))
    if rows == before.rows:
        return before  # a rounded number that steps up alone would tell that somebody came
    return Said(rows, within=down(within, k), across=down(across, k))


def held(said: int, true: int, k: int = K) -> int:
    """Give the number to say: the old one until `true` is `k` away, and never 1 to `k` - 1."""
    if abs(true - said) < k:
        return said
    return true if true >= k else 0


def _place(row: Row) -> tuple[bool, int, tuple[str, ...]]:
    """In the order of opening, and what is joined last."""
    return row.is_joined, row.blocks[0].first, row.groups


def _rows(counts: Counts, before: Rows, k: int) -> Rows:
    """Let the rows grow and shrink, but so that no union of blocks moves by less than `k`.

    What came and what left at once could leave 1 to 4 between them. Then only the greater of both
    is said, and the other the next time.
    """
    grown, shrunk = _grown(counts, before, k), _shrunk(counts, before, k)
    rises, falls = _moves(before, grown), _moves(shrunk, before)
    if _is_apart(rises, falls, k):
        return _both(before, grown, shrunk)
    return grown if sum(rises) >= sum(falls) else shrunk


def _moves(before: Rows, after: Rows) -> list[int]:
    """By how much each block says more than those within it did."""
    old = {row.name: row for row in before}
    found = []
    for row in after:
        was = old.get(row.name, Row(row.groups))
        found += [block.count - _inside(was, block) for block in row.blocks]
    return [rise for rise in found if rise]


def _inside(row: Row, block: Block) -> int:
    """How many the blocks of a row say that lie within this one."""
    within = (one for one in row.blocks if block.first <= one.first and one.last <= block.last)
    return sum(one.count for one in within)


def _is_apart(rises: Iterable[int], falls: Iterable[int], k: int) -> bool:
    """Whether no rises together are within 1 to `k` - 1 of any falls together."""
    up, fell = _sums(rises), _sums(falls)
    return not any((up >> step) & fell or (fell >> step) & up for step in range(1, k))


def _sums(numbers: Iterable[int]) -> int:
    """Every sum of some of the numbers, as bits."""
    bits = 1
    for number in numbers:
        bits |= bits << number
    return bits


def _both(before: Rows, grown: Rows, shrunk: Rows) -> Rows:
    """The grown rows, with the blocks that shrank in them; none of these has grown."""
    less = {
        (row.name, now.first): now.count
        for row, one in zip(before, shrunk, strict=True)
        for was, now in zip(row.blocks, one.blocks, strict=True)
        if now.count < was.count
    }
    found = []
    for row in grown:
        counts = (less.get((row.name, block.first), block.count) for block in row.blocks)
        blocks = (replace(one, count=n) for one, n in zip(row.blocks, counts, strict=True))
        found.append(replace(row, blocks=tuple(blocks)))
    return found


def _shrunk(counts: Counts, before: Rows, k: int) -> Rows:
    """Let go of those who left, where they were at least `k` in a block."""
    found = []
    for row, halves in zip(before, _halves(counts, before), strict=True):
        less = (min(one.count, held(one.count, _sum(halves, one), k)) for one in row.blocks)
        blocks = (replace(one, count=n) for one, n in zip(row.blocks, less, strict=True))
        found.append(replace(row, blocks=tuple(blocks)))
    return found


def _sum(halves: Halves, block: Block) -> int:
    return sum(people for half, people in halves.items() if block.first <= half <= block.last)


def _halves(counts: Counts, rows: Rows) -> list[Counter[int]]:
    """Give for each row its people by half-years: each person counts in one row or in none."""
    alone = {row.groups[0]: number for number, row in enumerate(rows) if row.since}
    shared = {
        group: number for number, row in enumerate(rows) if not row.since for group in row.groups
    }
    found: list[Counter[int]] = [Counter() for _ in rows]
    for (group, half), people in counts.items():
        number = alone.get(group)
        if number is None or half < rows[number].since:
            number = shared.get(group)
        if number is not None and people:
            found[number][half] += people
    return found


def _grown(counts: Counts, before: Rows, k: int) -> Rows:
    """Let all rows grow, and add a row for each group that has come to `k` people."""
    fresh = _fresh(counts, before)
    rows = [*before, *_parted(counts, before, k)]
    rows += [Row((group,)) for group, people in sorted(fresh.items()) if people >= k]
    rows = _joined(counts, rows, sorted(g for g, people in fresh.items() if people < k), k)
    return [_grow(row, halves, k) for row, halves in zip(rows, _halves(counts, rows), strict=True)]


def _fresh(counts: Counts, rows: Rows) -> Counter[str]:
    """How many people each group has that stands in no row yet."""
    known = {group for row in rows for group in row.groups}
    found: Counter[str] = Counter()
    for (group, _), people in counts.items():
        if group not in known:
            found[group] += people
    return +found


def _parted(counts: Counts, rows: Rows, k: int) -> Rows:
    """Let a joined group stand alone from now on, where `k` came after all that was said of it."""
    alone = {row.groups[0] for row in rows if row.since}
    found = []
    for joined in filter(lambda row: row.is_joined, rows):
        since = joined.blocks[-1].last + 1
        came: Counter[str] = Counter()
        for (group, half), people in counts.items():
            if group in joined.groups and half >= since and group not in alone:
                came[group] += people
        found += [Row((group,), since=since) for group, n in sorted(came.items()) if n >= k]
    return found


def _joined(counts: Counts, rows: list[Row], small: Sequence[str], k: int) -> list[Row]:
    """Join the small new groups; with the smallest row, where they are too few even together.

    Once something was said they rather wait until they are enough: nothing follows from that.
    """
    if not small:
        return rows
    is_enough = sum(people for (group, _), people in counts.items() if group in small) >= k
    into = next((row for row in rows if row.is_joined), None)
    if into is None and is_enough:
        return [*rows, Row(tuple(small))]
    if into is None and not any(row.blocks for row in rows):
        sizes = [halves.total() for halves in _halves(counts, rows)]
        into = rows[sizes.index(min(sizes))]
    elif into is None or not is_enough:
        return rows
    return [replace(row, groups=(*row.groups, *small)) if row is into else row for row in rows]


def _grow(row: Row, halves: Halves, k: int) -> Row:
    """Let the blocks of a row grow, and add new ones after the last and before the first."""
    if not row.blocks:
        return replace(row, blocks=tuple(_tiled(halves, min(halves), max(halves), k)))
    blocks = [replace(b, count=max(b.count, held(b.count, _sum(halves, b), k))) for b in row.blocks]
    start, end = min(halves, default=blocks[0].first), max(halves, default=blocks[-1].last)
    more = _tiled(halves, blocks[-1].last + 1, end, k)
    if end > blocks[-1].last and not more:
        longer = replace(row.blocks[-1], last=end)
        blocks[-1] = _longer(row.blocks[-1], blocks[-1], longer, halves, k)
    less = _tiled(halves, start, blocks[0].first - 1, k)
    if start < blocks[0].first and not less:
        longer = replace(blocks[0], first=start)
        blocks[0] = _longer(row.blocks[0], blocks[0], longer, halves, k)
    return replace(row, blocks=(*less, *blocks, *more))


def _longer(was: Block, now: Block, longer: Block, halves: Halves, k: int) -> Block:
    """Give the longer block where it says `k` more than it `was`, else the one of now."""
    count = _sum(halves, longer)
    return replace(longer, count=count) if count >= was.count + k else now


def _tiled(halves: Halves, start: int, end: int, k: int) -> list[Block]:
    """Cut a time into blocks of at least `k`; what is left over joins the last one.

    A time with fewer than `k` in all gives none.
    """
    found: list[Block] = []
    since, count = start, 0
    for half in range(start, end + 1):
        count += halves.get(half, 0)
        if count >= k:
            found.append(Block(since, half, count))
            since, count = half + 1, 0
    if found and since <= end:
        found[-1] = replace(found[-1], last=end, count=found[-1].count + count)
    return found
