"""What became of a form, step by step, and what is kept of it each time it came to stand."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from relations.privacy.fields import SealedText
from relations.privacy.models import Row, choices_of

from .states import State


class FormStep(Row):
    """One state that a form came to, and the day; written once and never changed."""

    form = models.ForeignKey("consent.Form", models.CASCADE, related_name="steps")
    number = models.PositiveSmallIntegerField()
    state = models.CharField(max_length=18, choices=choices_of(State))
    on = models.DateField()

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["form", "number"], name="form_step_number_once"),
        ]


class KeptCopy(Row):
    """A form as it stood on a day: its record in words for machines, and the paper with it."""

    form = models.ForeignKey("consent.Form", models.CASCADE, related_name="kept")
    number = models.PositiveSmallIntegerField()
    stood_on = models.DateField()
    # JSON-LD, to the byte as it lies in the paper's PDF.
    record = SealedText()
    record_digest = models.CharField(max_length=64)
    # The sealed PDF and the SHA-256 of it, once it was laid out; never laid out again.
    file = models.CharField(max_length=36, blank=True)
    digest = models.CharField(max_length=64, blank=True)
    made_at = models.DateTimeField(null=True, blank=True)
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["form", "number"], name="kept_copy_number_once"),
            models.UniqueConstraint(
                fields=["file"], condition=~Q(file=""), name="kept_copy_file_once"
            ),
            models.CheckConstraint(
                condition=Q(file="", digest="", made_at=None)
                | ~Q(file="") & ~Q(digest="") & Q(made_at__isnull=False),
                name="kept_copy_made_has_digest",
            ),
        ]
