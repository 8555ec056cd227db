"""What is written when others ask about somebody, and when a picture is where it should not be."""

from datetime import date, datetime

from django.db import transaction

from relations.people.models import Participant
from relations.people.values import Risk
from relations.pictures import actions as pictures
from relations.pictures.models import Picture
from relations.privacy.models import User
from relations.privacy.refused import Refused

from .models import Misuse, OthersAsk
from .values import AUTHORITIES, AskedBy, Told


@transaction.atomic
def others_asked(
    *, asked_by: str, told: str, on: date, by: User, person: Participant | None = None
) -> OthersAsk:
    """Note that somebody asked about a person, or about nobody we know, and what they were told.

    Nothing is confirmed by it to anybody. Authorities are answered by the artist and a lawyer:
    whoever else heard them said the learnt sentence and no more, and no message is passed on for
    them. Refused: artist_and_lawyer.
    """
    who, what = AskedBy(asked_by), Told(told)
    is_authority = who in AUTHORITIES
    if is_authority and (what is Told.PASSED_ON or (what is Told.TO_LAWYER and not by.is_artist)):
        raise Refused("artist_and_lawyer")
    return OthersAsk.objects.create(
        asked_on=on, asked_by=who, person=person, answer=what, heard_by=by
    )


@transaction.atomic
def note_misuse(
    *, picture: Picture, where: str, seen_on: date, by: User, at: datetime, hold: bool = False
) -> Misuse:
    """Note where a picture was seen that should not be there; `hold` also holds the picture."""
    if hold:
        pictures.hold(picture=picture, by=by, at=at)
    return Misuse.objects.create(picture=picture, seen_on=seen_on, where=where)


@transaction.atomic
def told_sitters(*, misuse: Misuse, on: date, by: User) -> Misuse:
    """Note the day on which everybody in the picture was told. Refused: before_it_was_seen."""
    return _once(misuse, "told_sitter_on", on)


@transaction.atomic
def asked_down(*, misuse: Misuse, on: date, by: User) -> Misuse:
    """Note that whoever shows it was asked to take it down.

    Asking makes a noise: where being shown may harm a sitter, they hear of it first.
    Refused: tell_them_first, before_it_was_seen.
    """
    if misuse.told_sitter_on is None and is_told_first(misuse.picture):
        raise Refused("tell_them_first")
    return _once(misuse, "asked_down_on", on)


@transaction.atomic
def gone(*, misuse: Misuse, on: date, by: User) -> Misuse:
    """Note that it is not there any more. Refused: before_it_was_seen."""
    return _once(misuse, "gone_on", on)


def is_told_first(picture: Picture) -> bool:
    """Whether anybody in it is at raised or grave risk; a level never set counts as raised."""
    sitters = Participant.objects.filter(appearances__picture=picture)
    return sitters.exclude(level=Risk.ORDINARY).exists()


def _once(misuse: Misuse, name: str, on: date) -> Misuse:
    """Note a day; a second press finds it noted."""
    if on < misuse.seen_on:
        raise Refused("before_it_was_seen")
    if getattr(misuse, name) is None:
        setattr(misuse, name, on)
        misuse.save(update_fields=[name])
    return misuse
