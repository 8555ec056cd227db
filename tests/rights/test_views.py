"""An alarm is raised by anybody in one press and followed by the artist and the keeper."""

from uuid import uuid4

import pytest
from django.test import Client

from relations.rights.models import Alarm
from tests import cast

pytestmark = pytest.mark.django_db


def text(response):
    return " ".join(response.content.decode().split())


def raise_alarm(client, what="phone"):
    return client.post("/alarm/", {"token": str(uuid4()), "what": what})


@pytest.mark.parametrize("who", [cast.artist, cast.assistant, cast.wording_reader, cast.keeper])
def test_anybody_raises_it_in_one_press_and_reads_the_card(client, who):
    client = cast.signed_in(client, who())
    page = text(client.get("/alarm/"))
    assert "Nobody is in trouble for telling." in page
    response = raise_alarm(client)
    assert response.url == "/alarm/raised/"
    page = text(client.get(response.url))
    assert "The artist rings those who may be touched, grave first" in page
    assert Alarm.objects.get().raised_by == who()


def test_whoever_tells_goes_on_in_a_new_session_and_the_lost_one_opens_nothing(client):
    lost = cast.signed_in(Client(), cast.assistant())
    telling = cast.signed_in(client, cast.assistant())
    before = telling.cookies["sessionid"].value
    raise_alarm(telling)
    assert telling.cookies["sessionid"].value != before
    assert telling.get("/alarm/").status_code == 200
    assert lost.get("/alarm/").status_code == 302
    telling.cookies["sessionid"] = before
    assert telling.get("/alarm/").status_code == 302


def test_sent_twice_it_is_one_alarm(client):
    client, said = cast.signed_in(client, cast.artist()), {"token": str(uuid4()), "what": "bag"}
    for _ in range(2):
        assert client.post("/alarm/", said).url == "/alarm/raised/"
    assert Alarm.objects.count() == 1


def test_nothing_lost_is_no_alarm(client):
    response = raise_alarm(cast.signed_in(client, cast.artist()), "hat")
    assert response.status_code == 422
    assert not Alarm.objects.exists()


def test_whom_it_may_touch_is_for_the_artist_only(client):
    cast.in_sight(cast.ibrahima(), cast.assistant())
    raise_alarm(cast.signed_in(client, cast.keeper()))
    url = f"/alarm/{Alarm.objects.get().pk}/"
    assert client.get(url).status_code == 404
    page = text(client.get("/alarm/"))
    assert "1 person may be touched." in page
    assert url not in page.replace(f"{url}close/", "")
    assert "Ibrahima" not in page
    for who in (cast.assistant(), cast.wording_reader()):
        assert cast.signed_in(client, who).get(url).status_code == 404
        assert "may be touched." not in text(client.get("/alarm/"))
    page = text(cast.signed_in(client, cast.artist()).get(url))
    assert "Ibrahima" in page
    assert "The authority is told by 26 November 2026, 09:00" in page
    assert "now, at any hour" in page


def test_an_alarm_is_closed_by_who_follows_it(client):
    raise_alarm(cast.signed_in(client, cast.artist()))
    url = f"/alarm/{Alarm.objects.get().pk}/close/"
    assert client.post(url).status_code == 422
    assert client.post(url, {"token": str(uuid4())}).url == "/alarm/"
    assert Alarm.objects.get().closed_on == cast.TODAY
    assert "Closed on 23 November 2026" in text(client.get("/alarm/"))
    assert "Closed on 23 November 2026" in text(client.get(f"/alarm/{Alarm.objects.get().pk}/"))
    assert cast.signed_in(client, cast.assistant()).post(url).status_code == 404


def test_an_alarm_that_was_known_later_is_not_closed_before(client):
    raise_alarm(cast.signed_in(client, cast.artist()))
    Alarm.objects.update(known_at=cast.moment(cast.days(2)))
    url = f"/alarm/{Alarm.objects.get().pk}/close/"
    response = client.post(url, {"token": str(uuid4())})
    assert response.status_code == 422
    assert "It was not known yet on that day." in text(response)
