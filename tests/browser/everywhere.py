"""Every page of the rehearsal that a role may open, with its address."""

from collections.abc import Iterator
from http import HTTPStatus

from django.test import Client

from relations.consent.models import Form, Wording
from relations.consent.states import State as FormState
from relations.meetings.models import Meeting, MeetingState
from relations.people.models import InSight, Participant, PersonHold, Why
from relations.pictures import actions as pictures
from relations.pictures.models import Picture, Sitting
from relations.prints.models import Print
from relations.privacy.home import today
from relations.privacy.models import Role, User
from relations.rights import actions as rights
from relations.rights.models import Alarm
from relations.rights.values import Lost
from tests import cast
from tests.house.pages import pages

PERSON = "12"


def samples(role: Role) -> dict[str, str]:
    """A value for each parameter of an address, of people and papers of the rehearsal."""
    held = PersonHold.objects.filter(lifted_at=None).first()
    artist = User.objects.filter(role=Role.ARTIST).first()
    pictures.hold(picture=Picture.objects.get(code="K30"), by=artist, at=cast.moment())
    sitting = Sitting.objects.filter(sitters__code=PERSON).first()
    owed = Print.objects.filter(person__code="21").exclude(picture=None).first()
    return {
        "code": PERSON,
        "people:lift:code": held.person.code,
        "pictures:code": "K12",
        "pictures:sit:code": "28",
        "pictures:sitting:code": sitting.code,
        "pictures:sheets:code": sitting.code,
        "pictures:join:code": sitting.code,
        "pictures:add:code": sitting.code,
        "pictures:lift:code": "K30",
        "meetings:key": str(_meeting(MeetingState.FIXED).pk),
        "meetings:write_up:key": str(_meeting(MeetingState.HELD).pk),
        "serial": _form(FormState.STANDING),
        "consent:read:serial": _form(
            FormState.READ_ONCE if role == Role.ARTIST else FormState.SCANNED
        ),
        "consent:scan:serial": _form(FormState.SCANNED),
        "consent:settle:serial": _form(FormState.DOUBTFUL),
        "consent:move:serial": _form(FormState.CARRIED),
        "consent:speaker_says:code": "17",
        "number": "1",
        "language": "ar",
        "version": str(Wording.objects.filter(language="ar").first().version),
        "first": "fr",
        "second": "ar",
        "uses:weigh:code": "E1",
        "uses:pictures:code": "E1",
        "uses:names:code": "E1",
        "uses:drop:code": "E1",
        "prints:person": owed.person.code,
        "prints:picture": owed.picture.code,
        "prints:to": "lost",
        "rights:key": str(_alarm(artist).pk),
        "privacy:key": str(User.objects.get(role=Role.ASSISTANT).pk),
    }


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


def _meeting(state: MeetingState) -> Meeting:
    return Meeting.objects.filter(state=state).first()


def _form(state: FormState) -> str:
    return Form.objects.filter(state=state).first().sheet.serial


def _alarm(artist: User) -> Alarm:
    found = Alarm.objects.first()
    return found or rights.raise_alarm(what=next(iter(Lost)), by=artist, at=cast.moment())
