"""A new name joins the old ones to what is never printed; a move abroad asks territory again."""

from datetime import timedelta
from uuid import uuid4

import pytest

from relations.people import changes
from relations.people.actions import add_name
from relations.people.models import MovedAbroad, NameKind
from relations.privacy.refused import Refused
from tests import cast

pytestmark = pytest.mark.django_db
AT = cast.moment()


def name(person, text, kind=NameKind.OWN):
    return add_name(person=person, text=text, kind=kind, script="Latn", by=cast.artist(), at=AT)


def renamed(person, text="Marek Dolny", call_name="Marek", by=None):
    return changes.new_name(
        person=person, text=text, script="Latn", call_name=call_name, by=by or cast.artist(), at=AT
    )


def names(person):
    return sorted((one.kind, one.text) for one in person.names.all())


def test_every_old_name_and_what_they_were_called_is_never_printed_again():
    person = cast.danuta()
    name(person, "Danuta Dolna")
    name(person, "Danouta Dolna", NameKind.SPELLING)
    name(person, "Danka", NameKind.NEVER_PRINT)
    old = person.call_name
    renamed(person)
    assert names(person) == sorted([
        ("never_print", "Danuta Dolna"), ("never_print", "Danouta Dolna"),
        ("never_print", "Danka"), ("never_print", old), ("own", "Marek Dolny"),
    ])  # fmt: skip
    person.refresh_from_db()
    assert person.call_name == "Marek"


def test_a_call_name_that_stays_is_no_old_name():
    person = cast.danuta()
    renamed(person, call_name=person.call_name)
    assert names(person) == [("own", "Marek Dolny")]


def test_the_same_name_and_another_hand_than_the_artists_are_refused():
    person = cast.danuta()
    renamed(person)
    with pytest.raises(Refused, match="same_name"):
        renamed(person)
    with pytest.raises(Refused, match="artist_only"):
        renamed(person, "Another", by=cast.assistant())


def test_a_move_abroad_is_to_be_asked_until_it_was():
    person, by = cast.danuta(), cast.assistant()
    assert changes.to_be_asked(person) is None
    for _twice in range(2):
        changes.moved_abroad(person=person, since=cast.TODAY, by=by, at=AT)
    assert MovedAbroad.objects.count() == 1
    assert changes.to_be_asked(person).since == cast.TODAY
    assert changes.asked_again(person=person, on=cast.TODAY, by=by) == 1
    assert changes.to_be_asked(person) is None


def test_nobody_has_moved_tomorrow():
    with pytest.raises(Refused, match="in_the_future"):
        changes.moved_abroad(
            person=cast.danuta(), since=cast.TODAY + timedelta(1), by=cast.artist(), at=AT
        )


def test_the_page_notes_a_move_and_ends_the_reminder(client):
    person, user = cast.danuta(), cast.assistant()
    cast.in_sight(person, user)
    hand = cast.signed_in(client, user)
    address = f"/people/{person.code}/changed/"
    said = {"token": str(uuid4()), "since": cast.TODAY.isoformat()}
    page = hand.post(address, said, follow=True).content.decode()
    assert "Ask again in which countries they may be shown" in page
    assert "A new name" not in page  # for the artist
    page = hand.post(f"{address}asked-again/", {"token": str(uuid4())}, follow=True)
    assert "Ask again in which countries" not in page.content.decode()


def test_a_new_name_is_given_on_its_page(client):
    person = cast.danuta()
    artist = cast.signed_in(client, cast.artist())
    said = {"token": str(uuid4()), "text": "Marek Dolny", "call_name": "Marek"}
    assert artist.post(f"/people/{person.code}/new-name/", said).status_code == 302
    again = artist.post(f"/people/{person.code}/new-name/", {**said, "token": str(uuid4())})
    assert again.status_code == 422
    assert "This is a name they have already." in again.content.decode()
