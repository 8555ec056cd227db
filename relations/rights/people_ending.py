"""How the project ends for each person: as agreed, archive, given back, destroyed, not asked."""

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from django.db import transaction
from django.db.models import Exists, OuterRef, QuerySet

from relations.consent import queries as consent
from relations.consent.answers import Result
from relations.consent.rules import weigh
from relations.consent.values import Plan, Use
from relations.people import actions as people
from relations.people import rules as of_people
from relations.people.closed import refuse_if_closed, show_no_more
from relations.people.models import Participant
from relations.people.values import Standing
from relations.people.word import stand
from relations.pictures.models import Appearance, Picture, Sitting
from relations.prints.models import Print, Promise
from relations.prints.queries import OPEN_PROMISE
from relations.prints.rules import ENDS
from relations.privacy.log import note
from relations.privacy.models import User
from relations.privacy.refused import Refused

from . import closing
from .models import Closing, Ending
from .rules import look_again_on
from .values import PersonEnding

KIND = "rights.ending"


@dataclass(frozen=True)
class Without:
    """Somebody without an ending, whether they sat, and which endings there are for them.

    While a print or a promise is owed to them none may be pressed.
    """

    person: Participant
    has_sat: bool
    is_owed: bool

    @property
    def may_end(self) -> tuple[PersonEnding, ...]:
        """The endings that may be pressed, in their own order."""
        may = closing.may_end(Standing(self.person.standing), has_sat=self.has_sat)
        return tuple(one for one in PersonEnding if one in may)


@dataclass(frozen=True)
class Alike:
    """All of those without an ending who stand alike, so that one press may do for them."""

    standing: Standing
    has_sat: bool
    people: tuple[Without, ...]

    @property
    def may_end(self) -> tuple[PersonEnding, ...]:
        """The endings there are for each of them."""
        return self.people[0].may_end

    @property
    def may_all_end(self) -> bool:
        """Whether one press would do for several of them."""
        return sum(not one.is_owed for one in self.people) > 1


def _with_facts() -> QuerySet[Participant]:
    """Everybody with `sat`, `is_decided` and `is_owed`."""
    sat = Sitting.objects.filter(sitters=OuterRef("pk"))
    seen = Appearance.objects.filter(person=OuterRef("pk"))
    prints = Print.objects.filter(person=OuterRef("pk")).exclude(state__in=ENDS)
    promises = Promise.objects.filter(OPEN_PROMISE, person=OuterRef("pk"))
    return Participant.objects.annotate(
        sat=Exists(sat) | Exists(seen),
        is_decided=Exists(Ending.objects.filter(person=OuterRef("pk"))),
        is_owed=Exists(prints) | Exists(promises),
    ).order_by("code")


def without_ending() -> list[Without]:
    """Everybody of whom nobody has said how it ends, by code."""
    return [
        Without(one, one.sat, one.is_owed)  # type: ignore[attr-defined]
        for one in _with_facts()
        if closing.needs_an_ending(
            Standing(one.standing),
            has_sat=one.sat,  # type: ignore[attr-defined]
            has_ending=one.is_decided,  # type: ignore[attr-defined]
        )
    ]


def alike() -> list[Alike]:
    """The same by where they stand, in the order of the standings; who sat first."""
    found: dict[tuple[Standing, bool], list[Without]] = defaultdict(list)
    for one in without_ending():
        found[Standing(one.person.standing), one.has_sat].append(one)
    order = list(Standing)
    keys = sorted(found, key=lambda key: (not key[1], order.index(key[0])))
    return [Alike(*key, tuple(found[key])) for key in keys]


def endings() -> QuerySet[Ending]:
    """What was decided so far; whom nobody could ask first, by the day to look for them again."""
    rows = Ending.objects.select_related("person", "decided_by")
    return rows.order_by("look_again_on", "person__code")


@transaction.atomic
def end_for(*, person: Participant, how: str, on: date, by: User) -> Ending:
    """Say how it ends for a person; their file is closed where the rules of people let it be.

    A second press finds the first. Whoever could not be asked is sealed, and looked for again two
    years later. Refused: artist_only, and the codes of `closing.against_ending_for`.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    held = Participant.objects.select_for_update().get(pk=person.pk)
    if earlier := Ending.objects.filter(person=held).first():
        return earlier
    if codes := _against(held.pk, PersonEnding(how), on):
        raise Refused(*codes)
    is_sealed = how == PersonEnding.COULD_NOT_ASK
    row = Ending.objects.create(
        person=held,
        how=PersonEnding(how),
        decided_on=on,
        decided_by=by,
        look_again_on=look_again_on(on) if is_sealed else None,
    )
    note(by, "ended", KIND, held.log_key)
    if Standing.CLOSED in of_people.MOVES.get(Standing(held.standing), {}):
        row.was, row.was_since = held.standing, held.standing_since
        row.save(update_fields=["was", "was_since"])
        facts = {"has_ending": True, "is_sealed": True}
        people.move(person=held, to=Standing.CLOSED, on=on, by=by, facts=facts)
    if row.how in closing.SHOWN_NO_MORE:
        show_no_more(held, on)
    return row


@transaction.atomic
def take_back(*, person: Participant, by: User) -> None:
    """It does not end so for a person: they stand where they stood before, since the same day.

    A second press finds nothing to take back. What else was done meanwhile stays. Refused:
    artist_only; project_closed, where it goes on after all first.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    refuse_if_closed()
    held = Participant.objects.select_for_update().get(pk=person.pk)
    row = Ending.objects.filter(person=held).first()
    if row is None:
        return
    if row.was and row.was_since and held.standing == Standing.CLOSED:
        stand(held, Standing(row.was), row.was_since)
    show_no_more(held, None)
    row.delete()
    note(by, "took_back", KIND, held.log_key)


@dataclass(frozen=True)
class LookedFor:
    """Somebody whom nobody could ask, whose day to be looked for has come."""

    ending: Ending

    @property
    def person(self) -> Participant:
        """Who it is."""
        return self.ending.person

    @property
    def look_again_on(self) -> date | None:
        """Since when they are to be looked for."""
        return self.ending.look_again_on

    @property
    def may_become(self) -> tuple[PersonEnding, ...]:
        """How it may end now, in its own order; that nobody could ask them again is last."""
        may = closing.may_end(Standing(self.ending.was), has_sat=True)
        return tuple(one for one in PersonEnding if one in may)


def to_look_for(on: date) -> list[LookedFor]:
    """Whoever could not be asked two years before a day or earlier."""
    return [LookedFor(row) for row in endings().filter(look_again_on__lte=on)]


@transaction.atomic
def looked_for(*, person: Participant, how: str, on: date, by: User) -> Ending:
    """Say what came of looking again: how it ends for them now, or that nobody could ask them.

    Then they are looked for two years later. A second press finds it said. Refused: artist_only;
    ending_gone, taken back meanwhile; the codes of `closing.against_ending_for`, of where they
    stood.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    row = Ending.objects.select_for_update().select_related("person").filter(person=person).first()
    if row is None:
        raise Refused("ending_gone")
    if row.look_again_on is None or row.look_again_on > on:
        return row
    if codes := _against(person.pk, PersonEnding(how), on, stood=row.was):
        raise Refused(*codes)
    row.how, row.decided_on, row.decided_by = PersonEnding(how), on, by
    row.look_again_on = look_again_on(on) if how == PersonEnding.COULD_NOT_ASK else None
    row.save(update_fields=["how", "decided_on", "decided_by", "look_again_on"])
    if row.how in closing.SHOWN_NO_MORE:
        show_no_more(row.person, on)
    note(by, "ended", KIND, row.person.log_key)
    return row


@transaction.atomic
def end_alike(*, standing: str, has_sat: bool, how: str, on: date, by: User) -> int:
    """The same for all who stand alike; give for how many. Those of whom it is refused stay.

    Refused: artist_only, nobody_alike; where it is refused for each, the codes of the first.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    rows = [
        one for one in without_ending() if (one.person.standing, one.has_sat) == (standing, has_sat)
    ]
    refused: list[tuple[str, ...]] = []
    for one in rows:
        try:
            end_for(person=one.person, how=how, on=on, by=by)
        except Refused as why:
            refused.append(why.codes)
    if len(refused) == len(rows):
        raise Refused(*(refused[0] if refused else ("nobody_alike",)))
    return len(rows) - len(refused)


def _against(key: UUID, how: PersonEnding, on: date, stood: str = "") -> tuple[str, ...]:
    one = _with_facts().get(pk=key)
    wants_archive = how is PersonEnding.ARCHIVE
    return closing.against_ending_for(
        Standing(stood or one.standing),
        how,
        has_sat=one.sat,  # type: ignore[attr-defined]
        is_closing=Closing.objects.filter(is_current=True).exists(),
        is_owed=one.is_owed,  # type: ignore[attr-defined]
        is_agreed_to_archive=wants_archive and _may_any_go(one, on),
    )


def _may_any_go(person: Participant, on: date) -> bool:
    pictures = Picture.objects.filter(appearances__person=person)
    return any(is_agreed_to_archive(picture, on, None) for picture in pictures)


def is_agreed_to_archive(
    picture: Picture | None, on: date, countries: Collection[str] | None
) -> bool:
    """Whether everybody in a picture says yes to an archive from a day on, without a condition."""
    if picture is None:
        return False
    where = None if countries is None else frozenset(countries)
    plan = Plan(use=Use.ARCHIVE, starts_on=on, countries=where, shows_captions=False)
    (frame,), everybody = consent.load([picture.pk], on)
    return weigh(frame, everybody, plan, today=on).result is Result.CLEARED
