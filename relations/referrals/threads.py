"""How far each group was reached against what was hoped for, what is open, and whom to thank."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from relations.people.values import Standing

from .graph import ARTIST, WITHHELD, Kind, Link
from .values import Known

# Those of whom nothing is asked any more, and who are not rung, not even to be thanked.
SILENT = frozenset({Standing.SAID_NO, Standing.NEVER_RING, Standing.LET_GO, Standing.CLOSED})


@dataclass(frozen=True, slots=True)
class Group:
    """One group as it was reached: people, but for `hoped_for`, which is None where nobody said.

    `of_told` and `of_sat` are its shares, 0 to 1, of everybody told of and of everybody who sat.
    `community` is "" for those of whom no group is known.
    """

    community: str
    hoped_for: int | None
    told: int
    asked: int
    met: int
    sat: int
    in_hand: int
    said_no: int
    of_told: float
    of_sat: float

    @property
    def missing(self) -> int | None:
        """How many sitters are missing to what was hoped for; None where nobody said."""
        return None if self.hoped_for is None else max(self.hoped_for - self.sat, 0)


class Rule(StrEnum):
    """The rule that puts somebody among the open threads; in the order in which they stand."""

    PRINT_OWED = "print_owed"
    NOT_MET = "not_met"
    NOT_ASKED = "not_asked"


@dataclass(frozen=True, slots=True)
class Thread:
    """Something open with one person, the rule that says so, and since when it is open."""

    rule: Rule
    code: str
    community: str
    since: date | None


@dataclass(frozen=True, slots=True)
class Threads:
    """All that is open, by rule and then oldest first; `held` are left out until looked at."""

    open: tuple[Thread, ...]
    held: int


@dataclass(frozen=True, slots=True)
class Thanks:
    """Whoever told us of `people` who sat since they were last thanked, never if `last` is None."""

    introducer: str
    people: tuple[str, ...]
    last: date | None


def reach(
    known: Iterable[Known], told_of: Iterable[str], hopes: Mapping[str, int | None]
) -> tuple[Group, ...]:
    """Count each group of `hopes`, in its order, then those of no known group if there are any.

    `told_of`: codes of everybody whom somebody told us of; the artist's own starts are not in it.
    The share of those who sat is F5 of the job; for the artist's eye only.
    """
    everybody, heard = list(known), set(told_of)
    of = defaultdict(list)
    for one in everybody:
        of[one.community].append(one)
    all_told = sum(one.code in heard for one in everybody)
    all_sat = sum(one.has_sat for one in everybody)
    keys = [*hopes, *([""] if of[""] else [])]
    return tuple(_group(key, hopes.get(key), of[key], heard, all_told, all_sat) for key in keys)


def _group(
    key: str, hoped_for: int | None, people: list[Known], heard: set[str], told: int, sat: int
) -> Group:
    own_told = sum(one.code in heard for one in people)
    own_sat = sum(one.has_sat for one in people)
    return Group(
        community=key,
        hoped_for=hoped_for,
        told=own_told,
        asked=sum(one.was_asked for one in people),
        met=sum(one.was_met for one in people),
        sat=own_sat,
        in_hand=sum(one.has_print for one in people),
        said_no=sum(one.said_no for one in people),
        of_told=own_told / told if told else 0.0,
        of_sat=own_sat / sat if sat else 0.0,
    )


def threads(known: Iterable[Known], groups: Iterable[Group], links: Iterable[Link]) -> Threads:
    """Say what is open with whom; plain rules, no score. Source: introductions.md 1.6.

    A print that is owed; somebody who was asked and not met; a sitter who told us of nobody and
    was never asked to. The last two only where a group has fewer sitters than were hoped for:
    where nobody said how many, nothing is missing. Whoever wants no more of us is in none.
    """
    wanting = {group.community for group in groups if group.missing}
    telling = {link.introducer for link in links}
    found = [
        (thread, one.is_held)
        for one in known
        if one.standing not in SILENT
        for thread in _open(one, one.community in wanting, one.code in telling)
    ]
    rules = list(Rule)
    in_order = sorted(
        (thread for thread, is_held in found if not is_held),
        key=lambda it: (rules.index(it.rule), it.since or date.max, it.code),
    )
    return Threads(tuple(in_order), sum(is_held for _, is_held in found))


def _open(one: Known, is_wanting: bool, has_told: bool) -> Iterable[Thread]:
    if one.owes_print:
        yield Thread(Rule.PRINT_OWED, one.code, one.community, one.sat_on)
    if not is_wanting:
        return
    if one.was_asked and not one.was_met:
        yield Thread(Rule.NOT_MET, one.code, one.community, one.since)
    takes_part = one.has_sat and one.standing is Standing.TAKING_PART
    if takes_part and not has_told and one.asked_to_tell_on is None:
        yield Thread(Rule.NOT_ASKED, one.code, one.community, one.sat_on)


def to_thank(
    links: Iterable[Link], known: Mapping[str, Known], last: Mapping[str, date | None]
) -> tuple[Thanks, ...]:
    """Name those who told us of, or spoke for, people who sat since they were last thanked.

    Most people first, then by code. `last`: when each of those outside was last thanked. What
    came too early is not counted, nor is a sitting without a day once somebody was thanked.
    """
    people: dict[str, set[str]] = defaultdict(set)
    before: dict[str, date | None] = {}
    for link in links:
        if link.kind is Kind.TOO_EARLY or link.introducer in (ARTIST, WITHHELD):
            continue
        introducer, one = known.get(link.introducer), known.get(link.person)
        if introducer and (introducer.standing in SILENT or introducer.is_held):
            continue
        before[link.introducer] = introducer.thanked_on if introducer else last[link.introducer]
        if one and one.has_sat and _since(before[link.introducer], one.sat_on, link.on):
            people[link.introducer].add(one.code)
    found = (Thanks(code, tuple(sorted(who)), before[code]) for code, who in people.items())
    return tuple(sorted(found, key=lambda thanks: (-len(thanks.people), thanks.introducer)))


def _since(thanked_on: date | None, sat_on: date | None, heard_on: date) -> bool:
    """Whether what they are to be thanked for came after they were last thanked."""
    if thanked_on is None:
        return True
    return sat_on is not None and max(sat_on, heard_on) > thanked_on
