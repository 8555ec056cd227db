"""Reads about sittings and pictures that several pages and actions share."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import count, product
from string import ascii_uppercase
from typing import TYPE_CHECKING

from django.core.files.base import File
from django.db.models import Count, Exists, OuterRef, Q, QuerySet
from django.http import Http404

from relations.meetings.models import Interview
from relations.people.access import people
from relations.people.models import Participant
from relations.privacy import holds
from relations.privacy.files import light_copies

from .models import (
    Appearance,
    Caption,
    FilmSheet,
    Picture,
    PictureHold,
    Quote,
    Sitting,
    Stranger,
)
from .values import SheetState

if TYPE_CHECKING:
    from relations.privacy.models import User


def with_holds(pictures: QuerySet[Picture]) -> QuerySet[Picture]:
    """The same pictures, each with `has_hold`."""
    held = PictureHold.objects.filter(picture=OuterRef("pk"), lifted_at=None)
    return pictures.annotate(has_hold=Exists(held))


def open_hold(picture: Picture) -> PictureHold | None:
    """The hold that lies on a picture now."""
    return holds.lying(picture.holds)


def hold_or_404(picture: Picture) -> PictureHold:
    """The hold that lies on a picture now; Http404 where none does."""
    return holds.lying_or_404(picture.holds)


def with_counts(sittings: QuerySet[Sitting]) -> QuerySet[Sitting]:
    """The same sittings with `sheet_count`, `lost_count` and `picture_count`."""
    return (
        sittings.annotate(
            sheet_count=Count("sheets", distinct=True),
            lost_count=Count("sheets", Q(sheets__state=SheetState.LOST), distinct=True),
            picture_count=Count("pictures", distinct=True),
        )
        .order_by("-on", "code")
        .prefetch_related("sitters")
    )


def sheets(sitting: Sitting) -> QuerySet[FilmSheet]:
    """The film sheets of a sitting, by number."""
    return sitting.sheets.all()


def pictures_of(sitting: Sitting) -> QuerySet[Picture]:
    """The pictures of a sitting, by code, with `has_hold`."""
    return with_holds(sitting.pictures.all())


def captions(picture: Picture) -> QuerySet[Caption]:
    """The versions of the words under a picture, the newest first."""
    return picture.captions.order_by("-written_at", "-version").prefetch_related("quotes")


def newest_caption(picture: Picture) -> Caption | None:
    """The words that stand under a picture now."""
    return captions(picture).first()


def strangers(picture: Picture) -> QuerySet[Stranger]:
    """Those in a frame who did not sit, from the left."""
    return picture.strangers.select_related("paper")


def next_crop_code(whole: Picture) -> str:
    """A code for the next crop: the picture's own and the first letters that are free."""
    taken = {code.upper() for code in Picture.objects.values_list("code", flat=True)}
    signs = (sign for many in count(1) for sign in product(ascii_uppercase, repeat=many))
    codes = (f"{whole.code}{''.join(sign)}" for sign in signs)
    return next(code for code in codes if code.upper() not in taken)


def next_quote_code() -> str:
    """A code for the next quote: q1, q2 …"""
    taken = set(Quote.objects.values_list("code", flat=True))
    return next(code for number in count(1) if (code := f"q{number}") not in taken)


def talks_of(people: list[Participant]) -> QuerySet[Interview]:
    """The interviews of these people, the last first."""
    return Interview.objects.filter(person__in=people).select_related("person")


def quotes_in(picture: Picture) -> QuerySet[Quote]:
    """The quotes of those in a picture."""
    return Quote.objects.filter(by__appearances__picture=picture).order_by("code").distinct()


@dataclass(frozen=True)
class InFrame:
    """Somebody in a frame; those out of sight are a code without a name."""

    appearance: Appearance
    person: Participant
    is_in_sight: bool


def in_frame(user: "User", picture: Picture) -> list[InFrame]:
    """Everybody in a frame, from left to right."""
    rows = list(picture.appearances.select_related("person").order_by("place"))
    seen = _in_sight(user, [row.person for row in rows])
    return [InFrame(row, row.person, row.person_id in seen) for row in rows]


def sitters(user: "User", sitting: Sitting) -> list[tuple[Participant, bool]]:
    """The sitters by code, and whether each is in sight of the user."""
    rows = list(sitting.sitters.order_by("code"))
    seen = _in_sight(user, rows)
    return [(person, person.pk in seen) for person in rows]


def _in_sight(user: "User", rows: Iterable[Participant]) -> set[object]:
    found = people(user).filter(pk__in=[person.pk for person in rows])
    return set(found.values_list("pk", flat=True))


def light_copy(picture: Picture) -> "File[bytes]":
    """The light copy in clear, opened to its end. Http404 where there is none."""
    if not picture.light_copy:
        raise Http404
    return light_copies().open(picture.light_copy)


def next_sitting_code(person: Participant, trip_code: str) -> str:
    """A code for the next sitting of a person: theirs and the trip's, else a number."""
    # As long as a code may be: two trips of one beginning must not come out alike.
    wanted = f"{person.code}-{trip_code or 1}"[:12]
    number = 1
    while Sitting.objects.filter(code=wanted).exists():
        number += 1
        wanted = f"{person.code}-{number}"
    return wanted
