"""The two sheets of a round, carried apart: places by letter, and names by letter.

Neither is kept here. No sheet bears both a place and a name, and the one with names leaves out
whoever is at grave risk altogether: their letter is learnt by heart.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from django.conf import settings
from django.db.models import Q
from django.utils import timezone

from relations.documents.one_language import lay_out_in
from relations.languages.finding import Names, Signed, without
from relations.people import access
from relations.people.models import Name, Participant
from relations.people.values import Risk
from relations.privacy.models import User

from . import walks
from .doors import AtDoor
from .models import Round, RoundDoor
from .round_words import CAME

# What a pen crosses on the sheet of names; "given" and the rest of it are told apart when typed.
BOXES = (AtDoor.GIVEN, AtDoor.HANDED_ON, AtDoor.NOT_HOME, AtDoor.NOT_SAFE, AtDoor.GAVE_BACK)
EVERYBODY = Q()
DOTS = "…"


def places(round: Round, doors: Sequence[RoundDoor], *, by: User, at: datetime) -> bytes:
    """Print where each letter is and when; each place leaves a line in the access log."""
    for door in doors:
        access.note_read(by, "place", door.print.person)
    light, known = walks.daylight(round.on), names_of()
    said = {
        "lines": [(door, unnamed(door.print.place or "", known)) for door in doors],
        "ends_at": walks.ends_at(doors),
        "sunset": light and light.set,
    }
    return _printed("places", round, by, at, said)


def names(round: Round, doors: Sequence[RoundDoor], *, by: User, at: datetime) -> bytes:
    """Print whom to ask for at each letter; each name leaves a line in the access log."""
    shown = [door for door in doors if not walks.is_grave(door.print)]
    for door in shown:
        access.note_read(by, "names", door.print.person)
    known = names_of(*_places(doors), of=Q(level=Risk.GRAVE))
    lines = [
        (
            door,
            unnamed(door.print.into_whose_hand, known),
            unnamed(door.print.word_at_the_door, known),
        )
        for door in shown
    ]
    boxes = [CAME[code] for code in BOXES]
    return _printed("names", round, by, at, {"lines": lines, "boxes": boxes})


def _places(doors: Sequence[RoundDoor]) -> list[str]:
    """What leads to a door of a round, and may have been written beside a name too."""
    return [text for door in doors for text in (door.print.place, door.print.quarter) if text]


def names_of(*more: str, of: Q = EVERYBODY) -> Names[Signed]:
    """What people are called, in every spelling that is kept, and what else is looked for."""
    people = Participant.objects.filter(of)
    called = (one.call_name for one in people)
    spelt = (one.text for one in Name.objects.filter(person__in=people))
    return Names(((DOTS, name), name) for name in (*called, *spelt, *more) if name)


def unnamed(text: str, known: Names[Signed]) -> str:
    """Words with dots in the place of what is known; only dots where some of it would be seen."""
    return without(text, known, rest=DOTS)


def _printed(which: str, round: Round, by: User, at: datetime, said: dict[str, Any]) -> bytes:
    context = {
        **said,
        "round": round,
        "at": timezone.localtime(at),
        "by_artist": by.is_artist,
    }
    made = lay_out_in(
        f"prints/paper/{which}.html",
        context,
        style="prints/paper/round.css",
        title=round.code,
        language=by.language or settings.RELATIONS_OFFICE_LANGUAGE,
    )
    return made.content
