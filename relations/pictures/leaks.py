"""Names that are never printed, looked for in all that goes out with pictures."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING
from uuid import UUID

from django.db.models import OuterRef, QuerySet, Subquery

from relations.languages.finding import Names
from relations.people import access
from relations.people.models import Name, NameKind, Participant
from relations.privacy.refused import Refused

from .models import Appearance, Caption, Picture, Quote

if TYPE_CHECKING:
    from relations.privacy.models import User


class Where(StrEnum):
    """What holds a name: of a picture the words that stand now, or a quote."""

    CAPTION = "caption"
    ALT_TEXT = "alt_text"
    FILE_NAME = "file_name"
    QUOTE = "quote"


@dataclass(frozen=True)
class Leak:
    """A name of somebody in words that go out: whose, never which."""

    where: Where
    code: str  # of the picture or of the quote
    person: Participant
    is_in_it: bool


def names_of(people: QuerySet[Participant]) -> Names[UUID]:
    """The names never to be printed of these people, in every spelling that is noted."""
    rows = Name.objects.filter(kind=NameKind.NEVER_PRINT, person__in=people)
    return Names((row.person_id, row.text) for row in rows.only("person", "text").order_by())


def refuse(
    words: Mapping[str, str],
    *,
    of: Iterable[Participant],
    by: "User",
    means_another: bool = False,
) -> None:
    """Refuse words that hold a name never to be printed; `words` by what they are, as `Where`.

    `of`: those in the picture. Theirs is refused as "caption_leaks", whatever is said. The name
    of somebody whom `by` may see, who is not in it, as "caption_leaks_elsewhere", unless
    `means_another` says that it is another of that name. Nobody learns so of the names of
    people whom they may not see.
    """
    near = Participant.objects.filter(pk__in=[person.pk for person in of])
    codes = [f"{field}_leaks" for field in _held(words, names_of(near))]
    if not codes and not means_another:
        far = _held(words, names_of(access.people(by)))
        codes = [f"{field}_leaks_elsewhere" for field in far]
    if codes:
        raise Refused(*codes)


def _held(words: Mapping[str, str], names: Names[UUID]) -> list[str]:
    return [field for field, text in words.items() if text and _found(names, field, text)]


def _found(names: Names[UUID], field: str, text: str) -> list[UUID]:
    return names.found_in_file(text) if field == Where.FILE_NAME else names.found(text)


def everywhere() -> list[Leak]:
    """Every name never to be printed that stands in a newest caption, an alternative text, the
    name of a file or a quote, of whomever; six queries, whatever their number.

    Those who are in the picture come first, then by picture or quote.
    """
    names = names_of(Participant.objects.all())
    found = [
        (where, code, key, person)
        for where, code, key, text in _texts()
        for person in _found(names, where, text)
    ]
    whose = {person for *_, person in found}
    people = Participant.objects.in_bulk(whose)
    within = set(Appearance.objects.filter(person__in=whose).values_list("picture", "person"))
    within |= set(Quote.objects.filter(by__in=whose).values_list("pk", "by"))
    leaks = [
        Leak(where, code, people[person], (key, person) in within)
        for where, code, key, person in found
    ]
    return sorted(leaks, key=lambda leak: (not leak.is_in_it, leak.code, leak.where))


def _texts() -> Iterator[tuple[Where, str, UUID, str]]:
    """All words that go out: what they are, the code and key of whose they are, the words."""
    newest = Caption.objects.filter(picture=OuterRef("pk")).order_by("-written_at", "-version")
    rows = Picture.objects.annotate(said=Subquery(newest.values("words")[:1])).order_by()
    for key, code, *texts in rows.values_list("pk", "code", "said", "alt_text", "file_name"):
        kinds = (Where.CAPTION, Where.ALT_TEXT, Where.FILE_NAME)
        for where, text in zip(kinds, texts, strict=True):
            if text:
                yield where, code, key, text
    for key, code, text in Quote.objects.order_by().values_list("pk", "code", "words"):
        yield Where.QUOTE, code, key, text
