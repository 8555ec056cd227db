"""A row of every model that the database takes; what a test does not say is made up here."""

import itertools
import uuid
from datetime import UTC, date, datetime, time
from typing import Any, TypeVar

from django.db.models import Model

from relations.consent import models as consent
from relations.consent.history import FormStep, KeptCopy
from relations.documents import models as documents
from relations.documents.serials import check
from relations.meetings import models as meetings
from relations.people import models as people
from relations.pictures import models as pictures
from relations.prints import models as prints
from relations.privacy import models as privacy
from relations.referrals import models as referrals
from relations.referrals.said import NOTHING, as_json
from relations.rights import models as rights
from relations.trips import models as trips
from relations.uses import models as uses

AnyRow = TypeVar("AnyRow", bound=Model)
DAY = date(2026, 11, 23)
NEXT_DAY = date(2026, 11, 24)
AT = datetime(2026, 11, 23, 8, tzinfo=UTC)
LATER = datetime(2026, 11, 23, 9, tzinfo=UTC)
NOON = time(12)
_numbers = itertools.count(1)


def number() -> int:
    """One that no other row of this run has."""
    return next(_numbers)


def code() -> str:
    """One that no other row of this run has."""
    return f"{number():05}"


def serial() -> str:
    """A number of a paper, with its two check digits."""
    digits = code()
    return f"{digits}-{check(digits)}"


def key() -> str:
    """Under which a sealed file would lie."""
    return str(uuid.uuid4())


def make(model: type[AnyRow], **given: Any) -> AnyRow:
    """A new row; of what `USUAL` says, a model stands for a new row of it, a function is asked."""
    told = {name: value for name, value in USUAL[model].items() if name not in given}
    made = {name: _made(value) for name, value in told.items()}
    return model._default_manager.create(**made, **given)


def _made(value: Any) -> Any:
    if isinstance(value, type):
        return make(value)
    return value() if callable(value) else value


def twice(model: type[AnyRow], **given: Any) -> tuple[AnyRow, AnyRow]:
    """Two rows that have in common what is given."""
    return make(model, **given), make(model, **given)


def come_back_in_order(model: type[AnyRow], *rows: dict[str, Any]) -> bool:
    """Whether rows that are made in the opposite order are read in the one given."""
    made = [make(model, **given) for given in reversed(rows)]
    read = model._default_manager.filter(pk__in=[row.pk for row in made])
    return list(read) == made[::-1]


def _row(**usual: Any) -> dict[str, Any]:
    return usual


USUAL: dict[type[Model], dict[str, Any]] = {
    privacy.User: _row(username=code, called="Ines", role="artist"),
    privacy.CodeDevice: _row(user=privacy.User, secret="GEZDGNBVGY3TQOJQ", made_at=AT),
    privacy.PaperCode: _row(user=privacy.User, number=number, hashed="argon2$"),
    privacy.KnownDevice: _row(user=privacy.User, digest=lambda: code().encode(), since=AT),
    privacy.WrongTries: _row(mark=lambda: code().encode(), last_at=AT),
    privacy.Mending: _row(
        kind="people.participant", key=uuid.uuid4, at=AT, by=privacy.User, old={}, why="misheard"
    ),
    privacy.OutboxKey: _row(public=b"public", private="private"),
    privacy.OutboxEntry: _row(state="refused", by=privacy.User, received_at=AT, said={}),
    documents.Layout: _row(digest=code, size="A4", boxes={}),
    documents.Sheet: _row(serial=serial, kind="form"),
    documents.Upload: _row(count=1, looked=1, sent_at=AT, ended_at=AT, sent_by=privacy.User),
    documents.Page: _row(
        upload=documents.Upload,
        number=number,
        place="waiting",
        why="no_code",
        digest=lambda: f"{number():064}",
        file=key,
    ),
    documents.Scan: _row(
        sheet=documents.Sheet,
        file=key,
        media_type="image/png",
        digest=code,
        size=1,
        filed_at=AT,
        filed_by=privacy.User,
    ),
    people.Community: _row(key=code, name=code),
    people.OutsideIntroducer: _row(code=code),
    people.Participant: _row(code=code, heard_on=DAY, standing_since=DAY),
    people.Name: _row(person=people.Participant, kind="own"),
    people.PhoneLine: _row(person=people.Participant),
    people.Speaker: _row(person=people.Participant, named_on=DAY),
    people.Introduction: _row(person=people.Participant, heard_on=DAY),
    people.MovedAbroad: _row(person=people.Participant, since=DAY),
    people.PersonHold: _row(
        person=people.Participant, laid_at=AT, laid_by=privacy.User, next_look_on=DAY
    ),
    people.NeverRing: _row(mark=bytes(16), at=AT, by=privacy.User),
    people.Unwanted: _row(person=people.Participant, user=privacy.User, said_on=DAY),
    people.ProjectClosed: _row(since=DAY),
    people.InSight: _row(person=people.Participant, user=privacy.User, day=DAY, why="ring"),
    people.RangUs: _row(at=AT, by=privacy.User),
    meetings.Trip: _row(code=code, first_day=DAY, last_day=DAY),
    meetings.TravellingSet: _row(
        trip=meetings.Trip, made_for=privacy.User, made_at=AT, last_day=DAY
    ),
    meetings.Call: _row(person=people.Participant, due_on=DAY),
    meetings.DayLine: _row(
        sheet=documents.Sheet,
        number=number,
        work="ring",
        person=people.Participant,
        about=uuid.uuid4,
    ),
    meetings.Helper: _row(kind="witness", initials="AB"),
    meetings.Meeting: _row(person=people.Participant),
    meetings.Interview: _row(person=people.Participant, held_on=DAY),
    meetings.Recording: _row(code=code, destroy_on=DAY),
    pictures.Sitting: _row(code=code, on=DAY),
    pictures.FilmSheet: _row(sitting=pictures.Sitting, number=1),
    pictures.Picture: _row(code=code, sitting=pictures.Sitting, made_on=DAY),
    pictures.Appearance: _row(picture=pictures.Picture, person=people.Participant),
    pictures.Stranger: _row(picture=pictures.Picture, place=7, noted_on=DAY, noted_by=privacy.User),
    pictures.PictureHold: _row(
        picture=pictures.Picture, laid_at=AT, laid_by=privacy.User, next_look_on=DAY
    ),
    pictures.Caption: _row(picture=pictures.Picture, version="c1", written_at=AT),
    pictures.Quote: _row(code=code, by=people.Participant),
    consent.Wording: _row(language="fr", version=number),
    consent.Clause: _row(wording=consent.Wording, key="stop", number=1),
    consent.Form: _row(sheet=documents.Sheet, state_on=DAY, first_wording=consent.Wording),
    FormStep: _row(form=consent.Form, number=1, state="carried", on=DAY),
    KeptCopy: _row(form=consent.Form, number=1, stood_on=DAY, record="{}", record_digest="0" * 64),
    consent.Reading: _row(form=consent.Form, number=1, by=privacy.User, at=AT, answers={}),
    consent.GuardianAnswer: _row(form=consent.Form, authority="parent", is_yes=True, said_on=DAY),
    consent.PictureAnswer: _row(
        form=consent.Form, picture=pictures.Picture, is_yes=True, said_on=DAY
    ),
    consent.CaptionAnswer: _row(form=consent.Form, caption=pictures.Caption, said_on=DAY),
    consent.QuoteAnswer: _row(form=consent.Form, quote=pictures.Quote, said_on=DAY),
    consent.ConditionDecision: _row(
        form=consent.Form, use="book", can=True, decided_on=DAY, decided_by=privacy.User
    ),
    consent.TakenBack: _row(
        person=people.Participant,
        scope="all",
        said_on=DAY,
        heard_at=AT,
        heard_by=privacy.User,
        answer_due_on=DAY,
    ),
    consent.PaperOf: _row(sheet=documents.Sheet, person=people.Participant),
    consent.SpeakerAnswer: _row(person=people.Participant, use="book", is_yes=True, said_on=DAY),
    prints.LabOrder: _row(code=code, ordered_on=DAY),
    prints.Round: _row(code=code, on=DAY, by=privacy.User),
    prints.QuarterMinutes: _row(start=code, end=code, minutes=8),
    prints.RoundDoor: _row(round=prints.Round, print=prints.Print, letter="A", due_at=NOON),
    prints.Print: _row(
        person=people.Participant, picture=pictures.Picture, state_on=DAY, owed_since=DAY
    ),
    prints.LabLine: _row(order=prints.LabOrder, print=prints.Print, number=number, size=code),
    prints.Step: _row(
        print=prints.Print, number=1, became="asked_how", on=DAY, noted_at=AT, by=privacy.User
    ),
    prints.Promise: _row(person=people.Participant, kind="print", promised_on=DAY),
    uses.PlannedUse: _row(code=code, use="exhibition", starts_on=DAY),
    uses.PlannedPicture: _row(plan=uses.PlannedUse, picture=pictures.Picture),
    uses.NameShown: _row(plan=uses.PlannedUse, person=people.Participant, name_form="first"),
    uses.Weighing: _row(
        asked=uses.PlannedPicture,
        result="cleared",
        digest=code,
        on=DAY,
        weighed_at=AT,
        by=privacy.User,
    ),
    uses.ClearanceSheet: _row(
        number=number, plan=uses.PlannedUse, made_at=AT, made_by=privacy.User, valid_until=NEXT_DAY
    ),
    uses.ClearedPicture: _row(sheet=uses.ClearanceSheet, weighing=uses.Weighing),
    uses.Shown: _row(
        code=code, use="exhibition", place="union hall", starts_on=DAY, holder="the hall's keeper"
    ),
    uses.UndoLine: _row(
        shown=uses.Shown,
        picture=pictures.Picture,
        person=people.Participant,
        code="take_down",
        force="forced",
        opened_at=AT,
    ),
    referrals.Shared: _row(
        number=number, kind="drawing", at=AT, by=privacy.User, said=as_json(NOTHING)
    ),
    uses.Standstill: _row(laid_at=AT, laid_by=privacy.User),
    rights.Request: _row(person=people.Participant, kind="erase", asked_on=DAY, due_on=DAY),
    rights.OthersAsk: _row(asked_on=DAY, asked_by="press", answer="nothing", heard_by=privacy.User),
    rights.Misuse: _row(picture=pictures.Picture, seen_on=DAY),
    rights.Alarm: _row(known_at=AT, raised_by=privacy.User, what="bag"),
    rights.Telling: _row(
        alarm=rights.Alarm, person=people.Participant, told_at=AT, told_by=privacy.User
    ),
    rights.LettingGo: _row(clock="named_not_vouched", due_on=DAY),
    rights.Ending: _row(person=people.Participant, how="as_agreed", decided_on=DAY),
    rights.Handover: _row(on=DAY, gone=privacy.User, come=privacy.User),
    rights.ToIntroduce: _row(handover=rights.Handover, person=people.Participant),
    rights.Closing: _row(begun_on=DAY, begun_by=privacy.User),
    rights.TakingOut: _row(asked_at=AT, asked_by=privacy.User, reason="A move."),
    rights.CountsReport: _row(as_of=DAY, said_at=AT, said_by=privacy.User),
    rights.Backup: _row(made_at=AT, log_seq=1, log_head="ab" * 32, size=1024),
    trips.Stay: _row(trip=meetings.Trip),
    trips.Day: _row(trip=meetings.Trip, on=DAY),
    trips.Count: _row(trip=meetings.Trip, thing="film", how="taken", number=64, counted_on=DAY),
    trips.MissingBlank: _row(form=consent.Form, alarm=rights.Alarm),
}
