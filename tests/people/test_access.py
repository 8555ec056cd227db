"""The door: who may see whom, and what a look leaves in the access log."""

import uuid
from datetime import UTC, date, datetime, timedelta

import pytest
from django.contrib.auth.models import AnonymousUser
from django.http import Http404
from django.utils import timezone

from relations.people import access
from relations.people.models import InSight, Participant, PhoneLine
from relations.privacy.models import AccessEntry, LogHead, User
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


@pytest.mark.parametrize("who", [cast.artist, cast.assistant, cast.keeper, AnonymousUser])
def test_whose_a_row_is_finds_the_same_as_a_list_of_all(who: type) -> None:
    cast.bruno()
    cast.in_sight(cast.marcel(), cast.assistant(), "ring")
    cast.in_sight(cast.marcel(), cast.assistant(), "print")
    cast.in_sight(cast.danuta(), cast.second_assistant())
    people = access.people(who())
    of, listed = PhoneLine.objects.filter(access.of(people)), set(people)
    assert {line.pk for line in of} == {
        line.pk for line in PhoneLine.objects.all() if line.person in listed
    }
    sights = InSight.objects.filter(access.of(people, "person_id"))
    assert sights.count() == InSight.objects.filter(person__in=people).count()


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


def looks(user: User, at: datetime, count: int, kind: str = "phone") -> None:
    """So many lines of the access log, without what chains them."""
    head, _ = LogHead.objects.get_or_create(only=True)
    AccessEntry.objects.bulk_create(
        AccessEntry(seq=head.seq + 1 + line, at=at, by=user.pk, verb="read", kind=kind, mac=b"")
        for line in range(count)
    )
    LogHead.objects.update(seq=head.seq + count)


@pytest.mark.parametrize(("before", "is_told"), [(28, False), (29, False), (30, True)])
def test_the_thirty_first_number_of_a_day_is_shown_and_told(before: int, *, is_told: bool) -> None:
    marcel, user = cast.marcel(), cast.assistant()
    looks(user, timezone.now(), before)
    looks(cast.artist(), timezone.now(), 25)
    looks(user, timezone.now(), 25, "place")
    looks(user, timezone.now() - timedelta(days=1), 25)
    number = access.show_number(user, marcel.lines.get())
    assert number.shown == "+33 4 65 71 00 01"
    assert (number.today, number.is_told) == (before + 1, is_told)
    told = [access.Shows("loic", timezone.localdate(), before + 1)] if is_told else []
    assert access.shown_too_many(timezone.localdate()) == told


def test_a_day_of_showing_ends_at_midnight_in_the_zone_of_the_home() -> None:
    """Paris, in summer: 22:00 in UTC. The minute before belongs to the day before."""
    user = cast.artist()
    midnight = datetime(2026, 7, 14, 22, tzinfo=UTC)
    looks(user, midnight - timedelta(minutes=1), 31)
    looks(user, midnight, 30)
    assert access.shown_on(user, date(2026, 7, 14)) == 31
    assert access.shown_on(user, date(2026, 7, 15)) == 30
    assert access.shown_too_many(date(2026, 7, 15)) == [access.Shows("ines", date(2026, 7, 14), 31)]


def test_too_many_shows_are_told_for_seven_days_newest_first() -> None:
    for days in (0, 6, 7):
        looks(cast.artist(), cast.moment(cast.days(-days)), 31)
    looks(cast.assistant(), cast.moment(), 40)
    gone = uuid.uuid4()  # somebody of whom no account is left
    AccessEntry.objects.filter(by=cast.second_assistant().pk).update(by=gone)
    found = access.shown_too_many(cast.days(0))
    assert [(one.username, one.on, one.count) for one in found] == [
        ("ines", cast.days(0), 31),
        ("loic", cast.days(0), 40),
        ("ines", cast.days(-6), 31),
    ]
