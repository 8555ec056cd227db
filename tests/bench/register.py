"""A whole register of any number of people, invented and sealed as the site seals it.

Half of them sat. What waits to be done on the day is the same at every size, as one assistant can
do no more in a larger project: what grows is what is kept. Every second person has a form, since
the serial numbers of papers end at five digits. Nothing is drawn but by a seed.
"""

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import chain, cycle, islice, product

from django.db.models import F

from relations.consent.models import Form, TakenBack
from relations.consent.states import State
from relations.languages.codes import ALPHABET, PRINT_LENGTH
from relations.meetings.models import Call, Meeting
from relations.meetings.values import CallState, MeetingState, Outcome
from relations.people.models import Community, InSight, Introduction, Participant, PhoneLine, Why
from relations.people.values import Standing
from relations.pictures.models import Appearance, Picture, Sitting
from relations.prints.models import Print
from relations.prints.rules import PrintState
from relations.privacy.fields import mark
from relations.privacy.files import scans
from relations.privacy.models import Role, User
from relations.uses.models import PlannedPicture, PlannedUse
from tests.bench import archive
from tests.bench.archive import keep
from tests.bench.crowd import crowd
from tests.cast import TODAY, days, moment
from tests.referrals.projects import GROUPS, project

ARTIST, ASSISTANT, WALL, PLAN, SEED = "ines", "loic", 60, "E1", 7
# The work of the day: so many rings, meetings, prints and stops; so many are due to be let go.
WORK, DUE = 12, 8
SAT_ON, LONG_AGO = date(2025, 6, 2), date(2026, 1, 5)
# Ofcom's numbers for drama (from memory): the last is one person's, the others are shared by many.
NUMBERS = [f"+447700900{last:03}" for last in range(1_000)]
OWN_NUMBER = NUMBERS.pop()
NOT_SAT = (Standing.NAMED, Standing.VOUCHED_FOR, Standing.BEING_RUNG, Standing.THINKING_IT_OVER)
A_SCAN = b"signed on the quay " * 50


def enter(people: int) -> None:
    """Fill an empty register with so many people, the artist and one assistant."""
    artist = User.objects.create_user(ARTIST, None, role=Role.ARTIST, called="Ines")
    assistant = User.objects.create_user(ASSISTANT, None, role=Role.ASSISTANT, called="Loic")
    groups = [Community(key=key, name=key.capitalize()) for key in GROUPS]
    keep(groups)
    sitters = archive.people(people // 2)
    others = [_other(f"p{people // 2 + place}", place) for place in range(people - len(sitters))]
    everybody = [*sitters, *others]
    for one, name, group in zip(everybody, crowd(people), cycle(groups), strict=False):
        one.call_name, one.community = name, group
    for one in sitters:
        one.standing = Standing.TAKING_PART
    keep(others)
    archive.enter(artist, everybody=sitters, pictures=people, filed=lambda _: scans().save(A_SCAN))
    _stands(artist)
    _reached(everybody, assistant)
    _told(everybody)
    _prints(sitters)
    _wall(people)


def _other(code: str, place: int) -> Participant:
    """Somebody who did not sit; the word of a few came so long ago that they are let go."""
    standing = NOT_SAT[place % len(NOT_SAT)]
    is_due = standing == Standing.NAMED and place < DUE * len(NOT_SAT)
    since = LONG_AGO if is_due else days(-3)
    return Participant(code=code, heard_on=since, standing_since=since, standing=standing)


def _stands(artist: User) -> None:
    """Forms that were read stand; all sat in one year; what was taken back is answered but few."""
    read = Form.objects.exclude(settled_at=None).filter(wording_was_read=True)
    read.update(state=State.STANDING)
    Sitting.objects.update(on=SAT_ON)
    Picture.objects.update(made_on=SAT_ON)
    waiting = TakenBack.objects.order_by("person__code").values("pk")[: WORK // 3]
    kept = list(waiting.values_list("pk", flat=True))
    TakenBack.objects.exclude(pk__in=kept).update(answered_on=F("said_on"))


def _reached(everybody: list[Participant], assistant: User) -> None:
    """A number, a ring and a day in the assistant's sight of each; meetings of those who sat."""
    marks = {number: mark(number) for number in (*NUMBERS, OWN_NUMBER)}
    numbers = chain([OWN_NUMBER], cycle(NUMBERS))
    keep(
        [
            PhoneLine(person=one, as_typed=number, number=number, mark=marks[number])
            for one, number in zip(everybody, numbers, strict=False)
        ],
        [
            Call(
                person=one, state=CallState.SPOKE, outcome=Outcome.THINKING, by=assistant,
                at=moment(days(-60 - number % 300), 10), next_step="pause",
            )
            for number, one in enumerate(everybody)
        ],
        [
            Call(person=one, state=CallState.PLANNED, due_on=TODAY)
            for one in everybody[-4 * WORK :]
            if one.standing != Standing.NAMED
        ],
        [
            InSight(person=one, user=assistant, day=days(-1 - number % 700), why=Why.RING)
            for number, one in enumerate(everybody)
        ],
        [
            Meeting(
                person=one, state=MeetingState.WRITTEN_UP, at=moment(SAT_ON, 15),
                written_up_at=moment(SAT_ON, 18), written_up_by=assistant, power_present=False,
                place="by the water",
            )
            for one in everybody[: len(everybody) // 2]
        ],
        [
            Meeting(person=one, state=MeetingState.CONFIRMED, at=moment(days(1), 15), place="quay")
            for one in everybody[: WORK // 2]
        ],
    )  # fmt: skip


def _told(everybody: list[Participant]) -> None:
    """Who told us of whom, as an invented project of this size was heard."""
    by_code = {f"{number:02}": one for number, one in enumerate(everybody, start=1)}
    heard = {
        (word.person, word.introducer): word
        for word in project(len(everybody), SEED).words
        if word.person != word.introducer
    }
    keep(
        [
            Introduction(
                person=by_code[word.person],
                introducer=by_code.get(word.introducer),
                heard_on=word.on,
                number=1 + number % 30_000,
                asked_first=True,
                vouched_on=word.on,
            )
            for number, word in enumerate(heard.values())
        ]
    )


def _prints(sitters: list[Participant]) -> None:
    """A print for each who sat, come home long ago but for the few of the day."""
    first: dict[object, object] = {}
    rows = Appearance.objects.order_by("-picture_id").values_list("person_id", "picture_id")
    first.update(rows.iterator())
    keep(
        [
            Print(
                code=code, person=one, picture_id=first.get(one.pk),
                state=PrintState.OWED if number < WORK else PrintState.ACKNOWLEDGED,
                state_on=SAT_ON + timedelta(days=40), owed_since=SAT_ON, is_safe=True,
            )
            for number, (one, code) in enumerate(zip(sitters, _print_codes(), strict=False))
        ]
    )  # fmt: skip


def _print_codes() -> Iterator[str]:
    return ("".join(signs) for signs in product(ALPHABET, repeat=PRINT_LENGTH))


def _wall(people: int) -> None:
    """Sixty pictures that hang together, from the middle of the register."""
    plan = PlannedUse.objects.create(
        code=PLAN, use="exhibition", starts_on=days(74), countries=["FR"], ends_on=days(146)
    )
    middle = people // 100 * 50
    codes = [f"k{number}" for number in islice(range(middle, people), WALL)]
    keep([PlannedPicture(plan=plan, picture=one) for one in Picture.objects.filter(code__in=codes)])
