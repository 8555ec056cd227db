"""The invented people of the tests; rows are written directly, so that no action is leant on."""

from datetime import date, datetime, time, timedelta
from typing import Any

from django.utils import timezone

from relations.people import phones
from relations.people.models import (
    Community,
    InSight,
    Introduction,
    OutsideIntroducer,
    Participant,
    PhoneLine,
    Why,
)
from relations.people.values import Risk, Standing
from relations.privacy.fields import mark
from relations.privacy.models import Role, User
from tests.at_the_door import come_in

TODAY = date(2026, 11, 23)  # as tests/conftest.py sets it
PASSWORD = "the invented tide comes in twice"


def moment(day: date = TODAY, hour: int = 9, minute: int = 0) -> datetime:
    """An hour of a day in the project's zone."""
    return datetime.combine(day, time(hour, minute), tzinfo=timezone.get_default_timezone())


def days(count: int) -> date:
    """The day `count` days from today; negative is past."""
    return TODAY + timedelta(days=count)


def _user(username: str, role: Role, called: str, **rest: Any) -> User:
    found = User.objects.filter(username=username).first()
    return found or User.objects.create_user(username, None, role=role, called=called, **rest)


def artist() -> User:
    """Sees every person and sets levels."""
    return _user("ines", Role.ARTIST, "Ines")


def assistant() -> User:
    """Sees only who is in sight today."""
    return _user("loic", Role.ASSISTANT, "Loïc")


def second_assistant() -> User:
    """Shows that sight is one user's, not a role's."""
    return _user("maelle", Role.ASSISTANT, "Maëlle")


def wording_reader() -> User:
    """Reads wordings in Arabic and sees no person."""
    return _user("samira", Role.WORDING_READER, "Samira", languages=["ar"])


def keeper() -> User:
    """Sees counts, lifts holds, undoes a never-ring, and sees no person."""
    return _user("aude", Role.KEEPER, "Aude")


def everyone() -> list[User]:
    """One user in each role."""
    return [artist(), assistant(), wording_reader(), keeper()]


def signed_in(client: Any, user: User) -> Any:
    """The test client with the session of a user who has just given the password."""
    come_in(client, user)
    return client


def aulne() -> Community:
    """A group at no special risk."""
    return Community.objects.get_or_create(key="aulne", defaults={"name": "Aulne"})[0]


def erable() -> Community:
    """A group at raised risk: nobody is vouched for unless asked first."""
    return Community.objects.get_or_create(
        key="erable", defaults={"name": "Érable", "is_raised": True}
    )[0]


def chaplaincy() -> OutsideIntroducer:
    """X2, accepted by the artist: may pass names on without having sat."""
    return OutsideIntroducer.objects.get_or_create(
        code="X2", defaults={"label": "the seamen's chaplaincy", "accepted_on": date(2025, 1, 5)}
    )[0]


def person(code: str, call_name: str, standing: str = Standing.NAMED, **rest: Any) -> Participant:
    """Somebody with a code, made once a test."""
    heard_on = rest.pop("heard_on", date(2026, 1, 10))
    defaults = {
        "call_name": call_name,
        "standing": standing,
        "heard_on": heard_on,
        "standing_since": rest.pop("standing_since", heard_on),
        **rest,
    }
    return Participant.objects.get_or_create(code=code, defaults=defaults)[0]


def told(
    who: Participant,
    introducer: Participant | None = None,
    outside: OutsideIntroducer | None = None,
    **rest: Any,
) -> Introduction:
    """Word of somebody came through; without introducer it is the artist's own start."""
    return Introduction.objects.get_or_create(
        person=who,
        introducer=introducer,
        outside=outside,
        defaults={"heard_on": rest.pop("heard_on", who.heard_on), **rest},
    )[0]


def line(who: Participant, number: str, **rest: Any) -> PhoneLine:
    """A French number set aside for fiction, with its keyed mark."""
    e164 = phones.read(number, "FR").e164
    assert e164, "the cast has readable numbers only"
    found = who.lines.filter(mark=mark(e164)).first()
    return found or PhoneLine.objects.create(
        person=who, as_typed=number, number=e164, mark=mark(e164), **rest
    )


def in_sight(who: Participant, user: User, why: str = Why.RING, day: date = TODAY) -> InSight:
    """A user may see somebody on one day, for one work."""
    return InSight.objects.get_or_create(person=who, user=user, day=day, why=why)[0]


def marcel() -> Participant:
    """01, root of the network: sat, ordinary, may vouch, the artist's own start."""
    who = person(
        "01", "Marcel", Standing.TAKING_PART, heard_on=date(2023, 9, 20), level=Risk.ORDINARY,
        community=aulne(), languages="fr", may_vouch=True, last_talk_on=date(2026, 5, 20),
        born_earliest=date(1949, 5, 2), born_latest=date(1949, 5, 2), born_said="1949-05-02",
        safe_hours=[["10:00", "12:00"]], reads=True,
    )  # fmt: skip
    told(who)
    line(who, "04 65 71 00 01")
    return who


def danuta() -> Participant:
    """12, sat, shares her telephone with Bruno; the story of taking everything back."""
    who = person(
        "12", "Danuta", Standing.TAKING_PART, heard_on=date(2024, 6, 2), level=Risk.ORDINARY,
        languages="fr", may_vouch=True, last_talk_on=date(2026, 5, 14),
        born_earliest=date(1969, 4, 19), born_latest=date(1969, 4, 19),
    )  # fmt: skip
    told(who, marcel())
    line(who, "04 65 71 00 12", is_shared=True)
    return who


def bruno() -> Participant:
    """19, met once, told of by two who never learn of each other; reached on Danuta's telephone."""
    who = person("19", "Bruno", Standing.MET, heard_on=date(2026, 9, 28), languages="fr")
    told(who, danuta(), asked_first=True, may_say_who=True, vouched_on=date(2026, 9, 28))
    told(who, marcel(), heard_on=date(2026, 10, 2))
    line(who, "04 65 71 00 12", is_shared=True)
    return who


def rachid() -> Participant:
    """17, an Arabic name, cannot answer for now: somebody else speaks for them."""
    who = person(
        "17", "رشيد", Standing.SPOKEN_FOR, heard_on=date(2024, 11, 20), level=Risk.RAISED,
        languages="ar fr", condition="cannot_answer", condition_on=date(2026, 9, 4),
        last_talk_on=date(2026, 8, 20), born_earliest=date(1988, 11, 30),
        born_latest=date(1988, 11, 30),
    )  # fmt: skip
    told(who, marcel())
    line(who, "06 39 98 00 17")
    return who


def ibrahima() -> Participant:
    """35, grave, gone quiet, came from outside, nobody has word: the story lays a hold on him."""
    who = person(
        "35", "Ibrahima", Standing.GONE_QUIET, heard_on=date(2025, 2, 10), level=Risk.GRAVE,
        community=erable(), languages="fr", reads=False, born_earliest=date(1989, 1, 1),
        born_latest=date(1989, 12, 31), born_said="1989", last_talk_on=date(2026, 1, 30),
    )  # fmt: skip
    told(who, outside=chaplaincy())
    line(who, "06 39 98 00 35")
    return who


def lucas() -> Participant:
    """40, a child of ten, reached through nobody's number of his own."""
    who = person(
        "40", "Lucas", Standing.TAKING_PART, heard_on=date(2026, 5, 20), level=Risk.ORDINARY,
        languages="es fr", born_earliest=date(2016, 4, 2), born_latest=date(2016, 4, 2),
    )  # fmt: skip
    told(who, marcel())
    return who


def edelmira() -> Participant:
    """28, sitting agreed: has not sat, so vouches for nobody."""
    who = person("28", "Edelmira", Standing.SITTING_AGREED, heard_on=date(2026, 8, 30))
    told(who, danuta())
    return who


def herve() -> Participant:
    """41, only a first name, told by one who has not sat: nobody may ring yet."""
    who = person("41", "Hervé", Standing.NAMED, heard_on=date(2026, 11, 2))
    told(who, edelmira())
    return who


def daud() -> Participant:
    """42, a Bengali name, vouched for and asked first, from a group at raised risk."""
    who = person(
        "42", "দাউদ", Standing.VOUCHED_FOR, heard_on=date(2026, 11, 10), community=erable(),
        languages="bn", safe_hours=[["10:00", "12:00"]],
    )  # fmt: skip
    told(who, marcel(), asked_first=True, may_say_who=False, vouched_on=date(2026, 11, 10))
    line(who, "06 39 98 00 42")
    return who
