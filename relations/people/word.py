"""How word of somebody comes through or they ring us, and who may vouch for whom."""

import secrets
from datetime import date, datetime
from random import Random
from typing import TYPE_CHECKING

from django.db import transaction
from django.utils import timezone

from relations.languages.codes import new_code
from relations.privacy import home, log
from relations.privacy.refused import Refused

from . import queries, rules, search
from .closed import refuse_if_closed
from .models import Community, InSight, Introduction, OutsideIntroducer, Participant, RangUs, Why
from .values import Precision, Standing

if TYPE_CHECKING:
    from relations.privacy.models import User


@transaction.atomic
def hear(
    *,
    call_name: str,
    on: date,
    by: "User",
    community: Community | None = None,
    introducer: Participant | None = None,
    outside: OutsideIntroducer | None = None,
    languages: str = "",
    instruction: str = "",
    code: str | None = None,
    asked_first: bool | None = None,
    may_say_who: bool | None = None,
    has_power: bool | None = None,
    precision: str = Precision.DAY,
) -> Participant:
    """Note that word of somebody came through; with no introducer it is the artist's own start.

    `code` is drawn where none is given. Whether the person is already known is never looked up:
    nobody is told that somebody is known. Where only the month or year is known, the clock of a
    name begins on its last day, or today within it. Refused: two_sources, project_closed.
    """
    refuse_if_closed()
    first = rules.starts(on, Precision(precision))
    person = Participant.objects.create(
        code=code or _draw(),
        call_name=call_name,
        community=community,
        languages=languages,
        instruction=instruction,
        heard_on=first,
        standing_since=max(on, min(rules.ends(on, Precision(precision)), home.today())),
    )
    hear_again(
        person=person,
        introducer=introducer,
        outside=outside,
        on=on,
        precision=precision,
        by=by,
        asked_first=asked_first,
        may_say_who=may_say_who,
        has_power=has_power,
    )
    return person


def _draw() -> str:
    taken = set(Participant.objects.values_list("code", flat=True))
    chance: Random = secrets.SystemRandom()
    return new_code(taken, chance)


@transaction.atomic
def hear_again(
    *,
    person: Participant,
    on: date,
    by: "User",
    introducer: Participant | None = None,
    outside: OutsideIntroducer | None = None,
    asked_first: bool | None = None,
    may_say_who: bool | None = None,
    has_power: bool | None = None,
    precision: str = Precision.DAY,
) -> Introduction:
    """Note that somebody told us of a person; introducers never learn of each other.

    Of a month or a year its first day is kept, and that no more is known. Refused: two_sources
    (one of `introducer` and `outside` at most), by_themselves, told_before.
    """
    if introducer is not None and outside is not None:
        raise Refused("two_sources")
    if introducer == person:
        raise Refused("by_themselves")
    told = {"introducer": introducer, "outside": outside}
    by_whom = {source: who for source, who in told.items() if who is not None}
    if by_whom and person.introductions.filter(**by_whom).exists():
        raise Refused("told_before")
    return Introduction.objects.create(
        person=person,
        introducer=introducer,
        outside=outside,
        heard_on=rules.starts(on, Precision(precision)),
        precision=Precision(precision),
        number=person.introductions.count() + 1,
        asked_first=asked_first,
        may_say_who=may_say_who,
        has_power=has_power,
    )


@transaction.atomic
def same_as(*, person: Participant, known: Participant, by: "User") -> Introduction:
    """Note that the one word came of is somebody known: who told us of them is noted there too.

    Nothing else is put together: what was asked is carried over, and the new row is let go by its
    own clock. Refused: artist_only, nobody_told, by_themselves, told_before.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    told = queries.first_told(person)
    if told is None:
        raise Refused("nobody_told")
    return hear_again(
        person=known,
        introducer=told.introducer,
        outside=told.outside,
        on=told.heard_on,
        precision=told.precision,
        by=by,
        asked_first=told.asked_first,
        may_say_who=told.may_say_who,
        has_power=told.has_power,
    )


@transaction.atomic
def vouch(
    *,
    introduction: Introduction,
    asked_first: bool | None,
    may_say_who: bool | None,
    has_power: bool | None,
    on: date,
    by: "User",
) -> Introduction:
    """Note what the introducer answered; the artist's yes then opens the way to the first ring.

    The answers of an assistant wait for the artist. Refused with the codes of `rules.vouch`.
    """
    # As they are by now: a no heard meanwhile stays one, a link sealed meanwhile stays sealed.
    held = Participant.objects.select_for_update().get(pk=introduction.person_id)
    told = Introduction.objects.select_for_update().get(pk=introduction.pk)
    said = {"asked_first": asked_first, "may_say_who": may_say_who, "has_power": has_power}
    changes: dict[str, bool | date | None] = {
        **said,
        **({"vouched_on": on} if by.is_artist else {}),
    }
    told.asked_first = asked_first
    if codes := rules.vouch(queries.vouching(told, held)):
        raise Refused(*codes)
    for name, value in changes.items():
        setattr(introduction, name, value)
    introduction.save(update_fields=list(changes))
    if by.is_artist and held.standing != Standing.VOUCHED_FOR:
        known, to = queries.facts(held, on, by), Standing.VOUCHED_FOR
        if not rules.may_move(Standing(held.standing), to, known):
            stand(introduction.person, to, on)
    return introduction


def stand(person: Participant, to: Standing, on: date) -> None:
    """Write where a person stands from a day on; whether they may is for the caller."""
    person.standing, person.standing_since = to, on
    person.save(update_fields=["standing", "standing_since"])


@transaction.atomic
def let_vouch(*, person: Participant, may_vouch: bool, by: "User") -> None:
    """Tick, or take off, that a person may vouch for others; for the artist."""
    if not by.is_artist:
        raise Refused("artist_only")
    person.may_vouch = may_vouch
    person.save(update_fields=["may_vouch"])


@transaction.atomic
def add_community(*, key: str, name: str, is_raised: bool, by: "User") -> Community:
    """Note a group under a neutral name."""
    return Community.objects.create(key=key, name=name, is_raised=is_raised)


@transaction.atomic
def hope_for(*, community: Community, hoped_for: int | None, by: "User") -> None:
    """Say how many sitters of a group are hoped for; None is not said. Refused: artist_only."""
    if not by.is_artist:
        raise Refused("artist_only")
    community.hoped_for = hoped_for
    community.save(update_fields=["hoped_for"])


@transaction.atomic
def thank(*, introducer: Participant | OutsideIntroducer, on: date | None, by: "User") -> None:
    """Note that whoever told us of others was thanked for those who came; None takes it back.

    Refused: artist_only.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    introducer.thanked_on = on
    introducer.save(update_fields=["thanked_on"])


@transaction.atomic
def ask_to_tell(*, person: Participant, on: date | None, by: "User") -> None:
    """Note that a sitter was asked whether they know somebody; None takes it back.

    Refused: artist_only.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    person.asked_to_tell_on = on
    person.save(update_fields=["asked_to_tell_on"])


@transaction.atomic
def accept_outside(
    *, code: str, label: str, accepted_on: date | None, by: "User"
) -> OutsideIntroducer:
    """Note somebody outside who passes names on; with a day, the artist accepts their word."""
    row, _ = OutsideIntroducer.objects.update_or_create(
        code=code, defaults={"label": label, "accepted_on": accepted_on}
    )
    return row


@transaction.atomic
def rang_us(*, typed: str, by: "User", at: datetime) -> RangUs:
    """Note that somebody rang or wrote, saying a code, a number or a name.

    Whom it may mean is kept sealed for the artist, in whatever script they are known. Put in sight
    of `by` for that day are the one who is meant by these very words, or everyone on the line:
    whoever rings us may be saying stop.
    """
    meant = search.by_code(typed) or search.by_number(typed)
    named = search.by_name(typed)
    perhaps = meant or [*dict.fromkeys((*named, *search.like(typed)))]
    heard = RangUs.objects.create(
        at=at, by=by, typed=typed, perhaps=[person.code for person in perhaps]
    )
    for person in meant or (named if len(named) == 1 else []):
        put_in_sight(person=person, user=by, day=timezone.localdate(at), why=Why.RANG_US)
        log.note(by, "rang_us", "person", person.log_key)
    return heard


@transaction.atomic
def settle_rang_us(*, heard: RangUs, on: date, by: "User") -> None:
    """Note that the artist looked into who rang; what was typed is emptied."""
    if not by.is_artist:
        raise Refused("artist_only")
    heard.settled_on, heard.typed, heard.perhaps = on, "", []
    heard.save(update_fields=["settled_on", "typed", "perhaps"])


@transaction.atomic
def put_in_sight(*, person: Participant, user: "User", day: date, why: str) -> InSight:
    """Let a user see a person on one day for one work; doing so twice is once."""
    row, _ = InSight.objects.get_or_create(person=person, user=user, day=day, why=Why(why))
    return row
