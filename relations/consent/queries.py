"""Reads for the weighing, in a number of queries that does not grow, and for the pages of forms."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any, NamedTuple
from uuid import UUID

from django.db.models import Exists, F, OuterRef, QuerySet

from relations.documents.models import Scan
from relations.people.models import Name, NameKind, Participant, PersonHold
from relations.people.queries import birth
from relations.people.values import Condition, Risk
from relations.pictures.models import Caption, Picture, PictureHold
from relations.pictures.values import Others, PlaceWord, Recognisable

from . import papers, said, values
from .models import Form
from .said import Hung, Said
from .states import NOT_GIVEN
from .values import ALL, ChildsAnswer, Decision, NameForm, Use, Wish

PICTURE = (
    "pk",
    "code",
    "sitting__code",
    "made_on",
    "others",
    "place_word",
    "alt_text",
    "file_name",
)
PERSON = (
    "code",
    "born_earliest",
    "born_latest",
    "met_as_adult",
    "authority_holders",
    "condition",
    "condition_on",
    "level",
    "last_talk_on",
)
FORM = (
    "person",
    "sheet__serial",
    "given_on",
    "given_at",
    "uses",
    "only_countries",
    "not_countries",
    "seen_everywhere",
    "first_day",
    "last_day",
    "name_form",
    "agreed_name",
    "no_face",
    "show_first",
    "approves_captions",
    "place_word",
    "own_condition",
    "if_cannot_answer",
    "if_died",
    "childs_answer",
    "missing_lines",
    "wording_was_read",
    "settled_at",
)
CHILD = {ChildsAnswer.YES.value: True, ChildsAnswer.NO.value: False}


class Weighable(NamedTuple):
    """What `rules.weigh` asks for: pictures in order, and everybody in them by code."""

    pictures: list[values.Picture]
    people: dict[str, values.Person]


def load(pictures: QuerySet[Picture] | Iterable[UUID], on: date) -> Weighable:
    """Give the rule's input for these pictures (rows or keys), as known on a day.

    Seven queries, whatever their number. A caption is known by its picture and its version, so
    that a yes to "c1" of one picture says nothing of another. A form that is here but was not
    yet said to speak of certain sittings binds in all of that person's (it can only narrow).
    """
    if not isinstance(pictures, QuerySet):
        pictures = Picture.objects.filter(pk__in=list(pictures))
    held = Exists(PictureHold.objects.filter(picture=OuterRef("pk"), lifted_at=None))
    # Rows of plain columns: making instances would cost more than asking for them.
    rows = list(pictures.annotate(on_hold=held).values_list(*PICTURE, "on_hold", named=True))
    keys = [row.pk for row in rows]
    frames, sitters = _appearances(keys)
    words = _captions(keys)
    people = _people(sitters, frozenset(row.sitting__code for row in rows), on)
    return Weighable([_picture(row, frames[row.pk], words[row.pk]) for row in rows], people)


def known(person: Participant, sittings: frozenset[str], on: date) -> values.Person:
    """What the rules know of one person, for pictures of these sittings, as known on a day."""
    held = Exists(PersonHold.objects.filter(person=OuterRef("pk"), lifted_at=None))
    row = Participant.objects.only(*PERSON).annotate(on_hold=held).get(pk=person.pk)
    return _people({row.pk: row}, sittings, on)[row.code]


def _appearances(
    pictures: list[UUID],
) -> tuple[dict[UUID, list[values.Sitter]], dict[UUID, Participant]]:
    """Everybody in each frame from left to right, and each person once."""
    frames: dict[UUID, list[values.Sitter]] = defaultdict(list)
    people: dict[UUID, Participant] = {}
    for row in _sitters().filter(frame__in=pictures):
        frames[row.frame].append(values.Sitter(row.code, Recognisable(row.recognisable)))
        people[row.pk] = row
    return frames, people


@cache
def _sitters() -> QuerySet[Any, Any]:
    """Everybody once for each picture they are in, from left to right, with `on_hold`."""
    held = Exists(PersonHold.objects.filter(person=OuterRef("pk"), lifted_at=None))
    return (
        Participant.objects.only(*PERSON)
        .annotate(
            frame=F("appearances__picture"),
            recognisable=F("appearances__recognisable"),
            on_hold=held,
        )
        .order_by("appearances__place")
    )


class Words(NamedTuple):
    """The newest caption of a picture with the quotes in it."""

    version: str | None = None
    words: str = ""
    quotes: tuple[values.Quote, ...] = ()


def _captions(pictures: list[UUID]) -> dict[UUID, Words]:
    found: dict[UUID, Words] = defaultdict(Words)
    for key, version, words, quote, by in _written().filter(picture__in=pictures):
        before = found[key].quotes if found[key].version == version else ()
        quotes = (*before, values.Quote(quote, by)) if quote else before
        found[key] = Words(version, words, quotes)
    return found


@cache
def _written() -> QuerySet[Any, Any]:
    """Every version of the words under every picture, oldest first, once for each quote in it."""
    captions = Caption.objects.order_by("written_at", "version", "quotes__code")
    return captions.values_list("picture", "version", "words", "quotes__code", "quotes__by__code")


def _picture(row: Any, sitters: list[values.Sitter], words: Words) -> values.Picture:
    caption = None if words.version is None else f"{row.code}/{words.version}"
    return values.Picture(
        id=row.code,
        sitting=row.sitting__code,
        made_on=row.made_on,
        sitters=tuple(sitters),
        others=Others(row.others),
        is_on_hold=row.on_hold,
        caption=caption,
        words=words.words,
        place_word=PlaceWord(row.place_word),
        alt_text=row.alt_text,
        file_name=row.file_name,
        quotes=words.quotes,
    )


def _people(
    rows: dict[UUID, Participant], sittings: frozenset[str], on: date
) -> dict[str, values.Person]:
    forms = _forms(rows, sittings)
    names: dict[UUID, list[str]] = defaultdict(list)
    for name in Name.objects.filter(person__in=rows, kind=NameKind.NEVER_PRINT):
        names[name.person_id].append(name.text)
    heard = said.by_people(rows, on)
    return {
        row.code: _person(row, tuple(forms[key]), heard[key], tuple(names[key]))
        for key, row in rows.items()
    }


def _person(
    row: Participant, forms: tuple[values.Form, ...], heard: list[Said], names: tuple[str, ...]
) -> values.Person:
    return values.Person(
        code=row.code,
        birth=birth(row),
        met_as_adult=row.met_as_adult,
        authority_holders=row.authority_holders,
        condition=Condition(row.condition),
        condition_on=row.condition_on,
        # The last word of a speaker on a use counts: a later no outweighs an earlier yes.
        speaker_yes={
            Use(use): one.on
            for use, one in {one.what: one for one in heard if one.kind == "speaker"}.items()
            if one.is_yes
        },
        risk=Risk(row.level) if row.level else None,
        last_talk_on=row.last_talk_on,
        is_on_hold=row.on_hold,  # type: ignore[attr-defined]
        taken_back={one.what: one.on for one in heard if one.kind in (ALL, "use")},
        never_print=names,
        forms=tuple(_refusing(form, heard) for form in forms),
    )


def _refusing(form: values.Form, heard: list[Said]) -> values.Form:
    """A picture taken back is refused on every form that was given before that."""
    gone = {one.what for one in heard if one.kind == "picture" and form.given_on <= one.on}
    if not gone:
        return form
    return replace(form, pictures_refused=form.pictures_refused | gone)


def _forms(
    people: Iterable[UUID], sittings: frozenset[str]
) -> dict[UUID | None, list[values.Form]]:
    """The forms that were given, by person, in the order of day, hour and serial."""
    rows = list(_given().filter(person__in=people))
    rows.sort(key=papers.order)
    hung = said.on_forms([row.pk for row in rows])
    found: dict[UUID | None, list[values.Form]] = defaultdict(list)
    for row in rows:
        found[row.person_id].append(_form(row, hung[row.pk], sittings))
    return found


@cache
def _given() -> QuerySet[Form]:
    """Every form that was given, with `has_scan` and no column that no rule asks for."""
    scanned = Exists(Scan.objects.filter(sheet=OuterRef("sheet")))
    found = Form.objects.filter(given_on__isnull=False).exclude(state__in=NOT_GIVEN).order_by()
    return found.select_related("sheet").only(*FORM).annotate(has_scan=scanned)


def _form(row: Form, hung: Sequence[Hung], sittings: frozenset[str]) -> values.Form:
    def of(kind: str, *, is_yes: bool = True) -> frozenset[str]:
        return frozenset(one.what for one in hung if one.kind == kind and one.is_yes is is_yes)

    guardians = [one.is_yes for one in hung if one.kind == "guardian"]
    covered = of("sitting")
    if not covered and row.settled_at is None:
        covered = sittings
    assert row.given_on is not None  # noqa: S101 # filtered by the query
    return values.Form(
        given_on=row.given_on,
        sittings=covered,
        uses=frozenset(map(Use, row.uses)),
        is_filed=row.has_scan and row.settled_at is not None,  # type: ignore[attr-defined]
        is_read=row.wording_was_read,
        is_complete=row.missing_lines == [],
        only_countries=None if row.only_countries is None else frozenset(row.only_countries),
        not_countries=frozenset(row.not_countries),
        knows_seen_everywhere=row.seen_everywhere,
        first_day=row.first_day,
        last_day=row.last_day,
        name_form=NameForm(row.name_form),
        agreed_name=row.agreed_name or None,
        is_faceless=row.no_face,
        shows_first=row.show_first,
        pictures_accepted=of("picture"),
        pictures_refused=of("picture", is_yes=False),
        approves_captions=row.approves_captions,
        captions_accepted=of("caption"),
        quotes_accepted=of("quote"),
        place_word=PlaceWord(row.place_word),
        has_own_condition=bool(row.own_condition),
        own_condition_decided={
            Use(one.what): Decision.CAN if one.is_yes else Decision.CANNOT
            for one in hung
            if one.kind == "decision"
        },
        if_cannot_answer=Wish(row.if_cannot_answer),
        if_died=Wish(row.if_died),
        guardians_yes=sum(guardians),
        guardian_no=not all(guardians),
        childs_yes=CHILD.get(row.childs_answer),
    )
