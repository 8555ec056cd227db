"""Everything about one person for one page, in a constant number of queries."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.db.models import Model, QuerySet
from django.utils import timezone

from relations.consent.models import Form, TakenBack
from relations.consent.states import State
from relations.consent.values import Scope, Use
from relations.meetings.models import Call, Meeting
from relations.people import queries as people
from relations.people.models import Community, OutsideIntroducer, Participant, Speaker
from relations.prints.models import Print, Step
from relations.prints.rules import MOVES, PrintState
from relations.privacy.models import Mending, User
from relations.uses.models import Weighing

from . import doorsteps, promised, queries

# A form in one of these states is what the person allows, until a newer one stands.
STANDING_FORMS = (State.STANDING, State.WITHDRAWN_IN_PART)
MOST_LINES = 40
LAST_RINGS = 3
# Fields that lead to another row: an older value is its key, read by what the row is called.
KEYS: Mapping[str, type[Model]] = {
    "community": Community,
    "introducer": Participant,
    "outside": OutsideIntroducer,
}


@dataclass(frozen=True)
class Allowed:
    """One use: whether it is allowed ("yes", "no", "taken_back", "ended"), and on which form."""

    use: str
    answer: str
    form: Form | None


def standing_form(person: Participant) -> Form | None:
    """The newest form that stands."""
    forms = person.forms.filter(state__in=STANDING_FORMS).select_related("sheet")
    return forms.order_by("given_on", "given_at").last()


def allowed(person: Participant, form: Form | None, on: date) -> list[Allowed]:
    """The eleven uses one by one. What is not yes is no; a no acts on hearing."""
    gone = TakenBack.objects.filter(person=person)
    if form is not None and form.given_on is not None:
        gone = gone.filter(said_on__gte=form.given_on)
    taken = {row.use if row.scope == Scope.USE else row.scope for row in gone}
    return [Allowed(use, _answer(use, form, taken, on), form) for use in Use]


def _answer(use: str, form: Form | None, taken: set[str], on: date) -> str:
    if use in taken or Scope.ALL in taken:
        return "taken_back"
    if form is None or use not in form.uses:
        return "no"
    return "ended" if form.last_day is not None and form.last_day < on else "yes"


def planned(person: Participant) -> list[Weighing]:
    """The latest answer for each picture of theirs in each planned use."""
    rows = Weighing.objects.filter(
        asked__picture__appearances__person=person,
        asked__dropped_on=None,
        asked__plan__dropped_on=None,
    ).select_related("asked__plan", "asked__picture")
    latest: dict[object, Weighing] = {}
    for row in rows.order_by("weighed_at"):
        latest[row.asked_id] = row
    return sorted(latest.values(), key=lambda row: (row.asked.plan.code, row.asked.picture.code))


def about(person: Participant, weighing: Weighing) -> list[str]:
    """The codes that speak of this person in one answer, the stops first."""
    reasons = [*weighing.stops, *weighing.conditions]
    return [reason["code"] for reason in reasons if reason["about"] == person.code]


@dataclass(frozen=True)
class Way:
    """A print, where it is, and what comes next where it is ours to do."""

    print: Print
    is_over: bool


def prints(person: Participant) -> list[Way]:
    """The prints owed to a person, open ones first."""
    rows = person.prints.select_related("picture").order_by("owed_since", "picture__code")
    ways = [Way(row, not MOVES[PrintState(row.state)]) for row in rows]
    return sorted(ways, key=lambda way: way.is_over)


@dataclass(frozen=True)
class Said:
    """One line of what was said and done: the day, the kind, and the row it is about."""

    on: date
    kind: str
    row: Call | Meeting | Form | Step | object


def said_and_done(person: Participant) -> list[Said]:
    """Calls, meetings, sittings, forms, what was taken back and print steps, newest first."""
    lines = [
        *(Said(_day(call.at), "call", call) for call in rings(person) if call.at),
        *(Said(_day(one.at), "meeting", one) for one in person.meetings.all() if one.at),
        *(Said(one.on, "sitting", one) for one in person.sittings.all()),
        *(Said(one.given_on, "form", one) for one in _given(person) if one.given_on),
        *(Said(one.said_on, "taken_back", one) for one in _taken_back(person)),
        *(Said(step.on, "step", step) for step in _steps(person)),
    ]
    return sorted(lines, key=lambda line: line.on, reverse=True)[:MOST_LINES]


def _day(at: datetime) -> date:
    return timezone.localdate(at)


def _given(person: Participant) -> QuerySet[Form]:
    return person.forms.exclude(given_on=None).select_related("sheet")


def _taken_back(person: Participant) -> QuerySet[TakenBack]:
    return person.taken_back.select_related("picture")


def _steps(person: Participant) -> QuerySet[Step]:
    rows = Step.objects.filter(print__person=person).select_related("print__picture")
    return rows.order_by("-on", "-number")


def rings(person: Participant) -> QuerySet[Call]:
    """Rings, messages and visits that happened, newest first."""
    return person.calls.exclude(outcome="").order_by("-at")


@dataclass(frozen=True)
class Mended:
    """What stood before one wrong entry was mended: by field, in words that can be read."""

    row: Mending
    old: tuple[tuple[str, Any], ...]


def mended(person: Participant) -> list[Mended]:
    """What stood before a wrong entry was mended, newest first."""
    rows = list(Mending.objects.filter(about=person.log_key).select_related("by").order_by("-at"))
    labels = _labels(old for row in rows for old in row.old.items())
    return [
        Mended(row, tuple((name, labels.get(old, old)) for name, old in row.old.items()))
        for row in rows
    ]


def _labels(old: Iterable[tuple[str, Any]]) -> dict[Any, str]:
    """The code, or the group, by the key of each row that an older value named."""
    keys: dict[type[Model], set[str]] = {}
    for name, value in old:
        if name in KEYS and value is not None:
            keys.setdefault(KEYS[name], set()).add(value)
    found = (model._default_manager.filter(pk__in=some) for model, some in keys.items())
    return {str(row.pk): str(row) for rows in found for row in rows}


def speaker(person: Participant) -> Speaker | None:
    """Who answers for them: the one named last, and next of kin only where nobody was named."""
    rows = person.speakers.select_related("speaker")
    return rows.order_by("-is_next_of_kin", "named_on").last()


def may_say(person: Participant) -> str:
    """The name that may be said as who sent us; "" where nobody said that it may."""
    told = people.first_told(person)
    if told is None or not told.may_say_who:
        return ""
    if told.introducer is not None:
        return told.introducer.call_name
    return told.outside.label if told.outside else ""


def for_everyone(person: Participant, at: datetime) -> dict[str, Any]:
    """What both artist and assistant see on the whole page of a person."""
    on = timezone.localdate(at)
    one = Participant.objects.filter(pk=person.pk)
    return {
        "person": person,
        "hold": people.open_hold(person),
        "stops": queries.stops(one),
        "lines": people.lines(person),
        "meetings": queries.meetings(one, at),
        "prints": prints(person),
        "slip": people.can_be_undone(person, at),
        "on": on,
    }


def for_assistant(person: Participant, user: User, on: date) -> dict[str, Any]:
    """What section 4 of the job lets an assistant see beside: no level, no introductions.

    Whether somebody is a child, and so their birth, is known to the assistant on the day of a
    meeting only.
    """
    one = Participant.objects.filter(pk=person.pk)
    return {
        "is_met_today": any(
            meeting.at is not None and timezone.localdate(meeting.at) == on
            for meeting in person.meetings.all()
        ),
        "sent_by": may_say(person),
        "promised": promised.of_person(person, on, with_uses=False),
        "last_rings": rings(person)[:LAST_RINGS],
        "forms": queries.forms(one, user).filter(person=person),
    }


def for_artist(person: Participant, on: date) -> dict[str, Any]:
    """What the artist sees beside."""
    form = standing_form(person)
    uses = allowed(person, form, on)
    one = Participant.objects.filter(pk=person.pk)
    return {
        "form": form,
        "uses": [use for use in uses if use.answer != "no"],
        "not_allowed": [use for use in uses if use.answer == "no"],
        "planned": [(row, about(person, row)) for row in planned(person)],
        "last_words": queries.last_words(one, on),
        "promised": promised.of_person(person, on, with_uses=True),
        "is_undecided": doorsteps.undecided(one).exists(),
        "forms": person.forms.select_related("sheet").order_by("-given_on", "sheet__serial"),
        "told": person.introductions.select_related("introducer", "outside"),
        "introduced": person.introduced.select_related("person").order_by("heard_on"),
        "speaker": speaker(person),
        "log": said_and_done(person),
        "mended": mended(person),
        "holds": person.holds.exclude(lifted_at=None).order_by("-laid_at"),
    }
