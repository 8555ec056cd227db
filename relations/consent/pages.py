"""What the pages of a form show, put together from several tables."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.utils.translation import gettext, pgettext

from relations.languages.direction import isolated
from relations.languages.said import comma, listed
from relations.languages.templatetags.words import day
from relations.people.models import Participant
from relations.people.queries import birth
from relations.people.rules import is_child
from relations.pictures.models import Caption, Picture, Quote, Sitting
from relations.privacy.models import User

from . import access, archive, coming_home, evidence, papers
from .boxes import BLANK, differ, whole
from .countries import territories
from .models import Form, SpeakerAnswer
from .states import FORM_MOVES, State, may_move, ways_on
from .values import Use
from .words import (
    BOXES,
    MISSING,
    NAME_FORMS,
    PLACE_WORDS,
    SAID,
    USES,
    WAYS,
    WISHES,
)

# What only the artist says of a paper, where its guards allow it today.
BY_ARTIST = (State.DOUBTFUL, State.ENDED, State.KEPT_AS_PROOF)
CODES: dict[str, dict[str, Any]] = {
    "way": WAYS,
    "name_form": NAME_FORMS,
    "place_word": PLACE_WORDS,
    "if_cannot_answer": WISHES,
    "if_died": WISHES,
}
DAYS = ("given_on", "first_day", "last_day")


@dataclass(frozen=True)
class Open:
    """What may still be noted on a form: each picture with the answer there is, words, quotes."""

    sittings: list[Sitting]
    pictures: list[tuple[Picture, bool | None]]
    captions: list[Caption]
    quotes: list[Quote]
    undecided: list[str]
    is_child: bool


def open_answers(form: Form) -> Open:
    """What a sitter can still be asked, or has said, about what lies beside this form.

    Pictures are those they are in; of a caption the newest version, unless its yes is there.
    """
    assert form.person is not None  # noqa: S101 # the page is not open for a blank
    said = dict(form.picture_answers.values_list("picture", "is_yes"))
    pictures = list(Picture.objects.filter(appearances__person=form.person))
    newest = {
        one.picture_id: one
        for one in Caption.objects.filter(picture__in=pictures).select_related("picture")
    }
    read = set(form.caption_answers.filter(is_yes=True).values_list("caption", flat=True))
    quoted = form.quote_answers.filter(is_yes=True).values_list("quote", flat=True)
    decided = set(form.decisions.values_list("use", flat=True))
    is_asked = form.given_on is not None and is_child(birth(form.person), form.given_on)
    return Open(
        sittings=list(form.person.sittings.all()),
        pictures=[(picture, said.get(picture.pk)) for picture in pictures],
        captions=[one for one in newest.values() if one.pk not in read and one.words],
        quotes=list(form.person.quotes.exclude(pk__in=quoted)),
        undecided=[use for use in form.uses if form.own_condition and use not in decided],
        is_child=is_asked and not form.childs_answer,
    )


def moves_of_artist(user: User, paper: Form, on: date) -> list[State]:
    """What the artist alone may say of this paper on that day."""
    if not user.is_artist:
        return []
    known = papers.facts(paper, on)
    return [state for state in BY_ARTIST if not may_move(State(paper.state), state, known)]


def shown(user: User, paper: Form, on: date) -> dict[str, Any]:
    """What the page of one form shows to this user; what it says only to the artist."""
    state = State(paper.state)
    context: dict[str, Any] = {
        "may_move": bool(ways_on(state) or moves_of_artist(user, paper, on)),
        "may_read": access.may_read(user, paper),
        "may_file": paper.settled_at is None and state not in (State.SPOILT, State.WRITTEN_OFF),
        "scans": list(paper.sheet.scans.all()) if access.may_open_scan(user, paper) else [],
        "has_ended": paper.last_day is not None and paper.last_day < on,
        "missing": coming_home.missing(paper.sheet),
        "in_tray": access.waiting(user).filter(sheet=paper.sheet).count(),
    }
    if not user.is_artist:
        return context
    readings = list(paper.readings.select_related("by"))
    # Whoever reads second must not have seen what the first one read.
    is_blind = len(readings) == 1 and paper.settled_at is None
    is_doubtful = paper.state == State.DOUBTFUL
    may_be_settled = len(readings) == 2 or paper.is_from_before
    context |= {
        "readings": readings,
        "may_settle": is_doubtful and paper.settled_at is None and may_be_settled,
        "why_not": _why_not(paper, on),
        "says": [] if is_blind or paper.missing_lines is None else list(_says(paper)),
        "uses": [(use, use.value in paper.uses) for use in Use],
        "sittings": list(paper.sittings.all()),
        "guardians": list(paper.guardians.all()),
        "is_child": _is_child(paper),
        "has_answers": paper.person is not None and paper.given_on is not None,
        **_proof(paper, on),
    }
    return context


def _proof(paper: Form, on: date) -> dict[str, Any]:
    """What can be handed on or is kept of a form that is somebody's."""
    if paper.person is None:
        return {}
    return {
        "has_record": True,
        "lacks": evidence.lacking(paper, on=on),
        "kept": list(paper.kept.all()),
        "is_copy_due": archive.waiting().filter(pk=paper.pk).exists(),
    }


def _is_child(paper: Form) -> bool:
    if paper.person is None or paper.given_on is None:
        return False
    return is_child(birth(paper.person), paper.given_on, met_as_adult=paper.person.met_as_adult)


def _why_not(paper: Form, on: date) -> list[str]:
    """Why a form that was read does not stand, as codes."""
    state = State(paper.state)
    if State.STANDING not in FORM_MOVES[state]:
        return []
    return list(may_move(state, State.STANDING, papers.facts(paper, on)))


def _says(paper: Form) -> Iterator[tuple[Any, str]]:
    """Each box of the paper with its answer in words; the uses have a table of their own."""
    said = papers.said(paper)
    for key in BLANK:
        if key != "uses" and said[key] != BLANK[key]:
            yield SAID[key], in_words(key, said[key])


def in_words(box: str, value: Any) -> str:
    """One answer as a person says it: a day in words, countries by name, yes or no."""
    if value is None or value in ("", []):
        return _nothing(box, value)
    if box in CODES:
        return str(CODES[box].get(value, value))
    if box in DAYS:
        return day(date.fromisoformat(value))
    if box == "lines_missing":  # with commas of their own: no "and" before the last
        return comma().join(str(MISSING.get(line, line)) for line in value)
    if box in ("only_countries", "not_countries"):
        names = territories()
        return listed(names.get(code, code) for code in value)
    if value in (True, "yes"):
        return gettext("yes")
    return gettext("no") if value in (False, "no") else isolated(str(value))


def _nothing(box: str, value: Any) -> str:
    if box == "only_countries":
        return gettext("nowhere") if value == [] else gettext("no limit")
    return pgettext("an answer", "nothing")


def boxes_that_differ(paper: Form) -> list[tuple[str, Any, list[tuple[Any, Any]]]]:
    """The boxes in which two readings differ: box, its name, and the answers to choose from.

    Where neither answer is a blank, "nothing" can be chosen too: what cannot be read is blank.
    """
    readings = list(paper.readings.all())
    if len(readings) < 2:
        return []
    one, two = (whole(reading.answers) for reading in readings)
    found: list[tuple[str, Any, list[tuple[Any, Any]]]] = []
    for box in differ(one, two):
        key, _dot, use = box.partition(".")
        if use:
            found.append((box, USES[use], [(True, gettext("yes")), (False, gettext("no"))]))
            continue
        values = [one[key], two[key]]
        if BLANK[key] not in values:
            values.append(BLANK[key])
        found.append((box, BOXES[key], [(value, in_words(key, value)) for value in values]))
    return found


def said_by_speaker(person: Participant) -> list[SpeakerAnswer]:
    """What was said for a person, newest first."""
    return list(person.speaker_answers.order_by("-said_on", "use"))
