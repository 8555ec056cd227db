"""Wordings and forms, what two readings found on them, and what was taken back."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from relations.documents.models import Sheet
from relations.meetings.models import Helper, Recording, Trip
from relations.people.models import Participant
from relations.pictures.models import Caption, Picture, Quote, Sitting
from relations.pictures.values import PlaceWord
from relations.privacy.fields import SealedJSON, SealedText
from relations.privacy.models import Row, choices_of, held_to

from . import history as history  # its tables are this room's too
from .completeness import HOLDERS, Way
from .states import State
from .texts import Clause as Clause
from .texts import Wording as Wording
from .values import ChildsAnswer, FormKind, NameForm, Scope, Use, Wish


class Form(Row):
    """One paper under one serial, and what it says once two readings agree; blank is no."""

    sheet = models.OneToOneField(Sheet, models.PROTECT, related_name="form")
    person = models.ForeignKey(
        Participant, models.PROTECT, null=True, blank=True, related_name="forms"
    )
    first_wording = models.ForeignKey(
        Wording, models.PROTECT, null=True, blank=True, related_name="+"
    )
    second_wording = models.ForeignKey(
        Wording, models.PROTECT, null=True, blank=True, related_name="+"
    )
    kind = models.CharField(max_length=13, choices=choices_of(FormKind), default=FormKind.ADULT)
    trip = models.ForeignKey(Trip, models.SET_NULL, null=True, blank=True, related_name="forms")
    # The language a paper from before the site was in, where the site holds no wording for it.
    old_language = models.CharField(max_length=12, blank=True)
    is_from_before = models.BooleanField(default=False)
    state = models.CharField(max_length=18, choices=choices_of(State), default=State.PRINTED)
    state_on = models.DateField()
    carried_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    way = models.CharField(max_length=16, choices=choices_of(Way), blank=True)
    given_on = models.DateField(null=True, blank=True)
    given_at = models.TimeField(null=True, blank=True)
    sittings = models.ManyToManyField(Sitting, blank=True, related_name="forms")
    witness = models.ForeignKey(
        Helper, models.PROTECT, null=True, blank=True, related_name="witnessed"
    )
    interpreter = models.ForeignKey(
        Helper, models.PROTECT, null=True, blank=True, related_name="interpreted_forms"
    )
    recording = models.ForeignKey(
        Recording, models.PROTECT, null=True, blank=True, related_name="forms"
    )
    copy_kept = models.BooleanField(null=True, blank=True)
    # What the paper says; only a settled form counts as evidence.
    may_keep = models.BooleanField(null=True, blank=True)
    uses = models.JSONField(default=list, blank=True)
    only_countries = models.JSONField(null=True, blank=True)
    not_countries = models.JSONField(default=list, blank=True)
    seen_everywhere = models.BooleanField(default=False)
    first_day = models.DateField(null=True, blank=True)
    last_day = models.DateField(null=True, blank=True)
    name_form = models.CharField(max_length=9, choices=choices_of(NameForm), default=NameForm.NONE)
    agreed_name = SealedText(default="", blank=True)
    no_face = models.BooleanField(default=False)
    show_first = models.BooleanField(default=False)
    approves_captions = models.BooleanField(default=False)
    place_word = models.CharField(
        max_length=8, choices=choices_of(PlaceWord), default=PlaceWord.NONE
    )
    own_condition = SealedText(default="", blank=True)
    if_cannot_answer = models.CharField(max_length=5, choices=choices_of(Wish), default=Wish.ASK)
    if_died = models.CharField(max_length=5, choices=choices_of(Wish), default=Wish.ASK)
    childs_answer = models.CharField(max_length=3, choices=choices_of(ChildsAnswer), blank=True)
    # Codes of lines that are missing for its way of giving; null = not looked at yet.
    missing_lines = models.JSONField(null=True, blank=True)
    wording_was_read = models.BooleanField(default=False)
    settled_at = models.DateTimeField(null=True, blank=True)
    settled_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["given_on", "given_at", "sheet__serial"]
        indexes = [models.Index(fields=["state"], name="form_state")]
        constraints = [
            held_to(State, "state", "form_state_known"),
            models.CheckConstraint(
                condition=~Q(state="standing")
                | Q(person__isnull=False, given_on__isnull=False)
                & Q(settled_at__isnull=False, wording_was_read=True),
                name="form_standing_is_settled_and_read",
            ),
            models.CheckConstraint(
                condition=Q(first_day=None) | Q(last_day=None) | Q(first_day__lte=F("last_day")),
                name="form_first_day_before_last",
            ),
            models.CheckConstraint(
                condition=Q(is_from_before=True) | Q(first_wording__isnull=False),
                name="form_has_a_wording_or_is_old",
            ),
        ]


class Reading(Row):
    """What one person read on a scan, box by box; two blind readings make a form."""

    form = models.ForeignKey(Form, models.CASCADE, related_name="readings")
    number = models.PositiveSmallIntegerField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    at = models.DateTimeField()
    answers = SealedJSON()

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["form", "number"], name="reading_number_once"),
            models.UniqueConstraint(fields=["form", "by"], name="reading_by_two_people"),
            models.CheckConstraint(
                condition=Q(number__gte=1, number__lte=2), name="reading_first_or_second"
            ),
        ]


class GuardianAnswer(Row):
    """What one holder of authority over a child said on a form."""

    form = models.ForeignKey(Form, models.CASCADE, related_name="guardians")
    authority = models.CharField(max_length=11, choices=choices_of(HOLDERS))
    name = SealedText(default="", blank=True)
    is_yes = models.BooleanField()
    said_on = models.DateField()


class PictureAnswer(Row):
    """What a sitter said of one picture when they saw it, on one form."""

    form = models.ForeignKey(Form, models.CASCADE, related_name="picture_answers")
    picture = models.ForeignKey(Picture, models.CASCADE, related_name="answers")
    is_yes = models.BooleanField()
    said_on = models.DateField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["form", "picture"], name="picture_answer_once"),
        ]


class SaidOfWords(Row):
    """What a sitter said of words that were read aloud to them: who read, in which language."""

    is_yes = models.BooleanField(default=True)
    said_on = models.DateField()
    # Empty where an answer was noted without saying who read it.
    read_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )
    interpreter = models.ForeignKey(Helper, models.PROTECT, null=True, blank=True, related_name="+")
    language = models.CharField(max_length=12, blank=True)

    class Meta:
        abstract = True


class CaptionAnswer(SaidOfWords):
    """What was said of one version of a caption; a yes is to this version alone."""

    form = models.ForeignKey(Form, models.CASCADE, related_name="caption_answers")
    caption = models.ForeignKey(Caption, models.CASCADE, related_name="answers")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["form", "caption"], name="caption_answer_once"),
        ]


class QuoteAnswer(SaidOfWords):
    """What was said of one quote by whoever it is of."""

    form = models.ForeignKey(Form, models.CASCADE, related_name="quote_answers")
    quote = models.ForeignKey(Quote, models.CASCADE, related_name="answers")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["form", "quote"], name="quote_answer_once"),
        ]


class ConditionDecision(Row):
    """Whether a hand-written condition can be kept in one use, decided by a person."""

    form = models.ForeignKey(Form, models.CASCADE, related_name="decisions")
    use = models.CharField(max_length=12, choices=choices_of(Use))
    can = models.BooleanField()
    decided_on = models.DateField()
    decided_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["form", "use"], name="condition_decided_once"),
        ]


class PaperOf(Row):
    """That a sheet of ours which is no form is about somebody, whose erasing then reaches it."""

    sheet = models.ForeignKey(Sheet, models.CASCADE, related_name="of")
    person = models.ForeignKey(Participant, models.CASCADE, related_name="+")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["sheet", "person"], name="paper_of_somebody_once"),
        ]


class TakenBack(Row):
    """A no that was heard; it acts from that moment, whatever paper follows."""

    person = models.ForeignKey(Participant, models.CASCADE, related_name="taken_back")
    scope = models.CharField(max_length=7, choices=choices_of(Scope))
    use = models.CharField(max_length=12, choices=choices_of(Use), blank=True)
    picture = models.ForeignKey(
        Picture, models.CASCADE, null=True, blank=True, related_name="taken_back"
    )
    said_on = models.DateField()
    heard_at = models.DateTimeField()
    heard_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")
    answer_due_on = models.DateField()
    answered_on = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["-heard_at"]
        constraints = [
            models.CheckConstraint(
                condition=Q(scope="all", use="", picture=None)
                | Q(scope="use", picture=None) & ~Q(use="")
                | Q(scope="picture", use="", picture__isnull=False),
                name="taken_back_scope_fits",
            ),
        ]


class SpeakerAnswer(Row):
    """What a speaker said of one use while the person could not answer."""

    person = models.ForeignKey(Participant, models.CASCADE, related_name="speaker_answers")
    use = models.CharField(max_length=12, choices=choices_of(Use))
    is_yes = models.BooleanField()
    said_on = models.DateField()

    class Meta:
        ordering = ["said_on"]
        constraints = [
            models.UniqueConstraint(
                fields=["person", "use", "said_on"], name="speaker_answer_once_a_day"
            ),
        ]
