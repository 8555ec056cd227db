"""A printed paper and the sealed picture of it that came back; papers, not people."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from relations.privacy.models import Row, choices_of, held_to

from .sorting import Place, Why
from .values import PaperKind

# Kinds of paper that bear no square code.
WITHOUT_CODE = ("clearance", "order", "other")


class Layout(Row):
    """Where the boxes of a printed paper stand; every copy of two wordings has the same one."""

    class Size(models.TextChoices):
        A4 = "A4"
        LETTER = "Letter"

    # SHA-256 of size and boxes.
    digest = models.CharField(max_length=64, unique=True)
    size = models.CharField(max_length=6, choices=Size)
    # {"1": {"uses.web.yes": [left, top, width, height]}} in millimetres; nobody's answers.
    boxes = models.JSONField()


class Sheet(Row):
    """One paper with a number of its own: five digits and two check digits, as 70042-74."""

    serial = models.CharField(max_length=8, unique=True)
    kind = models.CharField(
        max_length=12,
        choices=[*choices_of(PaperKind), *((kind, kind) for kind in WITHOUT_CODE)],
    )
    version = models.CharField(max_length=12, blank=True)
    pages = models.PositiveSmallIntegerField(default=2)
    # SHA-256 of the bytes that were printed; empty for a paper from before the site.
    digest = models.CharField(max_length=64, blank=True)
    # The sealed file of those very bytes; empty for a paper from before they were kept.
    kept = models.CharField(max_length=36, blank=True)
    # None for a paper from before its boxes were kept: it is read by hand alone.
    layout = models.ForeignKey(Layout, models.PROTECT, null=True, blank=True, related_name="+")
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


class Upload(Row):
    """What was sent at once: a stack of pages, kept sealed until each has found its place."""

    # One PDF of all its pages; empty once none of them lies in it alone.
    file = models.CharField(max_length=36, blank=True)
    count = models.PositiveSmallIntegerField()
    looked = models.PositiveSmallIntegerField(default=0)
    sent_at = models.DateTimeField()
    sent_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    # Which of the files sent at once, counted from 1, were not taken, and the code of why.
    left_out = models.JSONField(default=list, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-sent_at"]
        constraints = [
            models.CheckConstraint(
                condition=Q(looked__lte=F("count")), name="upload_looked_at_no_more_than_it_has"
            ),
            models.CheckConstraint(
                condition=~Q(file="") | Q(ended_at__isnull=False), name="upload_kept_until_ended"
            ),
        ]


class Page(Row):
    """One page of an upload: what its codes say, and where it has got to."""

    upload = models.ForeignKey(Upload, models.PROTECT, related_name="pages")
    number = models.PositiveSmallIntegerField()
    place = models.CharField(max_length=8, choices=choices_of(Place))
    why = models.CharField(max_length=13, choices=choices_of(Why), blank=True)
    sheet = models.ForeignKey(Sheet, models.PROTECT, null=True, blank=True, related_name="arrivals")
    side = models.PositiveSmallIntegerField(null=True, blank=True)
    turn = models.PositiveSmallIntegerField(default=0)
    # SHA-256 of what the page shows, in whichever file it lies.
    digest = models.CharField(max_length=64)
    # The sealed page alone, while it waits or was set aside; else it lies in the upload or a scan.
    file = models.CharField(max_length=36, blank=True)
    scan = models.ForeignKey(Scan, models.SET_NULL, null=True, blank=True, related_name="page_rows")
    word = models.CharField(max_length=120, blank=True)
    placed_at = models.DateTimeField(null=True, blank=True)
    placed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["upload__sent_at", "number"]
        constraints = [
            held_to(Place, "place", "page_place_known"),
            models.UniqueConstraint(fields=["upload", "number"], name="page_number_once"),
            models.CheckConstraint(
                condition=~Q(place__in=["waiting", "aside"]) | ~Q(file=""),
                name="page_that_waits_is_kept",
            ),
            models.CheckConstraint(
                condition=~Q(place="aside") | ~Q(word=""), name="page_set_aside_says_why"
            ),
        ]
        indexes = [models.Index(fields=["place"]), models.Index(fields=["digest"])]
