"""The days of a trip, what went out on it and came home count by count, and that it is closed."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from relations.consent.models import Form
from relations.meetings.models import Trip
from relations.privacy.models import Row, choices_of, held_to
from relations.rights.models import Alarm

from .values import Counted


class Stay(Row):
    """What the trip is, beside its days: the countries it goes to, and when it was closed."""

    trip = models.OneToOneField(Trip, models.CASCADE, related_name="stay")
    countries = models.JSONField(default=list, blank=True)
    closed_on = models.DateField(null=True, blank=True)
    closed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(closed_on__isnull=True, closed_by__isnull=True)
                | Q(closed_on__isnull=False, closed_by__isnull=False),
                name="stay_closed_by_somebody",
            ),
        ]


class Day(Row):
    """One day of a trip on which we work, and whether prints go round on it."""

    trip = models.ForeignKey(Trip, models.CASCADE, related_name="days")
    on = models.DateField()
    has_round = models.BooleanField(default=False)

    class Meta:
        ordering = ["on"]
        constraints = [
            models.UniqueConstraint(fields=["trip", "on"], name="trip_day_once"),
        ]


class Count(Row):
    """One count of one thing on one trip: taken out, or come home in one way."""

    trip = models.ForeignKey(Trip, models.CASCADE, related_name="counts")
    thing = models.CharField(max_length=10, choices=choices_of(Counted))
    # As "taken", "processed", "lost": codes of trips' own values.
    how = models.CharField(max_length=20)
    # Money in the smallest unit, as cents.
    number = models.PositiveIntegerField()
    counted_on = models.DateField()

    class Meta:
        constraints = [
            held_to(Counted, "thing", "count_thing_known"),
            models.UniqueConstraint(fields=["trip", "thing", "how"], name="count_once"),
        ]


class MissingBlank(Row):
    """A blank that did not come home, and the alarm that names it."""

    form = models.ForeignKey(Form, models.CASCADE, related_name="named_missing")
    alarm = models.ForeignKey(Alarm, models.CASCADE, related_name="missing_blanks")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["form", "alarm"], name="missing_blank_once"),
        ]
