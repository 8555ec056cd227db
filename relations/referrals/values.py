"""What the pages and drawings of the introductions know of a person: plain values, by code."""

from dataclasses import dataclass
from datetime import date

from relations.people.values import Risk, Standing


@dataclass(frozen=True, slots=True)
class Person:
    """One person as a mark of the drawing: nothing else of them is ever drawn.

    `community` is the key of their group or "". `label` is what stands beside the mark: the code,
    and the name only where a press opened it.
    """

    code: str
    label: str
    community: str = ""
    has_sat: bool = False
    has_print: bool = False


@dataclass(frozen=True, slots=True)
class Known:
    """What the answers are worked out of beside the web itself: never drawn, never shared.

    `was_asked`: a ring, a message or a visit reached out to them. `was_met`: a meeting was held.
    What is not known is no.
    `since` is the day on which the present standing began. `is_held`: nothing of them moves.
    """

    code: str
    community: str
    standing: Standing
    level: Risk
    has_sat: bool
    has_print: bool
    sat_on: date | None = None
    owes_print: bool = False
    was_asked: bool = False
    was_met: bool = False
    since: date | None = None
    asked_to_tell_on: date | None = None
    thanked_on: date | None = None
    is_held: bool = False

    @property
    def said_no(self) -> bool:
        """Whether they said no, or never, before any sitting."""
        return not self.has_sat and self.standing in (Standing.SAID_NO, Standing.NEVER_RING)
