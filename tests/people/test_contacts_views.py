"""The way of a telephone's contacts through the pages: file, columns, lines, and those taken."""

import re
from html import unescape
from typing import Any
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from relations.people import actions
from relations.people.contacts_carried import LASTS
from relations.people.models import InSight, Introduction, Participant, PhoneLine
from relations.privacy.models import AccessEntry, Posted
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


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "The submitted file is empty."),
        (b"\xff\xd8\xff\xe0\x00\x10JFIF", "This is no file of contacts."),
        (b"a,b\n" * 502, "More than 500 people are in it."),
        (b"x" * (1024 * 1024 + 1), "This file is larger than 1 MB."),
        (b"BEGIN:VCARD\nFN:x", "The last card in it has no end."),
    ],
)
def test_a_file_that_cannot_be_read_says_why(artist: Client, content: bytes, says: str) -> None:
    status, page = post(artist, "contacts", file=file(content))
    assert (status, says in page) == (422, True)


def test_a_file_beyond_every_limit_says_the_same(artist: Client, settings: Any) -> None:
    settings.UPLOAD_BYTES = 10
    status, page = post(artist, "contacts", file=file(CARDS))
    assert (status, "This file is larger than 1 MB." in page) == (422, True)


def test_of_lines_the_columns_are_named_by_hand(artist: Client) -> None:
    text = "Name;Phone;Faith;\n=Zoé;06 39 98 00 51;secret;\nNour;06;other;\n"
    status, page = post(artist, "contacts", file=file(text))
    assert (status, "Column" in page, "Faith" in page) == (200, True, True)
    typed = {"carried": sealed(page), "called": "0", "numbers": ["0"], "country": "FR"}
    status, page = post(artist, "contact_columns", **typed)
    assert (status, "A column is one thing only." in page) == (422, True)
    typed = {**typed, "carried": sealed(page), "numbers": ["1"], "has_head": "on"}
    status, page = post(artist, "contact_columns", **typed)
    assert status == 200
    assert ("=Zoé" in page, "secret" in page, "Faith" in page) == (True, False, True)
    assert "This number is too short." in page
    typed = {**typed, "note": "2"}
    del typed["has_head"]
    status, page = post(artist, "contact_columns", **typed)
    assert ("secret" in page, "Phone" in page) == (True, True)


def test_a_line_that_may_not_be_rung_cannot_be_ticked_nor_sent(artist: Client) -> None:
    marcel = cast.marcel()
    actions.never_ring(person=marcel, by=cast.artist(), at=cast.moment())
    text = CARDS.replace("06 39 98 00 52", "04 65 71 00 01")
    _, page = lines(artist, text)
    assert "This number may not be rung." in page
    assert re.findall(r'name="take" value="(\d)"', page) == ["0"]
    status, page = post(artist, "contact_lines", carried=sealed(page), take=["0", "1"])
    assert (status, 'id="id_take_0" checked' in page) == (422, True)


def test_nobody_or_too_many_ticked_is_asked_again(
    artist: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("relations.people.contacts_forms.MOST_AT_ONCE", 1)
    carried = sealed(lines(artist)[1])
    status, page = post(artist, "contact_lines", carried=carried)
    assert (status, "Nobody is ticked." in page) == (422, True)
    status, page = post(artist, "contact_lines", carried=carried, take=["0", "1"])
    assert (status, "These are 2 at once. Take 1 at most" in page) == (422, True)
    assert page.count(" checked") == 2
    status, page = post(artist, "contact_lines", carried=carried, take=["1"])
    assert (status, 'name="0-number_0"' in page, "1-call_name" in page) == (200, True, False)


def test_what_was_read_is_let_go_after_half_an_hour(
    artist: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    _, page = post(artist, "contacts", file=file(CARDS))
    first = {"carried": sealed(page), "called": "0", "numbers": "2", "country": "FR"}
    _, page = post(artist, "contact_columns", **first)
    later = cast.moment() + LASTS
    monkeypatch.setattr("relations.people.contacts_views.now", lambda: later)
    for name, said in (
        ("contact_columns", first),
        ("contact_lines", {"carried": sealed(page), "take": "0"}),
        ("contact_lines", {"carried": first["carried"], "take": "0"}),
        ("take_contacts", {}),
    ):
        status, answer = post(artist, name, **said)
        assert (status, "What was read is let go." in answer) == (422, True)


@pytest.mark.parametrize(
    ("said", "says"),
    [
        ({"asked_first": "no"}, "Nobody asked them first. Stop here until somebody has."),
        ({"asked_first": "not_said"}, "No number is kept until somebody has asked them."),
        ({"source": "person", "introducer": ""}, "Type the code of the one who told us."),
        ({"source": ""}, "This field is required."),
        ({"heard_on": "2030-01-01"}, "This day has not come yet."),
        ({"number_0": "06"}, "This number is too short."),
        ({"number_0": "+1 212 555 0142", "zone_0": ""}, "they are rung by its hours"),
        ({"number_0": "04 65 71 00 09"}, "This number may not be rung."),
        ({"number_1": "+33 6 39 98 00 51"}, "This number stands here already."),
    ],
)
def test_one_line_that_cannot_be_keeps_all_out_and_everything_typed(
    artist: Client, said: dict[str, str], says: str
) -> None:
    cast.marcel()
    lost = cast.person("77", "Lost")
    cast.line(lost, "04 65 71 00 09")
    actions.never_ring(person=lost, by=cast.artist(), at=cast.moment())
    before = (Participant.objects.count(), PhoneLine.objects.count(), AccessEntry.objects.count())
    typed = {
        **word(0, "Bruno", "06 39 98 00 52"),
        **word(1, "Nour", "06 39 98 00 51", "", **said),
        "country": "FR",
    }
    status, page = post(artist, "take_contacts", **typed)
    assert (status, says in page) == (422, True)
    after = (Participant.objects.count(), PhoneLine.objects.count(), AccessEntry.objects.count())
    assert (after, Posted.objects.count()) == (before, 0)
    for name, value in typed.items():
        if "call_name" in name or "number" in name:
            assert f'name="{name}" value="{value}"' in page or not value


def test_a_name_alone_is_noted_where_nobody_has_asked_yet(artist: Client) -> None:
    cast.marcel()
    said = word(0, "Nour", "", asked_first="not_said")
    assert post(artist, "take_contacts", country="FR", **said)[0] == 302
    told = Introduction.objects.get(introducer__code="01")
    assert (told.person.call_name, told.asked_first) == ("Nour", None)
    assert not told.person.lines.exists()


def test_somebody_of_a_like_name_is_asked_about_and_never_put_together(artist: Client) -> None:
    cast.marcel()
    nour = cast.told(cast.person("51", "Nour"), cast.danuta()).person
    _, page = lines(artist, CARDS.replace("FN:Bruno", "FN:Nour"))
    _, page = post(artist, "contact_lines", carried=sealed(page), take=["1"])
    assert re.findall(r'name="0-perhaps" value="(\w+)"', page) == ["51", "new"]
    said = word(0, "Nour", "06 39 98 00 52")
    status, page = post(artist, "take_contacts", country="FR", **said)
    assert (status, "Somebody of such a name is known. Say who it is." in page) == (422, True)
    answer = {**said, "0-perhaps": "51"}
    status, page = post(artist, "take_contacts", country="FR", **answer)
    assert (status, "The numbers of somebody known stand on their own page." in page) == (422, True)
    answer["0-number_0"] = ""
    token = str(uuid4())
    for _sent in range(2):
        assert post(artist, "take_contacts", token=token, country="FR", **answer)[0] == 302
    assert (nour.introductions.count(), nour.lines.count()) == (2, 0)
    status, page = post(artist, "take_contacts", country="FR", **answer)
    assert (status, "This was noted before." in page) == (422, True)
    assert post(artist, "take_contacts", country="FR", **said, **{"0-perhaps": "new"})[0] == 302
    assert Participant.objects.exclude(pk=nour.pk).filter(lines__as_typed__isnull=False).exists()


def test_the_way_begins_where_word_is_noted_and_is_the_artists(client: Client) -> None:
    address = reverse("people:contacts")
    assert address in cast.signed_in(client, cast.artist()).get("/people/new/").content.decode()
    client.logout()
    page = cast.signed_in(client, cast.assistant()).get("/people/new/").content.decode()
    assert address not in page
