"""That somebody lives in another country now: since when, and whether they were asked again."""

from django.db import models

from relations.privacy.models import Row


class MovedAbroad(Row):
    """A move abroad, and when territory was asked again after it; where to is not kept."""

    person = models.ForeignKey("people.Participant", models.CASCADE, related_name="moves_abroad")
    since = models.DateField()
    asked_again_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["-since"]
        constraints = [
            models.UniqueConstraint(fields=["person", "since"], name="moved_once_a_day"),
        ]
