"""Reads for the pages of a trip: who is planned, what it needs, what is out and what came home."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING
from uuid import UUID

from django.conf import settings
from django.db.models import Count as CountOf
from django.db.models import F, Q, QuerySet
from django.http import Http404
from django.utils import timezone

from relations.consent import blanks as papers
from relations.consent.models import Form
from relations.consent.states import State
from relations.meetings.models import Meeting, Recording, Trip
from relations.meetings.queries import AHEAD, OFF
from relations.meetings.values import MeetingState
from relations.people.access import people
from relations.people.models import Participant
from relations.pictures.models import FilmSheet
from relations.pictures.values import SheetState
from relations.prints.models import Print
from relations.prints.queries import to_ask_again
from relations.rights.models import Alarm

from . import rules
from .models import Count, Day, MissingBlank, Stay
from .values import COUNTS, Counted, How

if TYPE_CHECKING:
    from relations.privacy.models import User

# A sitting that did not come about needs no film.
NOT_HELD = (MeetingState.CALLED_OFF, MeetingState.NOBODY_CAME)


def blanks(trip: Trip) -> rules.Balance:
    """The balance of the blanks that were signed out to a trip, serials and states alone."""
    found = Form.objects.filter(trip=trip).values_list("sheet__serial", "state")
    return rules.balance((serial, State(state)) for serial, state in found)


def blank_or_404(trip: Trip, serial: str) -> Form:
    """One paper that was signed out to a trip. Http404 where absent or signed out to another."""
    found = Form.objects.filter(trip=trip, sheet__serial=serial).first()
    if found is None:
        raise Http404
    return found


def days(trip: Trip) -> list[Day]:
    """The days on which we work, first first."""
    return list(Day.objects.filter(trip=trip))


def stay(trip: Trip) -> Stay:
    """What the trip is beside its days; the project's own country where none was said."""
    found = Stay.objects.filter(trip=trip).first() or Stay(trip=trip)
    found.countries = found.countries or [settings.RELATIONS_COUNTRY]
    return found


def ahead(trip: Trip) -> QuerySet[Meeting]:
    """The meetings of a trip that lie ahead, those with a day first."""
    found = Meeting.objects.filter(trip=trip, state__in=AHEAD).exclude(OFF)
    return found.select_related("person").order_by(F("at").asc(nulls_last=True), "person__code")


def day_of(meeting: Meeting) -> date | None:
    """The day of a meeting, where one is agreed that still holds."""
    if meeting.at is None or meeting.state not in (MeetingState.FIXED, MeetingState.CONFIRMED):
        return None
    return timezone.localdate(meeting.at)


@dataclass(frozen=True)
class Outline:
    """A trip at a look: its days, those planned whom a user may see, and what it needs."""

    days: list[Day]
    stay: Stay
    planned: list[Meeting]
    unseen: int
    sittings: int
    sheets: int
    needs: list[papers.Need]

    @property
    def rounds(self) -> int:
        """On how many days prints go round."""
        return sum(day.has_round for day in self.days)

    @property
    def film(self) -> int:
        """How many sheets to carry (F7)."""
        return rules.film(self.sheets)

    @property
    def holders(self) -> int:
        """How many holders that is."""
        return self.film // rules.SHEETS_A_HOLDER

    @property
    def blanks(self) -> int:
        """How many blanks the trip needs in all languages that may be printed (F6)."""
        return sum(need.blanks for need in self.needs)


def outline(trip: Trip, user: "User") -> Outline:
    """A trip as its page shows it: those out of sight are counted, never named."""
    everybody = list(ahead(trip))
    seen = set(people(user).values_list("pk", flat=True))
    film = Meeting.objects.filter(trip=trip, with_camera=True).exclude(state__in=NOT_HELD)
    return Outline(
        days=days(trip),
        stay=stay(trip),
        planned=[one for one in everybody if one.person_id in seen],
        unseen=sum(one.person_id not in seen for one in everybody),
        sittings=sum(one.with_camera for one in everybody),
        sheets=sum(film.values_list("sheets", flat=True)),
        needs=papers.proposed(trip),
    )


@dataclass(frozen=True)
class Kept:
    """The prints that are kept for people whom a user sees, and how many more there are."""

    seen: list[Print]
    unseen: int


def kept(trip: Trip, user: "User") -> Kept:
    """The kept prints to be asked about on a trip; those out of sight are counted, never named."""
    every = to_ask_again(Participant.objects.all(), trip)
    keys = set(people(user).values_list("pk", flat=True))
    seen = [row for row in every if row.person_id in keys]
    return Kept(seen, len(every) - len(seen))


def early(trip: Trip, first: list[date]) -> Counter[str]:
    """How many are expected on these days in each language; whose day is not agreed is left out."""
    found: dict[UUID, tuple[str, int]] = {}
    for meeting in ahead(trip):
        if day_of(meeting) in first:
            said = meeting.person.languages.split() or [""]
            found[meeting.person_id] = (said[0], 1 + meeting.others)
    counts: Counter[str] = Counter()
    for language, people_there in found.values():
        counts[language] += people_there
    return counts


def named_missing(trip: Trip) -> QuerySet[MissingBlank, UUID]:
    """The keys of the forms of a trip that an alarm names as missing, open or closed."""
    return MissingBlank.objects.filter(form__trip=trip).values_list("form", flat=True)


@dataclass(frozen=True)
class Missing:
    """A blank that is missing, with the newest alarm that names it, if any does."""

    serial: str
    alarm: Alarm | None


def missing(trip: Trip) -> list[Missing]:
    """The missing blanks of a trip by serial; two queries."""
    forms = Form.objects.filter(trip=trip, state=State.MISSING).select_related("sheet")
    named = MissingBlank.objects.filter(form__in=forms).select_related("alarm")
    alarms = {row.form_id: row.alarm for row in named.order_by("alarm__known_at")}
    rows = [Missing(form.sheet.serial, alarms.get(form.pk)) for form in forms]
    return sorted(rows, key=lambda row: row.serial)


@dataclass(frozen=True)
class Home:
    """What came home from a trip: its blanks by serial, everything else as it was counted.

    `told` are the missing serials that an alarm names, an open one or one that was closed.
    """

    blanks: rules.Balance
    tallies: tuple[rules.Tally, ...]
    told: frozenset[str]

    @property
    def open_ends(self) -> tuple[str, ...]:
        """What keeps the trip from being closed."""
        return rules.open_ends(self.blanks, self.tallies, self.told)


def home(trip: Trip) -> Home:
    """What came home from a trip; three queries."""
    held: dict[str, dict[How, int]] = {thing: {} for thing in COUNTS}
    counts = Count.objects.filter(trip=trip, thing__in=COUNTS)
    for thing, how, number in counts.values_list("thing", "how", "number"):
        held[thing][How(how)] = number
    told = MissingBlank.objects.filter(form__trip=trip)
    return Home(
        blanks=blanks(trip),
        tallies=tuple(rules.Tally(thing, held[thing]) for thing in COUNTS),
        told=frozenset(told.values_list("form__sheet__serial", flat=True)),
    )


def noted(trip: Trip) -> Mapping[Counted, Mapping[How, int]]:
    """What the register knows already of what is counted by hand: film and recordings.

    It is only what was noted sheet by sheet; what the hand counts is what holds.
    """
    lost, processed = SheetState.LOST, SheetState.PROCESSED
    film = FilmSheet.objects.filter(sitting__trip=trip).aggregate(
        exposed=CountOf("pk"),
        processed=CountOf("pk", filter=Q(state=processed)),
        lost=CountOf("pk", filter=Q(state=lost)),
    )
    between = (trip.first_day, trip.last_day)
    made = Recording.objects.filter(interview__held_on__range=between).aggregate(
        made=CountOf("pk"),
        sealed=CountOf("pk", filter=Q(off_the_phone_on__isnull=False)),
    )
    found = {Counted.FILM: film, Counted.RECORDINGS: made}
    return {
        thing: {How(how): number for how, number in counts.items() if counts[first]}
        for (thing, counts), first in zip(found.items(), ("exposed", "made"), strict=True)
    }
