"""Reads for the weighing, in a number of queries that does not grow, and for the pages of forms."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from typing import Any, NamedTuple
from uuid import UUID

from django.db.models import Exists, F, OuterRef, QuerySet, Value
from django.db.models.functions import Concat

from relations.documents.models import Scan
from relations.people.models import Name, NameKind, Participant, PersonHold
from relations.people.queries import birth
from relations.people.values import Condition, Risk
from relations.pictures.models import Appearance, Caption, Picture, PictureHold
from relations.pictures.values import Others, PlaceWord, Recognisable

from . import papers, values
from .models import (
    CaptionAnswer,
    ConditionDecision,
    Form,
    GuardianAnswer,
    PictureAnswer,
    QuoteAnswer,
    SpeakerAnswer,
    TakenBack,
)
from .states import NOT_GIVEN
from .values import ALL, ChildsAnswer, Decision, NameForm, Scope, Use, Wish

CHILD = {ChildsAnswer.YES.value: True, ChildsAnswer.NO.value: False}


class Said(NamedTuple):
    """One row of what hangs on a form or a person, whatever table it lies in."""

    kind: str
    owner: UUID
    what: str
    is_yes: bool
    on: date


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
    rows = list(pictures.select_related("sitting").annotate(on_hold=held))
    frames, sitters = _appearances(rows)
    words = _captions(rows)
    people = _people(sitters, frozenset(row.sitting.code for row in rows), on)
    return Weighable([_picture(row, frames[row.pk], words[row.pk]) for row in rows], people)


def _appearances(
    rows: list[Picture],
) -> tuple[dict[UUID, list[values.Sitter]], dict[UUID, Participant]]:
    """Everybody in each frame from left to right, and each person once."""
    frames: dict[UUID, list[values.Sitter]] = defaultdict(list)
    people: dict[UUID, Participant] = {}
    held = Exists(PersonHold.objects.filter(person=OuterRef("person"), lifted_at=None))
    found = Appearance.objects.filter(picture__in=[row.pk for row in rows])
    for row in found.select_related("person").annotate(on_hold=held):
        frames[row.picture_id].append(
            values.Sitter(row.person.code, Recognisable(row.recognisable))
        )
        row.person.on_hold = row.on_hold  # type: ignore[attr-defined]
        people[row.person_id] = row.person
    return frames, people


class Words(NamedTuple):
    """The newest caption of a picture with the quotes in it."""

    version: str | None = None
    words: str = ""
    quotes: tuple[values.Quote, ...] = ()


def _captions(rows: list[Picture]) -> dict[UUID, Words]:
    found: dict[UUID, Words] = defaultdict(Words)
    captions = Caption.objects.filter(picture__in=[row.pk for row in rows])
    for key, version, words, quote, by in captions.order_by(
        "written_at", "version", "quotes__code"
    ).values_list("picture", "version", "words", "quotes__code", "quotes__by__code"):
        before = found[key].quotes if found[key].version == version else ()
        quotes = (*before, values.Quote(quote, by)) if quote else before
        found[key] = Words(version, words, quotes)
    return found


def _picture(row: Picture, sitters: list[values.Sitter], words: Words) -> values.Picture:
    caption = None if words.version is None else f"{row.code}/{words.version}"
    return values.Picture(
        id=row.code,
        sitting=row.sitting.code,
        made_on=row.made_on,
        sitters=tuple(sitters),
        others=Others(row.others),
        is_on_hold=row.on_hold,  # type: ignore[attr-defined]
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
    said = _said_by_people(rows, on)
    return {
        row.code: _person(row, tuple(forms[key]), said[key], tuple(names[key]))
        for key, row in rows.items()
    }


def _person(
    row: Participant, forms: tuple[values.Form, ...], said: list[Said], names: tuple[str, ...]
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
            for use, one in {one.what: one for one in said if one.kind == "speaker"}.items()
            if one.is_yes
        },
        risk=Risk(row.level) if row.level else None,
        last_talk_on=row.last_talk_on,
        is_on_hold=row.on_hold,  # type: ignore[attr-defined]
        taken_back={one.what: one.on for one in said if one.kind in (ALL, "use")},
        never_print=names,
        forms=tuple(_refusing(form, said) for form in forms),
    )


def _refusing(form: values.Form, said: list[Said]) -> values.Form:
    """A picture taken back is refused on every form that was given before that."""
    gone = {one.what for one in said if one.kind == "picture" and form.given_on <= one.on}
    if not gone:
        return form
    return replace(form, pictures_refused=form.pictures_refused | gone)


def _said_by_people(rows: Iterable[UUID], on: date) -> dict[UUID, list[Said]]:
    """What people took back and what speakers answered, by day; in one query."""
    back = TakenBack.objects.filter(person__in=rows).order_by()
    asked = SpeakerAnswer.objects.filter(person__in=rows, said_on__lte=on).order_by()
    yes, speaker = Value(value=True), Value("speaker")
    found = _together(
        back.filter(scope=Scope.ALL).values_list("scope", "person", "scope", yes, "said_on"),
        back.filter(scope=Scope.USE).values_list("scope", "person", "use", yes, "said_on"),
        back.filter(scope=Scope.PICTURE).values_list(
            "scope", "person", "picture__code", yes, "said_on"
        ),
        asked.values_list(speaker, "person", "use", "is_yes", "said_on"),
    )
    return _by_owner(sorted(found, key=lambda one: one.on))


def _said_on_forms(forms: Iterable[UUID]) -> dict[UUID, list[Said]]:
    """All that hangs on these forms, in one query."""
    day, yes = F("form__given_on"), Value(value=True)
    on_form = {"form__in": forms}
    caption = Concat("caption__picture__code", Value("/"), "caption__version")
    sittings = Form.sittings.through.objects.filter(**on_form).order_by()
    pictures = PictureAnswer.objects.filter(**on_form).order_by()
    captions = CaptionAnswer.objects.filter(**on_form).order_by()
    quotes = QuoteAnswer.objects.filter(**on_form).order_by()
    decisions = ConditionDecision.objects.filter(**on_form).order_by()
    guardians = GuardianAnswer.objects.filter(**on_form).order_by()
    return _by_owner(
        _together(
            sittings.values_list(Value("sitting"), "form", "sitting__code", yes, day),
            pictures.values_list(Value("picture"), "form", "picture__code", "is_yes", day),
            captions.values_list(Value("caption"), "form", caption, yes, day),
            quotes.values_list(Value("quote"), "form", "quote__code", yes, day),
            decisions.values_list(Value("decision"), "form", "use", "can", day),
            guardians.values_list(Value("guardian"), "form", "authority", "is_yes", day),
        )
    )


def _together(first: QuerySet[Any, Any], *others: QuerySet[Any, Any]) -> list[Said]:
    return [Said(*row) for row in first.union(*others, all=True)]


def _by_owner(found: Iterable[Said]) -> dict[UUID, list[Said]]:
    owned: dict[UUID, list[Said]] = defaultdict(list)
    for one in found:
        owned[one.owner].append(one)
    return owned


def _forms(
    people: Iterable[UUID], sittings: frozenset[str]
) -> dict[UUID | None, list[values.Form]]:
    """The forms that were given, by person, in the order of day, hour and serial."""
    scanned = Exists(Scan.objects.filter(sheet=OuterRef("sheet")))
    rows = list(
        Form.objects.filter(person__in=people, given_on__isnull=False)
        .exclude(state__in=NOT_GIVEN)
        .select_related("sheet")
        .annotate(has_scan=scanned)
    )
    rows.sort(key=papers.order)
    said = _said_on_forms([row.pk for row in rows])
    found: dict[UUID | None, list[values.Form]] = defaultdict(list)
    for row in rows:
        found[row.person_id].append(_form(row, said[row.pk], sittings))
    return found


def _form(row: Form, said: Sequence[Said], sittings: frozenset[str]) -> values.Form:
    def of(kind: str, *, is_yes: bool = True) -> frozenset[str]:
        return frozenset(one.what for one in said if one.kind == kind and one.is_yes is is_yes)

    guardians = [one.is_yes for one in said if one.kind == "guardian"]
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
            for one in said
            if one.kind == "decision"
        },
        if_cannot_answer=Wish(row.if_cannot_answer),
        if_died=Wish(row.if_died),
        guardians_yes=sum(guardians),
        guardian_no=not all(guardians),
        childs_yes=CHILD.get(row.childs_answer),
    )
