"""Reads about people that several pages and actions share."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.db.models import Exists, OuterRef, Q, QuerySet
from django.http import Http404

from relations.languages.sorting import by_name
from relations.privacy import holds
from relations.privacy.fields import marks

from . import phones, search
from .models import (
    Community,
    InSight,
    Introduction,
    Name,
    NeverRing,
    OutsideIntroducer,
    Participant,
    PersonHold,
    PhoneLine,
    RangUs,
)
from .newcomers import who_want_another
from .values import Birth, Condition, Facts, Precision, Standing, Vouching

if TYPE_CHECKING:
    from relations.privacy.models import User

# The standings of those who have sat before the camera.
SAT = frozenset(
    {Standing.TAKING_PART, Standing.GONE_QUIET, Standing.SPOKEN_FOR, Standing.STEPPED_BACK}
)
# How long a slip of "never ring" can be undone, before name and number are erased.
A_DAY = timedelta(hours=24)


def first_told(person: Participant) -> Introduction | None:
    """The introduction that is asked about: the newest, since it may open a door again."""
    return (
        person.introductions.filter(is_withheld=False)
        .select_related("introducer", "outside")
        .last()
    )


def told_or_404(person: Participant) -> Introduction:
    """The introduction that is asked about; Http404 where none is kept."""
    told = first_told(person)
    if told is None:
        raise Http404
    return told


def heard(person: Participant) -> tuple[date, Precision]:
    """When we first heard of somebody, and how much of that day is known."""
    rows = person.introductions.filter(heard_on=person.heard_on).order_by("pk")
    known = rows.exclude(precision=Precision.DAY).values_list("precision", flat=True).first()
    return person.heard_on, Precision(known or Precision.DAY)


def hearing_or_404(person: Participant, key: UUID) -> Introduction:
    """One hearing of a person, by key; Http404 where there is none."""
    rows = person.introductions.select_related("person", "introducer", "outside")
    found = rows.filter(pk=key).first()
    if found is None:
        raise Http404
    return found


def answers(told: Introduction) -> dict[str, str]:
    """What the introducer answered, as the page of vouching shows it."""
    shown = {True: "yes", False: "no", None: "not_said"}
    names = ("asked_first", "may_say_who", "has_power")
    return {name: shown[getattr(told, name)] for name in names}


def vouching(introduction: Introduction | None, person: Participant) -> Vouching:
    """What the rule of vouching is given; whoever is the artist's own start needs no introducer."""
    raised = person.community.is_raised if person.community else None
    if introduction is None or introduction.is_withheld:
        return Vouching(community_is_raised=raised)  # nobody who is known vouches
    introducer, outside = introduction.introducer, introduction.outside
    if introducer is not None:
        return Vouching(
            has_sat=introducer.standing in SAT,
            has_stepped_back=introducer.standing in (Standing.STEPPED_BACK, Standing.NEVER_RING),
            may_vouch=introducer.may_vouch,
            asked_first=introduction.asked_first,
            community_is_raised=raised,
        )
    is_accepted = outside is None or outside.accepted_on is not None
    return Vouching(
        is_accepted_outside=is_accepted,
        may_vouch=is_accepted,
        asked_first=introduction.asked_first,
        community_is_raised=raised,
    )


def facts(person: Participant, on: date, by: "User", **known: Any) -> Facts:
    """What bears on a move of this person, as far as their own rows tell.

    `known` are further fields of `Facts` that higher rooms know: tries, told_back, sheets_exposed …
    """
    told = first_told(person)
    own: dict[str, Any] = {
        "vouching": vouching(told, person),
        "artist_says_yes": by.is_artist,
        "is_new_introducer": told is not None and told.heard_on > person.standing_since,
        "language_is_settled": bool(person.languages),
        "hours_are_settled": bool(person.safe_hours),
        "condition": Condition(person.condition),
    }
    return Facts(on=on, since=person.standing_since, **{**own, **known})


def birth(person: Participant) -> Birth | None:
    """The days between which somebody was born, as the rules of age take them."""
    if person.born_earliest is None or person.born_latest is None:
        return None
    return Birth(person.born_earliest, person.born_latest)


def open_hold(person: Participant) -> PersonHold | None:
    """The hold that lies on a person now."""
    return holds.lying(person.holds)


def hold_or_404(person: Participant) -> PersonHold:
    """The hold that lies on a person now; Http404 where none does."""
    return holds.lying_or_404(person.holds)


def rang_or_404(key: UUID) -> RangUs:
    """Somebody who rang and is not settled yet, by key; Http404 where there is none."""
    found = RangUs.objects.filter(pk=key, settled_on=None).first()
    if found is None:
        raise Http404
    return found


def mark_or_404(key: UUID) -> NeverRing:
    """A never-ring mark on a shared number, by key; Http404 where there is none."""
    found = NeverRing.objects.filter(pk=key, undone_at=None, whole_number=False).first()
    if found is None:
        raise Http404
    return found


def filtered(
    people: QuerySet[Participant], community: Community | None = None, standing: str = ""
) -> QuerySet[Participant]:
    """The people of one group or one standing, each with `has_hold`."""
    if community is not None:
        people = people.filter(community=community)
    if standing:
        people = people.filter(standing=standing)
    return with_holds(people).select_related("community")


def names(person: Participant) -> QuerySet[Name]:
    """The names of a person: their own, spellings, those never to be printed."""
    return person.names.all()


def name_or_404(person: Participant, key: UUID) -> Name:
    """One name of a person, by key; Http404 where they have no such name."""
    found = person.names.filter(pk=key).first()
    if found is None:
        raise Http404
    return found


def communities() -> list[Community]:
    """All groups, by name."""
    return by_name(Community.objects.order_by("key"))


def community_or_404(key: str) -> Community:
    """One group by its key; Http404 where there is none."""
    found = Community.objects.filter(key=key).first()
    if found is None:
        raise Http404
    return found


def outsiders() -> QuerySet[OutsideIntroducer]:
    """Those outside who pass names on, by code."""
    return OutsideIntroducer.objects.order_by("code")


def with_holds(people: QuerySet[Participant]) -> QuerySet[Participant]:
    """The same people, each with `has_hold`."""
    holds = PersonHold.objects.filter(person=OuterRef("pk"), lifted_at=None)
    return people.annotate(has_hold=Exists(holds))


def may_not_be_rung(number: str, person: Participant | None = None) -> bool:
    """Whether nobody may ring this E.164 number, or not for this person on a shared line.

    Where who asked was erased, nobody comes newly to that line: it may be them again.
    """
    found = Q(whole_number=True)
    if person is not None:
        found |= Q(who=person.log_key)
        if not person.lines.filter(mark__in=marks(number)).exists():
            found |= Q(who=None)
    return NeverRing.objects.filter(found, mark__in=marks(number), undone_at=None).exists()


def never_ring_marks(person: Participant) -> QuerySet[NeverRing]:
    """The marks laid for this person that can still be told to be theirs."""
    return NeverRing.objects.filter(who=person.log_key, undone_at=None)


def can_be_undone(person: Participant, at: datetime) -> NeverRing | None:
    """The never-ring mark that may still be undone: within 24 hours of being laid."""
    return never_ring_marks(person).filter(at__gt=at - A_DAY).exclude(was="").first()


@dataclass(frozen=True)
class Line:
    """A phone line without its digits: what may be said of it in a list."""

    row: PhoneLine
    is_valid: bool
    can_be_rung: bool
    is_never: bool


def lines(person: Participant) -> list[Line]:
    """The lines of a person in use, none of them opened for eyes."""
    rows = person.lines.filter(ended_on=None).select_related("through")
    return [
        Line(
            row=row,
            is_valid=bool(row.number) and phones.read(row.number, None).is_valid,
            can_be_rung=bool(row.number),
            is_never=bool(row.number) and may_not_be_rung(row.number, person),
        )
        for row in rows
    ]


def shares_with(person: Participant) -> list[Participant]:
    """Others whose line is the same; for the artist only."""
    marks = person.lines.exclude(mark=None).values("mark")
    return list(Participant.objects.filter(lines__mark__in=marks).exclude(pk=person.pk).distinct())


def perhaps(person: Participant, user: "User") -> list[Participant]:
    """Those who may be the same person as somebody word has just come of; for the artist only.

    By a like name in any script, or by the same telephone. Who is known is nothing that anybody
    else may learn (job.md row 4).
    """
    if not user.is_artist or person.standing not in (Standing.NAMED, Standing.VOUCHED_FOR):
        return []
    named = search.same(person.call_name, but=person)
    return [*dict.fromkeys((*shares_with(person), *named))]


@dataclass(frozen=True)
class Seen:
    """A person in sight today, with the work they are in sight for."""

    person: Participant
    why: tuple[str, ...]


def seen_today(user: "User", on: date) -> list[Seen]:
    """The assistant's people of a day, in the order of their codes."""
    rows = InSight.objects.filter(user=user, day=on).order_by("person__code")
    rows = rows.exclude(person__in=who_want_another(user).values("person"))
    works: dict[str, list[str]] = {}
    for code, why in rows.values_list("person__code", "why"):
        works.setdefault(code, []).append(why)
    found = with_holds(Participant.objects.filter(in_sight__in=rows).distinct())
    return [Seen(person, tuple(works[person.code])) for person in found]
