"""Sittings and their film, pictures and everyone in them, captions and quotes."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from relations.documents.models import Sheet
from relations.meetings.models import Interview, Trip
from relations.people.models import Participant
from relations.privacy.models import Hold, Row, choices_of

from .values import Became, Light, Others, PlaceWord, Recognisable, SheetState


class Sitting(Row):
    """One sitting before the camera, of one person or several."""

    code = models.CharField(max_length=12, unique=True)
    trip = models.ForeignKey(Trip, models.PROTECT, null=True, blank=True, related_name="sittings")
    sitters = models.ManyToManyField(Participant, related_name="sittings")
    on = models.DateField()
    minutes = models.PositiveSmallIntegerField(null=True, blank=True)
    light = models.CharField(max_length=9, choices=choices_of(Light), default=Light.AVAILABLE)

    class Meta:
        ordering = ["-on", "code"]

    def __str__(self) -> str:
        return self.code


class FilmSheet(Row):
    """One exposed sheet of film in its holder, labelled by code only."""

    sitting = models.ForeignKey(Sitting, models.CASCADE, related_name="sheets")
    number = models.PositiveSmallIntegerField()
    holder = models.CharField(max_length=6, blank=True)
    state = models.CharField(
        max_length=9, choices=choices_of(SheetState), default=SheetState.EXPOSED
    )

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["sitting", "number"], name="film_sheet_once"),
        ]


class Picture(Row):
    """One frame or one crop of it; every crop is a picture of its own."""

    code = models.CharField(max_length=12, unique=True)
    sitting = models.ForeignKey(Sitting, models.PROTECT, related_name="pictures")
    sheet = models.ForeignKey(
        FilmSheet, models.SET_NULL, null=True, blank=True, related_name="pictures"
    )
    crop_of = models.ForeignKey("self", models.PROTECT, null=True, blank=True, related_name="crops")
    made_on = models.DateField()
    # Anybody recognisable who is not among the sitters, also in a picture inside the picture.
    others = models.CharField(max_length=10, choices=choices_of(Others), default=Others.UNRESOLVED)
    alt_text = models.CharField(max_length=240, blank=True)
    file_name = models.CharField(max_length=80, blank=True)
    place_word = models.CharField(
        max_length=8, choices=choices_of(PlaceWord), default=PlaceWord.NONE
    )
    light_copy = models.CharField(max_length=36, blank=True)
    light_copy_type = models.CharField(max_length=20, blank=True)

    class Meta:
        ordering = ["code"]
        constraints = [
            models.CheckConstraint(
                condition=Q(crop_of=None) | ~Q(crop_of=F("id")), name="picture_crops_another"
            ),
        ]

    def __str__(self) -> str:
        return self.code


class Appearance(Row):
    """That a sitter is in a picture, where in the frame, and whether they can be recognised."""

    picture = models.ForeignKey(Picture, models.CASCADE, related_name="appearances")
    person = models.ForeignKey(Participant, models.PROTECT, related_name="appearances")
    place = models.PositiveSmallIntegerField(default=1)
    recognisable = models.CharField(
        max_length=6, choices=choices_of(Recognisable), default=Recognisable.UNSURE
    )

    class Meta:
        ordering = ["place"]
        constraints = [
            models.UniqueConstraint(fields=["picture", "person"], name="appearance_once"),
        ]


class Stranger(Row):
    """Somebody in a frame who did not sit: where they stand and what became of it; never who."""

    picture = models.ForeignKey(Picture, models.CASCADE, related_name="strangers")
    place = models.PositiveSmallIntegerField()
    became = models.CharField(max_length=16, choices=choices_of(Became), default=Became.NOT_ASKED)
    # On which they said yes.
    paper = models.ForeignKey(Sheet, models.PROTECT, null=True, blank=True, related_name="+")
    noted_on = models.DateField()
    noted_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["place"]
        constraints = [
            models.UniqueConstraint(fields=["picture", "place"], name="stranger_once_a_place"),
            models.CheckConstraint(
                condition=~Q(became=Became.SAID_YES) | Q(paper__isnull=False),
                name="stranger_says_yes_on_paper",
            ),
        ]


class PictureHold(Hold):
    """Nothing happens with this picture until somebody has looked."""

    picture = models.ForeignKey(Picture, models.CASCADE, related_name="holds")

    class Meta(Hold.Meta):
        constraints = [
            *Hold.Meta.constraints,
            models.UniqueConstraint(
                fields=["picture"], condition=Q(lifted_at=None), name="picturehold_one_at_a_time"
            ),
        ]


class Caption(Row):
    """One version of the words under a picture; any change is a new version."""

    picture = models.ForeignKey(Picture, models.CASCADE, related_name="captions")
    version = models.CharField(max_length=6)
    words = models.CharField(max_length=400, blank=True)
    written_at = models.DateTimeField()

    class Meta:
        ordering = ["written_at", "version"]
        constraints = [
            models.UniqueConstraint(fields=["picture", "version"], name="caption_version_once"),
        ]

    def __str__(self) -> str:
        return self.version


class Quote(Row):
    """Words of a sitter; each use of them needs a yes of its own."""

    code = models.CharField(max_length=12, unique=True)
    by = models.ForeignKey(Participant, models.PROTECT, related_name="quotes")
    interview = models.ForeignKey(
        Interview, models.SET_NULL, null=True, blank=True, related_name="quotes"
    )
    words = models.CharField(max_length=400)
    captions = models.ManyToManyField(Caption, blank=True, related_name="quotes")

    def __str__(self) -> str:
        return self.code
