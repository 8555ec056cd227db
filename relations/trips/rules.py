"""The sums of a trip: film, pages and minutes of its pack, and whether all came home again."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import time
from enum import StrEnum

from relations.consent import needs
from relations.consent.states import State

from .values import COUNTS, Counted, How

# For each planned sitting, where nothing else is said; F7 of the job's own formulas.
SHEETS_A_SITTING = 6
SHEETS_A_HOLDER = 2
# Fifteen in a hundred more than planned: for a sitting that goes on, and for a spoilt sheet.
FILM_PERCENT = 115
# Two sides of a form, twice: one for the sitter to keep.
PAGES_A_BLANK = 4
# Minutes kept free before the cut: for paper, a jam, a second look.
MARGIN = 10
PAGES_A_MINUTE = 6
# What lies on top of a pack is for so many days.
FIRST_DAYS = 3
DAY = 24 * 60


def film(planned: int) -> int:
    """Give how many sheets to carry for so many planned ones: ceil(1.15 x planned / 2) x 2.

    Two sheets share a holder, so the number is even. Source: job.md, F7.
    """
    per_holder = 100 * SHEETS_A_HOLDER
    return -(-FILM_PERCENT * planned // per_holder) * SHEETS_A_HOLDER


@dataclass(frozen=True, slots=True)
class Pack:
    """What a pack holds, in sheets of each kind; `lists` the pages of the list of blanks."""

    blanks: int = 0
    sittings: int = 0
    days: int = 0
    rounds: int = 0
    lists: int = 1

    @property
    def forms(self) -> int:
        """The pages of the blanks: two sides, and the sitter's copy of both."""
        return PAGES_A_BLANK * self.blanks

    @property
    def pages(self) -> int:
        """All pages, an explanation beside each blank. Source: job.md, F8."""
        return self.forms + self.blanks + self.sittings + self.days + self.rounds + self.lists


def minutes(pages: int, a_minute: int = PAGES_A_MINUTE) -> int:
    """Give how long so many pages take on a printer of so many pages a minute, at least 1.

    ceil(pages / a_minute) + 1, for the first page to come. Source: job.md, F8.
    """
    return -(-pages // a_minute) + 1


def until(begin: time, cut: time) -> int:
    """Give the minutes from one hour of a day to another; 0 where that is past.

    An hour that lies more than half a day back is one of the night that comes.
    """
    passed = (cut.hour - begin.hour) * 60 + cut.minute - begin.minute
    return passed + DAY if passed < -DAY // 2 else max(passed, 0)


def fits(begin: time, cut: time, pages: int, a_minute: int = PAGES_A_MINUTE) -> bool:
    """Tell whether so many pages are printed ten minutes before the power goes.

    begin + minutes + 10 <= cut. Source: job.md, F8.
    """
    return minutes(pages, a_minute) + MARGIN <= until(begin, cut)


def on_top(blanks: Mapping[str, int], early: Mapping[str, int], days: int) -> dict[str, int]:
    """Give how many blanks of each language lie on top of a pack, for its first three days.

    `blanks` lie there by language, `early` people are expected on those days, of `days` in all.
    At least what those people need (F6), and the days' share of all; never more than there are.
    """
    share = min(FIRST_DAYS, days)
    return {
        lang: min(count, max(needs.blanks(early.get(lang, 0)), -(-count * share // max(days, 1))))
        for lang, count in blanks.items()
    }


class Heap(StrEnum):
    """Where a blank that was signed out can end."""

    HOME = "home"  # filled in and brought home: being read, standing, or what became of it since
    LEFT = "left"  # with a sitter who wants time
    BLANK = "blank"  # brought back with nothing on it
    SPOILT = "spoilt"
    MISSING = "missing"


# Every other state is of a paper that is home with answers on it.
HEAPS: Mapping[State, Heap | None] = {
    **dict.fromkeys(State, Heap.HOME),
    State.PRINTED: None,
    State.CARRIED: None,
    State.FILLED_IN: None,  # answers are on it, and it lies in somebody's bag
    State.LEFT_WITH_THEM: Heap.LEFT,
    State.BROUGHT_BACK_BLANK: Heap.BLANK,
    State.SPOILT: Heap.SPOILT,
    State.MISSING: Heap.MISSING,
    State.WRITTEN_OFF: Heap.MISSING,
}


@dataclass(frozen=True, slots=True)
class Balance:
    """How many blanks went out, how many lie in each heap, and the serials that ask for a hand.

    `unsaid` are those of which nobody has said where they are; `missing` those to be looked for,
    without those that were looked for and written off.
    """

    printed: int
    heaps: Mapping[Heap, int]
    unsaid: tuple[str, ...]
    missing: tuple[str, ...]

    @property
    def is_balanced(self) -> bool:
        """Whether what was printed is what the heaps hold. A missing one balances, and alarms."""
        return self.printed == sum(self.heaps.values())


def balance(papers: Iterable[tuple[str, State]]) -> Balance:
    """Weigh the blanks of a trip, each a serial and its state; F10 of the job's own formulas.

    printed = standing or being read + left with them + brought back blank + spoilt + missing
    (common practice, no source).
    """
    found = sorted(papers)
    heaps = Counter(heap for _, state in found if (heap := HEAPS[state]) is not None)
    return Balance(
        printed=len(found),
        heaps={heap: heaps[heap] for heap in Heap},
        unsaid=tuple(serial for serial, state in found if HEAPS[state] is None),
        missing=tuple(serial for serial, state in found if state is State.MISSING),
    )


# What must be equal: the whole and its parts. Source: job.md, F10 (film, prints) and row 49.
SUMS: Mapping[Counted, tuple[tuple[How, tuple[How, ...]], ...]] = {
    Counted.FILM: (
        (How.TAKEN, (How.EXPOSED, How.UNUSED)),
        (How.EXPOSED, (How.PROCESSED, How.LOST)),
    ),
    Counted.PRINTS: ((How.TAKEN, (How.IN_HAND, How.HANDED_ON, How.KEPT, How.BROUGHT_BACK)),),
    Counted.MONEY: ((How.TAKEN, (How.SPENT, How.BROUGHT_BACK)),),
    Counted.RECORDINGS: ((How.MADE, (How.SEALED, How.DESTROYED)),),
}


@dataclass(frozen=True, slots=True)
class Gap:
    """By how much a whole and its parts differ: above 0 is missing, below 0 too many."""

    whole: How
    number: int


@dataclass(frozen=True, slots=True)
class Tally:
    """What was counted of one thing, and where it does not agree."""

    thing: Counted
    counts: Mapping[How, int]

    @property
    def is_counted(self) -> bool:
        """Whether every heap was counted; what nobody counted is not nothing."""
        return all(how in self.counts for how in COUNTS[self.thing])

    @property
    def gaps(self) -> tuple[Gap, ...]:
        """Each sum that does not come to zero; none where something is not counted yet."""
        if not self.is_counted:
            return ()
        found = (
            Gap(whole, self.counts[whole] - sum(self.counts[part] for part in parts))
            for whole, parts in SUMS[self.thing]
        )
        return tuple(gap for gap in found if gap.number)

    @property
    def is_zero(self) -> bool:
        """Whether all of it was counted and every sum comes to zero."""
        return self.is_counted and not self.gaps


def open_ends(blanks: Balance, tallies: Iterable[Tally], told: Iterable[str]) -> tuple[str, ...]:
    """Name what keeps a trip from being closed; nothing where everything is home (F10).

    `told` are the serials that an alarm names. Codes: "blanks_open", "missing_untold", and of
    each other thing "film_open" and so on.
    """
    found = []
    if not blanks.is_balanced:
        found.append("blanks_open")
    if set(blanks.missing) - set(told):
        found.append("missing_untold")
    found += [f"{tally.thing}_open" for tally in tallies if not tally.is_zero]
    return tuple(found)
