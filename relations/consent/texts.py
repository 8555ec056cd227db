"""Wordings and their clauses: what our papers say, in one language and one version."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from relations.documents.values import WORDED, PaperKind
from relations.privacy.models import Row, choices_of, held_to

from .values import ClauseState


class Wording(Row):
    """The form's text in one language, in one version; frozen once a second person has read it."""

    language = models.CharField(max_length=12)
    version = models.PositiveSmallIntegerField()
    # The words on the lines; those of another paper than the form under "<kind>.<key>".
    labels = models.JSONField(default=dict)
    # Which edition of the project's own words on the lines these were last read against.
    lines_edition = models.PositiveSmallIntegerField(default=1)
    written_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    read_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    read_on = models.DateField(null=True, blank=True)
    frozen_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["language", "-version"]
        constraints = [
            models.UniqueConstraint(fields=["language", "version"], name="wording_version_once"),
            models.CheckConstraint(
                condition=Q(read_by=None) | Q(written_by=None) | ~Q(read_by=F("written_by")),
                name="wording_read_by_a_second_person",
            ),
            models.CheckConstraint(
                condition=Q(frozen_at=None) | Q(read_by__isnull=False, read_on__isnull=False),
                name="wording_frozen_was_read",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.language} {self.version}"


class Clause(Row):
    """One numbered clause of a paper; the same key and number in every language."""

    wording = models.ForeignKey(Wording, models.CASCADE, related_name="clauses")
    paper = models.CharField(max_length=12, choices=choices_of(WORDED), default=PaperKind.FORM)
    key = models.CharField(max_length=32)
    number = models.PositiveSmallIntegerField()
    heading = models.CharField(max_length=120, blank=True)
    text = models.TextField(max_length=2000)
    state = models.CharField(
        max_length=10, choices=choices_of(ClauseState), default=ClauseState.DRAFTED
    )
    # The edition of the project's own words that this says; those words as they were then.
    source_version = models.PositiveSmallIntegerField(default=1)
    source_words = models.TextField(max_length=2200, blank=True)
    translated_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    # What a second person said that it says, in the artist's language.
    read_back = models.TextField(max_length=2000, blank=True)
    read_back_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    approved_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    approved_on = models.DateField(null=True, blank=True)
    # The words that were approved last, so that a reader sees what changed since.
    approved_words = models.TextField(max_length=2200, blank=True)
    # What its reader would have written anew; it is sent back only where somebody says so.
    why = models.CharField(max_length=200, blank=True)
    sent_back_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["paper", "number", "key"]
        constraints = [
            models.UniqueConstraint(fields=["wording", "paper", "key"], name="clause_key_once"),
            held_to(WORDED, "paper", "clause_paper_is_printed"),
            models.CheckConstraint(
                condition=Q(approved_by=None)
                | Q(translated_by=None)
                | ~Q(approved_by=F("translated_by")),
                name="clause_approved_by_another",
            ),
            models.CheckConstraint(
                condition=Q(read_back_by=None)
                | Q(translated_by=None)
                | ~Q(read_back_by=F("translated_by")),
                name="clause_read_back_by_another",
            ),
            models.CheckConstraint(
                condition=~Q(state__in=[ClauseState.READ_BACK, ClauseState.APPROVED])
                | ~Q(read_back="") & Q(read_back_by__isnull=False),
                name="clause_approved_was_read_back",
            ),
            models.CheckConstraint(
                condition=~Q(state=ClauseState.APPROVED)
                | Q(approved_by__isnull=False, approved_on__isnull=False),
                name="clause_approved_by_somebody",
            ),
            models.CheckConstraint(
                condition=Q(sent_back_by=None) | Q(state=ClauseState.DRAFTED) & ~Q(why=""),
                name="clause_sent_back_is_a_draft_and_says_why",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def name(self) -> str:
        """What it is called among all papers: "who" on the form, "explanation.who" elsewhere."""
        return self.key if self.paper == PaperKind.FORM else f"{self.paper}.{self.key}"

    @property
    def words(self) -> str:
        """Heading and text together."""
        return f"{self.heading}\n{self.text}"
