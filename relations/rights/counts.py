"""What a table of counts for funders may say: small numbers hidden so that nobody works them out.

Source: job.md F13, with the thresholds and the audit of checks.md 8. One-way tables only: a table
of groups by half-years would give back by subtraction what a table of groups hides.

Whoever knows this rule and reads the whole table still finds for each small number five values, or
all of its own words where those are fewer: what is hidden beside it, and how coarse the total is,
depends on nothing but what is printed. `tests/rights/test_counts.py` goes through every small table
to see that.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

# The least number that is shown; and the least of a group that holds a person at grave risk.
LEAST, LEAST_GRAVE = 5, 10
# What totals are rounded down to, by how much a number moves before it is said anew, and how many
# values a small one is left.
STEP = 5
# Where nothing bounds a number.
FAR = 10**9


class Kind(StrEnum):
    """How a number is said: itself, as less than a number, rounded down, or not at all."""

    NUMBER = "number"
    UNDER = "under"
    ABOUT = "about"
    NOT_SHOWN = "not_shown"


@dataclass(frozen=True, slots=True)
class Cell:
    """One row that was counted: `count` people under `key`, shown from `least` on.

    `hides_zero` where also nobody would say something about a group at risk.
    """

    key: str
    count: int
    least: int = LEAST
    hides_zero: bool = False

    @property
    def is_small(self) -> bool:
        """Whether the number must not be learnt."""
        return alone(self.count, least=self.least, hides_zero=self.hides_zero) is None


@dataclass(frozen=True, slots=True)
class Said:
    """One number as it is said; `low` to `high` is what its reader may take it for.

    `number` is the number itself, the one it is under, or the one it is about; 0 if not shown.
    `is_kept` where it stands as it was said last time.
    """

    kind: Kind
    number: int = 0
    low: int = 0
    high: int = FAR
    is_kept: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table as it is said: its rows by key, in their order, and its total.

    `basis` is the total that was counted when `total` was first said in this way, `anchor` the sum
    of what was shown then, modulo five: where the steps of the total lie among what is hidden.
    """

    rows: Mapping[str, Said]
    total: Said
    basis: int
    anchor: int

    @property
    def hidden(self) -> set[str]:
        """The keys of the rows whose number is not given."""
        return {key for key, said in self.rows.items() if said.kind is not Kind.NUMBER}


@dataclass(frozen=True, slots=True)
class Span:
    """Whole numbers from `low` to `high`, both included; none where `high` is below."""

    low: int
    high: int

    @property
    def size(self) -> int:
        """How many numbers lie in it."""
        return self.high - self.low + 1


def alone(
    count: int, *, least: int = LEAST, nearest: int = 1, hides_zero: bool = False
) -> int | None:
    """Say one number by itself, rounded to the `nearest` multiple; None where it is hidden.

    With other parameters these are the thresholds of public offices: checks.md 8.
    """
    if (0 < count < least) or (count == 0 and hides_zero):
        return None
    return nearest * ((2 * count + nearest) // (2 * nearest))


def table(cells: Sequence[Cell], last: Table | None = None) -> Table:
    """Say a one-way table, given what was `last` said of the same rows.

    Hidden is every number from one to `least` - 1, and zero where it says something. Where one is
    hidden alone, or all hidden ones are under five together, the next smallest is not shown. The
    total is rounded down to a multiple of five, to a lower one where it would tell too much. A
    number is said anew only where it moved by five at least: else it stands as last time.
    Raises ValueError for two rows of one key or a count below zero. Source: job.md F13.
    """
    if len({cell.key for cell in cells}) < len(cells) or any(cell.count < 0 for cell in cells):
        raise ValueError("a row is counted once, from zero up")
    before = last.rows if last else {}
    rows = {cell.key: _said(cell, before.get(cell.key)) for cell in cells}
    beside, together = _beside(cells, rows, before)
    hidden = _Hidden({**rows, **beside}, together)
    return _with_total({**rows, **beside}, hidden, sum(cell.count for cell in cells), last)


def may_stand_together(few: Table, many: Table) -> bool:
    """Whether one report may hold both tables, where all in `few` are counted in `many` too.

    The one total is then no larger than the other, which could cut a step of either smaller.
    """
    least, most = max(few.total.low, _sum(few.rows.values()).low), _sum(many.rows.values()).high
    return _is_open_within(few, Span(0, min(many.total.high, most))) and _is_open_within(
        many, Span(least, FAR)
    )


def _is_open_within(told: Table, known: Span) -> bool:
    """Whether everything is open in a table whose total is known from elsewhere too."""
    under = _sum(said for said in told.rows.values() if said.kind is Kind.UNDER)
    hidden = _Hidden(told.rows, under)
    shown = sum(said.number for said in told.rows.values() if said.kind is Kind.NUMBER)
    low, high = max(told.total.low, known.low), min(told.total.high, known.high)
    return hidden.is_open_at(Span(low - shown, high - shown))


def _said(cell: Cell, old: Said | None) -> Said:
    """Say one row, as last time unless all that it meant and now would mean are five apart."""
    if cell.is_small:
        new = Said(Kind.UNDER, cell.least, 0 if cell.hides_zero else 1, cell.least - 1)
    else:
        new = Said(Kind.NUMBER, cell.count, cell.count, cell.count)
    if old is None or max(old.low - new.high, new.low - old.high) >= STEP:
        return new
    # What is hidden beside others was large enough to be; by now it may be anything less.
    low = 0 if old.kind is Kind.NOT_SHOWN else old.low
    return replace(old, low=low, is_kept=True)


def _beside(
    cells: Sequence[Cell], rows: Mapping[str, Said], before: Mapping[str, Said]
) -> tuple[dict[str, Said], Span]:
    """The number that is hidden beside the small ones, if any; and what they come to together.

    That another is hidden tells that they are under five together, or that they are not. Where
    this would leave one of them too few values, another is hidden whatever they come to.
    """
    under = [said for said in rows.values() if said.kind is Kind.UNDER]
    anyhow = Span(sum(said.low for said in under), sum(said.high for said in under))
    shown = [cell for cell in cells if rows[cell.key].kind is Kind.NUMBER and cell.count]
    shown = [cell for cell in shown if not cell.is_small]
    if not under or not shown or any(said.kind is Kind.NOT_SHOWN for said in rows.values()):
        return {}, anyhow
    few, many = Span(anyhow.low, LEAST - 1), Span(LEAST, anyhow.high)
    is_open = all(_Hidden(rows, anyhow).is_open(told) for told in (few, many) if told.size > 0)
    is_few = sum(cell.count for cell in cells if rows[cell.key].kind is Kind.UNDER) < LEAST
    told = (few if is_few else many) if len(under) > 1 and is_open else anyhow
    if told is many:
        return {}, told
    # Who has a number from last time takes it for that: it hides little, so it comes last.
    known = {key for key, said in before.items() if said.kind is Kind.NUMBER}
    found = min(shown, key=lambda cell: (cell.key in known, cell.count))
    if found.key in known:
        number = before[found.key].number
        return {found.key: Said(Kind.NOT_SHOWN, 0, number, number)}, told
    place = cells.index(found)
    most = min(
        (
            cell.count - (cells.index(cell) < place)
            for cell in shown
            if cell is not found and cell.key not in known
        ),
        default=FAR,
    )
    return {found.key: Said(Kind.NOT_SHOWN, 0, found.least, most)}, told


class _Hidden:
    """What is hidden in a table, as its reader takes it: the small ones, and what is beside them.

    `together` is what the small ones come to.
    """

    def __init__(self, rows: Mapping[str, Said], together: Span) -> None:
        self.under = [said for said in rows.values() if said.kind is Kind.UNDER]
        self.others = [said for said in rows.values() if said.kind is Kind.NOT_SHOWN]
        self.all, self.beside = _sum(self.under), _sum(self.others)
        self.together = together
        self.span = Span(together.low + self.beside.low, together.high + self.beside.high)

    def is_open(self, small: Span) -> bool:
        """Whether all small ones are open, where together they come to a number of `small`."""
        return all(_is_open(said, self.all, small) for said in self.under)

    def is_open_at(self, step: Span) -> bool:
        """Whether everything is open, where all that is hidden comes to a number of `step`."""
        low = max(self.together.low, step.low - self.beside.high)
        small = Span(low, min(self.together.high, step.high - self.beside.low))
        other = Span(step.low - self.together.high, step.high - self.together.low)
        return self.is_open(small) and all(
            _is_open(said, self.beside, other) for said in self.others
        )

    def step(self, count: int, anchor: int) -> Span:
        """The step in which `count`, all that is hidden, lies; in each everything is open.

        Steps end where the total passes a multiple of five, or a later one. Where they end is told
        by what is printed alone, so that no step tells more than that it is this one.
        """
        found: list[Span] = []
        low = self.span.low
        while low <= self.span.high and (len(found) < 2 or found[-2].high < count):
            high = low + STEP - 1 - (low + anchor) % STEP
            while high < self.span.high and not self.is_open_at(Span(low, high)):
                high += STEP
            found.append(Span(low, min(high, self.span.high)))
            low = found[-1].high + 1
        if len(found) > 1 and not self.is_open_at(found[-1]):
            found[-2:] = [Span(found[-2].low, found[-1].high)]
        return next(step for step in found if step.high >= count)


def _is_open(said: Said, all_of_them: Span, told: Span) -> bool:
    """Whether one of several is left five values, or all of its own where they are fewer.

    Together they come to a number of `told`, and by their own words to one of `all_of_them`.
    """
    low = max(said.low, told.low - (all_of_them.high - said.high))
    high = min(said.high, told.high - (all_of_them.low - said.low))
    return high - low + 1 >= min(STEP, said.high - said.low + 1)


def _with_total(rows: Mapping[str, Said], hidden: _Hidden, count: int, last: Table | None) -> Table:
    """Add the total: as last time while it is within four of what was counted then.

    The steps of the total stay where they were as long as the same rows are hidden: others would
    cut them smaller.
    """
    shown = sum(said.number for said in rows.values() if said.kind is Kind.NUMBER)
    now = {key for key, said in rows.items() if said.kind is not Kind.NUMBER}
    anchor = last.anchor if last and last.hidden == now else shown % STEP
    if last and last.total.kind is not Kind.NOT_SHOWN and abs(count - last.basis) < STEP:
        total = _kept(last.total)
        told = Span(total.low - shown, total.high - shown)
        if not hidden.is_open_at(told):
            total = Said(Kind.NOT_SHOWN)
        return Table(rows, total, last.basis, anchor)
    left = count - shown
    fits = min(max(left, hidden.span.low), hidden.span.high)
    step, moved = hidden.step(fits, anchor), shown + left - fits
    return Table(rows, _about(Span(step.low + moved, step.high + moved)), count, anchor)


def _kept(total: Said) -> Said:
    """A total as last time; whoever knows the rule knows that it may have moved by four."""
    moved = 0 if total.is_kept else STEP - 1
    return replace(total, low=max(0, total.low - moved), high=total.high + moved, is_kept=True)


def _about(told: Span) -> Said:
    """Say a total rounded down to a multiple of five; a small one only as under the next."""
    floor = told.low - told.low % STEP
    if floor <= 0:
        return Said(Kind.UNDER, told.high - told.high % STEP + STEP, max(0, told.low), told.high)
    return Said(Kind.ABOUT, floor, told.low, told.high)


def _sum(many: Iterable[Said]) -> Span:
    found = list(many)
    return Span(sum(said.low for said in found), sum(said.high for said in found))
