"""Reads of who interprets and who witnesses, and what speaks against them at a meeting."""

from typing import TYPE_CHECKING

from django.db.models import QuerySet

from relations.people.models import Participant

from .helping import Helps, Tie, warnings
from .models import Helper, HelperKind, Meeting

if TYPE_CHECKING:
    from relations.privacy.models import User


def helper_warnings(meeting: Meeting) -> tuple[str, ...]:
    """What speaks against those who interpret and witness at a meeting, as codes."""
    interprets, witnesses = meeting.interpreter, meeting.witness
    return warnings(
        Helps(
            interprets.initials,
            frozenset(map(Tie, meeting.interpreter_ties)),
            tuple(interprets.languages.split()),
            of_own_group=meeting.of_own_group,
            is_agreed=meeting.own_group_agreed,
            has_promised=interprets.promise_signed_on is not None,
        )
        if interprets
        else None,
        Helps(
            witnesses.initials,
            frozenset(map(Tie, meeting.witness_ties)),
            tuple(witnesses.languages.split()),
        )
        if witnesses
        else None,
        tuple(meeting.person.language_list),
    )


def helpers() -> QuerySet[Helper]:
    """Those who interpret or witness, by initials."""
    return Helper.objects.all()


def interpreters_for(person: Participant, user: "User") -> list[Helper] | None:
    """Who interprets a language of theirs, where `user` speaks none of them; else None.

    An empty list: an interpreter is needed and none is known.
    """
    theirs = set(person.language_list)
    if not theirs or theirs & {*user.languages, user.language}:
        return None
    return [one for one in interpreters() if theirs & set(one.languages.split())]


def interpreters() -> QuerySet[Helper]:
    """Those who interpret."""
    return Helper.objects.filter(kind=HelperKind.INTERPRETER)


def witnesses() -> QuerySet[Helper]:
    """Those who witness."""
    return Helper.objects.filter(kind=HelperKind.WITNESS)
