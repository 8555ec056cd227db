"""Every page of the rehearsal that a role may open, with its address."""

from collections.abc import Iterator
from http import HTTPStatus
from uuid import UUID, uuid4

from django.test import Client

from relations.consent.models import Form, Wording
from relations.consent.states import State as FormState
from relations.documents import sorting
from relations.documents.models import Page, Sheet, Upload
from relations.meetings.models import Interview, Meeting, MeetingState, Recording
from relations.people.models import InSight, Introduction, Participant, PersonHold, PhoneLine, Why
from relations.pictures import actions as pictures
from relations.pictures.models import Picture, Sitting
from relations.prints.models import (
    LabLine,
    LabOrder,
    Print,
    Promise,
    PromiseKind,
    Round,
    RoundDoor,
)
from relations.privacy.files import scans
from relations.privacy.home import today
from relations.privacy.models import OutboxEntry, Role, User
from relations.rights import requests
from relations.rights.models import Alarm, Handover, Request
from relations.today.day_sheet import print_day
from relations.uses import clearing
from relations.uses.models import ClearanceSheet, PlannedUse
from tests import cast
from tests.house.pages import pages
from tests.rows import NOON, make

PERSON = "12"


def samples(role: Role) -> dict[str, str]:
    """A value for each parameter of an address, of people and papers of the rehearsal."""
    held = PersonHold.objects.filter(lifted_at=None).first()
    artist = User.objects.filter(role=Role.ARTIST).first()
    pictures.hold(picture=Picture.objects.get(code="K30"), by=artist, at=cast.moment())
    sitting = Sitting.objects.filter(sitters__code=PERSON).first()
    told = Introduction.objects.get(person__code=PERSON)
    owed = Print.objects.filter(person__code="21").exclude(picture=None).first()
    return {
        "code": PERSON,
        "people:lift:code": held.person.code,
        "people:hope:key": "aulne",
        "people:mend_told:key": str(told.pk),
        "referrals:key": str(told.pk),
        "referrals:by": "line",
        "referrals:of": "01",
        "people:zone:key": str(PhoneLine.objects.filter(person__code=PERSON).first().pk),
        "pictures:code": "K12",
        "pictures:sit:code": "28",
        "pictures:sitting:code": sitting.code,
        "pictures:sheets:code": sitting.code,
        "pictures:join:code": sitting.code,
        "pictures:add:code": sitting.code,
        "pictures:lift:code": "K30",
        "meetings:key": str(_meeting(MeetingState.FIXED).pk),
        "consent:meeting_sheet:key": str(_meeting(MeetingState.FIXED).pk),
        "meetings:write_up:key": str(_meeting(MeetingState.HELD).pk),
        "serial": _form(FormState.STANDING),
        "consent:read:serial": _form(
            FormState.READ_ONCE if role == Role.ARTIST else FormState.SCANNED
        ),
        "consent:scan:serial": _form(FormState.SCANNED),
        "consent:settle:serial": _form(FormState.DOUBTFUL),
        "consent:move:serial": _form(FormState.CARRIED),
        "consent:speaker_says:code": "17",
        "consent:picture": "K12",
        "consent:blanks:code": "T7",
        "trips:code": "T7",
        "meetings:light_of:code": "T7",
        **_talks(),
        "consent:blanks_pdf:code": "T7",
        "number": "1",
        **_stacks(artist),
        "language": "ar",
        "version": str(Wording.objects.filter(language="ar").first().version),
        "first": "fr",
        "second": "ar",
        "kind": "explanation",
        "uses:weigh:code": "E1",
        "uses:pictures:code": "E1",
        "uses:names:code": "E1",
        "uses:words:code": "E1",
        "uses:words:picture": "K38",
        "uses:people:code": "E1",
        "uses:calendar:code": "E1",
        "uses:drop:code": "E1",
        "uses:use:code": "U1",
        "uses:situation_of:key": str(_together(held)),
        "uses:sidecars:code": "E1",
        "uses:sidecars_zip:code": "E1",
        "uses:new_sheet:code": "E1",
        "uses:number": str(_sheet_of_e1(artist).number),
        "prints:person": owed.person.code,
        "prints:picture": owed.picture.code,
        "prints:to": "lost",
        "prints:code": _order(owed),
        "prints:round_code": _round(role),
        "prints:key": str(_promise(owed.person).pk),
        "meetings:number:key": str(PhoneLine.objects.filter(person__code=PERSON).first().pk),
        "today:type_in:serial": _day_sheet(role),
        "today:person": owed.person.code,
        "today:picture": owed.picture.code,
        "today:key": str(_written(role).pk),
        "referrals:share_file:number": "1",
        "referrals:share_file:kind": "svg",
        "rights:key": str(_alarm(artist).pk),
        "rights:end_print:key": str(owed.pk),
        **dict.fromkeys(("rights:let_one_go:clock", "rights:postpone:clock"), "links"),
        **dict.fromkeys(("rights:let_one_go:key", "rights:postpone:key"), _over()),
        "rights:handover_pdf:key": str(_handover().pk),
        **dict.fromkeys(
            ("rights:request:key", "rights:request_file:key"), str(_asked(owed.person, artist).pk)
        ),
        "privacy:key": str(User.objects.get(role=Role.ASSISTANT).pk),
    }


def _over() -> str:
    """A link of the rehearsal that a clock proposes: who told us of 38, who sat in 2023."""
    return str(Introduction.objects.get(person__code="38").pk)


def _asked(person: Participant, artist: User) -> Request:
    """That somebody whose face we know asked what is held about them."""
    said = {"kind": "what_you_hold", "way": "voice", "asked_on": today()}
    found = requests.receive(person=person, by=artist, **said)
    return requests.be_sure(request=found, how="face", word="", on=today(), by=artist)


def _promise(person: Participant) -> Promise:
    """An invitation of which nobody has said whether others may see them there."""
    said = {"kind": PromiseKind.INVITATION, "promised_on": today()}
    return Promise.objects.get_or_create(person=person, others_may_see=None, **said)[0]


def put_everybody_in_sight(user: User) -> None:
    """What an assistant's rings, rounds and meetings do over many days, at once."""
    for person in Participant.objects.all():
        InSight.objects.get_or_create(person=person, user=user, day=today(), why=Why.RING)


def addresses(client: Client, role: Role, known: dict[str, str]) -> Iterator[str]:
    """The address of each page that answers this role's GET with a page of HTML."""
    for page in pages():
        roles = getattr(page.view, "roles", Role.values)
        if role in roles and _is_a_page(client, address := page.address(known)):
            yield address


def _is_a_page(client: Client, address: str) -> bool:
    answer = client.get(address)
    is_html = "html" in answer.headers.get("Content-Type", "")
    return answer.status_code == HTTPStatus.OK and is_html


def _order(owed: Print) -> str:
    """The code of an order for the lab: a print that came, and one that is still there."""
    order = make(LabOrder, currency="EUR")
    make(LabLine, order=order, print=owed, number=1, size="8 x 10 in", price="12.50", came="good")
    there = Print.objects.filter(state="at_the_lab").first()
    there.order = order
    there.save(update_fields=["order"])
    make(LabLine, order=order, print=there, number=2, size="11 x 14 in")
    return order.code


def _together(held: PersonHold) -> UUID:
    """The key of a change of the situation: a hold of the rehearsal becomes one of it."""
    held.together = uuid4()
    held.save(update_fields=["together"])
    return held.together


def _sheet_of_e1(artist: User) -> ClearanceSheet:
    """One that waits for the artist’s word, and two that may hang."""
    plan = PlannedUse.objects.get(code="E1")
    chosen = ("K01", "K03", "K08")
    return clearing.make_sheet(plan=plan, pictures=chosen, by=artist, at=cast.moment())


def _talks() -> dict[str, str]:
    talk = make(Interview, person=Participant.objects.get(code=PERSON), may_record=True)
    kept = make(Recording, interview=talk, made_at=cast.moment())
    return {
        **dict.fromkeys(("meetings:interview:key", "meetings:how_are_you:key"), str(talk.pk)),
        **dict.fromkeys(("meetings:recording:key", "meetings:last_day:key"), str(kept.pk)),
    }


def _day_sheet(role: Role) -> str:
    """One that waits to be typed in, with the lines of the day."""
    first, second = (Wording.objects.filter(language=tag).last() for tag in ("fr", "ar"))
    by = User.objects.filter(role=role).first()
    return print_day(first=first, second=second, by=by, at=cast.moment())[0].serial


def _round(role: Role) -> str:
    """A round that has set out, with one door to be typed in."""
    by = User.objects.filter(role=role).first()
    out = Print.objects.filter(state="out_on_a_round").first()
    row = make(Round, on=today(), by=by, starts_at=NOON, set_out_at=cast.moment())
    make(RoundDoor, round=row, print=out)
    Print.objects.filter(pk=out.pk).update(round=row)
    return row.code


def _meeting(state: MeetingState) -> Meeting:
    return Meeting.objects.filter(state=state).first()


def _form(state: FormState) -> str:
    return Form.objects.filter(state=state).first().sheet.serial


def _stacks(artist: User) -> dict[str, str]:
    """A stack of which pages wait for every reason there is, and one that is not ended."""
    sent = {"sent_by": artist, "sent_at": cast.moment()}
    stack = make(Upload, count=20, looked=20, left_out=[[2, "locked"]], **sent)
    make(Upload, file="0" * 36, count=200, looked=40, ended_at=None, **sent)
    sheet, kept = make(Sheet), {"upload": stack, "file": scans().save(b"%PDF-1.7")}
    for number, why in enumerate(sorting.Why, start=1):
        loose = make(Page, **kept, number=number, why=why, sheet=_sheet(why, sheet), side=1)
    make(Page, **kept, number=18, place="aside", word="a bill that lay in the stack")
    make(Page, **kept, number=19, place="twice", sheet=sheet)
    standing = Form.objects.filter(state=FormState.STANDING).first()
    make(Page, **kept, number=20, place="filed", sheet=standing.sheet, side=1)
    return {
        "consent:key": str(loose.pk),
        "consent:brought:key": str(stack.pk),
        "consent:whose:serial": sheet.serial,
    }


def _sheet(why: str, sheet: Sheet) -> Sheet | None:
    nameless = {"blank", "no_code", "torn", "foreign", "unknown"}
    return None if why in nameless else sheet


def _written(role: Role) -> OutboxEntry:
    """A ring that a telephone wrote while its clock was a day behind."""
    typed = {"kind": "ring", "code": PERSON, "outcome": "off", "day": "2026-11-22", "hour": "09:10"}
    said = {"typed": typed, "doubts": ["wrong_now"]}
    at = cast.moment()
    times = {"written_at": at, "phone_at": at, "received_at": at}
    return make(
        OutboxEntry, state="asked", by=User.objects.filter(role=role).first(), said=said, **times
    )


def _handover() -> Handover:
    """One that is begun, so that its page shows what is counted."""
    found = Handover.objects.filter(is_open=True).first()
    come = User.objects.filter(role=Role.WORDING_READER).first()
    gone = User.objects.get(role=Role.ASSISTANT)
    return found or make(Handover, is_open=True, gone=gone, come=come)


def _alarm(artist: User) -> Alarm:
    """One that touches a few; it is not raised, which would sign everybody out."""
    found = make(Alarm, what="phone", known_at=cast.moment(), raised_by=artist)
    found.affected.set(Participant.objects.filter(code__in=(PERSON, "12", "35")))
    return found
