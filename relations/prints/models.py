"""The print owed to every sitter, its way step by step, and what else was promised."""

import secrets
from collections.abc import Container
from random import Random

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from relations.languages.codes import ALPHABET, PRINT_LENGTH, new_code
from relations.meetings.models import Trip
from relations.people.models import Participant
from relations.pictures.models import Picture
from relations.privacy.fields import SealedText
from relations.privacy.models import Row, choices_of, held_to

from .doors import AtDoor
from .lab import Came, Fault, Surface
from .promises import Otherwise
from .rules import PrintState


class LabOrder(Row):
    """One slip of prints by code for the lab, with its day and price in the trip's money."""

    code = models.CharField(max_length=12, unique=True)
    ordered_on = models.DateField()
    trip = models.ForeignKey(Trip, models.SET_NULL, null=True, blank=True, related_name="orders")
    # As the trip had it on that day.
    currency = models.CharField(max_length=3, blank=True)
    # All lines together; None where not every line has a price yet.
    price = models.DecimalField(max_digits=9, decimal_places=2, null=True, blank=True)
    surface = models.CharField(max_length=5, choices=choices_of(Surface), default=Surface.MATT)
    handed_over_on = models.DateField(null=True, blank=True)
    # The day on which nothing of it was left at the lab.
    collected_on = models.DateField(null=True, blank=True)
    # Prints that the lab spoilt, and those of them that it gave back with its slip.
    spoilt = models.PositiveSmallIntegerField(default=0)
    waste_slip = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ["-ordered_on"]
        constraints = [held_to(Surface, "surface", "lab_order_surface_known")]

    def __str__(self) -> str:
        return self.code


class Round(Row):
    """One way of the assistant from door to door, walked by two sheets."""

    code = models.CharField(max_length=12, unique=True)
    on = models.DateField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    # When and from which quarter they set out, and by when the last door is behind them.
    starts_at = models.TimeField(null=True, blank=True)
    starts_in = models.CharField(max_length=40, blank=True)
    ends_by = models.TimeField(null=True, blank=True)
    set_out_at = models.DateTimeField(null=True, blank=True)

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


def fresh_code(taken: Container[str] = ()) -> str:
    """A code for a print that is not among those taken.

    Drawn as the usual value of a row it is held against no other: of 2,000 prints one drawing in
    3,200 meets a taken one, and the database refuses it. The actions say which are taken.
    """
    chance: Random = secrets.SystemRandom()
    return new_code(taken, chance, PRINT_LENGTH)


class Print(Row):
    """One print for one sitter of one picture, owed whatever they answered on uses."""

    # On the envelope, on the slip at its corner and on the receipt; it says nothing of anybody.
    code = models.CharField(max_length=PRINT_LENGTH, unique=True, default=fresh_code)
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
    # Where it is brought: the quarter, the place in words, and the hours that were agreed.
    # Null on prints older than these fields: a sealed field has no value that all rows share.
    quarter = SealedText(blank=True, null=True)
    place = SealedText(blank=True, null=True)
    opens_at = models.TimeField(null=True, blank=True)
    closes_at = models.TimeField(null=True, blank=True)
    # Days and hours that suit them, in words; None until they were asked.
    when_to_come = SealedText(null=True, blank=True)
    box = models.CharField(max_length=8, blank=True)
    not_at_the_lab = models.BooleanField(default=False)
    order = models.ForeignKey(
        LabOrder, models.SET_NULL, null=True, blank=True, related_name="prints"
    )
    round = models.ForeignKey(Round, models.SET_NULL, null=True, blank=True, related_name="prints")
    tries = models.PositiveSmallIntegerField(default=0)
    # At closing: how it ended, and who decided that; the reason stands with the step.
    closed_how = models.CharField(max_length=16, blank=True)
    decided_by = SealedText(null=True, blank=True)

    class Meta:
        ordering = ["owed_since", "id"]
        indexes = [models.Index(fields=["state"], name="print_state")]
        constraints = [
            held_to(PrintState, "state", "print_state_known"),
            models.CheckConstraint(
                condition=Q(code__regex=f"^[{ALPHABET}]{{{PRINT_LENGTH}}}$"),
                name="print_code_shape",
            ),
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
            models.CheckConstraint(
                condition=Q(opens_at=None) | Q(closes_at=None) | Q(opens_at__lt=F("closes_at")),
                name="print_hours_begin_before_they_end",
            ),
        ]


class LabLine(Row):
    """One print on an order: its number on the slip, what is made of it, and what came of it."""

    order = models.ForeignKey(LabOrder, models.CASCADE, related_name="lines")
    print = models.ForeignKey(Print, models.CASCADE, related_name="lab_lines")
    number = models.PositiveSmallIntegerField()
    # As it was typed, with its unit.
    size = models.CharField(max_length=20)
    price = models.DecimalField(max_digits=9, decimal_places=2, null=True, blank=True)
    came = models.CharField(max_length=9, choices=choices_of(Came), blank=True)
    fault = models.CharField(max_length=7, choices=choices_of(Fault), blank=True)

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["order", "number"], name="lab_line_number_once"),
            models.UniqueConstraint(fields=["order", "print"], name="lab_line_print_once"),
            models.CheckConstraint(
                condition=Q(came="") | Q(came__in=[one.value for one in Came]),
                name="lab_line_came_known",
            ),
            models.CheckConstraint(
                condition=Q(fault="") | Q(came="faulty", fault__in=[one.value for one in Fault]),
                name="lab_line_fault_of_a_faulty_one",
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


class RoundDoor(Row):
    """One print on a round under its letter, and what came of it, typed once."""

    round = models.ForeignKey(Round, models.CASCADE, related_name="doors")
    print = models.ForeignKey(Print, models.CASCADE, related_name="doors")
    letter = models.CharField(max_length=1)
    due_at = models.TimeField()
    came = models.CharField(max_length=11, choices=choices_of(AtDoor), blank=True)
    typed_at = models.DateTimeField(null=True, blank=True)
    typed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["letter"]
        constraints = [
            models.UniqueConstraint(fields=["round", "letter"], name="round_letter_once"),
            models.UniqueConstraint(fields=["round", "print"], name="round_print_once"),
            models.CheckConstraint(
                condition=Q(came="", typed_at=None)
                | ~Q(came="") & Q(typed_at__isnull=False, typed_by__isnull=False),
                name="round_door_typed_by_somebody",
            ),
            models.CheckConstraint(
                condition=Q(came__in=["", *(one.value for one in AtDoor)]),
                name="round_door_came_known",
            ),
        ]


class PromiseKind(models.TextChoices):
    PRINT = "print"
    BOOK_COPY = "book_copy"
    INVITATION = "invitation"
    SUM = "sum"
    TELL_BEFORE = "tell_before"
    SUBSTITUTE_PRINT = "substitute_print"
    THANK_YOU = "thank_you"


class Promise(Row):
    """What else a person was promised, by when, and the day it was kept or ended otherwise."""

    person = models.ForeignKey(Participant, models.PROTECT, related_name="promises")
    kind = models.CharField(max_length=16, choices=PromiseKind)
    promised_on = models.DateField()
    due_on = models.DateField(null=True, blank=True)
    kept_on = models.DateField(null=True, blank=True)
    others_may_see = models.BooleanField(null=True, blank=True)
    # Of a sum: how much, in which currency.
    amount = models.DecimalField(max_digits=9, decimal_places=2, null=True, blank=True)
    currency = models.CharField(max_length=3, blank=True)
    # Where it ended without being kept; the reason may be in their words, so it is sealed.
    ended_how = models.CharField(max_length=9, blank=True, choices=choices_of(Otherwise))
    ended_on = models.DateField(null=True, blank=True)
    ended_why = SealedText(null=True, blank=True)
    ended_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["due_on", "promised_on"]
        constraints = [
            models.CheckConstraint(
                condition=Q(amount=None, currency="")
                | Q(kind="sum", amount__gt=0, amount__isnull=False) & ~Q(currency=""),
                name="promise_sum_says_its_currency",
            ),
            models.CheckConstraint(
                condition=Q(kept_on=None) | Q(ended_how=""), name="promise_ends_once"
            ),
            models.CheckConstraint(
                condition=Q(ended_how="", ended_on=None, ended_by=None)
                | Q(
                    ended_how__in=[how.value for how in Otherwise],
                    ended_on__isnull=False,
                    ended_by__isnull=False,
                ),
                name="promise_ended_how_when_by_whom",
            ),
        ]

    @property
    def is_open(self) -> bool:
        """Whether it has no ending yet: neither kept, nor ended otherwise."""
        return self.kept_on is None and not self.ended_how
