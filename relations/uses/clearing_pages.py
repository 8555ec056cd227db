"""What the pages of clearance sheets show, and the paper that a sheet is printed on."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from relations.consent.answers import Answer, Code
from relations.consent.models import ConditionDecision
from relations.documents.one_language import lay_out_in

from . import clearing, queries, venue
from .clearances import Instruction, Line, State, instructions
from .models import ClearanceSheet, PlannedUse


@dataclass(frozen=True)
class Candidate:
    """A picture that is cleared now, as it would stand on a sheet.

    `own` are conditions in sitters' own hands that the venue is to keep to.
    """

    line: Line
    own: tuple[str, ...] = ()

    @property
    def asks_words(self) -> bool:
        """Whether the artist says in plain words what the venue is to keep to."""
        return Instruction.WRITTEN in self.line.does


def candidates(plan: PlannedUse, on: date) -> list[Candidate]:
    """What of a plan may go on a sheet, weighed afresh; nothing is kept."""
    found = {
        one.picture: one.answer
        for one in queries.weighed(plan, on)
        if clearing.may_stand(one.answer.result, one.answer.look_again_on, on)
    }
    words = queries.captions(plan, found)
    own = _own_conditions(plan, found.values())
    return [
        Candidate(_line(code, words.get(code, ""), answer), _written(answer, own))
        for code, answer in sorted(found.items())
    ]


def _line(code: str, caption: str, answer: Answer) -> Line:
    does = instructions(one.code for one in answer.conditions)
    return Line(code, caption, does, answer.look_again_on)


def _written(answer: Answer, own: dict[str, list[str]]) -> tuple[str, ...]:
    about = (one.about for one in answer.conditions if one.code is Code.AS_WRITTEN)
    return tuple(words for code in about for words in own[code])


def _own_conditions(plan: PlannedUse, answers: Iterable[Answer]) -> dict[str, list[str]]:
    """The conditions that may go on as written in this use, by the code of who wrote them."""
    found: dict[str, list[str]] = defaultdict(list)
    about = {
        one.about for answer in answers for one in answer.conditions if one.code is Code.AS_WRITTEN
    }
    rows = ConditionDecision.objects.filter(
        use=plan.use, can=True, form__person__code__in=about
    ).select_related("form__person")
    for row in rows.order_by("-form__given_on"):
        if row.form.person and row.form.own_condition not in found[row.form.person.code]:
            found[row.form.person.code].append(row.form.own_condition)
    return found


@dataclass(frozen=True)
class Listed:
    """A sheet in a list, with how it stands."""

    sheet: ClearanceSheet
    state: State


def listed(sheets: Iterable[ClearanceSheet], on: date) -> list[Listed]:
    """How each of a page of sheets stands; only those in force are weighed."""
    return [Listed(sheet, clearing.look(sheet, on).state) for sheet in sheets]


@dataclass(frozen=True)
class LinkSeen:
    """What the artist sees of a link, which is not kept itself."""

    ends_on: date
    is_locked: bool
    is_over: bool


def link_of(sheet: ClearanceSheet, on: date) -> LinkSeen | None:
    """The link of a sheet, where one was made."""
    if sheet.link_ends_on is None:
        return None
    return LinkSeen(sheet.link_ends_on, venue.is_locked(sheet), on > sheet.link_ends_on)


def paper(seen: clearing.Look) -> bytes:
    """An open sheet as a tagged PDF in its own language; number and date on every page."""
    made = lay_out_in(
        "uses/paper/sheet.html",
        {"sheet": seen.sheet, "plan": seen.sheet.plan, "lines": seen.lines},
        style="uses/paper/sheet.css",
        title=str(seen.sheet.number),
        language=seen.sheet.language,
    )
    return made.content
