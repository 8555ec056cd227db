"""What is written under pictures: captions in versions, and quotes of those who sit."""

from collections.abc import Iterable
from datetime import datetime
from typing import TYPE_CHECKING

from django.db import transaction
from django.db.models import Q, QuerySet

from relations.meetings.models import Interview
from relations.people.models import Participant
from relations.privacy.refused import Refused

from . import leaks, queries
from .models import Caption, Picture, Quote

if TYPE_CHECKING:
    from relations.privacy.models import User


def in_it(picture: Picture) -> QuerySet[Participant]:
    """Whose names are kept out of the words of a picture: all who sat, cropped away or not."""
    is_in_it = Q(appearances__picture=picture) | Q(sittings=picture.sitting_id)
    return Participant.objects.filter(is_in_it).distinct()


@transaction.atomic
def write_caption(
    *,
    picture: Picture,
    words: str,
    by: "User",
    at: datetime,
    version: str | None = None,
    quotes: Iterable[Quote] = (),
    means_another: bool = False,
) -> Caption:
    """Write the words under a picture: always a new version, named c1, c2 … unless given.

    Refused: nothing_changed, version_taken, and the codes of `leaks.refuse`.
    """
    said, now = list(quotes), queries.newest_caption(picture)
    is_same = now is not None and now.words == words and set(now.quotes.all()) == set(said)
    if version is None and is_same:
        raise Refused("nothing_changed")
    version = version or f"c{picture.captions.count() + 1}"
    if picture.captions.filter(version=version).exists():
        raise Refused("version_taken")
    leaks.refuse({"caption": words}, of=in_it(picture), by=by, means_another=means_another)
    caption = Caption.objects.create(picture=picture, version=version, words=words, written_at=at)
    caption.quotes.set(said)
    return caption


@transaction.atomic
def add_quote(
    *,
    code: str,
    person: Participant,
    words: str,
    by: "User",
    at: datetime,
    interview: Interview | None = None,
    captions: Iterable[Caption] = (),
    means_another: bool = False,
) -> Quote:
    """Note words of a sitter, each use of which needs a yes of its own.

    `interview`: the talk it was said in, one of theirs. Refused: code_taken, not_their_talk, and
    the codes of `leaks.refuse`.
    """
    if interview is not None and interview.person_id != person.pk:
        raise Refused("not_their_talk")
    if Quote.objects.filter(code=code).exists():
        raise Refused("code_taken")
    leaks.refuse({"quote": words}, of=[person], by=by, means_another=means_another)
    quote = Quote.objects.create(code=code, by=person, words=words, interview=interview)
    quote.captions.set(captions)
    return quote
