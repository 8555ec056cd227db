"""The spot sheet's rows, asked of the rule itself: what each way of giving needs, and doubts."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from relations.meetings.helping import NO_INTERPRETER, NO_WITNESS

from .completeness import (
    Authority,
    Doubt,
    Giving,
    Guardian,
    Missing,
    Way,
    complete,
    doubtful,
)


class Ask(StrEnum):
    """Whether a line is asked of a way of giving."""

    ALWAYS = "always"
    SOMETIMES = "if"
    NEVER = ""


# What brings further lines, as `Giving` names it, and the label that says so on the sheet.
CONDITIONS: Mapping[str, Mapping[str, bool]] = {
    "if_not_reading": {"can_read": False},
    "if_interpreter": {"interpreter_used": True},
    "if_child": {"is_child": True},
}
_DAY = date(2000, 1, 1)  # any day: that there was a second talk is all the rule asks


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the sheet: its code, one cell a way of giving, the conditions that bring it."""

    code: str
    key: str
    cells: tuple[Ask, ...]
    conditions: tuple[str, ...]


def _nothing_there(way: Way, **facts: bool) -> Giving:
    """A form given in some way on which nothing is there and everybody is tied."""
    return Giving(
        way,
        can_read=facts.get("can_read", True),
        interpreter_used=facts.get("interpreter_used", False),
        is_child=facts.get("is_child", False),
        witness="somebody",
        witness_ties=NO_WITNESS,
        interpreter_ties=NO_INTERPRETER,
        second_talk_on=_DAY,
        guardians=(Guardian(Authority.OTHER),),
    )


def missing() -> tuple[Row, ...]:
    """The lines that must be there, in the order in which the rule names them."""
    return _rows("missing_", Missing, complete)


def doubts() -> tuple[Row, ...]:
    """What makes a form doubtful, in the order in which the rule names it."""
    return _rows("doubt_", Doubt, doubtful)


def _rows(
    prefix: str, codes: Iterable[StrEnum], rule: Callable[[Giving], tuple[StrEnum, ...]]
) -> tuple[Row, ...]:
    always = {way: rule(_nothing_there(way)) for way in Way}
    under = {
        name: {way: rule(_nothing_there(way, **facts)) for way in Way}
        for name, facts in CONDITIONS.items()
    }

    def cell(code: StrEnum, way: Way) -> Ask:
        if code in always[way]:
            return Ask.ALWAYS
        found = any(code in asked[way] for asked in under.values())
        return Ask.SOMETIMES if found else Ask.NEVER

    def brings(code: StrEnum, name: str) -> bool:
        return any(code in under[name][way] and code not in always[way] for way in Way)

    return tuple(
        Row(
            code=code,
            key=prefix + code,
            cells=tuple(cell(code, way) for way in Way),
            conditions=tuple(name for name in CONDITIONS if brings(code, name)),
        )
        for code in codes
    )
