"""What a form proves, gathered from the register: its record now, and one kept when it stood."""

import hashlib
from collections.abc import Iterator
from datetime import date, datetime, time

from django.conf import settings
from django.db.models import Max
from django.utils import timezone

from relations.people.values import Condition

from . import export, papers, queries
from .events import Event, Happened
from .export import Project, Record
from .history import KeptCopy
from .mandatory import Item, missing
from .models import Form, SpeakerAnswer
from .record import Around, UseStatus, strictest, use_status
from .states import State
from .values import Person, Scope, Use

# What the steps of a form tell; filing, readings and a no have rows with an hour of their own.
STEPS = {
    State.CARRIED: Happened.CARRIED,
    State.LEFT_WITH_THEM: Happened.LEFT_WITH_THEM,
    State.BROUGHT_BACK_BLANK: Happened.BROUGHT_BACK_BLANK,
    State.SPOILT: Happened.SPOILT,
    State.MISSING: Happened.MISSING,
    State.DOUBTFUL: Happened.DOUBTFUL,
    State.STANDING: Happened.SETTLED,
    State.REPLACED: Happened.REPLACED,
    State.ENDED: Happened.ENDED,
    State.KEPT_AS_PROOF: Happened.KEPT_AS_PROOF,
    State.WRITTEN_OFF: Happened.WRITTEN_OFF,
    State.DESTROYED: Happened.DESTROYED,
}
# Out with somebody, and not answered yet.
ASKED = (State.PRINTED, State.CARRIED, State.BROUGHT_BACK_BLANK)


def record(form: Form, *, on: date) -> Record:
    """The record of one form as it is on that day, whole: every event, every use."""
    return Record(
        serial=form.sheet.serial,
        code=form.person.code if form.person else "",
        version=form.sheet.version,
        languages=_languages(form),
        digest=form.sheet.digest,
        answers=papers.said(form),
        is_settled=form.settled_at is not None,
        statuses=_statuses(form, on),
        events=tuple(_events(form)),
        project=project(),
    )


def as_file(form: Form, *, on: date, is_receipt: bool = False) -> bytes:
    """The record of a form, or the sitter's receipt of it, as a file, to the byte."""
    return export.to_bytes(export.document(record(form, on=on), is_receipt=is_receipt))


def lacking(form: Form, *, on: date) -> tuple[Item, ...]:
    """What the record of a form does not hold and should."""
    return missing(export.document(record(form, on=on)))


def project() -> Project:
    """Who answers for the pictures, as the settings say."""
    return Project(
        name=settings.RELATIONS_PROJECT,
        address=settings.RELATIONS_PROJECT_ADDRESS,
        contact=settings.RELATIONS_PROJECT_CONTACT,
        stop_number=settings.RELATIONS_STOP_NUMBER,
        jurisdiction=settings.RELATIONS_LAW_OF,
        stored_in=settings.RELATIONS_STORED_IN,
    )


def _languages(form: Form) -> tuple[str, ...]:
    wordings = (form.first_wording, form.second_wording)
    tags = [wording.language for wording in wordings if wording is not None]
    return tuple(tags or filter(None, [form.old_language]))


def _statuses(form: Form, on: date) -> dict[Use, UseStatus]:
    """Where each use stands, in the sitting where it opens least; a blank's are not asked."""
    if form.person is None:
        return dict.fromkeys(Use, UseStatus.NOT_ASKED)
    # A paper that speaks of no sitting yet is asked about as one that could be of any.
    sittings = frozenset(form.sittings.values_list("code", flat=True)) or frozenset({""})
    person = queries.known(form.person, sittings, on)
    refused = _refused_for_them(form)
    return {
        use: strictest(_status(form, person, use, one, refused.get(use), on) for one in sittings)
        for use in Use
    }


def _status(
    form: Form, person: Person, use: Use, sitting: str, refused_on: date | None, on: date
) -> UseStatus:
    around = Around(
        is_asked=form.state in ASKED, is_left_with_them=form.state == State.LEFT_WITH_THEM
    )
    mine = use_status(person, use, sitting, on=on, around=around)
    if mine is UseStatus.TAKEN_BACK or refused_on is None or refused_on > on:
        return mine
    return strictest((mine, UseStatus.TAKEN_BACK_FOR_THEM))


def _refused_for_them(form: Form) -> dict[Use, date]:
    """Uses to which a speaker, or a holder of authority over a child, said no since it was given.

    Of a speaker's answers on one use the last counts, and only while the sitter cannot answer.
    """
    noes = [one.said_on for one in form.guardians.all() if not one.is_yes]
    found = dict.fromkeys(Use, min(noes)) if noes else {}
    if form.person is None or form.person.condition == Condition.WELL:
        return found
    last = {one.use: one for one in SpeakerAnswer.objects.filter(person=form.person)}
    given = form.given_on or date.min
    spoken = {
        Use(use): one.said_on
        for use, one in last.items()
        if not one.is_yes and one.said_on >= given
    }
    return {**found, **spoken}


def _events(form: Form) -> Iterator[Event]:
    if form.sheet.printed_at is not None:
        yield Event(Happened.PRINTED, timezone.localtime(form.sheet.printed_at))
    if form.given_on is not None:
        yield _on(Happened.GIVEN, form.given_on, form.given_at)
    for scan in form.sheet.scans.all():
        yield Event(Happened.FILED, timezone.localtime(scan.filed_at))
    for reading in form.readings.all():
        yield Event(Happened.READ, timezone.localtime(reading.at))
    for step in form.steps.all():
        if what := STEPS.get(State(step.state)):
            yield _on(what, step.on)
    yield from _noes(form)


def _noes(form: Form) -> Iterator[Event]:
    """What the sitter took back on or after the day of this form."""
    for heard in papers.taken_back(form).select_related("picture"):
        whole = heard.scope == Scope.ALL
        yield Event(
            Happened.TAKEN_BACK if whole else Happened.TAKEN_BACK_IN_PART,
            timezone.localtime(heard.heard_at),
            use=Use(heard.use) if heard.use else None,
            picture=heard.picture.code if heard.picture else "",
        )


def _on(what: Happened, day: date, hour: time | None = None) -> Event:
    at = timezone.make_aware(datetime.combine(day, hour or time()))
    return Event(what, at, has_hour=hour is not None)


def stand(form: Form, *, on: date) -> bool:
    """Let a form stand where everything is there, and keep its record; say whether it stands.

    Each time it comes to stand another record is kept, and the earlier ones stay as they are. A
    record is a row and nothing is laid out, so that no fault of a page undoes what was settled.
    """
    stands = papers.stand(form, on=on)
    if form.steps.filter(state=State.STANDING).count() > form.kept.count():
        keep(form, on=on)
    return stands


def keep(form: Form, *, on: date) -> KeptCopy:
    content = as_file(form, on=on)
    last = form.kept.aggregate(last=Max("number"))["last"] or 0
    return KeptCopy.objects.create(
        form=form,
        number=last + 1,
        stood_on=on,
        record=content.decode(),
        record_digest=hashlib.sha256(content).hexdigest(),
    )
