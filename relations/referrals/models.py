"""What of the introductions was made to be shown to others, and what it said."""

from django.conf import settings
from django.db import models

from relations.privacy.models import Row, choices_of, held_to

from .sharing import Sharing


class Shared(Row):
    """One drawing that left the house, or one map in disguise, by a number of its own.

    `said` of a drawing is `said.as_json`: the next one holds its numbers to it. Of a map it is
    how many people it showed, and of which group; neither its codes nor its key are kept.
    """

    number = models.PositiveIntegerField(unique=True)
    kind = models.CharField(max_length=7, choices=choices_of(Sharing))
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    said = models.JSONField(default=dict)

    class Meta:
        ordering = ["-number"]
        verbose_name_plural = "shared"
        constraints = [held_to(Sharing, "kind", "shared_kind_known")]
