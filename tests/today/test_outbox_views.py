"""The empty form, its worker, its way in, and what waits, as a browser asks for them."""

import uuid

import pytest
from django.test import Client
from django.utils import timezone

from relations.consent.models import TakenBack
from relations.people.models import InSight
from relations.privacy.models import EntryState, OutboxEntry
from relations.privacy.outbox import stand
from tests import cast, phone
from tests.rows import make

pytestmark = pytest.mark.django_db
STOP = {"kind": "stop", "code": "12", "what": "all", "day": cast.TODAY.isoformat()}


@pytest.fixture
def loic(client):
    stand()
    cast.danuta()
    return cast.signed_in(client, cast.assistant())


def send(client, body, **more):
    return client.post("/outbox/send/", body, content_type="application/json", **more)


def written(**other):
    return {**STOP, "token": str(uuid.uuid4()), **other}


def test_empty_form_posts_without_a_script(loic):
    said = written()
    for _ in range(2):
        answer = loic.post("/outbox/write/", said)
        assert answer.headers["Location"] == "/uses/stop/done/"
    assert TakenBack.objects.count() == 1
    assert not OutboxEntry.objects.exists()


def test_empty_form_is_there_for_anybody_and_a_letter_is_none(client):
    assert client.get("/outbox/write/").status_code == 200
    answer = client.post("/outbox/write/", {"kind": "letter"})
    assert answer.status_code == 422
    assert answer.content.decode().count("data-outbox") == 4


def test_what_a_stranger_typed_stays_on_the_page(client):
    cast.danuta()
    answer = client.post("/outbox/write/", written())
    assert answer.status_code == 422
    page = answer.content.decode()
    assert 'value="12"' in page and "Sign in first" in page
    assert not TakenBack.objects.exists()


def test_worker_is_a_script_that_names_files_and_nobody(loic):
    answer = loic.get("/sw.js")
    assert answer.headers["Content-Type"].startswith("text/javascript")
    body = answer.content.decode()
    assert '"/outbox/write/?in=en"' in body and '"/static/site.css"' in body
    assert "Loïc" not in body and "csrf" not in body.lower().replace("x-csrftoken", "")


def test_hello_gives_a_token_to_somebody_signed_in_only(loic):
    token = loic.get("/hello/").json()["token"]
    strict = Client(enforce_csrf_checks=True)
    strict.cookies = loic.cookies
    assert send(strict, phone.body(STOP, timezone.now())).status_code == 403
    answer = send(strict, phone.body(STOP, timezone.now()), headers={"X-CSRFToken": token})
    assert answer.status_code == 201
    assert Client().get("/hello/").status_code == 401


def test_entry_is_taken_once_and_answered_every_time(loic):
    body = phone.body(STOP, timezone.now())
    answers = [send(loic, body) for _ in range(3)]
    assert [answer.status_code for answer in answers] == [201, 200, 200]
    assert {answer.json()["state"] for answer in answers} == {"done"}
    assert TakenBack.objects.count() == OutboxEntry.objects.count() == 1


def test_stranger_and_a_bad_body_are_turned_away_and_nothing_is_kept(loic):
    assert send(Client(), phone.body(STOP, timezone.now())).status_code == 401
    assert send(loic, b"{}").status_code == 400
    assert not OutboxEntry.objects.exists()


def test_while_our_clock_is_behind_the_telephone_keeps_it(loic, monkeypatch):
    seen = {"person": cast.danuta(), "user": cast.assistant(), "day": cast.TODAY}
    InSight.objects.create(**seen, why="ring")
    monkeypatch.setattr("relations.privacy.clock.behind", timezone.now)
    ring = {"kind": "ring", "code": "12", "outcome": "off", "day": STOP["day"], "hour": "08:00"}
    assert send(loic, phone.body(ring, timezone.now())).status_code == 503
    assert send(loic, phone.body(STOP, timezone.now())).status_code == 201
    answer = loic.post("/outbox/write/", {**ring, "token": str(uuid.uuid4())})
    assert answer.status_code == 422
    assert "clock is behind" in answer.content.decode()


def test_what_waits_is_shown_mended_and_acted_on_once(loic):
    send(loic, phone.body({**STOP, "code": "99"}, timezone.now()))
    entry = OutboxEntry.objects.get()
    assert "1 entry written without a signal waits" in loic.get("/").content.decode()
    assert "99" in loic.get("/outbox/").content.decode()
    address = f"/outbox/{entry.pk}/"
    page = loic.get(address).content.decode()
    assert 'value="99"' in page and "Nobody with this code" in page
    said = {**STOP, "token": str(entry.pk)}
    assert loic.post(address, {**said, "code": "98"}).status_code == 422
    answer = loic.post(address, said)
    assert answer.headers["Location"] == "/uses/stop/done/"
    assert loic.post(address, said).status_code == 404
    assert TakenBack.objects.count() == 1
    assert "Nothing waits" in loic.get("/outbox/").content.decode()


def test_wrong_clock_is_said_in_words(loic):
    now = timezone.now() - timezone.timedelta(days=1)
    assert send(loic, phone.body(STOP, now)).json()["state"] == "asked"
    page = loic.get(f"/outbox/{OutboxEntry.objects.get().pk}/").content.decode()
    assert "The stop acts already" in page and "the telephone believed" in page


def test_what_cannot_be_opened_is_let_go_by_its_writer(loic):
    row = make(OutboxEntry, state="unread", by=cast.assistant(), said={"sealed": {}})
    page = loic.get(f"/outbox/{row.pk}/").content.decode()
    assert "could not be opened" in page
    assert loic.post(f"/outbox/{row.pk}/", STOP).status_code == 200
    assert loic.post(f"/outbox/{row.pk}/let-go/").headers["Location"] == "/outbox/"
    row.refresh_from_db()
    assert row.state == EntryState.LET_GO
