"""What is waiting today, in order of need, for the people a user may see."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from uuid import UUID

from django.db.models import BooleanField, Count, ExpressionWrapper, Max, Q, QuerySet

from relations.consent.models import Form, TakenBack, Wording
from relations.consent.states import NOT_GIVEN
from relations.consent.states import State as FormState
from relations.consent.values import INK, Use, Windows
from relations.meetings.models import Call, Meeting
from relations.meetings.queries import OFF, of_not_rung
from relations.meetings.values import CallState, MeetingState
from relations.people import rules
from relations.people.access import of
from relations.people.models import (
    Introduction,
    NeverRing,
    Participant,
    PersonHold,
    RangUs,
)
from relations.people.values import Condition, Risk, Standing
from relations.pictures.models import PictureHold
from relations.prints.models import Print
from relations.prints.queries import of_left_alone
from relations.prints.rules import WAIT_DAYS, PrintState, is_late
from relations.privacy.home import now
from relations.privacy.models import User
from relations.rights.models import Misuse
from relations.uses import coming_down
from relations.uses.causes import Because
from relations.uses.models import PlannedUse, UndoLine

People = QuerySet[Participant]

SOON = timedelta(hours=48)
# Whom to ask on coming of age is said this long before (common practice, no source).
BEFORE_18 = timedelta(days=30)
# More than this many prints are not moved on one day; the rest stand on their own page.
MOST_PRINTS = 12
# Prints that wait for a step of ours, not for the lab or for the sitter.
OURS = (
    PrintState.OWED,
    PrintState.ASKED_HOW,
    PrintState.FILE_READY,
    PrintState.COLLECTED,
    PrintState.CHECKED,
    PrintState.FAULTY,
    PrintState.NOT_HOME,
    PrintState.NOT_SAFE,
    PrintState.LOOKING_FOR_A_WAY,
    PrintState.LOST,
)
SILENT = (PrintState.POSTED, PrintState.HANDED_ON)


def stops(people: People) -> QuerySet[TakenBack]:
    """What was taken back and is not answered in words yet, first due first."""
    rows = TakenBack.objects.filter(of(people), answered_on=None)
    return rows.select_related("person", "picture").order_by("answer_due_on", "person__code")


def undo_lines(people: People, at: datetime) -> list[UndoLine]:
    """What must come down, first due first, and after a no what cannot be undone."""
    return [
        line
        for line in coming_down.lines(people, at)
        if line.done_on is None and (line.due_at or line.because == Because.TAKEN_BACK)
    ]


def holds(people: People) -> QuerySet[PersonHold]:
    """The holds that lie, first to be looked at first."""
    rows = PersonHold.objects.filter(of(people), lifted_at=None)
    return rows.select_related("person").order_by("next_look_on", "person__code")


def picture_holds() -> QuerySet[PictureHold]:
    """The holds on pictures, first to be looked at first."""
    rows = PictureHold.objects.filter(lifted_at=None)
    return rows.select_related("picture").order_by("next_look_on", "picture__code")


@dataclass(frozen=True)
class ToAsk:
    """Somebody to be asked again at the next talk: why, and since when or from which day."""

    person: Participant
    why: str
    on: date


def to_ask(people: People, on: date) -> list[ToAsk]:
    """Who turned eighteen or soon will since they gave a form, and who moved abroad.

    A form that is given on or after that day ends it: they were asked.
    """
    was_given = ~Q(forms__state__in=NOT_GIVEN)
    is_open = Q(moves_abroad__asked_again_on=None)
    found: list[ToAsk] = []
    for person in (
        people.filter(Q(born_earliest__isnull=False) | is_open & Q(moves_abroad__isnull=False))
        .annotate(
            newest=Max("forms__given_on", filter=was_given),
            moved=Max("moves_abroad__since", filter=is_open),
        )
        .order_by("code")
    ):
        found += _to_ask(person, person.newest, person.moved, on)
    return sorted(found, key=lambda one: (one.on, one.person.code))


def _to_ask(
    person: Participant, newest: date | None, moved: date | None, on: date
) -> Iterator[ToAsk]:
    if moved is not None and (newest is None or newest < moved):
        yield ToAsk(person, "abroad", moved)
    if newest is not None and person.born_earliest is not None:
        of_age_on = rules.birthday(person.born_earliest, rules.OF_AGE)
        if newest < of_age_on <= on + BEFORE_18:
            yield ToAsk(person, "grown_up", of_age_on)


def looks(people: People, on: date) -> People:
    """Those whose level of risk is to be looked at again by now, first due first."""
    gone = (Standing.SAID_NO, Standing.NEVER_RING, Standing.LET_GO, Standing.CLOSED)
    rows = people.filter(level_next_look_on__lte=on).exclude(standing__in=gone)
    return rows.order_by("level_next_look_on", "code")


def misuses() -> list[Misuse]:
    """Pictures seen where they should not be of which nobody in them was told, oldest first."""
    rows = Misuse.objects.filter(told_sitter_on=None, gone_on=None)
    return list(rows.select_related("picture").order_by("seen_on", "picture__code"))


@dataclass(frozen=True)
class LastWord:
    """Somebody to be spoken with before a planned use: from which day, and before which."""

    person: Participant
    plan: PlannedUse
    opens_on: date
    before: date


def last_words(people: People, on: date, windows: Windows | None = None) -> list[LastWord]:
    """Talks due now: the window of the level is open and no talk has been inside it (F12).

    Each person once, for the use that starts first.
    """
    windows = windows or Windows()
    plans = PlannedUse.objects.filter(dropped_on=None, starts_on__gt=on)
    asked = Q(asked__dropped_on=None, asked__picture__appearances__person__in=people)
    pairs = plans.filter(asked).values_list("pk", "asked__picture__appearances__person")
    by_key = {plan.pk: plan for plan in plans}
    # Nothing is asked here of the dead, and of those who cannot answer only their speaker is.
    well = people.filter(condition=Condition.WELL)
    persons = well.in_bulk({person for _plan, person in pairs})
    found: dict[UUID, LastWord] = {}
    for plan_key, key in sorted(pairs, key=lambda pair: by_key[pair[0]].starts_on):
        if key in found or key not in persons:
            continue
        word = _last_word(persons[key], by_key[plan_key], windows)
        if word.opens_on <= on and not _spoke_since(word):
            found[key] = word
    return sorted(found.values(), key=lambda word: (word.before, word.person.code))


def _last_word(person: Participant, plan: PlannedUse, windows: Windows) -> LastWord:
    risk = rules.counted(Risk(person.level) if person.level else None)
    days = windows.days(risk, is_ink=Use(plan.use) in INK)
    return LastWord(person, plan, plan.starts_on - timedelta(days=days), plan.starts_on)


def _spoke_since(word: LastWord) -> bool:
    talk = word.person.last_talk_on
    return talk is not None and talk >= word.opens_on


def meetings(people: People, at: datetime) -> QuerySet[Meeting]:
    """Meetings of the next 48 hours, and those held that nobody has written up."""
    soon = Q(state__in=[MeetingState.FIXED, MeetingState.CONFIRMED], at__lte=at + SOON)
    unwritten = Q(state__in=[MeetingState.HELD, MeetingState.CUT_SHORT])
    rows = Meeting.objects.filter(of(people), soon | unwritten).exclude(OFF)
    return rows.select_related("person").order_by("at", "person__code")


def doorsteps(people: People) -> QuerySet[Print]:
    """Prints that are out on a round today."""
    rows = Print.objects.filter(of(people), state=PrintState.OUT_ON_A_ROUND)
    return rows.select_related("person", "picture", "round").order_by("round__code", "person__code")


def from_the_lab(people: People) -> QuerySet[Print]:
    """Prints on an order that are not checked yet: whoever fetches them looks at each."""
    there = (PrintState.ORDERED, PrintState.AT_THE_LAB, PrintState.COLLECTED)
    rows = Print.objects.filter(of(people), state__in=there, order__isnull=False)
    return rows.select_related("person").order_by("person__code")


def rings_planned(people: People, on: date) -> QuerySet[Call]:
    """The rings planned for a day by then, whether or not they fit its hours."""
    held = PersonHold.objects.filter(lifted_at=None).values("person")
    calls = Call.objects.filter(of(people), state=CallState.PLANNED, due_on__lte=on)
    calls = calls.exclude(of_not_rung("person__")).exclude(person__in=held)
    return calls.select_related("person").order_by("due_on", "person__code")


def forms(people: People, user: User) -> QuerySet[Form]:
    """Scans whose turn it is to be read by this user: the assistant first, the artist second."""
    turn = FormState.READ_ONCE if user.is_artist else FormState.SCANNED
    rows = Form.objects.filter(Q(of(people)) | Q(person=None), state=turn)
    rows = rows.exclude(readings__by=user).select_related("sheet", "person")
    return rows.order_by("state_on", "sheet__serial")


@dataclass(frozen=True)
class Move:
    """A print that waits for a step of ours."""

    print: Print
    is_late: bool
    # Nobody goes to them: the hint of a step that would is not given.
    is_left_alone: bool


def prints(people: People, on: date) -> tuple[list[Move], int]:
    """The prints to move today, the late ones first, and how many more there are."""
    long_ago = on - timedelta(days=WAIT_DAYS)
    waiting = Q(state__in=OURS) | Q(state__in=SILENT, state_on__lte=long_ago)
    alone = ExpressionWrapper(of_left_alone(), BooleanField())
    rows = Print.objects.filter(of(people), waiting).annotate(alone=alone)
    found = [
        Move(row, is_late(PrintState(row.state), row.owed_since, on), row.alone)
        for row in rows.select_related("person", "picture").order_by(
            "owed_since", "person__code", "picture__code"
        )
    ]
    found.sort(key=lambda move: not move.is_late)
    return found[:MOST_PRINTS], max(len(found) - MOST_PRINTS, 0)


def waiting_for_yes() -> QuerySet[Introduction]:
    """Names that were asked first and wait for the artist's yes."""
    rows = Introduction.objects.filter(
        person__standing=Standing.NAMED, asked_first=True, vouched_on=None, is_withheld=False
    )
    return rows.select_related("person").order_by("heard_on", "person__code")


def rang() -> QuerySet[RangUs]:
    """Those who rang us, until the artist has looked into it."""
    return RangUs.objects.filter(settled_on=None).order_by("at")


def shared_never_rings() -> list[tuple[NeverRing, list[Participant]]]:
    """Marks on shared numbers that the artist has to settle, with who else is on the line."""
    marks = NeverRing.objects.filter(undone_at=None, whole_number=False).order_by("at")
    sharing = [(mark, _on_line(mark)) for mark in marks]
    return [(mark, people) for mark, people in sharing if people]


def _on_line(mark: NeverRing) -> list[Participant]:
    people = Participant.objects.filter(lines__mark=mark.mark, lines__ended_on=None).distinct()
    return [person for person in people if person.log_key != mark.who]


def counts() -> dict[str, int]:
    """What the keeper sees: how many, never who."""
    never = Q(standing=Standing.NEVER_RING)
    people = Participant.objects.aggregate(people=Count("pk"), never_ring=Count("pk", filter=never))
    return {
        "people": people["people"],
        "never_ring": people["never_ring"],
        "holds": PersonHold.objects.filter(lifted_at=None).count(),
        "picture_holds": PictureHold.objects.filter(lifted_at=None).count(),
        "stops": TakenBack.objects.filter(answered_on=None).count(),
        "undo_lines": len(undo_lines(Participant.objects.all(), now())),
        "prints": Print.objects.exclude(
            state__in=[PrintState.ACKNOWLEDGED, PrintState.DECLINED, PrintState.CLOSED_OUT]
        ).count(),
    }


def wordings(user: User) -> QuerySet[Wording]:
    """Wordings in a language of this reader that wait to be read; none they wrote themselves."""
    rows = Wording.objects.filter(frozen_at=None, language__in=user.languages)
    return rows.exclude(written_by=user).order_by("language", "version")
