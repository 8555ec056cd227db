"""Reads of prints and promises, through the door of the people's room."""

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING
from uuid import UUID

from django.db.models import Exists, F, OuterRef, Q, QuerySet
from django.db.models.functions import Coalesce
from django.http import Http404

from relations.languages.codes import tidy
from relations.languages.sorting import by_name
from relations.meetings.models import Trip
from relations.people.access import of, people
from relations.people.models import Participant, PersonHold
from relations.people.queries import open_hold
from relations.people.values import Risk, Standing
from relations.pictures.models import Appearance, Picture

from . import rules
from .models import Print, Promise, Step
from .rules import ENDS, MOVES, Counts, Facts, PrintState

if TYPE_CHECKING:
    from relations.privacy.models import User

# How a print of which no picture is there is called in an address.
NO_PICTURE = "no-picture"
# They want no more of us: nobody goes to them, writes to them or asks them.
LEFT_ALONE = frozenset({Standing.SAID_NO, Standing.NEVER_RING})
# Of whom nothing is left to be asked.
NOT_ASKED = LEFT_ALONE | {Standing.LET_GO, Standing.CLOSED}
# Whoever stands there holds the print, or is about to.
AT_THEIR_DOOR = frozenset({PrintState.OUT_ON_A_ROUND, PrintState.IN_HAND, PrintState.ACKNOWLEDGED})
# The promises without an ending yet: what `Promise.is_open` says of one row.
OPEN_PROMISE = Q(kept_on=None, ended_how="")


def without_print(on: date) -> list[Appearance]:
    """Everybody in every picture made by a day who is owed no print of it yet; crops left out."""
    have = Print.objects.filter(person=OuterRef("person"), picture=OuterRef("picture"))
    found = Appearance.objects.filter(
        ~Exists(have), picture__crop_of=None, picture__sitting__on__lte=on
    )
    return list(
        found.select_related("person", "picture__sitting").order_by(
            "picture__sitting__on", "picture__code", "place"
        )
    )


def nothing_to_print() -> QuerySet[Print]:
    """The prints of those who sat and of whom nothing came out."""
    return Print.objects.filter(picture=None, state=PrintState.NOTHING_TO_PRINT)


def is_grave(person: Participant, picture: Picture | None = None) -> bool:
    """Whether somebody at grave risk is in the frame: people at the lab know faces (job.md 27).

    Whoever it is of them all decides for every print of that picture.
    """
    if person.level == Risk.GRAVE:
        return True
    return picture is not None and picture.appearances.filter(person__level=Risk.GRAVE).exists()


def trip_on(on: date) -> Trip | None:
    """The trip in which a day lies; None on a day at home."""
    return Trip.objects.filter(first_day__lte=on, last_day__gte=on).first()


def is_left_alone(person: Participant) -> bool:
    """Whether nobody goes to somebody or writes to them: they said so, or a hold lies on them."""
    return person.standing in LEFT_ALONE or open_hold(person) is not None


def of_left_alone() -> Q:
    """Prints of those to whom nobody goes, as `is_left_alone` says it of one person."""
    held = PersonHold.objects.filter(lifted_at=None).values("person")
    return Q(person__standing__in=LEFT_ALONE) | Q(person__in=held)


def may_be_offered_a_talk(row: Print) -> bool:
    """Whether this is the moment to offer the talk about uses: they hold the print (job.md 32).

    Nothing is offered to whoever took everything back: they were asked, and answered.
    """
    return (
        row.state in AT_THEIR_DOOR
        and row.person.standing != Standing.STEPPED_BACK
        and not is_left_alone(row.person)
    )


def to_ask_again(everybody: QuerySet[Participant], trip: Trip) -> list[Print]:
    """The prints kept since before a trip for those who may be asked on it, kept longest first."""
    held = PersonHold.objects.filter(lifted_at=None).values("person")
    rows = Print.objects.filter(of(everybody), state=PrintState.KEPT_FOR_THEM)
    rows = rows.exclude(person__standing__in=NOT_ASKED).exclude(person__in=held)
    return [
        row
        for row in rows.select_related("person", "picture").order_by("state_on", "person__code")
        if rules.is_asked_again(PrintState(row.state), row.state_on, trip.first_day)
    ]


def was_asked_on_trip(row: Print, on: date) -> bool:
    """Whether they were asked how on the trip in which a day lies; a day at home is no trip."""
    trip = trip_on(on)
    return (
        trip is not None
        and row.steps.filter(
            became=PrintState.ASKED_HOW, on__range=(trip.first_day, trip.last_day)
        ).exists()
    )


def prints(user: "User") -> QuerySet[Print]:
    """The prints a user may see: of those in sight."""
    found = Print.objects.filter(person__in=people(user))
    return found.select_related("person", "picture")


def owed(user: "User", on: date) -> list[Print]:
    """Those still on their way, late first, then by how long they are owed; each with `late`."""
    rows = list(prints(user).exclude(state__in=ENDS))
    for row in rows:
        row.late = is_late(row, on)  # type: ignore[attr-defined]
    return sorted(
        rows, key=lambda row: (not is_late(row, on), row.owed_since, row.person.code, str(row.pk))
    )


def is_late(row: Print, on: date) -> bool:
    """Whether somebody has waited for it too long (F11)."""
    return rules.is_late(PrintState(row.state), row.owed_since, on)


def counts(on: date) -> Counts:
    """All prints of the project, counted by F11; for the artist."""
    rows = Print.objects.values_list("state", "owed_since")
    return rules.count(((PrintState(state), since) for state, since in rows), on)


@dataclass(frozen=True)
class OfGroup:
    """The prints of one group, counted by F11; `name` is empty for those in no group."""

    name: str
    counts: Counts


def counts_by_group(on: date) -> list[OfGroup]:
    """The counts group by group, by name; for the artist's eye alone, since groups are small."""
    found: dict[str, list[tuple[PrintState, date | None]]] = {}
    rows = Print.objects.order_by().values_list("person__community__name", "state", "owed_since")
    for name, state, since in rows:
        found.setdefault(name or "", []).append((PrintState(state), since))
    names = by_name(found)
    return [OfGroup(name, rules.count(found[name], on)) for name in names]


def print_or_404(user: "User", person: str, picture: str) -> Print:
    """The print of a person in sight of a picture; Http404 where absent or out of sight."""
    of = Q(picture=None) if picture == NO_PICTURE else Q(picture__code=picture)
    found = prints(user).filter(of, person__code=person).first()
    if found is None:
        raise Http404
    return found


def by_code(user: "User", code: str) -> Print | None:
    """The print that bears a code, typed in any case; None where absent or out of sight."""
    return prints(user).filter(code=tidy(code)).first()


@dataclass(frozen=True)
class Ways:
    """The steps from where a print is: the next one, the others, and why one must wait.

    `is_left_alone`: nobody goes to them or asks them; what they say by themselves is noted.
    """

    next: PrintState | None
    others: tuple[PrintState, ...]
    not_yet: tuple[tuple[PrintState, tuple[str, ...]], ...]
    is_left_alone: bool = False


def ways_on(row: Print, on: date) -> Ways:
    """What may be noted next; what is asked on the page of a step is taken as answered.

    Where home is not safe, the lab may not see it or nobody may go there, keeping it comes first
    (job.md A 26); after thirty days of silence, looking for a way. The level itself is not asked:
    no byte of an assistant's page may depend on it, only on the mark that carries what to do.
    """
    state = PrintState(row.state)
    is_left = is_left_alone(row.person)
    said = Facts(
        way_agreed=True,
        rounds=row.tries,
        days_waiting=(on - row.state_on).days,
        asked_this_trip=was_asked_on_trip(row, on),
        is_left_alone=is_left,
        # What the page of a step asks is no reason to hide the step.
        tracked=True,
        plain_cover=True,
        post_asked_for=True,
        word_from_sitter=True,
        sat_again=True,
    )
    found = {to: rules.may_move(state, to, said) for to in MOVES[state]}
    can = [to for to, codes in found.items() if not codes]
    if row.is_safe is False or (row.is_safe is None and row.not_at_the_lab) or is_left:
        can.sort(key=lambda to: to is not PrintState.KEPT_FOR_THEM)
    elif rules.is_looked_for(state, row.state_on, on):
        can.sort(key=lambda to: to is not PrintState.LOOKING_FOR_A_WAY)
    # Closing out is for the closing of the project, which no page of a print begins.
    not_yet = {to: codes for to, codes in found.items() if codes and "closing" not in codes}
    # Nobody is sent to ask whoever is left alone: that they were asked is no next step then.
    has_next = bool(can) and not (is_left and can[0] is PrintState.ASKED_HOW)
    first, others = (can[0], can[1:]) if has_next else (None, can)
    return Ways(first, tuple(others), tuple(not_yet.items()), is_left)


def way(row: Print) -> list[Step]:
    """The steps of a print, newest first, each with who noted it."""
    return list(row.steps.select_related("by").order_by("-number"))


def promises(user: "User") -> QuerySet[Promise]:
    """What was promised to those in sight: what has no ending yet first, soonest first."""
    return open_first(Promise.objects.filter(person__in=people(user)).select_related("person"))


def open_first(found: QuerySet[Promise]) -> QuerySet[Promise]:
    """What has no ending yet first, soonest first; without a day last."""
    return found.order_by(
        Coalesce("kept_on", "ended_on").asc(nulls_first=True),
        F("due_on").asc(nulls_last=True),
        *("promised_on", "id"),
    )


def promise_or_404(user: "User", key: UUID) -> Promise:
    """One promise to somebody in sight; Http404 where absent or out of sight."""
    found = promises(user).filter(pk=key).first()
    if found is None:
        raise Http404
    return found
