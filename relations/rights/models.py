"""What people ask of us, who else asks, misuse, alarms, and what is let go."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from relations.people.models import Participant
from relations.pictures.models import Picture
from relations.privacy.fields import SealedText
from relations.privacy.models import Row, choices_of, held_to

from .clocks import Clock
from .ends import Closing, Ending, Handover, ToIntroduce
from .taken import TakingOut
from .values import AskedWay, Outcome, SureHow

__all__ = [
    "Alarm",
    "Backup",
    "Closing",
    "CountsReport",
    "Ending",
    "Handover",
    "LettingGo",
    "Misuse",
    "OthersAsk",
    "Request",
    "RequestKind",
    "TakingOut",
    "Telling",
    "ToIntroduce",
]


class RequestKind(models.TextChoices):
    WHAT_YOU_HOLD = "what_you_hold"
    MEND = "mend"
    ERASE = "erase"
    OBJECT = "object"


class Request(Row):
    """A person asks what is held, or asks to mend, erase or object; one month from the day."""

    person = models.ForeignKey(Participant, models.CASCADE, related_name="requests")
    kind = models.CharField(max_length=13, choices=RequestKind)
    asked_on = models.DateField()
    due_on = models.DateField()
    way = models.CharField(max_length=5, choices=choices_of(AskedWay), blank=True)
    heard_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    # How we were sure that it is they who ask, and since which day.
    sure_how = models.CharField(max_length=7, choices=choices_of(SureHow), blank=True)
    sure_on = models.DateField(null=True, blank=True)
    # The day on which they were told that it takes longer.
    extended_on = models.DateField(null=True, blank=True)
    answered_on = models.DateField(null=True, blank=True)
    outcome = models.CharField(max_length=8, choices=choices_of(Outcome), blank=True)

    class Meta:
        ordering = ["due_on"]
        constraints = [
            models.CheckConstraint(
                condition=Q(sure_how="", sure_on=None) | ~Q(sure_how="") & Q(sure_on__isnull=False),
                name="request_sure_how_and_when",
            ),
            models.CheckConstraint(
                condition=Q(extended_on=None) | Q(extended_on__gte=models.F("asked_on")),
                name="request_extended_after_it_was_asked",
            ),
            models.CheckConstraint(
                condition=Q(answered_on=None, outcome="")
                | Q(answered_on__gte=models.F("asked_on"), answered_on__isnull=False)
                & ~Q(outcome=""),
                name="request_answered_how_and_when",
            ),
        ]


class OthersAsk(Row):
    """Press, police, a scholar asked about somebody; nothing is ever confirmed."""

    asked_on = models.DateField()
    asked_by = models.CharField(max_length=20)
    person = models.ForeignKey(
        Participant, models.CASCADE, null=True, blank=True, related_name="others_asked"
    )
    answer = models.CharField(max_length=20)
    heard_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["-asked_on"]


class Misuse(Row):
    """A picture was seen where it should not be."""

    picture = models.ForeignKey(Picture, models.CASCADE, related_name="misuses")
    seen_on = models.DateField()
    where = SealedText()
    asked_down_on = models.DateField(null=True, blank=True)
    told_sitter_on = models.DateField(null=True, blank=True)
    gone_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["-seen_on"]


class Alarm(Row):
    """Something was lost or taken; its clock runs from the hour that we knew."""

    known_at = models.DateTimeField()
    raised_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    what = models.CharField(max_length=20)
    affected = models.ManyToManyField(Participant, blank=True, related_name="alarms")
    sessions_ended_at = models.DateTimeField(null=True, blank=True)
    # That the authority was told, or need not be and why; null on alarms older than this field.
    authority_told_on = models.DateField(null=True, blank=True)
    not_needed_on = models.DateField(null=True, blank=True)
    not_needed_why = SealedText(null=True, blank=True)
    closed_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["-known_at"]
        constraints = [
            models.CheckConstraint(
                condition=Q(authority_told_on=None) | Q(not_needed_on=None),
                name="alarm_authority_told_or_not_needed",
            ),
        ]

    @property
    def waiting(self) -> int:
        """How many of those it may touch are still to be told."""
        return self.affected.count() - self.tellings.count()


class Telling(Row):
    """That somebody whom an alarm may touch was told of it: the hour, and who told them."""

    alarm = models.ForeignKey(Alarm, models.CASCADE, related_name="tellings")
    person = models.ForeignKey(Participant, models.CASCADE, related_name="+")
    told_at = models.DateTimeField()
    told_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["alarm", "person"], name="telling_once"),
        ]


class LettingGo(Row):
    """A clock ran out, and the keeper said what becomes of it: confirmed, or postponed once.

    Rows are written by a press; what nobody has pressed yet is worked out on looking (`due`).
    """

    person = models.ForeignKey(
        Participant, models.CASCADE, null=True, blank=True, related_name="letting_go"
    )
    # What goes where it is nobody as a whole: the random key of its row, or a month of backups.
    thing = models.CharField(max_length=36, blank=True)
    clock = models.CharField(max_length=24, choices=choices_of(Clock))
    due_on = models.DateField()
    # Once, and 90 days from the day it was postponed.
    postponed_until = models.DateField(null=True, blank=True)
    sentence = models.CharField(max_length=140, blank=True)
    confirmed_on = models.DateField(null=True, blank=True)
    confirmed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["due_on"]
        constraints = [
            models.CheckConstraint(
                condition=Q(postponed_until=None) | ~Q(sentence=""),
                name="letting_go_postponed_with_a_sentence",
            ),
            models.CheckConstraint(
                condition=Q(postponed_until=None) | Q(postponed_until__gt=F("due_on")),
                name="letting_go_postponed_beyond_its_day",
            ),
            models.CheckConstraint(
                condition=Q(confirmed_on=None, confirmed_by=None)
                | Q(confirmed_on__isnull=False, confirmed_by__isnull=False),
                name="letting_go_confirmed_by_somebody",
            ),
            held_to(Clock, "clock", "letting_go_clock_known"),
            models.CheckConstraint(
                condition=Q(person=None) | Q(thing=""), name="letting_go_of_one_thing"
            ),
            models.UniqueConstraint(
                fields=["clock", "person", "due_on"], name="letting_go_once_a_person"
            ),
            models.UniqueConstraint(
                fields=["clock", "thing", "due_on"],
                condition=~Q(thing=""),
                name="letting_go_once_a_thing",
            ),
        ]


class Backup(Row):
    """A backup that was read back whole after it was written; or the one this register is from.

    `counts`: the number of rows by table; `faults`: of files that were missing or did not open.
    """

    made_at = models.DateTimeField()
    log_seq = models.BigIntegerField()
    log_head = models.CharField(max_length=64)
    counts = models.JSONField(default=dict)
    files = models.PositiveIntegerField(default=0)
    faults = models.PositiveIntegerField(default=0)
    size = models.BigIntegerField()
    # When this register was restored from it.
    restored_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-made_at"]


class CountsReport(Row):
    """What funders were told in numbers as of a fixed day: said once, and printed again as it was.

    `said`: each table as `counts.Table`, with the names that its rows had; nobody stands in it.
    """

    as_of = models.DateField(unique=True)
    said_at = models.DateTimeField()
    said_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    said = models.JSONField(default=list)

    class Meta:
        ordering = ["-as_of"]
