"""How a promise ends that is not kept: they let us off, or it could not be and we say why."""

from datetime import date
from enum import StrEnum


class Otherwise(StrEnum):
    """The two endings beside "kept", which has its day (job.md A 33 and 57)."""

    LET_OFF = "let_off"  # by the one it was made to
    COULD_NOT = "could_not"  # by us


# We may not keep silent about what we did not do; whoever lets us off owes us no reason.
ASKS_WHY = frozenset({Otherwise.COULD_NOT})


def may_end(
    how: Otherwise, *, promised_on: date, on: date, why: str, has_ended: bool
) -> tuple[str, ...]:
    """Give the codes of what stands against ending a promise on a day; () is yes.

    "ended_already": it was kept, or has an ending; "ended_before": on a day before it was made;
    "why": it could not be kept, and no reason is said.
    """
    guards = (
        ("ended_already", has_ended),
        ("ended_before", on < promised_on),
        ("why", how in ASKS_WHY and not why.strip()),
    )
    return tuple(code for code, stands in guards if stands)
