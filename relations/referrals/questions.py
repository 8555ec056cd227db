"""What the web of introductions leaves open: asked, with what would settle it, never guessed."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from relations.people.values import Precision, Refusal

from .graph import WITHHELD, Kind, Reached, Web


class Ask(StrEnum):
    """What is not known of one word that came through."""

    NEVER_REACHED = "never_reached"  # who told us was never reached themselves
    TOO_EARLY = "too_early"  # who told us was reached only later
    HAS_NOT_SAT = "has_not_sat"  # nobody who has sat vouches for a name
    SEALED = "sealed"  # who told us of a name is sealed, so that nobody can vouch for it
    ORDER = "order"  # only the month or year is known, and on it hangs what came first


@dataclass(frozen=True, slots=True)
class Hearing:
    """One word as it is kept: `key` finds its row, `first` and `last` are the days it may be of.

    `source` is a code, ARTIST or WITHHELD.
    """

    key: str
    person: str
    source: str
    first: date
    last: date
    precision: Precision = Precision.DAY


@dataclass(frozen=True, slots=True)
class Question:
    """One thing that is open: about which word, and on which day who told us was reached."""

    ask: Ask
    hearing: Hearing
    reached_on: date | None = None


def questions(
    web: Web, hearings: Iterable[Hearing], refused: Mapping[str, Iterable[Refusal]]
) -> list[Question]:
    """Everything that is open, by the order of `Ask`, then by day and code.

    `refused` gives, by the key of each hearing of whoever is only named, why that word cannot be
    vouched for; of a person with one word that can be, or was not refused for want of sitting,
    nothing is asked.
    Source: introductions.md 0 ("a question to the artist; never guessed").
    """
    heard = list(hearings)
    found = [
        *_too_early(web, heard),
        *_unvouched(heard, refused),
        *_order_assumed(web.reached, heard),
    ]
    order = list(Ask)
    return sorted(found, key=lambda one: (order.index(one.ask), one.hearing.first, one.hearing.key))


def _too_early(web: Web, heard: list[Hearing]) -> Iterable[Question]:
    early = {(link.person, link.introducer) for link in web.links if link.kind is Kind.TOO_EARLY}
    for one in heard:
        told = web.reached.get(one.source)
        # Reached within the month or year of the word: only the order is open.
        may_be_in_time = told is not None and told.on <= one.last
        if (one.person, one.source) in early and not may_be_in_time:
            ask = Ask.TOO_EARLY if told else Ask.NEVER_REACHED
            yield Question(ask, one, told.on if told else None)


def _unvouched(
    heard: list[Hearing], refused: Mapping[str, Iterable[Refusal]]
) -> Iterable[Question]:
    of_person: dict[str, list[Hearing]] = {}
    for one in heard:
        if one.key in refused:
            of_person.setdefault(one.person, []).append(one)
    for theirs in of_person.values():
        named = [one for one in theirs if one.source != WITHHELD]
        if not named:
            yield Question(Ask.SEALED, theirs[-1])
        elif all(Refusal.INTRODUCER_HAS_NOT_SAT in refused[one.key] for one in named):
            yield Question(Ask.HAS_NOT_SAT, named[-1])


def _order_assumed(reached: Mapping[str, Reached], heard: list[Hearing]) -> Iterable[Question]:
    """Words of a month or year in which it is open who came first, or who was known by then."""
    of_person: dict[str, list[Hearing]] = {}
    for one in heard:
        of_person.setdefault(one.person, []).append(one)
    for one in heard:
        if one.first == one.last:
            continue
        others = (other for other in of_person[one.person] if other is not one)
        is_beside = any(one.first <= other.last and other.first <= one.last for other in others)
        told = reached.get(one.source)
        is_known_then = told is not None and one.first <= told.on <= one.last
        if is_beside or is_known_then:
            yield Question(Ask.ORDER, one, told.on if told else None)
