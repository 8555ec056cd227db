"""Reads for the weighing, in a number of queries that does not grow with what is weighed."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from functools import cache
from types import MappingProxyType
from typing import Any, NamedTuple
from uuid import UUID

from django.db.models import Exists, F, Model, OuterRef, Q, QuerySet, Subquery

from relations.documents.models import Scan
from relations.people.models import Name, NameKind, Participant, PersonHold
from relations.people.values import Birth, Condition, Risk
from relations.pictures.models import Appearance, Picture
from relations.pictures.values import PlaceWord

from . import said, values
from .frames import FEW, Keys, Words, frames
from .models import Form
from .said import Hung, Said
from .states import NOT_GIVEN
from .values import ALL, ChildsAnswer, Decision, NameForm, Use, Wish

PERSON = (
    "pk",
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
    "pk",
    "person__code",
    "given_on",
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
CONDITIONS = {one.value: one for one in Condition}
RISKS = {one.value: one for one in Risk}
NOTHING: Mapping[str, Words | None] = MappingProxyType({})


class Weighable(NamedTuple):
    """What the rule asks for: pictures in order, and everybody in them by code."""

    pictures: list[values.Picture]
    people: dict[str, values.Person]


def load(
    pictures: QuerySet[Picture] | Iterable[UUID],
    on: date,
    chosen: Mapping[str, Words | None] = NOTHING,
) -> Weighable:
    """Give the rule's input for these pictures (rows or keys), as known on a day.

    Seven queries, whatever their number. `chosen` are the words under a picture where they are
    not the newest, see `frames`. A form that is here but was not yet said to speak of certain
    sittings binds in all of that person's (it can only narrow).
    """
    if not isinstance(pictures, QuerySet):
        pictures = Picture.objects.filter(pk__in=list(pictures))
    found = frames(pictures, chosen)
    seen = Appearance.objects.filter(picture__in=found.keys).values("person")
    few = Q(code__in=found.people) if len(found.people) <= FEW else Q(pk__in=seen)
    sittings = frozenset(one.sitting for one in found.pictures)
    return Weighable(found.pictures, _people(few, seen, sittings, on))


def known(person: Participant, sittings: frozenset[str], on: date) -> values.Person:
    """What the rules know of one person, for pictures of these sittings, as known on a day."""
    return _people(Q(pk=person.pk), [], sittings, on)[person.code]


def _people(who: Q, seen: Keys, sittings: frozenset[str], on: date) -> dict[str, values.Person]:
    """Everybody by code; `seen` is asked for their keys where these are many."""
    found = Participant.objects.filter(who).order_by().annotate(next_look=_next_look())
    rows = list(found.values_list(*PERSON, "next_look", named=True))
    keys = [row.pk for row in rows] if len(rows) <= FEW else seen
    forms = _forms(keys, sittings)
    names: dict[UUID, list[str]] = defaultdict(list)
    for name in Name.objects.filter(person__in=keys, kind=NameKind.NEVER_PRINT):
        names[name.person_id].append(name.text)
    heard = said.by_people(keys, on)
    return {
        row.code: _person(row, forms[row.code], heard.get(row.pk, []), tuple(names[row.pk]))
        for row in rows
    }


@cache
def _next_look() -> Subquery:
    """When the hold that lies on somebody is looked into; None where none does."""
    held = PersonHold.objects.filter(person=OuterRef("pk"), lifted_at=None)
    return Subquery(held.values("next_look_on")[:1])


def _person(
    row: Any, forms: list[values.Form], heard: list[Said], names: tuple[str, ...]
) -> values.Person:
    return values.Person(
        code=row.code,
        birth=_birth(row),
        met_as_adult=row.met_as_adult,
        authority_holders=row.authority_holders,
        condition=CONDITIONS[row.condition],
        condition_on=row.condition_on,
        # The last word of a speaker on a use counts: a later no outweighs an earlier yes.
        speaker_yes={
            Use(use): one.on
            for use, one in {one.what: one for one in heard if one.kind == "speaker"}.items()
            if one.is_yes
        },
        risk=RISKS[row.level] if row.level else None,
        last_talk_on=row.last_talk_on,
        is_on_hold=row.next_look is not None,
        next_look_on=row.next_look,
        taken_back={one.what: one.on for one in heard if one.kind in (ALL, "use")},
        never_print=names,
        forms=tuple(_refusing(form, heard) for form in forms) if heard else tuple(forms),
    )


def _birth(row: Any) -> Birth | None:
    """Between which days somebody was born; sealed, and opened without making an instance."""
    if row.born_earliest is None or row.born_latest is None:
        return None
    earliest, latest = _sealed(Participant, "born_earliest"), _sealed(Participant, "born_latest")
    return Birth(earliest.unsealed(row.born_earliest, row), latest.unsealed(row.born_latest, row))


@cache
def _sealed(model: type[Model], name: str) -> Any:
    """A sealed field: it opens a token for any row that says its key."""
    return model._meta.get_field(name)


def _refusing(form: values.Form, heard: list[Said]) -> values.Form:
    """A picture taken back is refused on every form that was given before that."""
    gone = {one.what for one in heard if one.kind == "picture" and form.given_on <= one.on}
    if not gone:
        return form
    return replace(form, pictures_refused=form.pictures_refused | gone)


def _forms(people: Keys, sittings: frozenset[str]) -> dict[str, list[values.Form]]:
    """The forms that were given, by person, in the order of day, hour and serial."""
    given = _given().filter(person__in=people)
    scanned = Exists(Scan.objects.filter(sheet=OuterRef("sheet")))
    rows = list(
        given.annotate(has_scan=scanned)
        .order_by("given_on", F("given_at").asc(nulls_first=True), "sheet__serial")
        .values_list(*FORM, "has_scan", named=True)
    )
    hung = said.on_forms([row.pk for row in rows] if len(rows) <= FEW else given.values("pk"))
    found: dict[str, list[values.Form]] = defaultdict(list)
    for row in rows:
        found[row.person__code].append(_form(row, hung.get(row.pk, ()), sittings))
    return found


@cache
def _given() -> QuerySet[Form]:
    """Every form that was given."""
    return Form.objects.filter(given_on__isnull=False).exclude(state__in=NOT_GIVEN).order_by()


def _form(row: Any, hung: Sequence[Hung], sittings: frozenset[str]) -> values.Form:
    yes: dict[str, set[str]] = defaultdict(set)
    for one in hung:
        if one.is_yes:
            yes[one.kind].add(one.what)
    covered = frozenset(yes["sitting"])
    if not covered and row.settled_at is None:
        covered = sittings
    guardians = [one.is_yes for one in hung if one.kind == "guardian"]
    is_pseudonym = row.name_form == NameForm.PSEUDONYM
    return values.Form(
        given_on=row.given_on,
        sittings=covered,
        uses=frozenset(map(Use, row.uses)),
        is_filed=row.has_scan and row.settled_at is not None,
        is_read=row.wording_was_read,
        is_complete=row.missing_lines == [],
        only_countries=None if row.only_countries is None else frozenset(row.only_countries),
        not_countries=frozenset(row.not_countries),
        knows_seen_everywhere=row.seen_everywhere,
        first_day=row.first_day,
        last_day=row.last_day,
        name_form=NameForm(row.name_form),
        agreed_name=(_opened(row, "agreed_name") or None) if is_pseudonym else None,
        is_faceless=row.no_face,
        shows_first=row.show_first,
        pictures_accepted=frozenset(yes["picture"]),
        pictures_refused=frozenset(
            one.what for one in hung if one.kind == "picture" and not one.is_yes
        ),
        approves_captions=row.approves_captions,
        captions_accepted=frozenset(yes["caption"]),
        quotes_accepted=frozenset(yes["quote"]),
        place_word=PlaceWord(row.place_word),
        has_own_condition=bool(_opened(row, "own_condition")),
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


def _opened(row: Any, name: str) -> str:
    """What a sealed field of a form says."""
    said: str = _sealed(Form, name).unsealed(getattr(row, name), row)
    return said
