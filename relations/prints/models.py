"""The print owed to every sitter, its way step by step, and what else was promised."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from relations.meetings.models import Trip
from relations.people.models import Participant
from relations.pictures.models import Picture
from relations.privacy.fields import SealedText
from relations.privacy.models import Row, choices_of, held_to

from .rules import PrintState


class LabOrder(Row):
    """One slip of prints by code for the lab, with its day and price."""

    code = models.CharField(max_length=12, unique=True)
    ordered_on = models.DateField()
    trip = models.ForeignKey(Trip, models.SET_NULL, null=True, blank=True, related_name="orders")
    price = models.DecimalField(max_digits=9, decimal_places=2, null=True, blank=True)
    collected_on = models.DateField(null=True, blank=True)
    waste_slip = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ["-ordered_on"]


class Round(Row):
    """One way of the assistant from door to door, walked by two sheets."""

    code = models.CharField(max_length=12, unique=True)
    on = models.DateField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["-on"]


class QuarterMinutes(Row):
    """Minutes between two quarters as the assistant knows them; no streets, no map."""

    start = models.CharField(max_length=40)
    end = models.CharField(max_length=40)
    minutes = models.PositiveSmallIntegerField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["start", "end"], name="quarter_minutes_once"),
        ]


class Print(Row):
    """One print for one sitter of one picture, owed whatever they answered on uses."""

    person = models.ForeignKey(Participant, models.PROTECT, related_name="prints")
    picture = models.ForeignKey(
        Picture, models.PROTECT, null=True, blank=True, related_name="prints"
    )
    state = models.CharField(max_length=20, choices=choices_of(PrintState), default=PrintState.OWED)
    state_on = models.DateField()
    # Owed from this day, the day of the sitting.
    owed_since = models.DateField()
    # The way that was agreed; words about a door are sealed.
    is_safe = models.BooleanField(null=True, blank=True)
    size = models.CharField(max_length=20, blank=True)
    is_sealed = models.BooleanField(default=False)
    into_whose_hand = SealedText(default="", blank=True)
    word_at_the_door = SealedText(default="", blank=True)
    box = models.CharField(max_length=8, blank=True)
    not_at_the_lab = models.BooleanField(default=False)
    order = models.ForeignKey(
        LabOrder, models.SET_NULL, null=True, blank=True, related_name="prints"
    )
    round = models.ForeignKey(Round, models.SET_NULL, null=True, blank=True, related_name="prints")
    tries = models.PositiveSmallIntegerField(default=0)
    closed_how = models.CharField(max_length=16, blank=True)

    class Meta:
        ordering = ["owed_since", "id"]
        indexes = [models.Index(fields=["state"], name="print_state")]
        constraints = [
            held_to(PrintState, "state", "print_state_known"),
            models.UniqueConstraint(fields=["person", "picture"], name="print_once_a_picture"),
            models.UniqueConstraint(
                fields=["person"], condition=Q(picture=None), name="print_one_without_picture"
            ),
            models.CheckConstraint(
                condition=~Q(state="out_on_a_round") | Q(is_safe=True, is_safe__isnull=False),
                name="print_goes_out_by_a_safe_way",
            ),
            models.CheckConstraint(
                condition=~Q(state="closed_out") | ~Q(closed_how=""), name="print_closed_says_how"
            ),
        ]


class Step(Row):
    """One move of a print, dated by the event and not by the typing."""

    print = models.ForeignKey(Print, models.CASCADE, related_name="steps")
    number = models.PositiveSmallIntegerField()
    was = models.CharField(max_length=20, blank=True)
    became = models.CharField(max_length=20)
    on = models.DateField()
    noted_at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    reason = models.CharField(max_length=140, blank=True)

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["print", "number"], name="print_step_once"),
        ]


class PromiseKind(models.TextChoices):
    PRINT = "print"
    BOOK_COPY = "book_copy"
    INVITATION = "invitation"
    SUM = "sum"
    TELL_BEFORE = "tell_before"
    SUBSTITUTE_PRINT = "substitute_print"


class Promise(Row):
    """What else a person was promised, by when, and the day it was kept."""

    person = models.ForeignKey(Participant, models.PROTECT, related_name="promises")
    kind = models.CharField(max_length=16, choices=PromiseKind)
    promised_on = models.DateField()
    due_on = models.DateField(null=True, blank=True)
    kept_on = models.DateField(null=True, blank=True)
    others_may_see = models.BooleanField(null=True, blank=True)

    class Meta:
        ordering = ["due_on", "promised_on"]
