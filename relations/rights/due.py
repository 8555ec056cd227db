"""Gathers from the register what each clock runs on, and gives what is due to be let go."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from django.db.models import Max, Min
from django.utils import timezone

from relations.consent.history import FormStep
from relations.consent.models import Form, TakenBack
from relations.consent.states import NOT_GIVEN, State
from relations.consent.values import Scope
from relations.meetings.models import Call, Recording
from relations.meetings.queries import UNANSWERED
from relations.people.models import Participant
from relations.people.queries import SAT
from relations.people.rules import ENDS
from relations.people.values import Standing
from relations.privacy import log, month_keys
from relations.privacy.home import home
from relations.privacy.models import AccessEntry
from relations.privacy.slots import read_key_file
from relations.referrals import links
from relations.uses.models import Shown, UndoLine

from . import clocks, destroying
from .clocks import Clock, Kept, Proposal

Found = tuple[Clock, str, date | None, str]
STOOD = (State.STANDING, State.WITHDRAWN_IN_PART)
OVER = (State.ENDED, State.REPLACED, State.WITHDRAWN)


@dataclass(frozen=True)
class Paper:
    """One form that was given: its serial, whose, until when its yes and its use lasted.

    None where that has not ended: it stands, or it waits to be read, or is shown somewhere.
    """

    key: UUID
    serial: str
    person: UUID | None
    has_uses: bool
    yes_until: date | None
    in_use_until: date | None
    state: State


def proposals(on: date) -> list[Proposal]:
    """What is due on a day, by clock, of the whole register; codes, serials and months alone."""
    papers = _papers()
    found = (
        *_persons(papers),
        *_ways(papers, on),
        *_rings(),
        *_links(on),
        *_recordings(papers),
        *_forms(papers),
        *_see_log(),
        *_backups(),
    )
    return clocks.proposals(found, on)


def _papers() -> list[Paper]:
    """Every form of somebody on which something may have been answered, destroyed ones left out."""
    steps = FormStep.objects.filter(state__in=OVER).order_by("form", "number")
    over = dict(steps.values_list("form", "on"))
    shown, all_back = _shown_until(), _took_all_back()
    rows = Form.objects.exclude(state__in=NOT_GIVEN).exclude(person=None)
    found = []
    for key, serial, person, uses, state, state_on, last_day, given_on in rows.values_list(
        "pk", "sheet__serial", "person", "uses", "state", "state_on", "last_day", "given_on"
    ).order_by("sheet__serial"):
        until: date | None = over.get(key, state_on)
        if state in STOOD:
            until = last_day
        elif state not in (*OVER, State.KEPT_AS_PROOF):
            until = None
        back = all_back.get(person)
        yes_until = until
        if back is not None and given_on is not None and given_on <= back:
            yes_until = min(until or back, back)
        in_use = clocks.ended([until, *shown.get(person, ())])
        found.append(Paper(key, serial, person, bool(uses), yes_until, in_use, State(state)))
    return found


def _took_all_back() -> dict[UUID, date]:
    rows = TakenBack.objects.filter(scope=Scope.ALL).order_by()
    return dict(rows.values("person").annotate(on=Max("said_on")).values_list("person", "on"))


def _shown_until() -> Mapping[UUID, list[date | None]]:
    """Of each use of each person's pictures, the day it ended or all of it was taken down."""
    down: dict[tuple[UUID, UUID], list[date | None]] = defaultdict(list)
    for shown, person, done_on in UndoLine.objects.order_by().values_list(
        "shown", "person", "done_on"
    ):
        down[shown, person].append(done_on)
    found: dict[UUID, list[date | None]] = defaultdict(list)
    rows = Shown.objects.filter(pictures__appearances__isnull=False).order_by().distinct()
    for shown, ends_on, person in rows.values_list(
        "pk", "ends_on", "pictures__appearances__person"
    ):
        lines = down.get((shown, person))
        found[person].append(ends_on or (clocks.ended(lines) if lines else None))
    return found


def _persons(papers: Iterable[Paper]) -> Iterator[Found]:
    of_person = defaultdict(list)
    for paper in papers:
        of_person[paper.person].append(paper.in_use_until)
    tried = Call.objects.exclude(outcome="").exclude(at=None).order_by()
    ours = tried.filter(by_them=False).values("person").annotate(first=Min("at"))
    first = dict(ours.values_list("person", "first"))
    reached = set(tried.exclude(outcome__in=UNANSWERED).values_list("person", flat=True))
    rows = Participant.objects.values_list("pk", "code", "standing", "standing_since")
    for key, code, standing, since in rows:
        kept = Kept(
            Standing(standing),
            since,
            first_try_on=timezone.localdate(first[key]) if key in first else None,
            was_reached=key in reached,
            in_use_until=tuple(of_person[key]),
        )
        if (due := clocks.person(kept)) is not None:
            yield due[0], code, due[1], str(key)


def _ways(papers: Iterable[Paper], on: date) -> Iterator[Found]:
    yes = defaultdict(list)
    for paper in papers:
        if paper.has_uses or paper.yes_until is None:
            yes[paper.person].append(paper.yes_until)
    sat = Participant.objects.filter(standing__in=[*SAT, Standing.CLOSED])
    for person in sat.annotate(sat_on=Max("sittings__on")).order_by("code"):
        seen = [day for day in (person.last_talk_on, person.sat_on) if day]
        seen_on = max(seen, default=person.standing_since)
        due_on = clocks.ways(yes_until=yes[person.pk], seen_on=seen_on)
        # What is sealed is opened of those alone whose day it is.
        if due_on is not None and due_on <= on and destroying.has_ways(person):
            yield Clock.WAYS, person.code, due_on, str(person.pk)


def _rings() -> Iterator[Found]:
    first = destroying.whole_rings().aggregate(first=Min("at"))["first"]
    if first is not None:
        yield Clock.RINGS, "", clocks.ring(timezone.localdate(first)), Clock.RINGS


def _links(on: date) -> Iterator[Found]:
    for over in links.over(on):
        person = over.row.person
        closed_on = person.standing_since if person.standing in ENDS else None
        due_on = clocks.link(sat_on=over.sat_on, closed_on=closed_on)
        yield Clock.LINKS, person.code, due_on, str(over.row.pk)


def _recordings(papers: Iterable[Paper]) -> Iterator[Found]:
    in_use = {paper.key: paper.in_use_until for paper in papers}
    for row in Recording.objects.filter(destroyed_on=None).prefetch_related("forms"):
        proves = [in_use[form.pk] for form in row.forms.all() if form.pk in in_use]
        due_on = clocks.recording(row.destroy_on, is_theirs=row.day_is_theirs, proves=proves)
        yield Clock.RECORDINGS, row.code, due_on, str(row.pk)


def _forms(papers: Iterable[Paper]) -> Iterator[Found]:
    for paper in papers:
        yield Clock.FORMS, paper.serial, clocks.form(paper.in_use_until), str(paper.key)


def _see_log() -> Iterator[Found]:
    lines = AccessEntry.objects.exclude(verb=log.ANCHOR, kind=log.OWN)
    at = lines.order_by("seq").values_list("at", flat=True).first()
    if at is not None:
        yield Clock.SEE_LOG, "", clocks.see_log(timezone.localdate(at)), Clock.SEE_LOG


def _backups() -> Iterator[Found]:
    if home().keys.is_file():
        for month in month_keys.months(read_key_file(home().keys)):
            yield Clock.BACKUPS, month, clocks.backup(month_keys.last_day(month)), month
