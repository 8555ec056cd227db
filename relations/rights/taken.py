"""The table of askings for the whole register: who asked, who confirmed, and what came of it.

Django finds it by way of `models`.
"""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from relations.privacy.fields import SealedText
from relations.privacy.models import Row, choices_of

from .values import TakingEnd

TAKEN, ENDS = TakingEnd.TAKEN.value, [end.value for end in TakingEnd]


class TakingOut(Row):
    """The artist asks to take the whole register out, and the keeper confirms; never one alone.

    `is_open` is True until it ends and then empty, so that there is one at a time. `digest`: the
    SHA-256 of the file that was taken, in hexadecimal, by which a copy is known again.
    """

    asked_at = models.DateTimeField()
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    # What it is for and where it goes.
    reason = SealedText()
    confirmed_at = models.DateTimeField(null=True, blank=True)
    confirmed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    is_open = models.BooleanField(default=True, null=True, blank=True, unique=True)
    ended_at = models.DateTimeField(null=True, blank=True)
    ended_how = models.CharField(max_length=11, choices=choices_of(TakingEnd), blank=True)
    # Nobody, where it ended by itself.
    ended_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    digest = models.CharField(max_length=64, blank=True)

    class Meta:
        ordering = ["-asked_at"]
        constraints = [
            models.CheckConstraint(
                condition=Q(confirmed_at=None, confirmed_by=None)
                | Q(confirmed_at__isnull=False, confirmed_by__isnull=False)
                & ~Q(confirmed_by=F("asked_by")),
                name="taking_out_confirmed_by_another",
            ),
            models.CheckConstraint(
                condition=Q(is_open=True, is_open__isnull=False, ended_at=None, ended_how="")
                | Q(is_open=None, ended_at__isnull=False, ended_how__in=ENDS),
                name="taking_out_open_until_it_ends",
            ),
            models.CheckConstraint(
                condition=~Q(ended_how=TAKEN) & Q(digest="")
                | Q(ended_how=TAKEN, confirmed_at__isnull=False) & ~Q(digest=""),
                name="taking_out_taken_once_confirmed",
            ),
        ]
