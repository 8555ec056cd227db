"""All reasons of a weighed selection, put together by what is done next and with whom."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from relations.consent.answers import NEXT_ACTION, Answer, Code, NextAction, Reason, Result

# First what people are met for, then what is done at the desk, then what is left alone.
ORDER = (
    NextAction.TALK,
    NextAction.SHOW_OR_READ,
    NextAction.ASK_WHO_MAY_ANSWER,
    NextAction.FINISH_FORM,
    NextAction.LOOK_AT_PICTURE,
    NextAction.CHANGE_WORDS,
    NextAction.CHANGE_PLAN,
    NextAction.LOOK_INTO,
    NextAction.KEEP_TO,
    NextAction.WAIT,
    NextAction.NONE,
)


@dataclass(frozen=True)
class Line:
    """One person or picture with one next action: each code with the pictures it stands in.

    `frees` are the pictures that nothing else keeps off.
    """

    about: str
    reasons: tuple[tuple[Code, tuple[str, ...]], ...]
    frees: tuple[str, ...]

    @cached_property
    def pictures(self) -> tuple[str, ...]:
        """Every picture of the line once, in the order of the selection."""
        return tuple(dict.fromkeys(code for _, found in self.reasons for code in found))

    @cached_property
    def waits(self) -> tuple[str, ...]:
        """The pictures of the line that something else keeps off too."""
        return tuple(code for code in self.pictures if code not in self.frees)


@dataclass(frozen=True)
class Group:
    """What can be done in one go, for everybody it concerns."""

    action: NextAction
    lines: tuple[Line, ...]

    @cached_property
    def pictures(self) -> tuple[str, ...]:
        """Every picture of the group once."""
        return tuple(dict.fromkeys(code for line in self.lines for code in line.pictures))


@dataclass(frozen=True)
class Totals:
    """How many pictures of a selection got which answer."""

    cleared: int
    conditions: int
    not_cleared: int


def totals(answers: Iterable[Answer]) -> Totals:
    """Count the answers of a selection."""
    results = [answer.result for answer in answers]
    return Totals(
        results.count(Result.CLEARED),
        results.count(Result.CONDITIONS),
        results.count(Result.NOT_CLEARED),
    )


def stops(answers: Mapping[str, Answer]) -> tuple[Group, ...]:
    """Group what stands against pictures, given by code; the next action first, then whom.

    People and pictures stand in the order of their codes. A picture is freed by a line when all
    that stands against it is in that line.
    """
    return _grouped({code: answer.stops for code, answer in answers.items()})


def conditions(answers: Mapping[str, Answer]) -> tuple[Group, ...]:
    """Group what must be kept to where nothing stands against a picture."""
    return _grouped(
        {
            code: answer.conditions
            for code, answer in answers.items()
            if answer.result is Result.CONDITIONS
        }
    )


def by_person(answers: Mapping[str, Answer]) -> tuple[Line, ...]:
    """Put all reasons of all pictures together by whom, or which picture, they are about.

    What stands against a picture is said before what must be kept to. A picture is freed when
    all that stands against it is about that one person.
    """
    found: dict[str, dict[Code, list[str]]] = {}
    for picture, answer in answers.items():
        for about, code in (*answer.stops, *answer.conditions):
            found.setdefault(about, {}).setdefault(code, []).append(picture)
    freed: dict[str, list[str]] = {}
    for picture, answer in answers.items():
        if len(people := {one.about for one in answer.stops}) == 1:
            freed.setdefault(people.pop(), []).append(picture)
    return tuple(
        Line(
            about,
            tuple((code, tuple(pictures)) for code, pictures in found[about].items()),
            tuple(freed.get(about, ())),
        )
        for about in sorted(found)
    )


def _grouped(reasons: Mapping[str, tuple[Reason, ...]]) -> tuple[Group, ...]:
    found: dict[NextAction, dict[str, dict[Code, list[str]]]] = {}
    for picture, all_of_it in reasons.items():
        for about, code in all_of_it:
            lines = found.setdefault(NEXT_ACTION[code], {})
            lines.setdefault(about, {}).setdefault(code, []).append(picture)
    return tuple(
        Group(
            action,
            tuple(
                _line(action, about, found[action][about], reasons)
                for about in sorted(found[action])
            ),
        )
        for action in ORDER
        if action in found
    )


def _line(
    action: NextAction,
    about: str,
    codes: Mapping[Code, list[str]],
    reasons: Mapping[str, tuple[Reason, ...]],
) -> Line:
    concerned = dict.fromkeys(picture for pictures in codes.values() for picture in pictures)
    frees = tuple(
        picture
        for picture in concerned
        if all(one.about == about and NEXT_ACTION[one.code] is action for one in reasons[picture])
    )
    return Line(about, tuple((code, tuple(found)) for code, found in codes.items()), frees)
