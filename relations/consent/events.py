"""What became of a form, event by event, and what the paper was worth after each."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from .record import Consent
from .values import Use


class Happened(StrEnum):
    """What can become of a form, in the order in which it may on one day."""

    PRINTED = "printed"
    CARRIED = "carried"
    LEFT_WITH_THEM = "left_with_them"
    BROUGHT_BACK_BLANK = "brought_back_blank"
    SPOILT = "spoilt"
    MISSING = "missing"
    GIVEN = "given"
    FILED = "filed"
    READ = "read"
    DOUBTFUL = "doubtful"
    SETTLED = "settled"
    TAKEN_BACK_IN_PART = "taken_back_in_part"
    TAKEN_BACK = "taken_back"
    REPLACED = "replaced"
    ENDED = "ended"
    KEPT_AS_PROOF = "kept_as_proof"
    WRITTEN_OFF = "written_off"
    DESTROYED = "destroyed"


# What the paper is worth after it, where nothing else decides; all others leave it unknown.
_WORTH: Mapping[Happened, Consent] = {
    Happened.PRINTED: Consent.REQUESTED,
    Happened.CARRIED: Consent.REQUESTED,
    Happened.LEFT_WITH_THEM: Consent.REQUEST_DEFERRED,
    Happened.TAKEN_BACK_IN_PART: Consent.WITHDRAWN,
    Happened.TAKEN_BACK: Consent.WITHDRAWN,
    Happened.REPLACED: Consent.EXPIRED,
    Happened.ENDED: Consent.EXPIRED,
}
TAKEN_BACK = (Happened.TAKEN_BACK, Happened.TAKEN_BACK_IN_PART)
ANSWERED = (Happened.GIVEN, Happened.SETTLED)
# Nothing is said anew by these: what was so before stays so.
CHANGES_NOTHING = (Happened.KEPT_AS_PROOF, Happened.DESTROYED)


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that became of a form; `at` is aware, the day's first moment if no hour is known.

    `use` or `picture` (its code) say what was taken back, where it was not everything.
    """

    what: Happened
    at: datetime
    has_hour: bool = True
    use: Use | None = None
    picture: str = ""


def worth(
    events: Iterable[Event], *, is_settled: bool, says_yes: bool
) -> Iterator[tuple[Event, Consent]]:
    """The events in order, each with the one status that the paper as a whole then had.

    By day; on one day in the order of a form's life, since not every hour is known. `is_settled`:
    what was read counts as evidence; before that it is unknown. `says_yes`: to any use.
    """
    state = Consent.UNKNOWN
    for event in sorted(events, key=_order):
        if event.what in ANSWERED and is_settled:
            state = Consent.GIVEN if says_yes else Consent.REFUSED
        elif event.what not in CHANGES_NOTHING:
            state = _WORTH.get(event.what, Consent.UNKNOWN)
        yield event, state


def _order(event: Event) -> tuple[object, ...]:
    life = list(Happened).index(event.what)
    return event.at.date(), life, event.at, event.use or "", event.picture
