"""An alarm is raised by anybody in one press and followed by artist and keeper, as backups are."""

from datetime import timedelta
from uuid import uuid4

import pytest
from django.test import Client
from django.utils import timezone

from relations.rights.models import Alarm, Backup
from tests import cast
from tests.rows import make

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


def test_what_the_artist_and_the_keeper_have_open_ends_too(client):
    open_now = [cast.signed_in(Client(), who) for who in cast.everyone()]
    raise_alarm(cast.signed_in(client, cast.assistant()))
    assert [one.get("/alarm/").status_code for one in open_now] == [302] * 4
    assert client.get("/alarm/").status_code == 200


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
    # F13: whoever sees no person learns no small number, and not whether one of them is grave.
    assert "Fewer than ten people may be touched." in page
    assert "1 person" not in page
    assert url not in page.replace(f"{url}close/", "").replace(f"{url}authority/", "")
    assert "Ibrahima" not in page
    for who in (cast.assistant(), cast.wording_reader()):
        assert cast.signed_in(client, who).get(url).status_code == 404
        assert "may be touched." not in text(client.get("/alarm/"))
    page = text(cast.signed_in(client, cast.artist()).get(url))
    assert "Ibrahima" in page
    assert "72 hours left to tell the authority, until 26 November 2026, 09:00." in page
    assert "1 person may be touched. 1 person is still to be told." in text(client.get("/alarm/"))
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


CARING = [cast.artist, cast.keeper]


@pytest.mark.parametrize("who", CARING)
def test_without_any_backup_it_is_said_and_what_to_do(client, who):
    client = cast.signed_in(client, who())
    page = text(client.get("/alarm/backups/"))
    assert "No backup was ever made." in page
    assert "Make one today" in page
    assert "python3 manage.py backup DIR" in page
    day = text(client.get("/"))
    assert "No backup was ever made." in day
    assert "None yet" in day


@pytest.mark.parametrize("who", CARING)
def test_a_good_backup_is_told_with_its_day_counts_and_size(client, who):
    at = timezone.now() - timedelta(days=3, hours=1)
    counts = {"people.participant": 42, "consent.form": 65, "people.name": 900}
    make(Backup, made_at=at, counts=counts, files=71, size=924_112)
    make(Backup, made_at=at - timedelta(days=9), counts={}, files=3)
    client = cast.signed_in(client, who())
    page = text(client.get("/alarm/backups/"))
    assert f"Last good backup: {timezone.localtime(at).day} " in page
    assert "It is 3 days old." in page
    assert '<dt>People</dt><dd class="num">42</dd> <dt>Forms</dt><dd class="num">65</dd>' in page
    assert '<dt>Rows in all</dt><dd class="num">1007</dd>' in page
    assert '<dt>Scans and light copies</dt><dd class="num">71</dd>' in page
    assert "902.5 KB" in page
    for absent in ("Make one today", "was restored", "Not all of the home"):
        assert absent not in page
    day = text(client.get("/"))
    assert "Too old" not in day
    assert 'href="/alarm/backups/"' in day


@pytest.mark.parametrize("who", CARING)
def test_one_older_than_eight_days_is_called_too_old_there_and_on_today(client, who):
    make(Backup, made_at=timezone.now() - timedelta(days=9))
    client = cast.signed_in(client, who())
    page = text(client.get("/alarm/backups/"))
    assert "It is 9 days old." in page
    assert "Make one today" in page
    day = text(client.get("/"))
    assert "The last good backup is 9 days old." in day
    assert "Too old" in day


def test_faults_and_a_restore_are_told(client):
    at = timezone.now()
    make(Backup, made_at=at - timedelta(hours=1), faults=2, restored_at=at)
    page = text(cast.signed_in(client, cast.keeper()).get("/alarm/backups/"))
    assert "It is less than a day old." in page
    assert "2 files were missing or did not open." in page
    assert "This register was restored" in page


def test_nobody_else_reads_of_backups_nor_is_told_on_today(client):
    for who in (cast.assistant(), cast.wording_reader()):
        client = cast.signed_in(client, who)
        assert client.get("/alarm/backups/").status_code == 404
        assert "ackup" not in text(client.get("/"))
