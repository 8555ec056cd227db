"""Trips, rings, meetings and those who help at them, interviews and their recordings."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from relations.documents.models import Sheet
from relations.people.models import Participant, PhoneLine
from relations.privacy.fields import SealedText
from relations.privacy.models import Row, choices_of, held_to

from .values import CallState, MeetingState, SetEnd, Work


class Trip(Row):
    """One stay of the artist at the place."""

    code = models.CharField(max_length=8, unique=True)
    first_day = models.DateField()
    last_day = models.DateField()
    currency = models.CharField(max_length=3, blank=True)
    print_budget = models.DecimalField(max_digits=9, decimal_places=2, null=True, blank=True)
    # Where the sun is worked out for: a tenth of a degree, some ten kilometres, never a street.
    latitude = models.DecimalField(max_digits=3, decimal_places=1, null=True, blank=True)
    longitude = models.DecimalField(max_digits=4, decimal_places=1, null=True, blank=True)

    class Meta:
        ordering = ["first_day"]
        constraints = [
            models.CheckConstraint(
                condition=Q(latitude=None, longitude=None)
                | Q(latitude__isnull=False, longitude__isnull=False)
                & Q(latitude__range=(-90, 90), longitude__range=(-180, 180)),
                name="trip_place_is_on_earth",
            ),
            models.CheckConstraint(
                condition=Q(first_day__lte=F("last_day")), name="trip_ends_after_it_begins"
            ),
        ]

    def __str__(self) -> str:
        return self.code


class CallKind(models.TextChoices):
    RING = "ring"
    MESSAGE = "message"
    VISIT = "visit"


class Call(Row):
    """A ring, a message or a visit: planned for a day, or done with its outcome and next step."""

    person = models.ForeignKey(Participant, models.CASCADE, related_name="calls")
    line = models.ForeignKey(
        PhoneLine, models.SET_NULL, null=True, blank=True, related_name="calls"
    )
    kind = models.CharField(max_length=7, choices=CallKind, default=CallKind.RING)
    state = models.CharField(
        max_length=12, choices=choices_of(CallState), default=CallState.PLANNED
    )
    # Begun by them; their own contacts are never counted against them.
    by_them = models.BooleanField(default=False)
    # Agreed deliveries, safety warnings and answers to them do not count as load either.
    counts = models.BooleanField(default=True)
    # A planned ring: not before this day (and hour), in these parts of the day.
    due_on = models.DateField(null=True, blank=True)
    due_at = models.DateTimeField(null=True, blank=True)
    parts = models.JSONField(default=list, blank=True)
    at = models.DateTimeField(null=True, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    outcome = models.CharField(max_length=16, blank=True)
    # What came next: pause, ask_introducer, erase … as meetings.rules names it.
    next_step = models.CharField(max_length=16, blank=True)

    class Meta:
        ordering = ["-at", "due_on"]
        indexes = [models.Index(fields=["state", "due_on"], name="call_due")]
        constraints = [
            held_to(CallState, "state", "call_state_known"),
            models.CheckConstraint(
                condition=Q(outcome="") | Q(at__isnull=False, by__isnull=False),
                name="call_outcome_has_hour",
            ),
            models.CheckConstraint(
                condition=~Q(state=CallState.PLANNED) | Q(due_on__isnull=False),
                name="call_planned_has_day",
            ),
        ]


class HelperKind(models.TextChoices):
    INTERPRETER = "interpreter"
    WITNESS = "witness"


class Helper(Row):
    """Somebody who interprets or witnesses; known on paper by initials."""

    kind = models.CharField(max_length=11, choices=HelperKind)
    # Six letters at most as people count them: one of Nepali may be five signs.
    initials = models.CharField(max_length=40)
    name = SealedText(default="", blank=True)
    languages = models.CharField(max_length=40, blank=True)
    promise_signed_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["initials"]

    def __str__(self) -> str:
        return self.initials


class Meeting(Row):
    """A talk at a place and hour that the person chose; its place is known to us in words only."""

    person = models.ForeignKey(Participant, models.CASCADE, related_name="meetings")
    trip = models.ForeignKey(Trip, models.SET_NULL, null=True, blank=True, related_name="meetings")
    state = models.CharField(
        max_length=11, choices=choices_of(MeetingState), default=MeetingState.PROPOSED
    )
    at = models.DateTimeField(null=True, blank=True)
    place = SealedText(default="", blank=True)
    fallback = SealedText(default="", blank=True)
    # With an hour of its own the fallback is one press: nothing has to be agreed on the day.
    fallback_at = models.DateTimeField(null=True, blank=True)
    place_is_theirs = models.BooleanField(default=True)
    exit_signal = SealedText(default="", blank=True)
    company = SealedText(default="", blank=True)
    interpreter = models.ForeignKey(
        Helper, models.PROTECT, null=True, blank=True, related_name="interpreted"
    )
    witness = models.ForeignKey(
        Helper, models.PROTECT, null=True, blank=True, related_name="witnessed_at"
    )
    # What each is to the person besides, as meetings.helping names it; a warning, not a bar.
    interpreter_ties = models.JSONField(default=list, blank=True)
    witness_ties = models.JSONField(default=list, blank=True)
    # The interpreter is of the person's own group, and the person says that this is well.
    of_own_group = models.BooleanField(default=False)
    own_group_agreed = models.BooleanField(default=False)
    with_camera = models.BooleanField(default=False)
    # How many come along and answer too, and the sheets of film that are planned for a sitting.
    others = models.PositiveSmallIntegerField(default=0)
    sheets = models.PositiveSmallIntegerField(default=0)
    # Somebody with power over the person was there: the meeting does not count.
    power_present = models.BooleanField(null=True, blank=True)
    explained = models.JSONField(default=list, blank=True)
    told_back = models.JSONField(default=list, blank=True)
    ended_why = models.CharField(max_length=12, blank=True)
    # One sentence where it was written up after 48 hours.
    late_why = models.CharField(max_length=140, blank=True)
    times_moved = models.PositiveSmallIntegerField(default=0)
    written_up_at = models.DateTimeField(null=True, blank=True)
    written_up_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-at"]
        indexes = [models.Index(fields=["state"], name="meeting_state")]
        constraints = [
            held_to(MeetingState, "state", "meeting_state_known"),
            models.CheckConstraint(
                condition=Q(state__in=["proposed", "moved", "called_off"]) | Q(at__isnull=False),
                name="meeting_fixed_has_hour",
            ),
            models.CheckConstraint(
                condition=~Q(state="written_up")
                | Q(written_up_at__isnull=False, power_present__isnull=False),
                name="meeting_written_up_says_who_was_there",
            ),
        ]


class Interview(Row):
    """A talk that may be quoted from, if the person said that it may be recorded."""

    person = models.ForeignKey(Participant, models.CASCADE, related_name="interviews")
    held_on = models.DateField()
    may_record = models.BooleanField(default=False)
    how_are_you_due_on = models.DateField(null=True, blank=True)
    how_are_you_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["-held_on"]


class Recording(Row):
    """A sealed recording, with the day on which the person wants it destroyed."""

    interview = models.ForeignKey(
        Interview, models.CASCADE, null=True, blank=True, related_name="recordings"
    )
    code = models.CharField(max_length=12, unique=True)
    file = models.CharField(max_length=36, blank=True)
    # A recording lies on the phone from this moment until it is off it; None: it never did.
    made_at = models.DateTimeField(null=True, blank=True)
    off_the_phone_on = models.DateField(null=True, blank=True)
    # The day its transcript was made, with the names in it replaced.
    transcribed_on = models.DateField(null=True, blank=True)
    destroy_on = models.DateField()
    # They chose the day; otherwise it is twelve months after the transcript.
    day_is_theirs = models.BooleanField(default=False)
    destroyed_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["destroy_on"]

    def __str__(self) -> str:
        return self.code


class DayLine(Row):
    """One numbered line of a printed day sheet: what it is for, and that it was typed in."""

    sheet = models.ForeignKey(Sheet, models.PROTECT, related_name="day_lines")
    number = models.PositiveSmallIntegerField()
    work = models.CharField(max_length=7, choices=choices_of(Work))
    # Nobody on a line for a stop: whose it is was written with a pen.
    person = models.ForeignKey(
        Participant, models.CASCADE, null=True, blank=True, related_name="day_lines"
    )
    # The key of the ring, meeting or print as it stood when the sheet was printed.
    about = models.UUIDField(null=True, blank=True)
    typed_at = models.DateTimeField(null=True, blank=True)
    typed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["number"]
        constraints = [
            held_to(Work, "work", "dayline_work_known"),
            models.UniqueConstraint(fields=["sheet", "number"], name="dayline_number_once"),
            models.CheckConstraint(
                condition=Q(work="stop", person=None, about=None)
                | ~Q(work="stop") & Q(person__isnull=False, about__isnull=False),
                name="dayline_is_about_something",
            ),
            models.CheckConstraint(
                condition=Q(typed_at=None) | Q(typed_by__isnull=False),
                name="dayline_typed_by_somebody",
            ),
        ]


class TravellingSet(Row):
    """A home with one trip's people that was made for a user to carry; `id` is its key too."""

    trip = models.ForeignKey(Trip, models.PROTECT, related_name="travelling_sets")
    made_for = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    made_at = models.DateTimeField()
    # The last day on which it opens.
    last_day = models.DateField()
    # What opens it here when it comes home; emptied then, so that no copy of it opens any more.
    secret = SealedText(default="", blank=True)
    came_home_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)
    ended_how = models.CharField(max_length=8, choices=choices_of(SetEnd), blank=True)

    class Meta:
        ordering = ["-made_at"]
        constraints = [
            models.CheckConstraint(
                condition=Q(ended_at=None, ended_how="")
                | Q(ended_at__isnull=False, ended_how__in=[one.value for one in SetEnd]),
                name="travelling_set_ended_how",
            ),
            models.CheckConstraint(
                condition=Q(came_home_at=None) | Q(came_home_at__gte=F("made_at")),
                name="travelling_set_home_after_it_was_made",
            ),
            models.UniqueConstraint(
                fields=["trip", "made_for"],
                condition=Q(came_home_at=None, ended_at=None),
                name="travelling_set_one_out",
            ),
        ]
