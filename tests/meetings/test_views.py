"""Pages of meetings and trips: they work, refuse bad input, another role, a stranger."""

import re
from uuid import uuid4

import pytest
from django.urls import reverse

from relations.meetings import actions
from relations.meetings.models import Helper, Meeting, Trip
from relations.people.models import Standing
from relations.privacy.models import AccessEntry
from tests import cast
from tests.audit import faults
from tests.rows import make

pytestmark = pytest.mark.django_db
FIX = {
    "day": "2026-11-23", "hour": "15:00", "place": "behind the mole", "exit_signal": "a cough",
    "place_is_theirs": "on",
}  # fmt: skip


@pytest.fixture
def as_artist(client):
    return cast.signed_in(client, cast.artist())


def send(client, page_name, /, *args, **data):
    return client.post(reverse(page_name, args=args), {"token": str(uuid4()), **data})


def page(client, name, *args):
    """A page that is well formed, as text."""
    answer = client.get(reverse(name, args=args))
    assert answer.status_code == 200
    text = answer.content.decode()
    assert faults(text) == []
    return text


def fixed(who=None, day=0):
    return actions.fix(
        person=who or cast.danuta(), at=cast.moment(cast.days(day), 15), place="behind the mole",
        by=cast.artist(), on=cast.TODAY, exit_signal="a cough",
    )  # fmt: skip


def test_meeting_is_fixed_once_however_often_it_is_sent(as_artist) -> None:
    cast.danuta()
    assert "They choose place" in page(as_artist, "meetings:fix", "12")
    data = {**FIX, "token": str(uuid4())}
    first = as_artist.post(reverse("meetings:fix", args=["12"]), data)
    second = as_artist.post(reverse("meetings:fix", args=["12"]), data)
    assert first.status_code == 302
    assert first.headers["Location"] == second.headers["Location"]
    assert Meeting.objects.count() == 1


def test_bad_meeting_comes_back_as_typed(as_artist) -> None:
    cast.danuta()
    answer = send(as_artist, "meetings:fix", "12", **{**FIX, "hour": "noon", "place": ""})
    assert answer.status_code == 422
    text = answer.content.decode()
    assert faults(text) == []
    assert 'value="noon"' in text
    assert "<title>Look again" in text


def test_place_that_is_not_theirs_is_refused_beside_its_field(as_artist) -> None:
    cast.danuta()
    data = {name: value for name, value in FIX.items() if name != "place_is_theirs"}
    answer = send(as_artist, "meetings:fix", "12", **data)
    assert answer.status_code == 422
    assert "id_place_is_theirs_error" in answer.content.decode()


def test_place_is_on_no_page_but_the_one_that_is_noted(as_artist) -> None:
    meeting = fixed()
    assert "mole" not in page(as_artist, "meetings:detail", meeting.pk)
    assert "mole" not in page(as_artist, "meetings:list")
    assert as_artist.get(reverse("meetings:place", args=[meeting.pk])).status_code == 405
    text = as_artist.post(reverse("meetings:place", args=[meeting.pk])).content.decode()
    assert faults(text) == []
    assert "behind the mole" in text
    assert AccessEntry.objects.get().kind == "place"


def test_presses_lead_from_fixed_to_written_up(as_artist) -> None:
    bruno = cast.bruno()
    meeting = fixed(bruno)
    assert "Confirm" in page(as_artist, "meetings:detail", meeting.pk)
    send(as_artist, "meetings:detail", meeting.pk, to="confirmed")
    answer = send(as_artist, "meetings:detail", meeting.pk, to="held")
    assert answer.headers["Location"] == reverse("meetings:write_up", args=[meeting.pk])
    assert "told back" in page(as_artist, "meetings:write_up", meeting.pk)
    assert send(as_artist, "meetings:write_up", meeting.pk).status_code == 422
    told = ["what_is_seen", "where", "who_decides", "how_to_stop"]
    send(as_artist, "meetings:write_up", meeting.pk, power_present="no", told_back=told)
    bruno.refresh_from_db()
    assert bruno.standing == Standing.SITTING_AGREED
    assert "4/4" in page(as_artist, "meetings:detail", meeting.pk)


def test_meeting_that_does_not_count_says_so_in_words(as_artist) -> None:
    meeting = fixed(cast.bruno())
    for to in ("confirmed", "held"):
        send(as_artist, "meetings:detail", meeting.pk, to=to)
    send(as_artist, "meetings:write_up", meeting.pk, power_present="yes")
    text = page(as_artist, "meetings:detail", meeting.pk)
    assert "does not count" in text
    assert "Meet them again, alone" in text


def test_press_that_cannot_follow_is_refused_in_words(as_artist) -> None:
    meeting = fixed(day=5)
    assert "confirmed on the day before" in page(as_artist, "meetings:detail", meeting.pk)
    answer = send(as_artist, "meetings:detail", meeting.pk, to="confirmed")
    assert answer.status_code == 422
    assert "on the day before" in answer.content.decode()
    assert send(as_artist, "meetings:detail", meeting.pk, to="nonsense").status_code == 422


def test_moved_meeting_is_fixed_anew(as_artist) -> None:
    meeting = fixed()
    answer = send(as_artist, "meetings:detail", meeting.pk, to="moved")
    assert answer.headers["Location"] == reverse("meetings:fix", args=["12"])
    assert "was moved" in page(as_artist, "meetings:fix", "12")
    send(as_artist, "meetings:fix", "12", **{**FIX, "day": "2026-11-24"})
    meeting.refresh_from_db()
    assert (meeting.state, meeting.at) == ("fixed", cast.moment(cast.days(1), 15))


def test_what_was_planned_for_a_trip_stands_there_when_the_meeting_is_fixed(as_artist) -> None:
    trip = make(Trip)
    meeting = make(Meeting, person=cast.danuta(), trip=trip, with_camera=True, others=2, sheets=6)
    text = page(as_artist, "meetings:fix", "12")
    assert f'value="{trip.pk}" selected' in text
    assert 'name="with_camera" checked' in " ".join(text.replace('id="id_with_camera"', "").split())
    send(as_artist, "meetings:fix", "12", **FIX, with_camera="on", trip=trip.pk)
    meeting.refresh_from_db()
    assert (meeting.state, meeting.trip, meeting.others, meeting.sheets) == ("fixed", trip, 2, 6)


def test_meeting_called_off_is_over(as_artist) -> None:
    meeting = fixed()
    send(as_artist, "meetings:detail", meeting.pk, to="called_off")
    assert "Over" in page(as_artist, "meetings:list")


def test_assistant_sees_meetings_of_people_in_sight_only(client) -> None:
    loic = cast.signed_in(client, cast.assistant())
    meeting = fixed(day=9)
    assert loic.get(reverse("meetings:detail", args=[meeting.pk])).status_code == 404
    assert "Danuta" not in page(loic, "meetings:list")
    cast.in_sight(cast.danuta(), cast.assistant())
    assert "can be shown from the day before" in page(loic, "meetings:detail", meeting.pk)
    assert loic.post(reverse("meetings:place", args=[meeting.pk])).status_code == 404
    assert "Danuta" in page(loic, "meetings:list")


def test_meeting_moves_in_one_press_to_what_was_agreed(as_artist) -> None:
    cast.danuta()
    other = {"fallback": "the ferry hall", "fallback_day": "2026-11-24", "fallback_hour": "11:00"}
    alone = send(as_artist, "meetings:fix", "12", **{**FIX, **other, "fallback_hour": ""})
    assert "id_fallback_hour_error" in alone.content.decode()
    send(as_artist, "meetings:fix", "12", **{**FIX, **other})
    meeting = Meeting.objects.get()
    text = page(as_artist, "meetings:detail", meeting.pk)
    assert "Moved, as agreed" in text
    assert "ferry" not in text
    send(as_artist, "meetings:detail", meeting.pk, to="as_agreed")
    meeting.refresh_from_db()
    assert (meeting.state, meeting.place) == ("fixed", "the ferry hall")
    assert meeting.at == cast.moment(cast.days(1), 11)
    assert "Moved, as agreed" not in page(as_artist, "meetings:detail", meeting.pk)
    assert send(as_artist, "meetings:detail", meeting.pk, to="as_agreed").status_code == 422


def test_who_helps_is_chosen_and_what_speaks_against_them_is_said(as_artist) -> None:
    meeting = fixed()
    cousin = Helper.objects.create(kind="interpreter", initials="TA")
    page(as_artist, "meetings:who_helps", meeting.pk)
    send(
        as_artist, "meetings:who_helps", meeting.pk, interpreter=cousin.pk, interpreter_ties=["kin"]
    )
    text = page(as_artist, "meetings:detail", meeting.pk)
    assert "The interpreter is kin, introducer or employer." in text
    assert "A form given with them is doubtful." in text
    assert "checked" in page(as_artist, "meetings:who_helps", meeting.pk)


def test_meeting_with_the_camera_says_the_light_of_its_hour(as_artist) -> None:
    trip = Trip.objects.create(
        code="T7", first_day=cast.days(0), last_day=cast.days(9), latitude="43.3", longitude="5.4"
    )
    meeting = fixed()
    Meeting.objects.update(trip=trip, with_camera=True)
    text = page(as_artist, "meetings:detail", meeting.pk)
    assert "Light of the day" in text
    assert "south-west" in text


def test_calendar_of_meetings_holds_codes_and_hours_only(client) -> None:
    loic = cast.signed_in(client, cast.assistant())
    cast.in_sight(cast.danuta(), cast.assistant())
    meeting = fixed(day=1)
    fixed(cast.bruno(), day=9)
    answer = loic.get(reverse("meetings:calendar"))
    assert answer.headers["Content-Disposition"] == 'attachment; filename="meetings.ics"'
    assert answer.headers["Content-Type"] == "text/calendar; charset=utf-8"
    text = answer.content.decode()
    assert f"UID:{meeting.pk}\r\nDTSTAMP:20261123T080000Z\r\nDTSTART:20261124T140000Z" in text
    assert "SUMMARY:Talk 12\r\n" in text
    assert text.count("BEGIN:VEVENT") == 1
    for secret in ("Danuta", "mole", "cough"):
        assert secret not in text


def test_helper_is_known_by_initials_and_named_to_the_artist_only(as_artist, client) -> None:
    data = {"kind": "interpreter", "initials": "TA", "name": "Teodora Aspe", "languages": "bn fr"}
    send(as_artist, "meetings:helpers", **data)
    assert "Bangla and French" in re.sub("<.*?>", "", page(as_artist, "meetings:helpers"))
    assert Helper.objects.get().initials == "TA"
    assert "Teodora" in page(as_artist, "meetings:helpers")
    assert "Teodora" not in page(cast.signed_in(client, cast.assistant()), "meetings:helpers")
    assert send(client, "meetings:helpers", initials="").status_code == 422


@pytest.mark.parametrize("user", [cast.keeper, cast.wording_reader])
def test_other_roles_see_nothing(client, user) -> None:
    other = cast.signed_in(client, user())
    meeting = fixed()
    for name, args in (
        ("list", []), ("trips", []), ("new_trip", []), ("helpers", []), ("rings", []),
        ("detail", [meeting.pk]), ("place", [meeting.pk]), ("write_up", [meeting.pk]),
        ("fix", ["12"]), ("ring", ["12"]), ("plan", ["12"]), ("never", ["12"]),
        ("ring_later", ["12"]), ("thinking", ["12"]),
    ):  # fmt: skip
        assert other.get(reverse(f"meetings:{name}", args=args)).status_code == 404


def test_lists_are_only_looked_at(as_artist) -> None:
    for name in ("list", "rings", "trips"):
        assert as_artist.post(reverse(f"meetings:{name}")).status_code == 405


def test_stranger_is_led_to_the_door(client) -> None:
    answer = client.get(reverse("meetings:list"))
    assert answer.status_code == 302
    assert answer.headers["Location"].startswith("/in/")
