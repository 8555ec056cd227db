"""The people who sit: how little is kept of each, how to reach them, who told us of whom."""

import uuid
from typing import ClassVar

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from relations.languages.local_calendars import Calendar, calendar_of
from relations.privacy.fields import SealedDate, SealedJSON, SealedText
from relations.privacy.models import Hold, Row, choices_of, held_to

from .closed import ProjectClosed as ProjectClosed
from .groups import Community as Community
from .groups import OutsideIntroducer as OutsideIntroducer
from .moves import MovedAbroad as MovedAbroad
from .newcomers import Unwanted as Unwanted
from .told import Introduction as Introduction
from .values import Condition, Risk, Standing


class Participant(Row):
    """Somebody of whom word came through; the code is the only thing that may be said aloud."""

    code = models.CharField(max_length=8, unique=True)
    # What the access log knows a person by; erasing this row cuts the log's tie to them.
    log_key = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    call_name = SealedText(default="")
    community = models.ForeignKey(
        Community, models.PROTECT, null=True, blank=True, related_name="people"
    )
    # Language tags (BCP 47), the preferred one first, separated by spaces.
    languages = models.CharField(max_length=40, blank=True)
    # Whose days stand beside the Gregorian ones; empty: the calendar of their first language.
    calendar = models.CharField(max_length=16, choices=choices_of(Calendar), blank=True, default="")
    reads = models.BooleanField(null=True, blank=True)
    standing = models.CharField(max_length=20, choices=choices_of(Standing), default=Standing.NAMED)
    standing_since = models.DateField()
    heard_on = models.DateField()
    level = models.CharField(max_length=8, choices=choices_of(Risk), blank=True)
    level_next_look_on = models.DateField(null=True, blank=True)
    condition = models.CharField(
        max_length=13, choices=choices_of(Condition), default=Condition.WELL
    )
    condition_on = models.DateField(null=True, blank=True)
    # A birth date is an interval (both days the same where the day is known) and what was said.
    born_earliest = SealedDate(null=True, blank=True)
    born_latest = SealedDate(null=True, blank=True)
    born_said = SealedText(default="", blank=True)
    met_as_adult = models.BooleanField(default=False)
    authority_holders = models.PositiveSmallIntegerField(default=2)
    last_talk_on = models.DateField(null=True, blank=True)
    # What to do, never why.
    instruction = models.CharField(max_length=140, blank=True)
    may_say = models.CharField(max_length=140, blank=True)
    # [["10:00", "12:00"], …] in the person's zone; empty where nobody has asked yet.
    safe_hours = models.JSONField(default=list, blank=True)
    safe_days = models.JSONField(default=list, blank=True)
    text_only = models.BooleanField(default=False)
    may_vouch = models.BooleanField(default=False)
    show_to_own_group = models.BooleanField(null=True, blank=True)
    # When we last asked whether they know somebody, and last thanked them for those who came.
    asked_to_tell_on = models.DateField(null=True, blank=True)
    thanked_on = models.DateField(null=True, blank=True)
    # Since when what is theirs was given back or destroyed as the project ends: shown no more.
    not_shown_since = models.DateField(null=True, blank=True)
    # By which we are sure that it is they who ask; null where none was agreed.
    agreed_word = SealedText(null=True, blank=True)

    class Meta:
        ordering = ["code"]
        constraints = [
            held_to(Standing, "standing", "person_standing_known"),
            models.CheckConstraint(
                condition=Q(calendar__in=["", *(one.value for one in Calendar)]),
                name="person_calendar_known",
            ),
            models.CheckConstraint(
                condition=Q(condition=Condition.WELL, condition_on=None)
                | ~Q(condition=Condition.WELL),
                name="person_well_has_no_day",
            ),
            models.CheckConstraint(
                condition=Q(authority_holders__gte=1, authority_holders__lte=2),
                name="person_authority_one_or_two",
            ),
            models.CheckConstraint(
                condition=Q(heard_on__lte=F("standing_since")), name="person_heard_before_standing"
            ),
        ]

    def __str__(self) -> str:
        return self.code

    @property
    def own_calendar(self) -> Calendar:
        """The calendar they named, else that of their first language."""
        first = next(iter(self.language_list), "")
        return Calendar(self.calendar) if self.calendar else calendar_of(first)

    @property
    def language_list(self) -> list[str]:
        """The language tags, the preferred one first."""
        return self.languages.split()


class NameKind(models.TextChoices):
    OWN = "own"
    SPELLING = "spelling"
    NEVER_PRINT = "never_print"


class Name(Row):
    """One spelling of a name, or a name that must never be printed."""

    person = models.ForeignKey(Participant, models.CASCADE, related_name="names")
    kind = models.CharField(max_length=11, choices=NameKind)
    text = SealedText()
    # ISO 15924, as Latn, Arab, Beng.
    script = models.CharField(max_length=4, blank=True)

    class Meta:
        ordering = ["kind", "id"]


class PhoneLine(Row):
    """One way to ring a person; found again by its keyed mark, never by its digits."""

    person = models.ForeignKey(Participant, models.CASCADE, related_name="lines")
    as_typed = SealedText()
    # E.164; empty where the number was kept raw because it is not possible as it stands.
    number = SealedText(default="", blank=True)
    extension = SealedText(default="", blank=True)
    # The words beside it: whose it is, when it is answered. Null on lines older than this field.
    note = SealedText(blank=True, null=True)
    mark = models.BinaryField(max_length=16, null=True, blank=True)
    # For a rekey: which field each mark is made from.
    MARKED: ClassVar = {"mark": "number"}
    is_shared = models.BooleanField(default=False)
    # The line belongs to somebody through whom this person is reached.
    through = models.ForeignKey(
        Participant, models.SET_NULL, null=True, blank=True, related_name="+"
    )
    # IANA, as "Europe/Paris"; a number does not say where somebody is, so it can be changed.
    zone = models.CharField(max_length=40, blank=True)
    ended_on = models.DateField(null=True, blank=True)

    class Meta:
        indexes = [models.Index(fields=["mark"], name="phoneline_mark")]
        constraints = [
            models.UniqueConstraint(fields=["person", "mark"], name="phoneline_once_a_person"),
        ]


class Speaker(Row):
    """Who answers for a person when they cannot; chosen by the person, or next of kin."""

    person = models.ForeignKey(Participant, models.CASCADE, related_name="speakers")
    speaker = models.ForeignKey(
        Participant, models.SET_NULL, null=True, blank=True, related_name="speaks_for"
    )
    name = SealedText(default="", blank=True)
    way = SealedText(default="", blank=True)
    is_next_of_kin = models.BooleanField(default=False)
    named_on = models.DateField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~Q(speaker=F("person")), name="speaker_is_somebody_else"
            ),
        ]


class PersonHold(Hold):
    """Nothing of this person moves until somebody has looked; anyone may lay it."""

    person = models.ForeignKey(Participant, models.CASCADE, related_name="holds")
    # Shared by the holds that one change of the situation laid on many.
    together = models.UUIDField(null=True, blank=True)

    class Meta(Hold.Meta):
        constraints = [
            *Hold.Meta.constraints,
            models.UniqueConstraint(
                fields=["person"], condition=Q(lifted_at=None), name="personhold_one_at_a_time"
            ),
        ]


class NeverRing(Row):
    """A keyed mark of a number that nobody may ring, for every role and for ever."""

    mark = models.BinaryField(max_length=16)
    # On a shared line: who asked (their log key), until the artist settles the whole number.
    who = models.UUIDField(null=True, blank=True)
    whole_number = models.BooleanField(default=True)
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    undone_at = models.DateTimeField(null=True, blank=True)
    # The standing to which an undo goes back; emptied once name and number are erased.
    was = models.CharField(max_length=20, blank=True)

    class Meta:
        indexes = [models.Index(fields=["mark"], name="neverring_mark")]

    def __str__(self) -> str:
        return "never"


class Why(models.TextChoices):
    NEW = "new"
    RING = "ring"
    RANG_US = "rang_us"
    MEETING = "meeting"
    SITTING = "sitting"
    FORM = "form"
    PRINT = "print"
    STOP = "stop"


class InSight(Row):
    """That a user may see a person on one day, and for what work."""

    person = models.ForeignKey(Participant, models.CASCADE, related_name="in_sight")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="+")
    day = models.DateField()
    why = models.CharField(max_length=8, choices=Why)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["person", "user", "day", "why"], name="insight_once"),
        ]


class RangUs(Row):
    """Somebody rang or wrote to us; what was typed is kept sealed until it is looked into."""

    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    typed = SealedText()
    # Those whom the typed word may mean; shown to nobody but the artist.
    perhaps = SealedJSON(default=list)
    settled_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["-at"]

    def __str__(self) -> str:
        return "rang us"
