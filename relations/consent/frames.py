"""Pictures as the weighing takes them: everybody in each frame, and the words that go with it."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from functools import cache
from operator import itemgetter
from typing import Any, NamedTuple
from uuid import UUID

from django.db.models import Exists, OuterRef, QuerySet, Subquery, Value

from relations.pictures.models import Appearance, Caption, Picture, PictureHold, Quote
from relations.pictures.values import Others, PlaceWord, Recognisable

from .values import Picture as Shown
from .values import Quote as Quoted
from .values import Sitter

# More keys than this are not sent with every query: the database finds the rows again by itself.
FEW = 500
Keys = list[UUID] | QuerySet[Any, Any]
# The place of somebody who is quoted and need not be in the frame; places begin with 1.
NOT_SEEN = -1
OTHERS = {one.value: one for one in Others}
PLACE_WORDS = {one.value: one for one in PlaceWord}


class Words(NamedTuple):
    """The version of a caption that stands under a picture, and what it says."""

    version: str | None
    words: str


class Frames(NamedTuple):
    """Pictures in order, the keys to find their rows by, and the codes of those in them."""

    pictures: list[Shown]
    keys: Keys
    people: set[str]


def frames(pictures: QuerySet[Picture], chosen: Mapping[str, Words | None]) -> Frames:
    """Give these pictures as the rule takes them; two queries, whatever their number.

    `chosen` are the words under a picture, by code, where they are not the newest; None is no
    caption. A caption is known by its picture and its version, so that a yes to "c1" of one
    picture says nothing of another.
    """
    rows = list(_rows(pictures))
    keys: Keys = [row[0] for row in rows] if len(rows) <= FEW else pictures.values("pk")
    sitters, quotes = _hung(keys)
    shown = [_shown(row, sitters, quotes, chosen) for row in rows]
    people = {one.code for some in sitters.values() for one in some}
    return Frames(shown, keys, people)


def _rows(pictures: QuerySet[Picture]) -> QuerySet[Any, Any]:
    """Plain columns: making instances would cost more than asking for them."""
    look, version, words, over = _beside()
    found = pictures.annotate(next_look=look, version=version, words=words, over=over)
    return found.values_list(
        *("pk", "code", "sitting__code", "made_on", "others", "place_word", "alt_text"),
        *("file_name", "next_look", "over", "version", "words"),
    )


# Put together once: that takes longer than asking them does.
@cache
def _beside() -> tuple[Any, Any, Any, Any]:
    held = PictureHold.objects.filter(picture=OuterRef("pk"), lifted_at=None)
    over = Appearance.objects.filter(picture=OuterRef("pk"), person__not_shown_since__isnull=False)
    newest = Caption.objects.filter(picture=OuterRef("pk")).order_by("-written_at", "-version")
    return (
        Subquery(held.values("next_look_on")[:1]),
        Subquery(newest.values("version")[:1]),
        Subquery(newest.values("words")[:1]),
        Exists(over),
    )


Sitters = Mapping[str, list[Sitter]]
Quotes = Mapping[tuple[str, str | None], list[Quoted]]


def _hung(keys: Keys) -> tuple[Sitters, Quotes]:
    """Everybody in each frame from left to right, and the quotes in each version of its words."""
    seen, quoted = _tables()
    rows = seen.filter(picture__in=keys).union(quoted.filter(captions__picture__in=keys), all=True)
    sitters: dict[str, list[Sitter]] = defaultdict(list)
    quotes: dict[tuple[str, str | None], list[Quoted]] = defaultdict(list)
    one_of = cache(lambda code, how: Sitter(code, Recognisable(how)))
    # By place, then by code: the order in which reasons are found is the same on any database.
    for place, code, picture, said, quote in sorted(rows, key=itemgetter(0, 1, 4)):
        if place == NOT_SEEN:
            quotes[picture, said].append(Quoted(quote, code))
        else:
            sitters[picture].append(one_of(code, said))
    return sitters, quotes


@cache
def _tables() -> tuple[QuerySet[Any, Any], QuerySet[Any, Any]]:
    """Who is in any frame, and who is quoted in any caption, in columns alike."""
    seen = Appearance.objects.order_by().values_list(
        "place", "person__code", "picture__code", "recognisable", Value("")
    )
    quoted = Quote.objects.order_by().values_list(
        Value(NOT_SEEN), "by__code", "captions__picture__code", "captions__version", "code"
    )
    return seen, quoted


def _shown(
    row: Sequence[Any], sitters: Sitters, quotes: Quotes, chosen: Mapping[str, Words | None]
) -> Shown:
    _, code, sitting, made_on, others, place_word, alt_text, file_name, look, over, *newest = row
    version, words = newest
    if code in chosen:
        version, words = chosen[code] or (None, "")
    return Shown(
        id=code,
        sitting=sitting,
        made_on=made_on,
        sitters=tuple(sitters[code]),
        # What was given back or destroyed is shown no more than somebody who was erased.
        others=Others.ERASED if over else OTHERS[others],
        is_on_hold=look is not None,
        next_look_on=look,
        caption=None if version is None else f"{code}/{version}",
        words=words or "",
        place_word=PLACE_WORDS[place_word],
        alt_text=alt_text,
        file_name=file_name,
        quotes=tuple(quotes[code, version]) if (code, version) in quotes else (),
    )
