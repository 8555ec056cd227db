"""Fills the rehearsal home from fixtures/demo.json; every event is one press, by its action."""

import inspect
import json
import sys
from collections.abc import Callable, Iterable, Sequence
from datetime import date, datetime, time
from decimal import Decimal
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import transaction
from django.db.models import Model
from django.utils import timezone

from relations.consent import actions as consent
from relations.consent.models import Form, Wording
from relations.consent.source import latest, own
from relations.meetings import actions as meetings
from relations.meetings import stays
from relations.meetings.models import Trip
from relations.people import actions as people
from relations.people.models import Community, OutsideIntroducer, Participant
from relations.pictures import actions as pictures
from relations.pictures.models import Caption, Picture, Quote, Sitting
from relations.prints import actions as prints
from relations.prints import ordered, orders, walking
from relations.prints.lab import Came
from relations.prints.models import LabOrder, Print
from relations.privacy.models import Role, User
from relations.rights import actions as rights
from relations.trips import actions as trips
from relations.uses import actions as uses
from relations.uses.models import PlannedUse
from relations.uses.rules import Force

from . import drawings

STORY = settings.BASE_DIR / "fixtures" / "demo.json"
WORDINGS = settings.BASE_DIR / "fixtures" / "wordings.json"


@transaction.atomic
def approve_all(*, wording: Wording, by: User, at: datetime) -> None:
    """The invented reader says back every clause and presses "approve", then closes the wording.

    What they say back is what the artist wrote: nothing went astray between the two.
    """
    source = own() or wording
    wrote = {clause.name: clause.text for clause in source.clauses.all()}
    for clause in wording.clauses.all():
        said = wrote.get(clause.name, clause.text)
        consent.approve(clause=clause, by=by, on=timezone.localdate(at), words=said)
    consent.freeze(wording=wording, by=by, at=at)


@transaction.atomic
def vouch_first(*, person: Participant, by: User, on: date) -> None:
    """The artist says yes to the first who told us of a person, with what was asked of them."""
    told = person.introductions.first()
    if told is not None:
        answers = {key: getattr(told, key) for key in ("asked_first", "may_say_who", "has_power")}
        people.vouch(introduction=told, by=by, on=on, **answers)


@transaction.atomic
def let_vouch(*, sitting: Sitting, by: User) -> None:
    """The artist ticks that those who sat may vouch for others."""
    for person in sitting.sitters.all():
        people.let_vouch(person=person, may_vouch=True, by=by)


@transaction.atomic
def authority(*, person: Participant, holders: int, by: User, at: datetime) -> None:
    """The number of those who hold authority over a child, put right."""
    people.mend(row=person, changes={"authority_holders": holders}, person=person, by=by, at=at)


@transaction.atomic
def stop(*, person: Participant, by: User, at: datetime, said_on: date, **what: Any) -> None:
    """Stop is pressed: taken back, and what must come down is listed in the same minute."""
    consent.take_back(person=person, by=by, at=at, said_on=said_on, **what)
    uses.open_undo(person=person, by=by, at=at)


@transaction.atomic
def undone(*, person: Participant, on: date, by: User, cannot: Iterable[str] = ()) -> None:
    """Every line of the undo list is pressed: done, or not to be done for these uses' codes."""
    lost = set(cannot)
    for line in person.undo_lines.select_related("shown").filter(done_on=None):
        gone = line.force != Force.CANNOT and line.shown.code not in lost
        uses.undo_done(line=line, on=on, by=by, cannot=not gone)


@transaction.atomic
def told_them(*, person: Participant, on: date, by: User) -> None:
    """They are told line by line what became of it."""
    for line in person.undo_lines.all():
        uses.told(line=line, on=on, by=by)
    consent.answer_them(person=person, on=on, by=by)


@transaction.atomic
def order(*, prints: Sequence[Print], price: str, on: date, by: User, at: datetime) -> LabOrder:
    """The assistant orders prints in one, each as large as they said, at the lab's price."""
    wanted = [orders.Wanted(row, row.size, Decimal(price)) for row in prints]
    made = orders.order(wanted=wanted, on=on, by=by, at=at)
    # The story orders nobody whom the lab must not see.
    assert made is not None  # noqa: S101
    assert made.lines.count() == len(prints)  # noqa: S101
    return made


@transaction.atomic
def fetch(*, order: LabOrder, spoilt: int, on: date, by: User, at: datetime) -> None:
    """All of an order comes home and is right; what the lab spoilt, with its slip."""
    found = {line.number: orders.Found(Came.GOOD) for line in ordered.open_lines(order)}
    orders.collect(order=order, found=found, spoilt=spoilt, waste_slip=spoilt, on=on, by=by, at=at)


ROOMS = {
    # Presses that are made several at a time, each through its room's own action.
    "rehearsal": sys.modules[__name__],
    "consent": consent,
    "meetings": meetings,
    "people": people,
    "pictures": pictures,
    "prints": prints,
    "orders": orders,
    "rights": rights,
    "stays": stays,
    "walking": walking,
    "trips": trips,
    "uses": uses,
}

# What a word of the story names, and the row that is meant.
NAMED: dict[str, Callable[[str], Model | None]] = {
    "person": lambda code: Participant.objects.get(code=code),
    "outside": lambda code: OutsideIntroducer.objects.get(code=code),
    "community": lambda key: Community.objects.get(key=key),
    "trip": lambda code: Trip.objects.get(code=code),
    "sitting": lambda code: Sitting.objects.get(code=code),
    "picture": lambda code: Picture.objects.get(code=code),
    "quote": lambda code: Quote.objects.get(code=code),
    "form": lambda serial: Form.objects.get(sheet__serial=serial),
    "plan": lambda code: PlannedUse.objects.get(code=code),
    "wording": latest,
    "user": lambda name: User.objects.get(username=name),
    "caption": lambda said: Caption.objects.get(
        picture__code=said.split("/")[0], version=said.split("/")[1]
    ),
    "print": lambda said: Print.objects.get(
        person__code=said.split("/")[0], picture__code=said.split("/")[1] or None
    ),
}
# Names that an action gives to a row of another name.
ALSO = {
    "introducer": "person",
    "speaker": "person",
    "through": "person",
    "first": "wording",
    "second": "wording",
    "by": "user",
    "carrier": "user",
}
MANY = {
    "sitters": "person",
    "sittings": "sitting",
    "pictures": "picture",
    "quotes": "quote",
    "prints": "print",
}
HOURS = frozenset({"given_at", "opens_at", "closes_at"})
DAYS = frozenset({"on", "earliest", "latest", "first_day", "last_day", "press_day"})


def users() -> Iterable[dict[str, Any]]:
    """Those who sign in to the rehearsal: username, password, role, called, languages."""
    told: list[dict[str, Any]] = json.loads(STORY.read_text(encoding="utf-8"))["users"]
    return told


def fill(story: Path = STORY) -> int:
    """Enter the whole story, all or nothing; give the number of presses.

    A press that its action refuses stops the filling: the story would not be true.
    """
    told = json.loads(story.read_text(encoding="utf-8"))
    with transaction.atomic():
        for user in told["users"]:
            User.objects.create_user(**{**user, "role": Role(user["role"])})
        labels: dict[str, Any] = {}
        for number, event in enumerate(told["events"]):
            try:
                _press(event, labels)
            except Exception as error:
                error.add_note(f"event {number}: {json.dumps(event, ensure_ascii=False)}")
                raise
    return len(told["events"])


def _press(event: dict[str, Any], labels: dict[str, Any]) -> None:
    """Run one event's action; what it makes is kept under the event's label, if it has one."""
    room, name = event["do"].split(".")
    at = _moment(event["at"])
    told = {key: _value(key, value, labels) for key, value in event.get("with", {}).items()}
    action = getattr(ROOMS[room], name)
    wanted = inspect.signature(action).parameters
    timing = {"at": at, "on": timezone.localdate(at), "by": NAMED["user"](event["by"])}
    given = {key: value for key, value in timing.items() if key in wanted and key not in told}
    made = action(**given, **told)
    if label := event.get("as"):
        labels[label] = made


def _moment(said: str) -> datetime:
    """An hour of the place, as people there say it."""
    return timezone.make_aware(datetime.fromisoformat(said))


def _value(key: str, value: Any, labels: dict[str, Any]) -> Any:
    """What one word of an event means: a row, a label, a day, a drawing, or itself."""
    if value is None:
        return None
    if isinstance(value, str) and value.startswith("#"):
        return labels[value]
    if isinstance(value, dict):
        return {word: _value(word, said, labels) for word, said in value.items()}
    kind = ALSO.get(key, key)
    if key in MANY:
        return [NAMED[MANY[key]](code) for code in value]
    if kind in NAMED:
        return NAMED[kind](value)
    if key == "path":
        return WORDINGS
    if key == "in_frame":
        return [(NAMED["person"](code), place, seen) for code, place, seen in value]
    if key == "light_copy":
        return drawings.portrait(value[0], value[1])
    if key in {"content", "scan"}:
        return drawings.scan(value[0], value[1])
    return _plain(key, value)


def _plain(key: str, value: Any) -> Any:
    """A day, an hour, or the value as it stands."""
    if key in DAYS or key.endswith("_on"):
        return date.fromisoformat(value)
    if key in {"days", "rounds"}:
        return [date.fromisoformat(day) for day in value]
    if key in HOURS:
        return time.fromisoformat(value)
    if key in {"latitude", "longitude"}:
        return Decimal(value)
    if key.endswith("_at") or key == "at":
        return _moment(value)
    return value
