"""Invented sittings, pictures and prints, written directly."""

from datetime import date, timedelta
from typing import Any

from relations.people.models import Participant
from relations.pictures.models import Appearance, Picture, Sitting
from relations.prints.models import Print, Step
from tests import cast

SAT_ON = cast.days(-30)


def picture(code: str, *people: Participant, on: date = SAT_ON, **rest: Any) -> Picture:
    """A picture with everybody in it, and its sitting."""
    sitting, _ = Sitting.objects.get_or_create(code=f"S{code}", defaults={"on": on})
    made = Picture.objects.create(code=code, sitting=sitting, made_on=on, **rest)
    for place, person in enumerate(people, start=1):
        Appearance.objects.create(picture=made, person=person, place=place)
    return made


def made(who: Participant, code: str = "K12", state: str = "owed", **rest: Any) -> Print:
    """A print in a state, since yesterday if no day is said."""
    of = picture(code, who) if code else None
    since = rest.pop("state_on", cast.days(-1))
    row = Print.objects.create(
        person=who,
        picture=of,
        state=state,
        state_on=since,
        owed_since=rest.pop("owed_since", since - timedelta(days=1)),
        **rest,
    )
    Step.objects.create(
        print=row, number=1, became=state, on=since, noted_at=cast.moment(), by=cast.artist()
    )
    return row
