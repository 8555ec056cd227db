"""Rows that the pages of the table are asked about."""

from collections.abc import Iterator
from typing import Any
from uuid import uuid4

import pytest
from django.db import transaction

from relations.consent import actions as consent
from relations.consent.history import KeptCopy
from relations.consent.models import Clause, Form, Wording
from relations.documents.models import Page, Sheet, Upload
from relations.documents.photographs import as_pdf
from relations.meetings.models import DayLine, Interview, Meeting, Recording, Trip
from relations.people.models import (
    Community,
    Introduction,
    Name,
    NeverRing,
    OutsideIntroducer,
    Participant,
    PersonHold,
    PhoneLine,
    RangUs,
    Unwanted,
)
from relations.pictures.actions import set_light_copy
from relations.pictures.models import Appearance, Picture, PictureHold, Sitting
from relations.prints.models import LabLine, LabOrder, Print, Promise, Round, RoundDoor
from relations.privacy.files import scans
from relations.privacy.keys import keyring
from relations.privacy.models import OutboxEntry, User
from relations.referrals.models import Shared
from relations.rights.models import Alarm, Handover, Misuse, Request, TakingOut, ToIntroduce
from relations.today.management.drawings import portrait, scan
from relations.today.management.rehearsal import WORDINGS
from relations.uses.models import (
    ClearanceSheet,
    ClearedPicture,
    PlannedPicture,
    Shown,
    UndoLine,
    Weighing,
)
from tests.conftest import MASTER_KEY
from tests.house.asking import Asker
from tests.house.pages import WHO
from tests.house.papers_once import papers_once
from tests.rows import AT, DAY, NOON, make


@pytest.fixture(scope="module", autouse=True)
def each_paper_once() -> Iterator[None]:
    """What pages say is asked here, again and again; the same paper is laid out once."""
    with papers_once():
        yield


@pytest.fixture
def samples(db: None) -> dict[str, str]:
    """Rows for one test; the value of each parameter that names one."""
    return made()


@pytest.fixture(scope="module")
def made_once(django_db_setup: None, django_db_blocker: Any) -> Iterator[dict[str, str]]:
    """The same rows, made once for all tests of a module, each of which undoes what it does."""
    if keyring.locked:
        keyring.hold(MASTER_KEY)
    with django_db_blocker.unblock():
        whole = transaction.atomic()
        whole.__enter__()
        found = made()
    yield found
    with django_db_blocker.unblock():
        transaction.set_rollback(True)
        whole.__exit__(None, None, None)


@pytest.fixture(scope="module")
def askers(made_once: dict[str, str], django_db_blocker: Any) -> dict[str, Asker]:
    """Everybody of the table at a browser of their own."""
    with django_db_blocker.unblock():
        return {who: Asker(who) for who in WHO}


def made() -> dict[str, str]:
    """The value of each parameter of an address that names a row which is there.

    Keys are a parameter, `room:parameter` where rooms differ, or `room:page:parameter`.
    """
    person = make(Participant, code="07")
    sitting = make(Sitting, code="07/T3")
    sitting.sitters.add(person)
    picture = make(Picture, code="K07", sitting=sitting)
    make(Appearance, picture=picture, person=person)
    set_light_copy(picture=picture, light_copy=portrait("K07", [True]), by=make(User), at=AT)
    order = make(LabOrder)
    owed = make(Print, person=person, picture=picture)
    make(LabLine, order=order, print=owed)
    walked = make(RoundDoor, print=owed, round=make(Round, starts_at=NOON))
    meeting = str(make(Meeting, person=person, state="held", at=AT, place="quay").pk)
    outside = make(OutsideIntroducer)
    word = str(make(Introduction, person=person, outside=outside).pk)
    return {
        "code": person.code,
        "person": person.code,
        "picture": picture.code,
        "to": "asked_how",
        "referrals:by": "line",
        "referrals:of": outside.code,
        **_of_people(person),
        **dict.fromkeys(("people:mend_told:key", "referrals:key"), word),
        **_of_pictures(person, sitting, picture),
        **_of_forms(person),
        **_of_uses(person, picture),
        "today:key": str(_written(person).pk),
        "privacy:key": str(make(User, role="assistant").pk),
        "meetings:key": meeting,
        **_of_talks(person),
        "today:type_in:serial": _day_sheet(person),
        "consent:meeting_sheet:key": meeting,
        "prints:round_code": walked.round.code,
        "prints:key": str(make(Promise, person=person).pk),
        "prints:code": order.code,
        "referrals:share_file:number": str(make(Shared).number),
        "referrals:share_file:kind": "svg",
        **_of_an_alarm(person),
        "rights:end_print:key": str(owed.pk),
        **dict.fromkeys(("rights:let_one_go:clock", "rights:postpone:clock"), "recordings"),
        **dict.fromkeys(("rights:let_one_go:key", "rights:postpone:key"), _to_destroy()),
        **_of_handing_on(person),
        "rights:request:key": str(_asked(person).pk),
        "rights:request_step:key": str(_asked(person).pk),
        "rights:request_step:step": "answer",
        "rights:request_file:key": str(_asked(person).pk),
        "rights:misuse_step:key": str(make(Misuse, picture=picture).pk),
    }


def _to_destroy() -> str:
    """A recording whose last day has come, so that a clock proposes it."""
    return str(make(Recording, destroy_on=DAY).pk)


def _of_handing_on(person: Participant) -> dict[str, str]:
    handover = make(Handover, is_open=True)
    return {
        **dict.fromkeys(
            (f"rights:{one}_handover:key" for one in ("sign", "call_off")), str(handover.pk)
        ),
        "rights:handover_pdf:key": str(handover.pk),
        **dict.fromkeys(
            (f"rights:{one}_register:key" for one in ("confirm", "refuse", "call_off", "take")),
            str(make(TakingOut).pk),
        ),
        "rights:introduced:key": str(make(ToIntroduce, handover=handover, person=person).pk),
        "rights:lift_unwanted:key": str(make(Unwanted, person=person).pk),
    }


def _of_an_alarm(person: Participant) -> dict[str, str]:
    alarm = make(Alarm)
    alarm.affected.add(person)
    line = PhoneLine.objects.get(person=person)
    return {"rights:key": str(alarm.pk), "rights:tell_number:line": str(line.pk)}


def _asked(person: Participant) -> Request:
    """That somebody whose face we know asked what is held about them."""
    found = Request.objects.filter(person=person, kind="what_you_hold").first()
    return found or make(Request, person=person, kind="what_you_hold", sure_how="face", sure_on=DAY)


def _written(person: Participant) -> OutboxEntry:
    """Something that a telephone wrote of somebody, and that was refused."""
    typed = {"kind": "delivery", "code": person.code, "to": "in_hand", "day": DAY.isoformat()}
    said = {"typed": typed, "doubts": [], "codes": ["which_print"]}
    return make(OutboxEntry, about=person.log_key, said=said)


def _day_sheet(person: Participant) -> str:
    """A day sheet with a line for a stop and one for a ring, none of them typed in."""
    digest, by = "0" * 64, make(User)
    sheet = make(Sheet, kind="day_sheet", digest=digest, printed_at=AT, printed_by=by)
    make(DayLine, sheet=sheet, number=1, work="stop", person=None, about=None)
    make(DayLine, sheet=sheet, number=2, person=person)
    return sheet.serial


def _of_people(person: Participant) -> dict[str, str]:
    held = make(PersonHold).person
    known = {"as_typed": "06 39 98 00 07", "number": "+33639980007"}
    line = str(make(PhoneLine, person=person, **known).pk)
    return {
        "people:lift:code": held.code,
        **dict.fromkeys(("people:key", "meetings:number:key"), line),
        "people:hope:key": make(Community).key,
        "people:mend_name:key": str(make(Name, person=person, text="Teresa").pk),
        "people:settle_rang_us:key": str(make(RangUs, typed="07").pk),
        "people:settle_shared:key": str(make(NeverRing, whole_number=False).pk),
    }


def _of_talks(person: Participant) -> dict[str, str]:
    talk = make(Interview, person=person, may_record=True, how_are_you_due_on=DAY)
    kept = make(Recording, interview=talk, made_at=AT)
    return {
        **dict.fromkeys(("meetings:interview:key", "meetings:how_are_you:key"), str(talk.pk)),
        **dict.fromkeys(("meetings:recording:key", "meetings:last_day:key"), str(kept.pk)),
        "meetings:light_of:code": "T7",
    }


def _of_pictures(person: Participant, sitting: Sitting, picture: Picture) -> dict[str, str]:
    held = make(PictureHold, picture=make(Picture, sitting=sitting)).picture
    make(Appearance, picture=held, person=person)
    at_sitting = ("join", "sheets", "sitting", "add")
    return {
        "pictures:code": picture.code,
        "pictures:sit:code": person.code,
        "pictures:lift:code": held.code,
        **{f"pictures:{page}:code": sitting.code for page in at_sitting},
    }


def _of_forms(person: Participant) -> dict[str, str]:
    writer, reader = make(User), make(User)
    consent.load_wordings(path=WORDINGS, by=writer)
    Clause.objects.update(
        state="approved", read_back="Said back.", read_back_by=reader, approved_by=reader,
        approved_on=DAY,
    )  # fmt: skip
    Wording.objects.update(read_by=reader, read_on=DAY, frozen_at=AT)
    first, second = (Wording.objects.get(language=tag) for tag in ("fr", "en"))
    form, _ = consent.print_form(first=first, second=second, by=writer, at=AT, person=person)
    trip = make(Trip, code="T7")
    blank, _ = consent.print_form(first=first, second=second, by=writer, at=AT, trip=trip)
    consent.file(serial=form.sheet.serial, content=scan("07", [True, False]), by=writer, at=AT)
    make(
        KeptCopy,
        form=form,
        number=1,
        file=scans().save(b"as it stood"),
        digest="0" * 64,
        made_at=AT,
    )
    return {
        **_of_stacks(),
        "language": "fr",
        "version": str(first.version),
        "consent:first": "fr",
        "consent:second": "en",
        "consent:code": trip.code,
        "trips:code": trip.code,
        "trips:serial": blank.sheet.serial,
        "consent:read_to:code": person.code,
        "consent:picture": "K07",
        **dict.fromkeys(("consent:speaker_says:code", "consent:sitting_sheet:code"), person.code),
        "kind": "explanation",
        "serial": form.sheet.serial,
        "number": "1",
    }


def _of_stacks() -> dict[str, str]:
    """A stack that nobody looked at, a page of the tray, and one of a form for nobody."""
    content = as_pdf(scan("09", [True]))
    stack = make(Upload, file=scans().save(content), looked=0, ended_at=None)
    loose = make(Page, upload=stack, number=7, file=scans().save(content))
    blank = make(Form, first_wording=Wording.objects.filter(language="fr").first())
    make(Page, sheet=blank.sheet, side=1, why="whose", file=scans().save(content))
    return {
        "consent:key": str(loose.pk),
        "consent:brought:key": str(stack.pk),
        "consent:go_on:key": str(make(Upload).pk),
        "consent:whose:serial": blank.sheet.serial,
    }


def _of_uses(person: Participant, picture: Picture) -> dict[str, str]:
    plan = make(PlannedPicture, picture=picture).plan
    shown = make(Shown)
    shown.pictures.add(picture)
    line = make(UndoLine, shown=shown, picture=picture, person=person)
    at_plan = (
        *("weigh", "pictures", "names", "words", "people", "calendar", "drop"),
        *("sidecars", "sidecars_zip", "new_sheet"),
    )
    sheet = make(ClearanceSheet, plan=plan, valid_until=DAY)
    asked = plan.asked.get(picture=picture)
    make(ClearedPicture, sheet=sheet, weighing=make(Weighing, asked=asked))
    return {
        "uses:key": str(line.pk),
        "uses:number": str(sheet.number),
        "uses:use:code": shown.code,
        "uses:situation_of:key": str(make(PersonHold, together=uuid4()).together),
        **{f"uses:{page}:code": plan.code for page in at_plan},
    }
