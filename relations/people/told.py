"""Who told us of whom: one hearing, its day, and what was asked before a name was said."""

from django.db import models
from django.db.models import F, Q

from relations.privacy.models import Row, choices_of, held_to

from .values import Precision


class Introduction(Row):
    """Who first or further told us of a person, and what was asked before their name was said."""

    person = models.ForeignKey("people.Participant", models.CASCADE, related_name="introductions")
    introducer = models.ForeignKey(
        "people.Participant", models.PROTECT, null=True, blank=True, related_name="introduced"
    )
    outside = models.ForeignKey(
        "people.OutsideIntroducer", models.PROTECT, null=True, blank=True, related_name="introduced"
    )
    # An erased link leaves this stub and its wave, so that the count still holds.
    is_withheld = models.BooleanField(default=False)
    wave = models.PositiveSmallIntegerField(null=True, blank=True)
    # The first day of the month or year where no more is known.
    heard_on = models.DateField()
    precision = models.CharField(max_length=5, choices=choices_of(Precision), default=Precision.DAY)
    # Which word of this person it was, in the order of entry: of one day the earlier one is first.
    number = models.PositiveSmallIntegerField(default=1)
    asked_first = models.BooleanField(null=True, blank=True)
    may_say_who = models.BooleanField(null=True, blank=True)
    has_power = models.BooleanField(null=True, blank=True)
    vouched_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["heard_on", "number", "id"]
        constraints = [
            held_to(Precision, "precision", "introduction_precision_known"),
            models.CheckConstraint(
                condition=Q(introducer=None, outside=None)
                | Q(is_withheld=False, introducer__isnull=False, outside=None)
                | Q(is_withheld=False, introducer=None, outside__isnull=False),
                name="introduction_has_one_source",
            ),
            models.CheckConstraint(
                condition=~Q(introducer=F("person")), name="introduction_by_somebody_else"
            ),
            models.CheckConstraint(
                condition=Q(vouched_on=None) | Q(vouched_on__gte=F("heard_on")),
                name="introduction_heard_before_vouched",
            ),
            models.UniqueConstraint(
                fields=["person", "introducer"], name="introduction_once_an_introducer"
            ),
            models.UniqueConstraint(
                fields=["person", "outside"], name="introduction_once_an_outside_introducer"
            ),
        ]
