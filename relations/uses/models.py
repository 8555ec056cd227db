"""Planned uses and their weighing, clearance sheets, what was shown, and what must come down."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from relations.consent.values import NameForm, Use
from relations.people.models import Participant
from relations.pictures.models import Caption, Picture
from relations.privacy.fields import SealedText
from relations.privacy.models import Row, choices_of

from .causes import Because
from .rules import Force


class PlannedUse(Row):
    """One wall, book, page … that somebody wants pictures for: kind, place, days, names shown."""

    code = models.CharField(max_length=8, unique=True)
    use = models.CharField(max_length=12, choices=choices_of(Use))
    place = models.CharField(max_length=80, blank=True)
    # Two-letter codes (ISO 3166-1); null is the world.
    countries = models.JSONField(null=True, blank=True)
    starts_on = models.DateField()
    ends_on = models.DateField(null=True, blank=True)
    one_day = models.BooleanField(default=False)
    paper_only = models.BooleanField(default=False)
    captions = models.BooleanField(default=True)
    files_with = models.CharField(max_length=80, blank=True)
    dropped_on = models.DateField(null=True, blank=True)
    pictures = models.ManyToManyField(Picture, through="PlannedPicture", related_name="plans")

    class Meta:
        ordering = ["starts_on", "code"]
        constraints = [
            models.CheckConstraint(
                condition=Q(ends_on=None) | Q(ends_on__gte=F("starts_on")),
                name="plan_ends_after_it_starts",
            ),
        ]

    def __str__(self) -> str:
        return self.code


class PlannedPicture(Row):
    """That a picture is asked for in a planned use, and with which words."""

    class Captioned(models.TextChoices):
        SHOWN = "shown"
        NONE = "none"

    plan = models.ForeignKey(PlannedUse, models.CASCADE, related_name="asked")
    picture = models.ForeignKey(Picture, models.CASCADE, related_name="asked")
    # Empty is as the plan says for all its pictures.
    captioned = models.CharField(max_length=5, choices=Captioned, blank=True)
    # The version that is shown; None is the newest.
    caption = models.ForeignKey(Caption, models.SET_NULL, null=True, blank=True, related_name="+")
    dropped_on = models.DateField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["plan", "picture"], name="picture_asked_once_a_plan"),
        ]


class NameShown(Row):
    """How one sitter is to be named in a planned use, in all its pictures or in one.

    What is said of one picture goes before what is said of all; nobody named is shown without.
    """

    plan = models.ForeignKey(PlannedUse, models.CASCADE, related_name="names")
    person = models.ForeignKey(Participant, models.CASCADE, related_name="+")
    picture = models.ForeignKey(Picture, models.CASCADE, null=True, blank=True, related_name="+")
    name_form = models.CharField(max_length=9, choices=choices_of(NameForm))

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["plan", "person"],
                condition=Q(picture=None),
                name="name_shown_once_a_plan",
            ),
            models.UniqueConstraint(
                fields=["plan", "person", "picture"], name="name_shown_once_a_picture"
            ),
        ]


class Weighing(Row):
    """An answer with the digest of all that went into it; it is never set by hand."""

    asked = models.ForeignKey(PlannedPicture, models.CASCADE, related_name="weighings")
    result = models.CharField(max_length=12)
    stops = models.JSONField(default=list)
    conditions = models.JSONField(default=list)
    look_again_on = models.DateField(null=True, blank=True)
    digest = models.CharField(max_length=64)
    on = models.DateField()
    weighed_at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["-weighed_at"]
        constraints = [
            models.CheckConstraint(
                condition=Q(result__in=["cleared", "conditions", "not_cleared"]),
                name="weighing_result_known",
            ),
        ]


class ClearanceSheet(Row):
    """A numbered, dated list of cleared pictures for one venue, until the first look-again day."""

    number = models.PositiveIntegerField(unique=True)
    plan = models.ForeignKey(PlannedUse, models.PROTECT, related_name="sheets")
    # The venue's, of the page and of the paper.
    language = models.CharField(max_length=12, default="en")
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    valid_until = models.DateField()
    replaces = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="replaced_by"
    )
    # SHA-256 of the link's random part, and the hash of its pass phrase: neither is kept itself.
    link_digest = models.CharField(max_length=64, unique=True, null=True, blank=True)
    phrase = models.CharField(max_length=128, blank=True)
    link_ends_on = models.DateField(null=True, blank=True)
    wrong_phrases = models.PositiveSmallIntegerField(default=0)
    confirmed_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.CheckConstraint(
                condition=Q(link_digest=None, phrase="", link_ends_on=None)
                | Q(link_digest__isnull=False, link_ends_on__isnull=False) & ~Q(phrase=""),
                name="sheet_link_is_whole",
            ),
            models.CheckConstraint(
                condition=Q(link_ends_on=None) | Q(link_ends_on__lte=F("valid_until")),
                name="sheet_link_ends_with_it",
            ),
        ]

    def __str__(self) -> str:
        return str(self.number)


class ClearedPicture(Row):
    """One line of a clearance sheet: the picture, its caption to the letter, what to keep to."""

    sheet = models.ForeignKey(ClearanceSheet, models.CASCADE, related_name="lines")
    weighing = models.ForeignKey(Weighing, models.PROTECT, related_name="+")
    caption = models.CharField(max_length=500, blank=True)
    # The artist's words of a sitter's own condition, as the venue is to keep to it.
    instruction = models.CharField(max_length=140, blank=True)
    word_on = models.DateField(null=True, blank=True)
    # When the venue said that a picture that counts no more is down.
    down_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["sheet", "weighing"], name="cleared_once_a_sheet"),
        ]


class Shown(Row):
    """The use register: what is or was shown, where, from when to when, and whom to ring."""

    code = models.CharField(max_length=8, unique=True)
    use = models.CharField(max_length=12, choices=choices_of(Use))
    plan = models.ForeignKey(
        PlannedUse, models.PROTECT, null=True, blank=True, related_name="shown"
    )
    pictures = models.ManyToManyField(Picture, related_name="shown")
    place = models.CharField(max_length=80)
    countries = models.JSONField(null=True, blank=True)
    starts_on = models.DateField()
    ends_on = models.DateField(null=True, blank=True)
    press_day = models.DateField(null=True, blank=True)
    copies = models.PositiveIntegerField(null=True, blank=True)
    # Nobody remembers who has the files: so a use without holder cannot be saved.
    holder = models.CharField(max_length=80)
    reach_holder = SealedText(default="", blank=True)

    class Meta:
        ordering = ["-starts_on", "code"]
        verbose_name_plural = "shown"
        constraints = [
            models.CheckConstraint(condition=~Q(holder=""), name="shown_has_a_holder"),
            models.CheckConstraint(
                condition=Q(ends_on=None) | Q(ends_on__gte=F("starts_on")),
                name="shown_ends_after_it_starts",
            ),
        ]

    def __str__(self) -> str:
        return self.code


class UndoLine(Row):
    """One thing that must come down after a stop: what, by when, and what became of it."""

    shown = models.ForeignKey(Shown, models.PROTECT, related_name="undo_lines")
    picture = models.ForeignKey(Picture, models.PROTECT, related_name="undo_lines")
    person = models.ForeignKey(Participant, models.PROTECT, related_name="undo_lines")
    code = models.CharField(max_length=24)
    force = models.CharField(max_length=6, choices=choices_of(Force))
    because = models.CharField(
        max_length=10, choices=choices_of(Because), default=Because.TAKEN_BACK
    )
    opened_at = models.DateTimeField()
    due_at = models.DateTimeField(null=True, blank=True)
    done_on = models.DateField(null=True, blank=True)
    done_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    # Not every thing can be brought back; then the sitter is told so, on a day.
    cannot = models.BooleanField(default=False)
    told_them_on = models.DateField(null=True, blank=True)
    told_holder_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["due_at"]
        constraints = [
            models.UniqueConstraint(
                fields=["shown", "picture", "person", "code"],
                condition=Q(done_on=None),
                name="undo_line_once",
            ),
        ]


class Standstill(Row):
    """The keeper's hold on every new use: the artist is gone, or cannot be asked.

    What was given out before stays as it is. `is_current` is True until it is lifted and then
    empty, so that there is one at a time.
    """

    laid_at = models.DateTimeField()
    laid_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    is_current = models.BooleanField(default=True, null=True, blank=True, unique=True)
    lifted_at = models.DateTimeField(null=True, blank=True)
    lifted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    # What was settled, such as who follows; no name of a sitter.
    sentence = models.CharField(max_length=140, blank=True)

    class Meta:
        ordering = ["-laid_at"]
        constraints = [
            models.CheckConstraint(
                condition=Q(is_current=True, is_current__isnull=False)
                & Q(lifted_at=None, lifted_by=None, sentence="")
                | Q(is_current=None, lifted_at__isnull=False, lifted_by__isnull=False)
                & ~Q(sentence=""),
                name="standstill_lifted_by_whom_and_why",
            ),
        ]
