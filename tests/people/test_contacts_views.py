"""The way of a telephone's contacts through the pages: file, columns, lines, and those taken."""

import re
from html import unescape
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from relations.people.models import InSight, Introduction, Participant
from relations.privacy.models import AccessEntry
from tests import cast

pytestmark = pytest.mark.django_db

CARDS = """BEGIN:VCARD
VERSION:3.0
N:Ponte;Nélida;;;
FN:Nélida Ponte
TEL;TYPE=CELL:06 39 98 00 51
TEL;TYPE=HOME:04 65 71 00 51
EMAIL:nelida@example.org
NOTE:met at the quay
END:VCARD
BEGIN:VCARD
VERSION:3.0
FN:Bruno
TEL:06 39 98 00 52
END:VCARD
"""


@pytest.fixture
def artist(client: Client) -> Client:
    return cast.signed_in(client, cast.artist())


def sealed(page: str) -> str:
    found = re.search(r'name="carried" value="([^"]+)"', page)
    assert found, page
    return unescape(found[1])


def post(client: Client, name: str, **said: object) -> tuple[int, str]:
    answer = client.post(reverse(f"people:{name}"), {"token": str(uuid4()), **said})
    return answer.status_code, answer.headers.get("Location") or answer.content.decode()


def file(text: str | bytes) -> SimpleUploadedFile:
    return SimpleUploadedFile("c.vcf", text if isinstance(text, bytes) else text.encode())


def lines(client: Client, text: str = CARDS, **said: object) -> tuple[int, str]:
    """The page of lines that a file comes to."""
    status, page = post(client, "contacts", file=file(text))
    assert status == 200, page
    typed = {"carried": sealed(page), "called": "0", "numbers": "2", "country": "FR", **said}
    return post(client, "contact_columns", **typed)


def word(at: int, name: str, *numbers: str, **said: str) -> dict[str, str]:
    """What stands in one line of the last page."""
    typed = {
        "call_name": name, "source": "person", "introducer": "01", "heard_on": "2026-11-20",
        "precision": "day", "asked_first": "yes", "may_say_who": "not_said",
        "has_power": "no", **{f"number_{row}": one for row, one in enumerate(numbers)}, **said,
    }  # fmt: skip
    return {f"{at}-{key}": value for key, value in typed.items()}


def test_a_file_becomes_people_only_by_four_presses_of_a_hand(artist: Client) -> None:
    cast.marcel()
    before = Participant.objects.count()
    status, page = lines(artist)
    assert status == 200
    assert ("Nélida Ponte" in page, "+33 6 39 98 00 51" in page, "checked" in page) == (
        *(True, True, False),
    )
    assert "met at the quay" not in page
    assert "e-mail addresses" in page
    status, page = post(artist, "contact_lines", carried=sealed(page), take=["0"], country="FR")
    assert (status, 'value="06 39 98 00 51"' in page, "Bruno" in page) == (200, True, False)
    assert Participant.objects.count() == before
    token = str(uuid4())
    said = {"token": token, "country": "FR", **word(0, "Nélida", "06 39 98 00 51", "")}
    for _sent in range(2):
        status, address = post(artist, "take_contacts", **said)
        assert (status, address) == (302, reverse("people:list") + "?standing=named")
    taken = Participant.objects.get(standing="named", introductions__introducer__code="01")
    assert (taken.call_name, taken.standing) == ("Nélida", "named")
    told = Introduction.objects.get(person=taken)
    assert (told.asked_first, told.may_say_who, told.vouched_on) == (True, None, None)
    assert [(line.number, line.as_typed) for line in taken.lines.all()] == [
        ("+33639980051", "06 39 98 00 51")
    ]
    assert InSight.objects.filter(person=taken).exists()
    logged = AccessEntry.objects.filter(verb="took", kind="contact")
    assert [(one.key, one.by) for one in logged] == [(taken.log_key, cast.artist().pk)]
    assert Participant.objects.count() == before + 1
