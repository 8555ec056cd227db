"""One assistant goes and another comes: counted and signed by both, and whom the artist tells."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from uuid import UUID

from django.db import transaction
from django.db.models import Q, QuerySet
from django.http import Http404
from django.utils import timezone

from relations.consent.models import Form
from relations.consent.states import State
from relations.meetings.models import Call, Meeting
from relations.meetings.queries import AHEAD, OFF, OPEN_CALLS
from relations.people import newcomers
from relations.people.models import Participant
from relations.people.values import Risk, Standing
from relations.prints.models import Print, Promise
from relations.prints.queries import OPEN_PROMISE
from relations.prints.rules import PrintState
from relations.privacy import actions as accounts
from relations.privacy.access import HELPED
from relations.privacy.log import note
from relations.privacy.models import Role, User
from relations.privacy.refused import Refused
from relations.uses.models import UndoLine

from .models import Handover, ToIntroduce
from .rules import differing
from .values import TOUCHED, OpenThing, Spoken

KIND = "rights.handover"
S = PrintState
# The paper is with us: fetched, and not yet with the sitter or somebody between.
IN_OUR_HANDS = (
    *(S.COLLECTED, S.CHECKED, S.FAULTY, S.OUT_ON_A_ROUND, S.NOT_HOME, S.NOT_SAFE),
    *(S.LOOKING_FOR_A_WAY, S.KEPT_FOR_THEM, S.RETURNED_BY_THEM),
)
P = Standing
# Whom we speak with; of these the artist tells whom a new voice may frighten.
SPOKEN_WITH = (
    *(P.BEING_RUNG, P.THINKING_IT_OVER, P.PAUSE, P.MEETING_AGREED, P.MET, P.SITTING_AGREED),
    *(P.TAKING_PART, P.GONE_QUIET, P.SPOKEN_FOR),
)
ByHand = Mapping[str, Mapping[str, int]]


@dataclass(frozen=True)
class OpenThings:
    """What is open now: how many by `values.OpenThing`, and what to tick off of it by hand.

    `serials` are of the blanks signed out to whoever goes, `prints` the codes on their envelopes.
    """

    counts: dict[str, int]
    serials: list[str]
    prints: list[str]


def open_things(gone: User) -> OpenThings:
    """Count what whoever goes leaves open; nothing of it is named but by serial and code."""
    blanks = Form.objects.filter(carried_by=gone, state=State.CARRIED).order_by("sheet__serial")
    serials = list(blanks.values_list("sheet__serial", flat=True))
    held = Print.objects.filter(state__in=IN_OUR_HANDS).order_by("code")
    prints = list(held.values_list("code", flat=True))
    counts = {
        OpenThing.RINGS: Call.objects.filter(state__in=OPEN_CALLS).count(),
        OpenThing.MEETINGS: Meeting.objects.filter(state__in=AHEAD).exclude(OFF).count(),
        OpenThing.PROMISES: Promise.objects.filter(OPEN_PROMISE).count(),
        OpenThing.DOWN: UndoLine.objects.filter(done_on=None).count(),
        OpenThing.BLANKS: len(serials),
        OpenThing.PRINTS: len(prints),
    }
    return OpenThings({str(what): many for what, many in counts.items()}, serials, prints)


def handovers() -> QuerySet[Handover]:
    """Every handover, newest first."""
    return Handover.objects.select_related("gone", "come", "begun_by").order_by("-on")


def current() -> Handover | None:
    """The one that is begun and neither signed nor called off."""
    return handovers().filter(is_open=True).first()


def handover_or_404(key: UUID) -> Handover:
    """One of them; Http404 where there is none."""
    found = handovers().filter(pk=key).first()
    if found is None:
        raise Http404
    return found


def may_go() -> QuerySet[User]:
    """The assistants who may sign in now."""
    return User.objects.in_role(Role.ASSISTANT).order_by("username")


def may_come() -> QuerySet[User]:
    """Who may follow one of them: anybody who is helped and may sign in."""
    return User.objects.in_role(*HELPED).order_by("username")


@transaction.atomic
def begin(*, gone: User, come: User, on: date, by: User) -> Handover:
    """Begin a handover; while one is open a second press finds it. Nothing is changed by it.

    Refused: artist_or_keeper, the_same_person, not_an_assistant, cannot_come.
    """
    if not by.is_one_of(Role.ARTIST, Role.KEEPER):
        raise Refused("artist_or_keeper")
    if gone == come:
        raise Refused("the_same_person")
    if not may_go().filter(pk=gone.pk).exists():
        raise Refused("not_an_assistant")
    if not may_come().filter(pk=come.pk).exists():
        raise Refused("cannot_come")
    told = {"gone": gone, "come": come, "on": on, "begun_by": by}
    row, is_new = Handover.objects.get_or_create(is_open=True, defaults=told)
    if is_new:
        note(by, "began", KIND, row.pk)
    return row


@transaction.atomic
def call_off(*, handover: Handover, on: date, by: User) -> None:
    """It does not come about; a second press finds it called off. Refused: already_signed."""
    row = Handover.objects.select_for_update().get(pk=handover.pk)
    if row.signed_by_both_at is not None:
        raise Refused("already_signed")
    if row.is_open:
        row.is_open, row.called_off_on = None, on
        row.save(update_fields=["is_open", "called_off_on"])
        note(by, "called_off", KIND, row.pk)


@transaction.atomic
def sign(
    *, handover: Handover, by_hand: ByHand, why_differs: str, by: User, at: datetime
) -> Handover:
    """Both have counted and given their passwords: the old access ends now, the new one begins.

    `by_hand`: {"gone": {…}, "come": {…}}, numbers by `values.TOUCHED`. That the passwords were
    right is for whoever calls. What was noted before stays as it is. Refused: handover_over;
    own_password_first, where somebody else knows the newcomer's; differs, where numbers differ
    and no sentence says why.
    """
    row = Handover.objects.select_for_update().get(pk=handover.pk)
    if not row.is_open or not row.gone.is_active or not row.come.is_active:
        raise Refused("handover_over")
    if row.come.must_choose_password:
        raise Refused("own_password_first")
    found = open_things(row.gone).counts
    if differing(found, by_hand["gone"], by_hand["come"]) and not why_differs.strip():
        raise Refused("differs")
    row.counts = found
    row.by_hand = {who: dict(said) for who, said in by_hand.items()}
    row.why_differs = why_differs.strip()
    row.is_open, row.signed_by_both_at = None, at
    row.save()
    note(by, "signed", KIND, row.pk)
    accounts.let_go(user=row.gone, by=by)
    if row.come.role != Role.ASSISTANT:
        accounts.change_role(user=row.come, role=Role.ASSISTANT, by=by)
    ToIntroduce.objects.bulk_create(
        ToIntroduce(handover=row, person=person) for person in to_be_told()
    )
    return row


def to_be_told() -> QuerySet[Participant]:
    """Those we speak with at raised or grave risk; a level that was never set counts as raised."""
    risky = Q(level__in=[Risk.RAISED, Risk.GRAVE]) | Q(level="")
    return Participant.objects.filter(risky, standing__in=SPOKEN_WITH).order_by("code")


def tasks() -> list[ToIntroduce]:
    """Whom the artist still tells of a newcomer, grave first; a page of the artist's alone."""
    rows = ToIntroduce.objects.filter(spoken_on=None, handover__come__is_active=True)
    found = rows.select_related("person", "handover__come").order_by("person__code")
    return sorted(found, key=lambda row: row.person.level != Risk.GRAVE)


def spoken() -> QuerySet[ToIntroduce]:
    """Whom the artist told, the last first."""
    rows = ToIntroduce.objects.exclude(spoken_on=None)
    return rows.select_related("person", "handover__come").order_by("-spoken_on", "person__code")


def task_or_404(key: UUID) -> ToIntroduce:
    """One of them; Http404 where there is none."""
    rows = ToIntroduce.objects.select_related("person", "handover__come")
    found = rows.filter(pk=key).first()
    if found is None:
        raise Http404
    return found


@transaction.atomic
def introduce(*, task: ToIntroduce, said: str, on: date, by: User) -> ToIntroduce:
    """Note what a sitter said of the newcomer; who refuses is out of the newcomer's sight at once.

    A second press finds it noted. Refused: artist_only, before_the_handover.
    """
    if not by.is_artist:
        raise Refused("artist_only")
    row = ToIntroduce.objects.select_for_update().select_related("handover__come").get(pk=task.pk)
    signed_at = row.handover.signed_by_both_at
    if signed_at is not None and on < timezone.localdate(signed_at):
        raise Refused("before_the_handover")
    if row.spoken_on is None:
        row.spoken_on, row.said = on, Spoken(said)
        row.save(update_fields=["spoken_on", "said"])
        note(by, "introduced", "rights.tointroduce", row.pk)
        if row.said == Spoken.REFUSED:
            newcomers.refuse(person=row.person, user=row.handover.come, on=on, by=by)
    return row


Line = tuple[str, int | None, int | None, int | None]


def by_hand_of(row: Handover, counts: Mapping[str, int]) -> list[Line]:
    """What is counted by hand, line by line: what, as the site says, and by each of the two.

    None where the site cannot know it, and of the two while neither has signed.
    """
    gone, come = row.by_hand.get("gone", {}), row.by_hand.get("come", {})
    return [(what, counts.get(what), gone.get(what), come.get(what)) for what in TOUCHED]
