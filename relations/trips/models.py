"""What went out on a trip and what came home, count by count."""

from django.db import models

from relations.meetings.models import Trip
from relations.privacy.models import Row


class Counted(models.TextChoices):
    BLANKS = "blanks"
    FILM = "film"
    PRINTS = "prints"
    MONEY = "money"
    RECORDINGS = "recordings"


class Count(Row):
    """One count of one thing on one trip: taken out, or come home in one way."""

    trip = models.ForeignKey(Trip, models.CASCADE, related_name="counts")
    thing = models.CharField(max_length=10, choices=Counted)
    # As "printed", "home", "left with them", "spoilt", "missing": codes of trips' own rules.
    how = models.CharField(max_length=20)
    number = models.PositiveIntegerField()
    counted_on = models.DateField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["trip", "thing", "how"], name="count_once"),
        ]
