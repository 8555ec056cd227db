"""Trips, rings, meetings and those who help at them, interviews and their recordings."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from relations.people.models import Participant, PhoneLine
from relations.privacy.fields import SealedText
from relations.privacy.models import Row, choices_of, held_to

from .values import CallState, MeetingState


class Trip(Row):
    """One stay of the artist at the place."""

    code = models.CharField(max_length=8, unique=True)
    first_day = models.DateField()
    last_day = models.DateField()
    currency = models.CharField(max_length=3, blank=True)
    print_budget = models.DecimalField(max_digits=9, decimal_places=2, null=True, blank=True)

    class Meta:
        ordering = ["first_day"]
        constraints = [
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
    initials = models.CharField(max_length=6)
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
    place_is_theirs = models.BooleanField(default=True)
    exit_signal = SealedText(default="", blank=True)
    company = SealedText(default="", blank=True)
    interpreter = models.ForeignKey(
        Helper, models.PROTECT, null=True, blank=True, related_name="interpreted"
    )
    with_camera = models.BooleanField(default=False)
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


class Recording(Row):
    """A sealed recording, with the day on which the person wants it destroyed."""

    interview = models.ForeignKey(
        Interview, models.CASCADE, null=True, blank=True, related_name="recordings"
    )
    code = models.CharField(max_length=12, unique=True)
    file = models.CharField(max_length=36, blank=True)
    off_the_phone_on = models.DateField(null=True, blank=True)
    destroy_on = models.DateField()
    destroyed_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["destroy_on"]

    def __str__(self) -> str:
        return self.code
