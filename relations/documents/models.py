"""A printed paper and the sealed picture of it that came back; papers, not people."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from relations.privacy.models import Row


class SheetKind(models.TextChoices):
    FORM = "form"
    DAY_SHEET = "day_sheet"
    CLEARANCE = "clearance"
    ORDER = "order"
    OTHER = "other"


class Sheet(Row):
    """One paper with a number of its own: five digits and two check digits, as 70042-74."""

    serial = models.CharField(max_length=8, unique=True)
    kind = models.CharField(max_length=12, choices=SheetKind)
    version = models.CharField(max_length=12, blank=True)
    pages = models.PositiveSmallIntegerField(default=2)
    # SHA-256 of the bytes that were printed; empty for a paper from before the site.
    digest = models.CharField(max_length=64, blank=True)
    printed_at = models.DateTimeField(null=True, blank=True)
    printed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(serial__regex=r"^[0-9]{5}-[0-9]{2}$"), name="sheet_serial_shape"
            ),
            models.CheckConstraint(
                condition=Q(digest="", printed_at=None)
                | ~Q(digest="") & Q(printed_at__isnull=False),
                name="sheet_printed_has_digest",
            ),
        ]

    def __str__(self) -> str:
        return self.serial


class Scan(Row):
    """The sealed image or PDF of a paper that came home."""

    sheet = models.ForeignKey(Sheet, models.PROTECT, related_name="scans")
    file = models.CharField(max_length=36, unique=True)
    media_type = models.CharField(max_length=20)
    # SHA-256 of the file as it was sent: the same file is never filed under two papers.
    digest = models.CharField(max_length=64, unique=True)
    size = models.PositiveIntegerField()
    pages = models.PositiveSmallIntegerField(default=1)
    filed_at = models.DateTimeField()
    filed_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["filed_at"]
