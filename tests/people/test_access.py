"""The door: who may see whom, and what a look leaves in the access log."""

import uuid

import pytest
from django.contrib.auth.models import AnonymousUser
from django.http import Http404

from relations.people import access
from relations.people.models import Participant, PhoneLine
from relations.privacy.models import AccessEntry
from tests import cast

pytestmark = pytest.mark.django_db


def codes(people: object) -> list[str]:
    return [person.code for person in people]  # type: ignore[attr-defined]


def test_artist_sees_all() -> None:
    cast.bruno()
    assert codes(access.people(cast.artist())) == ["01", "12", "19"]


def test_assistant_sees_only_who_is_in_sight_today() -> None:
    cast.bruno()
    cast.in_sight(cast.marcel(), cast.assistant())
    cast.in_sight(cast.danuta(), cast.assistant(), day=cast.days(-1))
    cast.in_sight(cast.bruno(), cast.second_assistant())
    assert codes(access.people(cast.assistant())) == ["01"]
    assert codes(access.people(cast.assistant(), cast.days(-1))) == ["12"]


def test_somebody_in_sight_for_two_works_is_seen_once() -> None:
    cast.in_sight(cast.marcel(), cast.assistant(), "ring")
    cast.in_sight(cast.marcel(), cast.assistant(), "print")
    assert codes(access.people(cast.assistant())) == ["01"]


@pytest.mark.parametrize("who", [cast.wording_reader, cast.keeper, AnonymousUser])
def test_others_see_nobody(who: type) -> None:
    cast.marcel()
    assert not access.people(who()).exists()
    with pytest.raises(Http404):
        access.person(who(), "01")


def test_a_code_is_read_in_any_case_and_with_spaces() -> None:
    cast.person("7KM4A", "Nour")
    assert access.person(cast.artist(), " 7km 4a").code == "7KM4A"


def test_absent_and_out_of_sight_are_the_same_404() -> None:
    cast.marcel()
    said = []
    for code in ("01", "02"):
        with pytest.raises(Http404) as caught:
            access.person(cast.assistant(), code)
        said.append(str(caught.value))
        assert access.somebody(cast.assistant(), code) is None
    assert said[0] == said[1]


def test_in_sight_follows_the_day() -> None:
    marcel = cast.marcel()
    cast.in_sight(marcel, cast.assistant())
    assert access.in_sight(cast.assistant(), marcel)
    assert not access.in_sight(cast.assistant(), marcel, cast.days(1))


def test_a_line_is_reached_through_its_own_person_only() -> None:
    marcel, rachid = cast.marcel(), cast.rachid()
    line = marcel.lines.get()
    assert access.line(cast.artist(), "01", line.pk) == line
    for code, key in ((rachid.code, line.pk), ("01", uuid.uuid4())):
        with pytest.raises(Http404):
            access.line(cast.artist(), code, key)


def test_a_line_of_somebody_out_of_sight_is_absent() -> None:
    line = cast.marcel().lines.get()
    with pytest.raises(Http404):
        access.line(cast.assistant(), "01", line.pk)


def test_showing_a_number_opens_it_and_is_noted_without_its_value() -> None:
    marcel, user = cast.marcel(), cast.assistant()
    number = access.show_number(user, marcel.lines.get())
    assert number.shown == "+33 4 65 71 00 01"
    assert number.link == "tel:+33-4-65-71-00-01"
    assert number.typed == "04 65 71 00 01"
    entry = AccessEntry.objects.get()
    assert (entry.by, entry.verb, entry.kind, entry.key) == (
        user.pk, "read", "phone", marcel.log_key,
    )  # fmt: skip


def test_a_number_kept_raw_is_shown_but_cannot_be_rung() -> None:
    marcel = cast.marcel()
    line = PhoneLine.objects.create(person=marcel, as_typed="12 and something")
    number = access.show_number(cast.artist(), line)
    assert (number.shown, number.link) == ("12 and something", "")


def test_reading_a_place_is_noted_by_the_persons_log_key() -> None:
    marcel = cast.marcel()
    access.note_read(cast.assistant(), "place", marcel)
    entry = AccessEntry.objects.get()
    assert (entry.verb, entry.kind, entry.key) == ("read", "place", marcel.log_key)
    assert not Participant.objects.filter(pk=entry.key).exists()
